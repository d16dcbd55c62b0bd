/** What a move costs the bone, asked for directly: the bone at a level, the bores to come, and the section behind both. */
import { describe, expect, it } from 'vitest';
import type { MoveId } from '../../content/ids.ts';
import type { Content, Move } from '../../content/types.ts';
import type { BoneMeasure, Room } from '../../machines/case.context.ts';
import { boneAt, boneCost, boneEntered, ownHole, projected, sectionOf } from '../../machines/compute/bone-cost.ts';
import { section } from '../../machines/compute/ring.ts';
import type { Bore } from '../../machines/entry.ts';
import type { ScrewContext } from '../../machines/screw.context.ts';
import { content, inTheRoom, Log } from '../machines/build.ts';

const move = (id: MoveId) => content.moves.find((one) => one.id === id) as Move;
const roomOf = (log: Log): Room => log.folded.case.context.room;
const screwOf = (log: Log, id = '1') => log.folded.screws.get(id)?.context as ScrewContext;
const costs = (log: Log, what: MoveId | Move) =>
  boneCost(content, roomOf(log), screwOf(log), typeof what === 'string' ? move(what) : what);
const near = (diameter: number): Bore => ({ wall: 'near', diameter });
const own: Bore = { wall: 'both', diameter: 4.5 };
const measured = (outer: number, cortex: number): BoneMeasure => ({ outer, cortex, source: 'measured' });
const nothing = {
  cortexLost: null,
  cortexLostBefore: null,
  bendingKept: null,
  torsionKept: null,
  torsionTested: null,
};

describe('the bone at a level', () => {
  const opened = (bone: string) => roomOf(new Log().opened({ bone }));

  it('is what was measured there, else of the whole bone, else a pre-fill by its name however it is written', () => {
    const room = roomOf(new Log().opened().bone(27, 5).screw('1').bone(25, 4, { screw: '1' }));
    expect(boneAt(content, room, '1')).toEqual(measured(25, 4));
    expect(boneAt(content, room, '2')).toEqual(measured(27, 5));
    expect(boneAt(content, opened(' Femur '), '1')).toEqual({ outer: 28, cortex: 7, source: 'assumed' });
  });

  it('is not known of a bone that the content has no measure of, nor before a case is opened', () => {
    expect(boneAt(content, opened('carpus'), '1')).toBeNull();
    expect(boneAt(content, roomOf(new Log()), '1')).toBeNull();
    expect(boneEntered(opened('femur'), '1')).toBeNull();
    expect(boneEntered(opened('femur'), 'toString')).toBeNull();
  });
});

describe('the bores that a move is expected to make', () => {
  const { facts } = screwOf(inTheRoom());

  it('are none where its content names none for the stage', () => {
    expect(projected(content, move('turn-out'), 'seated', facts, [])).toEqual({ bores: [], reamerAssumed: false });
    expect(projected(content, move('burr-out'), 'seated', facts, []).bores).toEqual([]);
  });

  it('stand behind a pre-filled reamer as assumed, behind a measured one and a burr not', () => {
    const ream = (inner?: number, outer?: number) =>
      projected(content, move('hollow-ream'), 'fragment-retained', facts, [{ tool: 'hollow-reamer', inner, outer }]);
    expect(ream(5, 7)).toEqual({ bores: [near(7), { wall: 'far', diameter: 7 }], reamerAssumed: false });
    expect(ream()).toEqual({ bores: [near(6.5), { wall: 'far', diameter: 6.5 }], reamerAssumed: true });
    expect(projected(content, move('burr-out'), 'head-sheared', facts, [])).toEqual({
      bores: [near(6.5)],
      reamerAssumed: false,
    });
  });

  it('are those of the reamer that was named, where none fits', () => {
    const tools = [{ tool: 'hollow-reamer' as const, inner: 4, outer: 9 }];
    const bores = (named?: 'hollow-reamer') =>
      projected(content, move('hollow-ream'), 'head-sheared', facts, tools, named).bores;
    expect(bores('hollow-reamer')).toEqual([near(9)]);
    expect(bores()).toEqual([near(6.5)]);
  });

  it('come on top of the hole of the screw itself, through one wall or both', () => {
    expect(ownHole({ diameter: 4.5, cortices: 2 })).toEqual(own);
    expect(ownHole({ diameter: 3.5, cortices: 1 })).toEqual(near(3.5));
  });
});

describe('the section of a bone with bores', () => {
  it('is worked out once for the same bone and bores, and anew for any other', () => {
    const bone = measured(26, 5);
    const once = sectionOf(content, bone, [own]);
    expect(once).toEqual(section(26, 5, [own]));
    expect(sectionOf(content, { ...bone, source: 'assumed' }, [{ ...own }])).toBe(once);
    expect(sectionOf(content, measured(26.5, 5), [own])).toEqual(section(26.5, 5, [own]));
    expect(sectionOf(content, measured(26, 4), [own])).toEqual(section(26, 4, [own]));
    expect(sectionOf(content, bone, [near(4.5)])).toEqual(section(26, 5, [near(4.5)]));
    expect(sectionOf(content, bone, [own])).toBe(once);
  });

  it('follows the torsion curve of its own content', () => {
    const { limits } = content;
    const other: Content = { ...content, limits: { ...limits, torsionRate: { ...limits.torsionRate, value: 1 } } };
    const bone = measured(26, 5);
    expect(sectionOf(content, bone, [own])?.torsionKept).toBeCloseTo(Math.exp((-2.2 * 4.5) / 26), 12);
    expect(sectionOf(other, bone, [own])?.torsionKept).toBeCloseTo(Math.exp(-4.5 / 26), 12);
  });

  it('is kept for five hundred at most, and the same when it is worked out again', () => {
    const mine: Content = { ...content };
    const at = (i: number) => sectionOf(mine, measured(20 + i / 100, 4), [own]);
    const first = at(0);
    for (let i = 1; i < 500; i++) at(i);
    expect(at(0)).not.toBe(first);
    expect(at(0)).toEqual(first);
    const few: Content = { ...content };
    const kept = sectionOf(few, measured(20, 4), [own]);
    for (let i = 1; i < 499; i++) sectionOf(few, measured(20 + i / 100, 4), [own]);
    expect(sectionOf(few, measured(20, 4), [own])).toBe(kept);
  });

  it('is none once a bore is as wide as the bone', () => {
    expect(sectionOf(content, measured(8.5, 2), [own, near(8.5)])).toBeNull();
    expect(sectionOf(content, measured(8.5, 2), [own, near(8.4)])).not.toBeNull();
  });
});

describe('the cost of a move', () => {
  const sheared = () => inTheRoom({ stage: 'head-sheared' }).bone(27, 5);

  it('is the hole there is, and the same with the bores to come', () => {
    const [before, after] = [section(27, 5, [own]), section(27, 5, [own, near(8.5)])];
    expect(costs(sheared(), 'gouge-and-grip')).toEqual({
      figures: {
        cortexLost: after.cortexLost,
        cortexLostBefore: before.cortexLost,
        bendingKept: after.bendingKept,
        torsionKept: after.torsionKept,
        torsionTested: after.torsionTested,
      },
      loss: { before: before.cortexLost, after: after.cortexLost, wholeBone: false },
      before,
      after,
      assumed: [],
      costsBone: true,
    });
  });

  it('has no figure where no bone is known, and says what would have been assumed', () => {
    const log = new Log().opened({ bone: 'carpus' }).screw('1', { stage: 'head-sheared' });
    const loss = { before: null, after: null, wholeBone: false };
    const unknown = { figures: nothing, loss, before: null, after: null, assumed: [] };
    expect(costs(log, 'gouge-and-grip')).toEqual({ ...unknown, costsBone: true });
    expect(costs(log, 'grip-shank')).toEqual({ ...unknown, costsBone: false });
    expect(costs(log, 'hollow-ream').assumed).toEqual(['reamer']);
    expect(costs(new Log().opened().screw('1', { stage: 'head-sheared' }), 'hollow-ream').assumed).toEqual([
      'bone',
      'reamer',
    ]);
  });

  it('is the whole bone only where the move itself would take it', () => {
    const narrow = (outer: number) => inTheRoom({ stage: 'head-sheared' }).bone(outer, 1);
    const gone = { figures: nothing, before: null, after: null, assumed: [] };
    const loss = { before: null, after: null };
    expect(costs(narrow(8.5), 'gouge-and-grip')).toEqual({
      ...{ ...gone, loss: { ...loss, wholeBone: true }, costsBone: true },
    });
    expect(costs(narrow(8.6), 'gouge-and-grip').loss.wholeBone).toBe(false);
    // The hole of the screw alone is as wide as this bone: nothing is known of it, and no move takes it.
    expect(costs(narrow(4.5), 'grip-shank')).toEqual({
      ...{ ...gone, loss: { ...loss, wholeBone: false }, costsBone: false },
    });
    expect(costs(narrow(4.5), 'gouge-and-grip')).toEqual({
      ...{ ...gone, loss: { ...loss, wholeBone: true }, costsBone: true },
    });
  });

  it('of a screw that is out goes by what the move would take from a seated one', () => {
    const out = inTheRoom().start().tries('1', 'turn-out', 'out');
    const drill: Move = { ...move('turn-out'), projection: { seated: { near: { plus: 3 } } } };
    expect(costs(out, drill).after).toEqual(section(27, 5, [own, near(7.5)]));
  });
});
