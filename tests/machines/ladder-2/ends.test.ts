/** What the end of a move leaves in memory by the second ladder. */
import { describe, expect, it } from 'vitest';
import type { MoveId, Outcome } from '../../../content/ids.ts';
import type { Bore } from '../../../machines/entry.ts';
import type { RunningMove } from '../../../machines/events.ts';
import type { ScrewContext } from '../../../machines/screw.context.ts';
import {
  after,
  climbOf,
  ended,
  gripper,
  hole,
  old,
  pliers,
  sheared,
  tried,
  type More,
  type EndMore,
} from './remembered.ts';

describe('a try', () => {
  const spent = (id: MoveId, outcome: Outcome, before: More = {}) =>
    after(id, outcome, before).tries.map((one) => one.move);

  it('is spent by an end that brought nothing, or slipped, and by nothing else', () => {
    const stage = { stage: 'recess-stripped' } as const;
    expect([spent('grip-head', 'no-change', stage), spent('grip-head', 'slipped', stage)]).toEqual([
      ...[['grip-head'], ['grip-head']],
    ]);
    for (const outcome of ['moving', 'turns-free', 'tool-broke', 'tool-jammed', 'head-sheared', 'out'] as const)
      expect(spent('grip-head', outcome, stage)).toEqual([]);
  });

  it('of reseating the driver is spent by every end but one that moved or turned the screw', () => {
    const stage = { stage: 'recess-stripped' } as const;
    for (const outcome of ['no-change', 'slipped', 'tool-broke', 'tool-jammed'] as const)
      expect(spent('reseat-driver', outcome, stage)).toEqual(['reseat-driver']);
    expect([spent('reseat-driver', 'moving', stage), spent('reseat-driver', 'turns-free', stage)]).toEqual([[], []]);
  });

  it('is told with the tool that was named, else the only kind that it can have been', () => {
    const tool = (run: Partial<RunningMove>) => after('grip-head', 'no-change', {}, {}, run).tries;
    expect(tool({ tool: 'head-gripper' })).toEqual([tried('grip-head', 'head-gripper', [pliers, gripper])]);
    expect(tool({})).toEqual([tried('grip-head', null, [pliers, gripper])]);
    expect(tool({ among: [pliers] })).toEqual([tried('grip-head', 'locking-pliers', [pliers])]);
    expect(tool({ among: undefined })).toEqual([tried('grip-head', null, null)]);
  });

  it('closes its move in the words of every ladder, once however often it was made', () => {
    const one = ended('grip-head', 'no-change', { climb: { tries: old } });
    expect(one.usedUp).toEqual(['grip-head', 'turn-out']);
    expect(climbOf(one).tries).toHaveLength(3);
  });

  it.each<[string, Outcome, EndMore, boolean]>([
    ['the screw moved', 'moving', {}, true],
    ['something was made ready', 'set-up-done', {}, true],
    ['it turned free', 'turns-free', {}, true],
    ['a bore was made', 'no-change', { bores: [hole] }, true],
    ['no bore was made', 'no-change', { bores: [] }, false],
    ['the tool broke', 'tool-broke', {}, false],
  ])('is forgotten or not, where %s', (_, outcome, end, isForgotten) => {
    const left = after('conical-extractor', outcome, { stage: 'recess-stripped', climb: { tries: old } }, end).tries;
    expect(left.some((one) => old.includes(one))).toBe(!isForgotten);
  });

  it('is forgotten by the bores that were foreseen, where nobody said which were made', () => {
    const left = (end: EndMore) =>
      after('gouge-and-grip', 'no-change', { ...sheared, climb: { tries: old } }, end, { bores: [hole] }).tries;
    expect(left({}).map((one) => one.move)).toEqual(['gouge-and-grip']);
    expect(left({ bores: [] }).map((one) => one.move)).toEqual(['grip-head', 'turn-out', 'gouge-and-grip']);
  });
});

describe('a first slip that leaves the seat sound', () => {
  const slip = (id: MoveId, before: More = {}, end: EndMore = { recess: 'sound' }) =>
    ended(id, 'slipped', { climb: { tries: old }, ...before }, end);
  const moves = (one: ScrewContext) => climbOf(one).tries.map((t) => t.move);

  it('gives turning out one try more and spends none of it; what else was tried stays tried', () => {
    const one = slip('turn-out');
    expect(moves(one)).toEqual(['grip-head']);
    expect(one.turnOutReopened).toBe(true);
    expect(slip('turn-out', {}, { recess: 'not-seen' }).turnOutReopened).toBe(true);
  });

  it('of another move in the recess spends a try of that one', () => {
    const one = slip('break-loose');
    expect(moves(one)).toEqual(['grip-head', 'break-loose']);
    expect(one.turnOutReopened).toBe(true);
  });

  it('is none where it was damaged, was the second one, lay in a stripped recess or was no slip in it', () => {
    for (const one of [
      slip('turn-out', {}, { recess: 'damaged' }),
      slip('turn-out', { slips: 1 }),
      slip('turn-out', { stage: 'recess-stripped' }),
    ]) {
      expect(moves(one)).toEqual(['grip-head', 'turn-out', 'turn-out']);
      expect(one.turnOutReopened).toBe(false);
    }
    const gripped = slip('grip-head');
    expect([moves(gripped), gripped.turnOutReopened]).toEqual([['grip-head', 'turn-out', 'grip-head'], false]);
    const turned = ended('turn-out', 'no-change', { climb: { tries: old } });
    expect([moves(turned), turned.turnOutReopened]).toEqual([['grip-head', 'turn-out', 'turn-out'], false]);
  });

  it('takes back no try that was given before', () =>
    expect(ended('grip-head', 'no-change', { turnOutReopened: true }).turnOutReopened).toBe(true));
});

describe('a shank', () => {
  const shank = (id: MoveId, outcome: Outcome, before: More = {}) => {
    const one = ended(id, outcome, { ...sheared, ...before });
    return [climbOf(one).shank, one.shankProud];
  };

  it('stands once a move brought something at a sheared head, but one that only prepares another', () => {
    expect([shank('grip-shank', 'moving'), shank('gouge-and-grip', 'set-up-done')]).toEqual([
      ...[
        [true, true],
        [true, true],
      ],
    ]);
    expect(shank('hollow-ream', 'moving')).toEqual([true, true]);
    expect(shank('hollow-ream', 'set-up-done')).toEqual([null, false]);
    expect([shank('grip-shank', 'no-change'), shank('grip-shank', 'turns-free')]).toEqual([
      ...[
        [null, false],
        [null, false],
      ],
    ]);
    expect(shank('grip-head', 'moving', { stage: 'recess-stripped' })).toEqual([null, false]);
    expect(shank('grip-shank', 'no-change', { climb: { shank: true } })).toEqual([true, true]);
    expect(shank('grip-shank', 'no-change', { climb: { shank: false } })).toEqual([false, false]);
  });

  it('that broke nobody has seen', () =>
    expect(shank('grip-shank', 'shank-broke', { climb: { shank: true } })).toEqual([null, false]));
});

describe('reaming and windows', () => {
  const ream = (outcome: Outcome, end: EndMore = {}, before: More = {}, run: Partial<RunningMove> = {}) =>
    ended('hollow-ream', outcome, { ...sheared, ...before }, end, run);

  it('is reamed what was made ready, moved, or went in at all', () => {
    const is = (one: ScrewContext) => [one.reamed, climbOf(one).reaming !== null, climbOf(one).reamings.length];
    for (const one of [ream('set-up-done'), ream('moving'), ream('no-change', { depth: 4 })])
      expect(is(one)).toEqual([true, true, 1]);
    for (const one of [ream('no-change'), ream('no-change', { depth: 0 }), ream('slipped'), ream('tool-broke')])
      expect(is(one)).toEqual([false, false, 0]);
    expect(is(ended('burr-out', 'moving', sheared, { depth: 4 }))).toEqual([false, false, 0]);
  });

  it('is as deep as was said and as wide as its widest bore, else nobody knows', () => {
    const wide: Bore = { wall: 'far', diameter: 7 };
    const reaming = (end: EndMore, run: Partial<RunningMove> = {}) =>
      climbOf(ream('set-up-done', end, {}, run)).reaming;
    expect(reaming({ depth: 12, bores: [hole, wide, { ...hole, diameter: 5 }] })).toEqual({ depth: 12, diameter: 7 });
    expect(reaming({})).toEqual({ depth: null, diameter: null });
    expect(reaming({ depth: 12 }, { bores: [hole] })).toEqual({ depth: 12, diameter: 6 });
    expect(reaming({ bores: [] }, { bores: [hole] })).toEqual({ depth: null, diameter: null });
  });

  it('is the last one, and each is kept with its tool', () => {
    const first = tried('hollow-ream', 'hollow-reamer', ['hollow-reamer||6||']);
    const before: More = { climb: { reamings: [first], reaming: { depth: 3, diameter: 6 } } };
    const again = climbOf(ream('set-up-done', { depth: 9 }, before, { among: ['hollow-reamer||7||'] }));
    expect(again.reamings).toEqual([first, tried('hollow-ream', 'hollow-reamer', ['hollow-reamer||7||'])]);
    expect(again.reaming?.depth).toBe(9);
    const other = ended('grip-shank', 'no-change', { ...sheared, ...before });
    expect(climbOf(other)).toMatchObject({ reamings: [first], reaming: { depth: 3, diameter: 6 } });
    expect(other.reamed).toBe(true);
  });

  it('is a window what was made ready by making one', () => {
    const window = (id: MoveId, outcome: Outcome, before: More = {}) =>
      after(id, outcome, { stage: 'fragment-retained', ...before }).windowed;
    expect([window('window', 'set-up-done'), window('window', 'moving')]).toEqual([true, true]);
    expect([window('window', 'no-change'), window('burr-out', 'set-up-done')]).toEqual([false, false]);
    expect(window('burr-out', 'no-change', { climb: { windowed: true } })).toBe(true);
  });
});

describe('what happened once is not forgotten', () => {
  it('turning out without gain, but for a slip', () => {
    const without = (id: MoveId, outcome: Outcome, before: More = {}) => after(id, outcome, before).turnedWithoutGain;
    expect([without('turn-out', 'no-change'), without('turn-out', 'tool-broke')]).toEqual([true, true]);
    expect([without('turn-out', 'slipped'), without('turn-out', 'moving'), without('grip-head', 'no-change')]).toEqual([
      ...[false, false, false],
    ]);
    expect(without('turn-out', 'moving', { climb: { turnedWithoutGain: true } })).toBe(true);
  });

  it('that it turned free, that it moved, and that it stuck after it had moved', () => {
    expect(after('turn-out', 'turns-free')).toMatchObject({ turnedFree: true, moved: false });
    expect(after('turn-out', 'no-change', { climb: { turnedFree: true } }).turnedFree).toBe(true);
    expect(after('turn-out', 'moving')).toMatchObject({ turnedFree: false, moved: true, movedThenStuck: false });
    expect(after('turn-out', 'no-change')).toMatchObject({ turnedFree: false, moved: false, movedThenStuck: false });
    const moved: More = { climb: { moved: true } };
    expect(after('turn-out', 'no-change', moved)).toMatchObject({ moved: true, movedThenStuck: true });
    expect(after('turn-out', 'moving', moved).movedThenStuck).toBe(false);
    expect(after('turn-out', 'moving', { climb: { movedThenStuck: true } }).movedThenStuck).toBe(true);
  });

  it('that bone was opened and nobody said how far', () => {
    const unsaid = (id: MoveId, end: EndMore = {}, run: Partial<RunningMove> = {}, before: More = {}) =>
      after(id, 'set-up-done', before, end, run).boneUnsaid;
    expect([unsaid('uncover'), unsaid('window')]).toEqual([true, true]);
    expect(unsaid('uncover', { bores: [] })).toBe(false);
    expect(unsaid('uncover', {}, { bores: [hole] })).toBe(false);
    expect(unsaid('grip-head')).toBe(false);
    expect(unsaid('grip-head', {}, {}, { climb: { boneUnsaid: true } })).toBe(true);
  });

  it('that the head lies bare once it was cleared', () => {
    const covered = { found: { headCovered: true } } as const;
    expect(ended('uncover', 'set-up-done', covered).found.headCovered).toBe(false);
    expect(ended('uncover', 'no-change', covered).found.headCovered).toBe(true);
    expect(ended('turn-out', 'set-up-done', covered).found.headCovered).toBe(true);
  });
});

describe('a look that a first slip with a kind of tool asks for', () => {
  const isLine = (outcome: Outcome, before: More) =>
    after('grip-head', outcome, { stage: 'recess-stripped', ...before }).lookIsLine;

  it('is a line where it was not the first on the screw and a second surgeon was spoken of before', () => {
    expect(isLine('slipped', { slippedWith: ['driver'], secondAsked: 1 })).toBe(true);
    expect(isLine('slipped', { slippedWith: ['driver'], colleague: true })).toBe(true);
    expect(isLine('slipped', { slippedWith: ['driver'] })).toBe(false);
    expect(isLine('slipped', { secondAsked: 1 })).toBe(false);
  });

  it('is what it was after any other end, and after a further slip of the same kind', () => {
    const line: More = { climb: { lookIsLine: true } };
    expect(isLine('no-change', line)).toBe(true);
    expect(isLine('slipped', { ...line, slippedWith: ['gripper'] })).toBe(true);
    expect(isLine('slipped', { slippedWith: ['gripper'], colleague: true })).toBe(false);
    expect(isLine('slipped', line)).toBe(false);
  });
});
