/** What a screw remembers of its metal, of a move told late, of one cut off; and the stage that an end leads to. */
import { describe, expect, it } from 'vitest';
import { moveOf } from '../../content/moves.ts';
import type { Bore, EntryOf } from '../../machines/entry.ts';
import type { LateEnd, RunningMove } from '../../machines/events.ts';
import {
  abandoned,
  afterEnd,
  afterFinding,
  afterLateEnd,
  afterLeaving,
  afterLengthAnswer,
  afterPiece,
  isGain,
  listed,
  reachedBy,
  reckoned,
  setAside,
  slipKind,
  slipStrips,
  withPiece,
  type ScrewContext,
} from '../../machines/screw.context.ts';
import type { MoveId, Outcome } from '../ids.ts';
import { content } from './build.ts';

const common = { n: 9, at: '2026-03-04T09:00:00Z', logged: '2026-03-04T09:00:00Z', screw: '1' } as const;
const facts: EntryOf<'screw-listed'> = {
  ...{ ...common, type: 'screw-listed', diameter: 4.5, thread: 'cortical', locking: false, drive: 'hexagonal' },
  ...{ material: 'steel', length: 36, cortices: 2 },
};
const fresh = (more: Partial<ScrewContext> = {}): ScrewContext => ({ ...listed({ facts, plateOff: false }), ...more });
const hole: Bore = { wall: 'near', diameter: 8 };
const running = (move: MoveId, more: Partial<RunningMove> = {}): RunningMove => ({
  ...{ move, entry: 8, corrected: 0, tool: undefined, bores: [hole], answered: [] },
  ...more,
});
const endOf = (outcome: Outcome, more: object = {}): EntryOf<'move-ended'> => ({
  ...common,
  ...{ type: 'move-ended', outcome, ...more },
});
const ended = (move: MoveId, outcome: Outcome, more: object = {}, before: Partial<ScrewContext> = {}) =>
  afterEnd(fresh({ running: running(move), ...before }), endOf(outcome, more), moveOf(content, move));

describe('a screw of which not all is known', () => {
  it('is reckoned as locking and through two cortices, and says so', () => {
    expect(reckoned(facts)).toBe(facts);
    expect(reckoned({ ...facts, locking: null })).toEqual({ ...facts, locking: true, assumed: ['locking'] });
    expect(reckoned({ ...facts, cortices: null })).toEqual({ ...facts, cortices: 2, assumed: ['cortices'] });
    expect(reckoned({ ...facts, locking: null, cortices: 1 })).toMatchObject({ cortices: 1, assumed: ['locking'] });
    expect(reckoned({ ...facts, locking: null, cortices: null }).assumed).toEqual(['locking', 'cortices']);
  });

  it('remembers that a colleague was called before it was listed', () => {
    expect(listed({ facts, plateOff: false, colleague: true }).colleague).toBe(true);
    expect(listed({ facts: { ...facts, locking: null }, plateOff: false }).facts.assumed).toEqual(['locking']);
  });
});

describe('a slip', () => {
  it('is one of the kind of tool that the move was made with', () => {
    const kinds = (...ids: MoveId[]) => ids.map((id) => slipKind(moveOf(content, id)));
    expect(kinds('turn-out', 'reseat-driver', 'pack-recess', 'drive-oversize')).toEqual(Array(4).fill('driver'));
    expect(kinds('grip-head', 'slot-head', 'grip-shank', 'gouge-and-grip')).toEqual(Array(4).fill('gripper'));
    expect(kinds('conical-extractor', 'reverse-tap', 'extraction-sleeve')).toEqual(['cone', 'cone', 'sleeve']);
    expect(kinds('burr-out')).toEqual(['burr-out']);
    const made = (id: 'lift-and-turn' | 'break-loose', turnsInRecess: boolean) => slipKind({ id, turnsInRecess });
    expect([made('lift-and-turn', true), made('lift-and-turn', false)]).toEqual(['driver', 'gripper']);
    expect(made('break-loose', true)).toBe('driver');
    expect(slipKind({ id: 'grip-head', turnsInRecess: true })).toBe('gripper');
  });

  it('is remembered by its kind, once', () => {
    expect(ended('turn-out', 'slipped').slippedWith).toEqual(['driver']);
    expect(ended('grip-head', 'slipped', {}, { slippedWith: ['driver'] }).slippedWith).toEqual(['driver', 'gripper']);
    expect(ended('pack-recess', 'slipped', {}, { slippedWith: ['driver'] }).slippedWith).toEqual(['driver']);
    expect(ended('turn-out', 'no-change', {}, { slippedWith: ['cone'] }).slippedWith).toEqual(['cone']);
  });

  it('strips the recess that it turned in, unless that was seen to be sound', () => {
    const strips = (outcome: Outcome, turnsInRecess: boolean, recess?: 'damaged' | 'sound' | 'not-seen') =>
      slipStrips({ outcome, recess }, { turnsInRecess });
    expect([strips('slipped', true), strips('slipped', true, 'damaged'), strips('slipped', true, 'not-seen')]).toEqual(
      Array(3).fill(true),
    );
    expect([strips('slipped', true, 'sound'), strips('slipped', false), strips('no-change', true)]).toEqual(
      Array(3).fill(false),
    );
  });
});

it('turning without coming is no gain, and neither is what brought nothing', () => {
  const gains = (outcome: Outcome | 'turns-free', move: MoveId = 'turn-out') =>
    isGain({ outcome }, moveOf(content, move));
  expect([gains('out'), gains('moving'), gains('set-up-done'), gains('head-sheared', 'drill-head-off')]).toEqual(
    Array(4).fill(true),
  );
  expect([gains('turns-free'), gains('no-change'), gains('slipped'), gains('head-sheared')]).toEqual(
    Array(4).fill(false),
  );
});

describe('the stage that an end leads to', () => {
  const out = moveOf(content, 'turn-out');
  const drill = moveOf(content, 'drill-head-off');

  it('is out, or as deep as it broke', () => {
    expect(reachedBy({ outcome: 'out' }, out, 'fragment-retained')).toBe('out');
    expect(reachedBy({ outcome: 'shank-broke', reachable: true }, out, 'seated')).toBe('head-sheared');
    expect(reachedBy({ outcome: 'shank-broke', reachable: false }, out, 'seated')).toBe('fragment-retained');
    expect(reachedBy({ outcome: 'head-sheared' }, out, 'seated')).toBe('head-sheared');
  });

  it('is a head that is off where it was drilled off, of a screw that still had one', () => {
    const done = { outcome: 'set-up-done' } as const;
    expect([reachedBy(done, drill, 'seated'), reachedBy(done, drill, 'recess-stripped')]).toEqual(
      Array(2).fill('head-sheared'),
    );
    expect([reachedBy(done, drill, 'head-sheared'), reachedBy(done, drill, 'fragment-retained')]).toEqual([null, null]);
    expect(reachedBy(done, out, 'seated')).toBeNull();
    expect(reachedBy({ outcome: 'no-change' }, drill, 'seated')).toBeNull();
  });

  it('is a stripped recess where it slipped in its seat, by what strips it', () => {
    const slipped = { outcome: 'slipped' } as const;
    expect(reachedBy(slipped, out, 'seated')).toBe('recess-stripped');
    expect(reachedBy(slipped, out, 'recess-stripped')).toBeNull();
    expect(reachedBy({ ...slipped, recess: 'sound' }, out, 'seated')).toBeNull();
    expect(reachedBy(slipped, out, 'seated', false)).toBeNull();
    expect(reachedBy({ ...slipped, recess: 'sound' }, out, 'seated', true)).toBe('recess-stripped');
  });
});

describe('what broke it', () => {
  const breaks = (...args: Parameters<typeof ended>) => ended(...args).breaks;
  const one = (what: string, afterEnd = false) => [{ n: 9, what, afterEnd }];

  it('is told with the end: the shank, the head, a head drilled off, metal burred away', () => {
    expect(breaks('turn-out', 'shank-broke', { reachable: true })).toEqual(one('shank'));
    expect(breaks('turn-out', 'head-sheared')).toEqual(one('head'));
    expect(breaks('drill-head-off', 'set-up-done')).toEqual(one('drilled'));
    for (const outcome of ['out', 'moving', 'set-up-done', 'no-change'] as const)
      expect(breaks('burr-out', outcome)).toEqual(one('burred'));
  });

  it('is nothing where a move only failed, or made something else ready', () => {
    expect([breaks('burr-out', 'slipped'), breaks('burr-out', 'tool-broke')]).toEqual([[], []]);
    expect([breaks('gouge-and-grip', 'set-up-done'), breaks('turn-out', 'out')]).toEqual([[], []]);
  });

  it('is kept beside what was told before, and says whether the screw had ended by then', () => {
    const before = { n: 3, what: 'found', afterEnd: false } as const;
    expect(breaks('turn-out', 'head-sheared', {}, { breaks: [before] })).toEqual([before, ...one('head')]);
    expect(breaks('turn-out', 'moving', {}, { breaks: [before] })).toEqual([before]);
    expect(breaks('turn-out', 'shank-broke', {}, { stage: 'out' })).toEqual(one('shank', true));
  });
});

describe('a piece that came out', () => {
  const none = { pieces: [1], imagePieces: [2], unmeasured: 3 };

  it('is measured, known by an image, or not measured by anybody', () => {
    expect(withPiece(none, 9, 'measured', true)).toEqual({ ...none, pieces: [1, 9] });
    expect(withPiece(none, 9, undefined, true)).toEqual({ ...none, pieces: [1, 9] });
    expect(withPiece(none, 9, 'image', true)).toEqual({ ...none, imagePieces: [2, 9] });
    expect(withPiece(none, 9, 'difference', false)).toEqual({ ...none, unmeasured: 4 });
    expect(withPiece(none, undefined, undefined, true)).toEqual({ ...none, unmeasured: 4 });
    expect(withPiece(none, undefined, undefined, false)).toEqual(none);
  });

  it('is told by a screw that came out, and not by one that was burred away', () => {
    const last = (...args: Parameters<typeof ended>) => {
      const { unmeasured, outUnmeasured, pieces } = ended(...args);
      return { unmeasured, outUnmeasured, pieces };
    };
    expect(last('turn-out', 'out')).toEqual({ unmeasured: 1, outUnmeasured: true, pieces: [] });
    expect(last('turn-out', 'out', { recovered: 36 })).toEqual({ unmeasured: 0, outUnmeasured: false, pieces: [36] });
    expect(last('turn-out', 'out', { recovered: 36, lengthHow: 'difference' })).toEqual({
      ...{ unmeasured: 1, outUnmeasured: true, pieces: [] },
    });
    expect(last('burr-out', 'out')).toEqual({ unmeasured: 0, outUnmeasured: false, pieces: [] });
    expect(last('turn-out', 'moving')).toEqual({ unmeasured: 0, outUnmeasured: false, pieces: [] });
  });

  it('whole, and where its head is, are kept once they were said', () => {
    const seen = { place: 'piece', part: null, piece: null } as const;
    expect(ended('turn-out', 'out', { whole: true }).whole).toBe(true);
    expect([ended('turn-out', 'out').whole, ended('turn-out', 'out', {}, { whole: true }).whole]).toEqual([
      false,
      true,
    ]);
    expect(ended('turn-out', 'head-sheared', { head: 'piece' }).head).toEqual(seen);
    expect(ended('turn-out', 'out').head).toBeNull();
    expect(ended('turn-out', 'out', {}, { head: seen }).head).toBe(seen);
  });
});

describe('a piece told by itself', () => {
  const piece = (more: Partial<EntryOf<'piece-recovered'>>, before: Partial<ScrewContext> = {}, afterClosing = false) =>
    afterPiece(fresh(before), { ...common, type: 'piece-recovered', ...more }, afterClosing);
  const asked = { n: 4, stage: 'seated' } as const;

  it('is one more, and ends nothing', () => {
    const before = { running: running('turn-out'), lengthAsked: asked, pieces: [5] };
    expect(piece({ length: 9, lengthHow: 'measured' }, before)).toMatchObject({
      ...{ pieces: [5, 9], unmeasured: 0, whole: false, complete: false, lengthAsked: asked, foundAfter: null },
      running: before.running,
    });
    expect(piece({})).toMatchObject({ pieces: [], unmeasured: 1 });
  });

  it('that is all of it ends the move that runs and what was asked of its length; it tells of no piece by itself', () => {
    for (const [more, told] of [
      [{ whole: true }, { whole: true, complete: false }],
      [{ complete: true }, { whole: false, complete: true }],
    ] as const) {
      const one = piece(more, { running: running('turn-out'), lengthAsked: asked });
      expect(one).toMatchObject({
        ...told,
        running: null,
        ends: 1,
        lengthAsked: null,
        unmeasured: 0,
        foundAfter: null,
      });
      expect(piece({ ...more, length: 9, lengthHow: 'measured' }).pieces).toEqual([9]);
    }
    expect(piece({}, { whole: true, complete: true })).toMatchObject({ whole: true, complete: true });
  });

  it('measures the one that came out last without a length', () => {
    const out = { unmeasured: 2, outUnmeasured: true };
    expect(piece({ length: 9, lengthHow: 'measured' }, out)).toMatchObject({
      ...{ pieces: [9], unmeasured: 1, outUnmeasured: false },
    });
    expect(piece({ length: 9, lengthHow: 'image' }, out)).toMatchObject({ unmeasured: 1, outUnmeasured: false });
    expect(piece({ length: 9, lengthHow: 'difference' }, out)).toMatchObject({ unmeasured: 3, outUnmeasured: true });
    expect(piece({ complete: true }, out)).toMatchObject({ unmeasured: 2, outUnmeasured: true });
    expect(piece({ length: 9 }, { unmeasured: 2, outUnmeasured: false })).toMatchObject({
      ...{ unmeasured: 2, outUnmeasured: false },
    });
  });

  it('after the closing is found out only where it is all of it', () => {
    expect(piece({ complete: true }, {}, true).foundAfter).toBe('out');
    expect(piece({ length: 9 }, { foundAfter: 'stays' }, true).foundAfter).toBe('stays');
    expect(piece({ complete: true }, { foundAfter: 'stays' }).foundAfter).toBe('stays');
  });
});

describe('what stays', () => {
  const leaves = (more: Partial<EntryOf<'left-in'>> = {}, format = 2, before: Partial<ScrewContext> = {}) =>
    afterLeaving(
      fresh({ left: [7], ...before }),
      { ...common, type: 'left-in', length: 12, where: 'canal', reason: 'deep', ...more },
      format,
    );

  it('is kept by the last word on it, beside every length that was told', () => {
    expect(leaves({ lengthHow: 'image', imageTaken: true })).toMatchObject({
      ...{ left: [7, 12], leftImage: true, stays: { length: 12, how: 'image', image: true, isUnasked: false } },
    });
    expect(leaves({ length: null, imageTaken: false })).toMatchObject({
      ...{ left: [7, null], leftImage: false, stays: { length: null, how: null, image: false } },
    });
    expect(leaves()).toMatchObject({ leftImage: false, stays: { image: false } });
    expect([leaves({}, 1).stays?.isUnasked, leaves({}, 2).stays?.isUnasked]).toEqual([true, false]);
  });

  it('ends the move that runs, whose bores stand', () =>
    expect(leaves({}, 2, { running: running('burr-out') })).toMatchObject({ running: null, ends: 1, bores: [hole] }));
});

describe('a word on why it came out short', () => {
  const says = (answer: 'broke' | 'listed-wrong' | 'lost') =>
    afterLengthAnswer(fresh({ lengthAsked: { n: 4, stage: 'seated' }, breaks: [] }), {
      ...common,
      ...{ type: 'length-answered', answer },
    });

  it('answers what was asked; only that it broke breaks it', () => {
    expect(says('broke')).toMatchObject({
      ...{ lengthAsked: null, listedWrong: false, restLost: false },
      breaks: [{ n: 9, what: 'shank', afterEnd: false }],
    });
    expect(says('listed-wrong')).toMatchObject({ lengthAsked: null, listedWrong: true, restLost: false, breaks: [] });
    expect(says('lost')).toMatchObject({ lengthAsked: null, listedWrong: false, restLost: true, breaks: [] });
  });
});

describe('a move that is cut off', () => {
  it('waits for its end where that was told later with its number, and its bores with it', () => {
    const waits = running('burr-out', { waits: true });
    const screw = fresh({ running: waits, lateOpen: [running('turn-out', { entry: 2 })] });
    for (const aside of [abandoned(screw), setAside(screw)]) {
      expect(aside).toMatchObject({ running: null, ends: 0, bores: [] });
      expect(aside.lateOpen.map(({ entry }) => entry)).toEqual([2, 8]);
    }
    const idle = fresh();
    expect(setAside(idle)).toBe(idle);
  });
});

describe('a move that was told late', () => {
  const start = running('grip-head', { entry: 5 });
  const late = (outcome: Outcome, before: Partial<ScrewContext>, more: Partial<LateEnd> = {}, end: object = {}) => {
    const event: LateEnd = {
      ...{ type: 'late-ended', entry: endOf(outcome, end), corrected: 0, start, move: moveOf(content, start.move) },
      ...{ stageThen: before.stage ?? 'seated', isNewest: false, movesStage: true, ...more },
    };
    return afterLateEnd(fresh(before), event);
  };

  it('counts, ends its own start alone, and moves no stage here', () => {
    const now = running('turn-out', { entry: 7 });
    const other = running('slot-head', { entry: 6 });
    const one = late('slipped', { running: now, lateOpen: [start, other], ends: 2, stage: 'recess-stripped' });
    expect(one).toMatchObject({ running: now, lateOpen: [other], ends: 3, endedStart: 5, stage: 'recess-stripped' });
    expect(one.bores).toEqual([hole]);
  });

  it('spends its move in the stage that the screw is in, not in another', () => {
    const usedUp = ['turn-out'] as const;
    expect(late('no-change', { usedUp }).usedUp).toEqual(['turn-out', 'grip-head']);
    expect(late('no-change', { usedUp, stage: 'head-sheared' }, { stageThen: 'recess-stripped' }).usedUp).toEqual([
      'turn-out',
    ]);
    expect(late('moving', { usedUp }).usedUp).toEqual(['turn-out']);
  });

  it('changes what stands in the recess, and that somebody looked, only where nothing was done since', () => {
    const before = { reassessed: true, toolInRecess: false };
    expect(late('tool-jammed', before)).toMatchObject({ toolInRecess: false, reassessed: true });
    expect(late('tool-jammed', before, { isNewest: true })).toMatchObject({ toolInRecess: true, reassessed: true });
    expect([late('slipped', before).reassessed, late('slipped', before, { isNewest: true }).reassessed]).toEqual([
      ...[true, false],
    ]);
    const jammed = { toPart: true, toolInRecess: true };
    expect(late('moving', jammed)).toMatchObject({ toPart: true, toolInRecess: true });
    expect(late('moving', jammed, { isNewest: true })).toMatchObject({ toPart: false, toolInRecess: false });
    expect(late('out', {}, {}, { toolJammed: true }).toPart).toBe(true);
    expect(late('moving', {}).toPart).toBe(false);
  });

  it('takes no answer, and leaves out what was out', () => {
    expect(late('no-change', { answered: ['reverse'], restOut: true })).toMatchObject({
      ...{ answered: ['reverse'], restOut: true },
    });
    expect([late('out', {}).restOut, late('out', {}, {}, { recovered: 9 }).restOut]).toEqual([true, false]);
  });

  it('that broke it is told of a screw that had ended, or of one that was in', () => {
    const broke = (stage: ScrewContext['stage']) =>
      late('shank-broke', { stage, breaks: [{ n: 2, what: 'head', afterEnd: false }] }, { stageThen: 'seated' }).breaks;
    expect(broke('out')).toEqual([
      { n: 2, what: 'head', afterEnd: false },
      { n: 9, what: 'shank', afterEnd: true },
    ]);
    expect(broke('seated').at(-1)).toEqual({ n: 9, what: 'shank', afterEnd: false });
  });
});

it('a finding keeps how far the shank stands, that the head is covered, and that openings meet', () => {
  const told = { shankStands: 4, headCovered: true, openingsMeet: false, corridor: false } as const;
  expect(afterFinding(fresh(), { ...common, type: 'found', ...told }).found).toEqual(told);
});
