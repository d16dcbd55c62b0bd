/** What a screw remembers by the second ladder besides the ends of its moves: how it is listed, found, laid bare, looked at. */
import { describe, expect, it } from 'vitest';
import type { MoveId, Outcome, Stage, ToolId } from '../../../content/ids.ts';
import type { EntryOf } from '../../../machines/entry.ts';
import type { LateEnd, RunningMove, ScrewEvent } from '../../../machines/events.ts';
import { heard, listed, made, prepared, reached, strips, supposed } from '../../../machines/ladder/remember.ts';
import {
  abandoned,
  afterFinding,
  afterLateEnd,
  afterReassessment,
  setAside,
  type ScrewContext,
} from '../../../machines/screw.context.ts';
import { second } from './build.ts';
import {
  climbOf,
  endOf,
  fresh,
  hole,
  move,
  old,
  running,
  screw,
  sheared,
  when,
  type More,
  type EndMore,
} from './remembered.ts';

describe('a screw', () => {
  it('has nothing tried on it as it is listed, and nobody has seen its shank', () => {
    const { climb: _, ...bare } = fresh;
    const one = listed(bare, true);
    expect(one.climb).toEqual({
      ...{ tries: [], reamings: [], reaming: null, windowed: false, shank: null, plateOff: true },
      ...{ turnedWithoutGain: false, turnedFree: false, moved: false, movedThenStuck: false, boneUnsaid: false },
      lookIsLine: false,
    });
    expect(one).toMatchObject({ shankProud: false, usedUp: [] });
    expect(listed(bare, false).climb?.plateOff).toBe(false);
  });

  it('that is thought of at another stage keeps what was made ready on it; what nobody found opens nothing', () => {
    const reaming = { depth: 8, diameter: 6 };
    const told: More = { climb: { reaming, windowed: true, shank: true, plateOff: true, tries: old, moved: true } };
    const one = supposed(
      screw({ stage: 'head-sheared' }),
      screw({ ...told, found: { tipProud: true, shankStands: 3 } }),
    );
    expect(one).toMatchObject({
      ...{ stage: 'head-sheared', shankProud: true, usedUp: [] },
      found: { headProud: false, tipProud: true, corridor: false, shankStands: 3 },
      climb: { reaming, windowed: true, shank: true, plateOff: true, tries: [], moved: false },
    });
    const unseen = supposed(screw(), screw({ climb: { shank: null } }));
    expect(unseen).toMatchObject({
      ...{ shankProud: false, climb: { shank: false, windowed: false, plateOff: false, reaming: null } },
      found: { headProud: false, tipProud: false, corridor: false },
    });
  });

  it('that a move has made ready is reamed or windowed, and by no other move', () => {
    expect(prepared(screw(), move('window'))).toMatchObject({
      reamed: false,
      climb: { windowed: true, reaming: null },
    });
    expect(prepared(screw(), move('hollow-ream'))).toMatchObject({
      ...{ reamed: true, climb: { windowed: false, reaming: { depth: null, diameter: null } } },
    });
    const as = screw();
    expect(prepared(as, move('uncover'))).toBe(as);
  });

  it('that reaches another stage has nothing tried there; under a head that came off nobody has seen the shank', () => {
    const before = screw({ climb: { tries: old, shank: true, moved: true } });
    expect(reached(before, 'head-sheared')).toMatchObject({
      ...{ shankProud: false, climb: { tries: [], shank: null, moved: true } },
    });
    expect(reached(before, 'fragment-retained')).toMatchObject({
      ...{ shankProud: true, climb: { tries: [], shank: true, moved: true } },
    });
  });
});

describe('a move as it was made', () => {
  it('turns in the recess where a driver served for it, or the driver alone turned', () => {
    const lift = move('lift-and-turn');
    const turns = (tool: ToolId | undefined, turned?: 'screw' | 'driver' | 'not-known') =>
      made(lift, { tool }, endOf('turns-free', turned && { turned })).turnsInRecess;
    expect([turns('driver-slotted'), turns('head-gripper'), turns(undefined)]).toEqual([true, false, false]);
    expect([turns('head-gripper', 'driver'), turns('head-gripper', 'screw'), turns(undefined, 'not-known')]).toEqual([
      ...[true, false, false],
    ]);
    expect(made(lift, { tool: 'elevator' })).toBe(lift);
    // The others are made with what they are made with.
    expect(made(move('slot-head'), { tool: 'driver-slotted' })).toBe(move('slot-head'));
    expect(made(move('turn-out'), { tool: 'driver-slotted' })).toBe(move('turn-out'));
  });

  it('strips the recess by a slip in it: the first one not where it was found sound, or not seen', () => {
    const slip = (recess?: 'damaged' | 'sound' | 'not-seen', slips = 0, id: MoveId = 'turn-out') =>
      strips(screw({ slips }), endOf('slipped', recess && { recess }), move(id));
    expect([slip(), slip('damaged'), slip('sound'), slip('not-seen')]).toEqual([true, true, false, false]);
    expect([slip('sound', 1), slip('not-seen', 1)]).toEqual([true, true]);
    expect(slip('damaged', 1, 'grip-head')).toBe(false);
    expect(strips(screw({ slips: 1 }), endOf('no-change'), move('turn-out'))).toBe(false);
  });
});

describe('a move that was told late to its end', () => {
  const late = (id: MoveId, outcome: Outcome, before: More, more: Partial<LateEnd> = {}, end: EndMore = {}) => {
    const was = screw(before);
    const entry = endOf(outcome, end);
    const start = running(id);
    const event: LateEnd = {
      ...{ type: 'late-ended', entry, corrected: 1, move: move(id), start, stageThen: was.stage },
      ...{ isNewest: false, movesStage: true, ...more },
    };
    return heard(second, was, afterLateEnd(was, event), event);
  };
  const stage: Stage = 'recess-stripped';

  it('forgets nothing that was tried since, unless nothing was done since', () => {
    const before: More = { stage, climb: { tries: old } };
    const moves = (one: ScrewContext) => climbOf(one).tries.map((t) => t.move);
    expect(moves(late('grip-head', 'moving', before))).toEqual(['grip-head', 'turn-out']);
    expect(moves(late('grip-head', 'moving', before, { isNewest: true }))).toEqual([]);
    expect(moves(late('slot-head', 'no-change', before))).toEqual(['grip-head', 'turn-out', 'slot-head']);
  });

  it('spends nothing that another stage has open', () => {
    const one = late('slot-head', 'no-change', { ...sheared, climb: { tries: old } }, { stageThen: stage });
    expect(climbOf(one).tries).toEqual(old);
    expect(one.usedUp).toEqual(['grip-head', 'turn-out']);
  });

  it('says how the shank stands only where nothing was done since, by the stage of its own time', () => {
    const shank = (more: Partial<LateEnd>, outcome: Outcome = 'moving') =>
      climbOf(late('grip-shank', outcome, { ...sheared, climb: { shank: false } }, more)).shank;
    expect([shank({ isNewest: true }), shank({})]).toEqual([true, false]);
    expect([shank({ isNewest: true }, 'shank-broke'), shank({}, 'shank-broke')]).toEqual([null, false]);
    expect(shank({ isNewest: true, stageThen: 'seated' })).toBe(false);
  });

  it('counts what it reamed, and leaves reamed what was', () => {
    expect(late('hollow-ream', 'set-up-done', sheared, {}, { depth: 9 })).toMatchObject({
      ...{ reamed: true, climb: { reaming: { depth: 9, diameter: null } } },
    });
    expect(late('hollow-ream', 'slipped', sheared).reamed).toBe(false);
    expect(late('grip-shank', 'no-change', { ...sheared, climb: { reaming: { depth: 1, diameter: 6 } } }).reamed).toBe(
      true,
    );
  });
});

describe('a finding', () => {
  const found = (told: Partial<EntryOf<'found'>>, before: More = {}) => {
    const was = screw({ climb: { tries: old, ...before.climb }, ...(before.found && { found: before.found }) });
    const entry: EntryOf<'found'> = { ...when, type: 'found', ...told };
    return heard(second, was, afterFinding(was, entry), { type: 'found', entry, corrected: 1 });
  };
  const forgets = (...args: Parameters<typeof found>) => climbOf(found(...args)).tries.length === 0;

  it.each([
    { headProud: true },
    { headCovered: false },
    { shankStands: 0 },
    { shankProud: false },
    { tipProud: false },
    { corridor: true },
    { fragmentLength: 12 },
  ])('that tells a move something new forgets what was tried: %j', (told) => {
    expect(forgets(told)).toBe(true);
    const { shankProud, ...facts } = told as EntryOf<'found'>;
    const shank = shankProud ?? ('shankStands' in facts ? false : null);
    expect(forgets(told, { found: facts, climb: { shank } })).toBe(false);
  });

  it('that bears on no move forgets nothing', () => {
    expect(forgets({})).toBe(false);
    expect(forgets({ nearSurface: 3, openingsMeet: true })).toBe(false);
  });

  it('that changes a fact is new as well', () => {
    expect(forgets({ fragmentLength: 13 }, { found: { fragmentLength: 12 } })).toBe(true);
    expect(forgets({ shankStands: 5 }, { found: { shankStands: 4 }, climb: { shank: true } })).toBe(true);
  });

  it('says whether the shank stands: by the word, else by how far', () => {
    const shank = (told: Partial<EntryOf<'found'>>, was: boolean | null = null) => {
      const one = found(told, { climb: { shank: was } });
      return [climbOf(one).shank, one.shankProud];
    };
    expect([shank({ shankProud: true }), shank({ shankProud: false, shankStands: 4 })]).toEqual([
      ...[
        [true, true],
        [false, false],
      ],
    ]);
    expect([shank({ shankStands: 0.5 }), shank({ shankStands: 0 }), shank({ shankStands: -1 })]).toEqual([
      ...[
        [true, true],
        [false, false],
        [false, false],
      ],
    ]);
    expect([shank({ tipProud: true }, true), shank({ tipProud: true })]).toEqual([
      ...[
        [true, true],
        [null, false],
      ],
    ]);
  });
});

describe('the plate', () => {
  const off = (part: string | undefined, before: More = {}) => {
    const was = screw({
      found: { shankStands: 4, tipProud: true },
      ...before,
      climb: { tries: old, shank: true, ...before.climb },
    });
    const entry: EntryOf<'plate-off'> = { ...when, type: 'plate-off', ...(part !== undefined && { part }) };
    return heard(second, was, { ...was, shankProud: true }, { type: 'plate-off', entry, corrected: 1 });
  };

  it('that is off leaves the shank to be seen anew, and forgets what was tried; all else stays found', () => {
    for (const part of [undefined, 'plate']) {
      const one = off(part);
      expect(climbOf(one)).toMatchObject({ shank: null, plateOff: true, tries: [] });
      expect(one).toMatchObject({ shankProud: false, usedUp: [] });
      expect(one.found).toEqual({ tipProud: true });
    }
  });

  it('that was off before, and another part, change nothing', () => {
    for (const one of [off('washer'), off(undefined, { climb: { plateOff: true } })]) {
      expect(climbOf(one)).toMatchObject({ shank: true, tries: old });
      expect(one.found).toEqual({ shankStands: 4, tipProud: true });
    }
    expect(climbOf(off('washer')).plateOff).toBe(false);
    // A shank that nobody saw is not taken to stand because another part came off.
    expect(off('washer', { climb: { shank: null } }).shankProud).toBe(false);
  });
});

describe('a look', () => {
  it('leaves of what was tried what every ladder leaves, and is a line no more', () => {
    const was = screw({ usedUp: ['grip-head', 'turn-out'], climb: { tries: old, lookIsLine: true } });
    const entry: EntryOf<'reassessed'> = { ...when, type: 'reassessed', checks: {} };
    const looked = (voluntary: boolean) =>
      heard(second, was, afterReassessment(was, voluntary), { type: 'reassessed', entry, corrected: 1 });
    expect(climbOf(looked(true))).toMatchObject({ tries: [old[0]], lookIsLine: false });
    expect(looked(true).usedUp).toEqual(['grip-head']);
    expect(climbOf(looked(false))).toMatchObject({ tries: old, lookIsLine: false });
  });
});

describe('a move that is broken off', () => {
  const stop: ScrewEvent = { type: 'stopped', entry: { ...when, type: 'stopped' }, corrected: 1 };
  const unsaid = (was: ScrewContext, now: ScrewContext) => climbOf(heard(second, was, now, stop)).boneUnsaid;

  it('may have opened bone, and nobody said how far', () => {
    const at = (id: MoveId, run: Partial<RunningMove> = {}) => screw({ running: running(id, run) });
    const broken = (was: ScrewContext) => unsaid(was, abandoned(was));
    expect([broken(at('uncover')), broken(at('turn-out'))]).toEqual([true, false]);
    expect(broken(at('uncover', { bores: [hole] }))).toBe(false);
    expect(broken(screw())).toBe(false);
    const before = screw({ running: running('turn-out'), climb: { boneUnsaid: true } });
    expect(broken(before)).toBe(true);
  });

  it('is none that goes on, nor one whose end was told elsewhere', () => {
    const was = screw({ running: running('uncover') });
    expect(heard(second, was, was, stop)).toBe(was);
    const waits = screw({ running: running('uncover', { waits: true }) });
    const aside = setAside(waits);
    expect(heard(second, waits, aside, stop)).toBe(aside);
    const idle = screw();
    expect(heard(second, idle, idle, stop)).toBe(idle);
  });
});
