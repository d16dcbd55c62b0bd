/** What bone a move costs at the level of a screw, as the offer shows it. */
import { describe, expect, it } from 'vitest';
import type { MoveId, WorkingStage } from '../../content/ids.ts';
import { section } from '../../machines/compute/ring.ts';
import type { Bore } from '../../machines/entry.ts';
import { atTheTable, Log, offer } from './build.ts';

describe('bone figures', () => {
  const own: Bore = { wall: 'both', diameter: 4.5 };
  const lost = (...bores: Bore[]) => section(27, 5, bores);
  const near = (diameter: number): Bore => ({ wall: 'near', diameter });
  const far = (diameter: number): Bore => ({ wall: 'far', diameter });
  const reamed = (...tools: object[]) => {
    const log = new Log().opened().bone(27, 5).screw('1', { stage: 'head-sheared' }).room('reversing-drive').start();
    for (const measures of tools) log.tool('hollow-reamer', measures);
    return log;
  };

  it('of a screw whose move takes no more than its own hole: before and after are the same [Z9]', () => {
    const { cortexLost, bendingKept, torsionKept, torsionTested } = lost(own);
    expect(offer(atTheTable().of('1'), 'turn-out')).toEqual({
      move: 'turn-out',
      holds: [],
      cortexLost,
      cortexLostBefore: cortexLost,
      bendingKept,
      torsionKept,
      torsionTested,
      shavings: false,
      assumed: [],
    });
    expect(cortexLost).toBeCloseTo(0.1312, 4);
    expect(torsionKept).toBeCloseTo(0.693, 4);
  });

  it('of a one-cortex screw count its near wall alone', () => {
    expect(offer(atTheTable({ cortices: 1 }).of('1'), 'turn-out')?.cortexLost).toBe(lost(near(4.5)).cortexLost);
  });

  it.each<[MoveId, WorkingStage, Bore[]]>([
    ['gouge-and-grip', 'head-sheared', [near(8.5)]],
    ['hollow-ream', 'head-sheared', [near(7)]],
    ['burr-out', 'head-sheared', [near(6.5)]],
    ['hollow-ream', 'fragment-retained', [near(7), far(7)]],
    ['burr-out', 'fragment-retained', [near(6.5), far(6.5)]],
    ['drill-head-off', 'recess-stripped', []],
    ['leave-in', 'head-sheared', []],
  ])('of %s from %s follow the projection', (move, stage, bores) => {
    const log = atTheTable({ stage })
      .tool('hollow-reamer', { present: false })
      .tool('hollow-reamer', { inner: 5, outer: 7 });
    const after = lost(own, ...bores);
    expect(offer(log.of('1'), move)).toMatchObject({
      cortexLost: after.cortexLost,
      bendingKept: after.bendingKept,
      torsionKept: after.torsionKept,
      cortexLostBefore: lost(own).cortexLost,
    });
  });

  it('of the sleeve follow the reamer, and what was reamed already costs nothing more', () => {
    const log = reamed({ inner: 5, outer: 7 }).room('extraction-sleeve').tries('1', 'hollow-ream', 'set-up-done');
    const after = lost(own, near(7)).cortexLost;
    expect(offer(log.of('1'), 'extraction-sleeve')).toMatchObject({ cortexLost: after, cortexLostBefore: after });
  });

  it('unite what was made with what is to come', () => {
    const log = atTheTable({ stage: 'head-sheared' }).tries('1', 'gouge-and-grip', 'no-change', {
      bores: [{ ...near(6), turn: 40, length: 12 }],
    });
    const made: Bore = { ...near(6), turn: 40 };
    expect(offer(log.of('1'), 'burr-out')).toMatchObject({
      cortexLostBefore: lost(own, made).cortexLost,
      cortexLost: lost(own, made, near(6.5)).cortexLost,
    });
  });

  it('take the narrowest reamer that fits', () => {
    const screw = reamed({ inner: 8, outer: 10 }, { inner: 5, outer: 7.5 }, { inner: 4, outer: 5.5 }).of('1');
    expect(offer(screw, 'hollow-ream')).toMatchObject({ cortexLost: lost(own, near(7.5)).cortexLost, assumed: [] });
  });

  it('take the inner diameter and two walls where the outer is not given', () => {
    const screw = reamed({ inner: 5 }).of('1');
    expect(offer(screw, 'hollow-ream')?.cortexLost).toBe(lost(own, near(6.5)).cortexLost);
  });

  it('take a pre-fill where nothing is known of it, and say so: d + 2, and d + 1.6 up to 2.7 mm', () => {
    expect(offer(reamed({}).of('1'), 'hollow-ream')).toMatchObject({
      cortexLost: lost(own, near(6.5)).cortexLost,
      assumed: ['reamer'],
    });
    for (const [diameter, outer] of [
      [2.7, 4.3],
      [2.8, 4.8],
      [2, 3.6],
    ] as const) {
      const log = atTheTable({ diameter, stage: 'head-sheared' });
      expect(offer(log.of('1'), 'hollow-ream')?.cortexLost).toBeCloseTo(
        lost({ wall: 'both', diameter }, near(outer)).cortexLost,
        12,
      );
    }
  });

  it('take the reamer that was named, also when it does not fit', () => {
    const log = reamed({ inner: 4, outer: 9 });
    log.begins('1', 'hollow-ream', { tool: 'hollow-reamer', reverseConfirmed: true });
    expect(log.view.unoffered).toEqual([log.n]);
    expect(log.ends('1', 'no-change').folded.screws.get('1')?.context.bores).toEqual([near(9)]);
  });

  it('go by the last measure at the screw, else the last of the whole bone, else the pre-fill', () => {
    const at = (log: Log) => offer(log.of('1'), 'turn-out');
    const log = new Log().opened({ bone: 'Femur' }).screw('1').screw('2').room('driver-hexagonal');
    expect(at(log)).toMatchObject({ cortexLost: section(28, 7, [own]).cortexLost, assumed: ['bone'] });
    expect(at(log.bone(30, 6))).toMatchObject({ cortexLost: section(30, 6, [own]).cortexLost, assumed: [] });
    expect(at(log.bone(25, 5, { screw: '1' }))).toMatchObject({ cortexLost: section(25, 5, [own]).cortexLost });
    expect(at(log.bone(26, 5, { screw: '1' }).bone(31, 6))).toMatchObject({
      cortexLost: section(26, 5, [own]).cortexLost,
    });
    expect(offer(log.of('2'), 'turn-out')).toMatchObject({ cortexLost: section(31, 6, [own]).cortexLost });
  });

  it.each([
    ['femur', 28, 7],
    ['tibia', 24, 5],
    ['humerus', 21, 4],
    ['radius', 14, 3],
    ['ulna', 14, 3],
    ['fibula', 14, 3],
    ['clavicle', 11.5, 2.5],
    ['metacarpal', 8.5, 2.25],
  ])('pre-fill of the %s: %d mm with a cortex of %d mm (from memory)', (bone, outer, cortex) => {
    const log = new Log().opened({ bone }).screw('1', { diameter: 2.7 }).room('driver-hexagonal');
    expect(offer(log.of('1'), 'turn-out')).toMatchObject({
      cortexLost: section(outer, cortex, [{ wall: 'both', diameter: 2.7 }]).cortexLost,
      assumed: ['bone'],
    });
  });

  it('are null with bone-stop where the projected bore is as wide as the bone', () => {
    const log = atTheTable({ stage: 'head-sheared' }).bone(8.5, 2);
    expect(offer(log.of('1'), 'gouge-and-grip')).toMatchObject({
      cortexLost: null,
      cortexLostBefore: null,
      bendingKept: null,
      torsionKept: null,
      holds: ['bone-stop'],
    });
    expect(offer(log.of('1'), 'leave-in')?.cortexLost).toBeCloseTo(section(8.5, 2, [own]).cortexLost, 12);
  });

  it.each(['constructor', 'toString', '__proto__', 'hasOwnProperty'])(
    'are right for a screw that is called %s',
    (id) => {
      const log = new Log()
        .opened()
        .bone(27, 5)
        .screw(id)
        .room('driver-hexagonal')
        .start()
        .tries(id, 'turn-out', 'moving');
      expect(offer(log.of(id), 'turn-out')).toMatchObject({ cortexLost: lost(own).cortexLost });
      expect(Object.keys(log.view.screws)).toEqual([id]);
      log.bone(20, 4, { screw: id });
      expect(offer(log.of(id), 'turn-out')).toMatchObject({ cortexLost: section(20, 4, [own]).cortexLost });
    },
  );

  it('say which moves make shavings', () => {
    const all = (['seated', 'recess-stripped', 'head-sheared', 'fragment-retained'] as const).flatMap(
      (stage) =>
        atTheTable(stage === 'seated' ? {} : { stage })
          .finds('1', { shankProud: true, tipProud: true, corridor: true })
          .of('1').offered,
    );
    const cutting = new Set(all.filter(({ shavings }) => shavings).map(({ move }) => move));
    expect(cutting).toEqual(new Set(['reverse-tap', 'free-plate', 'slot-head', 'drill-head-off', 'burr-out']));
  });
});
