/** What a screw remembers: as it is first listed, after each end of a move, a look, a finding. */
import { describe, expect, it } from 'vitest';
import { moveOf } from '../../content/moves.ts';
import type { Bore, EntryOf } from '../../machines/entry.ts';
import {
  abandoned,
  afterEnd,
  afterFinding,
  afterReassessment,
  depth,
  isWithoutGain,
  isWorking,
  listed,
  lookReopens,
  type ScrewContext,
  type ScrewFacts,
} from '../../machines/screw.context.ts';
import type { MoveId, Outcome } from '../ids.ts';
import { content } from './build.ts';

const common = { n: 9, at: '2026-03-04T09:00:00Z', logged: '2026-03-04T09:00:00Z', screw: '1' } as const;
const facts = (more: Partial<ScrewFacts> = {}): ScrewFacts => ({
  ...{ ...common, type: 'screw-listed', diameter: 4.5, thread: 'cortical', locking: false, drive: 'hexagonal' },
  ...{ material: 'steel', length: 36, cortices: 2 },
  ...more,
});
const fresh = (more: Partial<ScrewContext> = {}): ScrewContext => ({
  ...listed({ facts: facts(), plateOff: false }),
  ...more,
});
const expected: Bore[] = [{ wall: 'near', diameter: 8 }];
const made: Bore[] = [{ wall: 'far', diameter: 5 }];
const running = (move: MoveId) => ({ move, entry: 8, corrected: 0, tool: undefined, bores: expected, answered: [] });
const found = (more: Partial<EntryOf<'found'>>): EntryOf<'found'> => ({ ...common, type: 'found', ...more });

/** The screw once this move, which ran on it, ended so. */
function ended(move: MoveId, outcome: Outcome, before: Partial<ScrewContext> = {}, more: object = {}): ScrewContext {
  const entry: EntryOf<'move-ended'> = { ...common, type: 'move-ended', outcome, ...more };
  return afterEnd(fresh({ running: running(move), ...before }), entry, moveOf(content, move));
}

describe('a screw as it is first listed', () => {
  it('has nothing behind it', () => {
    const own = facts();
    expect(listed({ facts: own, plateOff: false })).toEqual({
      ...{ id: '1', facts: own, stage: 'seated', brokenFromStart: false, running: null, ends: 0, slips: 0 },
      ...{ withoutGain: 0, usedUp: [], jammedSeat: false, turnOutReopened: false, reassessed: false },
      ...{ toolInRecess: false, reamed: false, gripFailed: false, shankProud: false, found: {}, bores: [] },
      ...{
        pieces: [],
        restOut: false,
        left: [],
        answered: [],
        toPart: false,
        ...{ slippedWith: [], secondAsked: 0, colleague: false, farWalls: [], turned: false },
      },
      ...{ lateOpen: [], endedStart: null, breaks: [], leftImage: false },
      ...{
        imagePieces: [],
        unmeasured: 0,
        outUnmeasured: false,
        whole: false,
        complete: false,
        head: null,
        destroyed: [],
        stays: null,
      },
      ...{ lengthAsked: null, listedWrong: false, restLost: false, foundAfter: null },
    });
  });

  it('is broken from the start when it is listed with a stage of its own, and proud once the plate is off', () => {
    expect(listed({ facts: facts({ stage: 'head-sheared' }), plateOff: true })).toMatchObject({
      ...{ stage: 'head-sheared', brokenFromStart: true, shankProud: true },
    });
    expect(listed({ facts: facts({ stage: 'seated' }), plateOff: false })).toMatchObject({
      ...{ stage: 'seated', brokenFromStart: false },
    });
  });
});

describe('stages', () => {
  it('go from seated down to ended', () => {
    const stages = ['seated', 'recess-stripped', 'head-sheared', 'fragment-retained', 'out', 'left-in'] as const;
    expect(stages.map(depth)).toEqual([0, 1, 2, 3, 4, 4]);
    expect(stages.map(isWorking)).toEqual([true, true, true, true, false, false]);
  });
});

describe('an end', () => {
  it('brings the job further, or not', () => {
    const without = (outcome: Outcome, move: MoveId = 'turn-out') => isWithoutGain({ outcome }, moveOf(content, move));
    for (const outcome of ['out', 'moving', 'set-up-done'] as const) expect(without(outcome)).toBe(false);
    for (const outcome of ['no-change', 'slipped', 'shank-broke', 'tool-broke', 'tool-jammed', 'head-sheared'] as const)
      expect(without(outcome)).toBe(true);
    expect(without('head-sheared', 'drill-head-off')).toBe(false);
    expect(without('half-out' as never)).toBe(true);
  });

  it('is one more, and the move no longer runs', () => {
    const screw = ended('grip-head', 'no-change', { ends: 4, withoutGain: 1, usedUp: ['turn-out'] });
    expect(screw).toMatchObject({ running: null, ends: 5, withoutGain: 2, usedUp: ['turn-out', 'grip-head'] });
    expect(ended('grip-head', 'moving', { withoutGain: 1 }).withoutGain).toBe(1);
  });

  it('is a slip in the recess only for a move that turns there', () => {
    expect(ended('turn-out', 'slipped', { slips: 1 }).slips).toBe(2);
    expect(ended('turn-out', 'no-change', { slips: 1 }).slips).toBe(1);
    expect(ended('grip-head', 'slipped', { slips: 1 }).slips).toBe(1);
  });

  it('spends the move when nothing changed or it slipped, seating the driver anew but for moving', () => {
    const spent = (move: MoveId, outcome: Outcome) => ended(move, outcome).usedUp;
    expect(spent('grip-head', 'slipped')).toEqual(['grip-head']);
    expect(spent('grip-head', 'tool-broke')).toEqual([]);
    expect(spent('grip-head', 'moving')).toEqual([]);
    expect(spent('reseat-driver', 'tool-broke')).toEqual(['reseat-driver']);
    expect(spent('reseat-driver', 'moving')).toEqual([]);
    expect(ended('grip-head', 'slipped', { usedUp: ['grip-head'] }).usedUp).toEqual(['grip-head']);
  });

  it('of turning out without gain leaves a seat that is jammed', () => {
    expect(ended('turn-out', 'no-change').jammedSeat).toBe(true);
    expect(ended('turn-out', 'moving').jammedSeat).toBe(false);
    expect(ended('grip-head', 'no-change').jammedSeat).toBe(false);
    expect(ended('turn-out', 'moving', { jammedSeat: true }).jammedSeat).toBe(true);
  });

  it('with a slip asks for another look', () => {
    expect(ended('grip-head', 'slipped', { reassessed: true }).reassessed).toBe(false);
    expect(ended('grip-head', 'no-change', { reassessed: true }).reassessed).toBe(true);
    expect(ended('grip-head', 'no-change').reassessed).toBe(false);
  });

  it('fills the recess with a jammed tool until another end', () => {
    expect(ended('conical-extractor', 'tool-jammed').toolInRecess).toBe(true);
    expect(ended('grip-head', 'moving', { toolInRecess: true }).toolInRecess).toBe(false);
  });

  it('of the hollow reamer has reamed, but for a slip or a broken tool', () => {
    expect(ended('hollow-ream', 'no-change').reamed).toBe(true);
    expect(ended('hollow-ream', 'slipped').reamed).toBe(false);
    expect(ended('hollow-ream', 'tool-broke').reamed).toBe(false);
    expect(ended('burr-out', 'no-change').reamed).toBe(false);
    expect(ended('burr-out', 'no-change', { reamed: true }).reamed).toBe(true);
  });

  it('of gripping or gouging at a sheared head without gain is remembered', () => {
    const failed = (move: MoveId, outcome: Outcome, before: Partial<ScrewContext> = { stage: 'head-sheared' }) =>
      ended(move, outcome, before).gripFailed;
    expect([failed('grip-shank', 'no-change'), failed('gouge-and-grip', 'slipped')]).toEqual([true, true]);
    expect(failed('grip-shank', 'moving')).toBe(false);
    expect(failed('hollow-ream', 'no-change')).toBe(false);
    expect(failed('grip-shank', 'no-change', { stage: 'fragment-retained' })).toBe(false);
    expect(failed('hollow-ream', 'moving', { gripFailed: true })).toBe(true);
  });

  it('with gain at a sheared head leaves the shank proud', () => {
    const proud = (outcome: Outcome, before: Partial<ScrewContext> = { stage: 'head-sheared' }) =>
      ended('gouge-and-grip', outcome, before).shankProud;
    expect([proud('moving'), proud('set-up-done')]).toEqual([true, true]);
    expect([proud('no-change'), proud('out')]).toEqual([false, false]);
    expect(proud('moving', { stage: 'fragment-retained' })).toBe(false);
    expect(proud('no-change', { shankProud: true })).toBe(true);
  });

  it('leaves the bores that were named, else those that were to be expected, beside those before', () => {
    const before = [{ wall: 'both' as const, diameter: 3 }];
    expect(ended('burr-out', 'no-change', { bores: before }).bores).toEqual([...before, ...expected]);
    expect(ended('burr-out', 'no-change', { bores: before }, { bores: made }).bores).toEqual([...before, ...made]);
    expect(ended('burr-out', 'no-change', {}, { bores: [] }).bores).toEqual([]);
  });

  it('adds the piece that was measured; out without a measure, the rest is out', () => {
    expect(ended('turn-out', 'out', { pieces: [3] }, { recovered: 20 })).toMatchObject({
      pieces: [3, 20],
      restOut: false,
    });
    expect(ended('turn-out', 'out', { pieces: [3] })).toMatchObject({ pieces: [3], restOut: true });
    expect(ended('turn-out', 'no-change', { pieces: [3] })).toMatchObject({ pieces: [3], restOut: false });
    expect(ended('turn-out', 'moving', {}, { recovered: 0 }).pieces).toEqual([0]);
  });

  it('with a tool jammed in the screw leaves both to be parted', () => {
    expect(ended('conical-extractor', 'out', {}, { toolJammed: true }).toPart).toBe(true);
    expect(ended('conical-extractor', 'out', {}, { toolJammed: false }).toPart).toBe(false);
    expect(ended('conical-extractor', 'out').toPart).toBe(false);
  });
});

describe('a move that nobody ended', () => {
  it('made no difference, but its bores stand', () => {
    const before = fresh({ running: running('burr-out'), ends: 2, bores: made });
    const endedStart = before.running?.entry;
    expect(abandoned(before)).toEqual({ ...before, running: null, ends: 3, endedStart, bores: [...made, ...expected] });
    const idle = fresh({ ends: 2 });
    expect(abandoned(idle)).toBe(idle);
  });
});

describe('a look', () => {
  it('that a slip asked for opens seating the driver anew, and nothing else', () => {
    const before = fresh({ usedUp: ['turn-out', 'grip-head'] });
    expect(afterReassessment(before, false)).toEqual({ ...before, reassessed: true });
  });

  it('of one’s own will opens turning out once more, once', () => {
    const before = fresh({ usedUp: ['turn-out', 'grip-head'] });
    expect(lookReopens(before)).toBe(true);
    const after = afterReassessment(before, true);
    expect(after).toEqual({ ...before, reassessed: true, turnOutReopened: true, usedUp: ['grip-head'] });
    const spent = { ...after, usedUp: ['turn-out' as const] };
    expect(lookReopens(spent)).toBe(false);
    expect(afterReassessment(spent, true)).toEqual(spent);
    expect(lookReopens(fresh({ usedUp: ['grip-head'] }))).toBe(false);
    expect(afterReassessment(fresh({ usedUp: ['grip-head'] }), true)).toMatchObject({
      ...{ usedUp: ['grip-head'], turnOutReopened: false, reassessed: true },
    });
  });
});

describe('a finding', () => {
  it('adds to what was known, and the last word on each counts', () => {
    const first = afterFinding(fresh(), found({ headProud: true, fragmentLength: 12 }));
    expect(first.found).toEqual({ headProud: true, fragmentLength: 12 });
    const second = afterFinding(first, found({ headProud: false, tipProud: true, corridor: true, nearSurface: -2 }));
    expect(second.found).toEqual({
      ...{ headProud: false, fragmentLength: 12, tipProud: true, corridor: true, nearSurface: -2 },
    });
    expect(Object.keys(first.found)).toEqual(['headProud', 'fragmentLength']);
  });

  it('tells whether the shank stands proud, and leaves it where nothing was said', () => {
    expect(afterFinding(fresh(), found({ shankProud: true })).shankProud).toBe(true);
    expect(afterFinding(fresh({ shankProud: true }), found({ shankProud: false })).shankProud).toBe(false);
    expect(afterFinding(fresh({ shankProud: true }), found({ tipProud: true })).shankProud).toBe(true);
  });
});
