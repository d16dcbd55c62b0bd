/** Which moves are open, in which order, with which reasons for the closed ones, and what bone they cost. */
import { describe, expect, it } from 'vitest';
import { moveIds, toolIds, type MoveId, type ToolId, type WorkingStage } from '../../content/ids.ts';
import { section } from '../../machines/compute/ring.ts';
import type { Bore } from '../../machines/entry.ts';
import { atTheTable, closed, Log, offer, offered } from './build.ts';

const stages: Record<WorkingStage, MoveId[]> = {
  seated: ['turn-out'],
  'recess-stripped': [
    'reseat-driver',
    'pack-recess',
    'drive-oversize',
    'grip-head',
    'conical-extractor',
    'reverse-tap',
    'free-plate',
    'slot-head',
    'drill-head-off',
  ],
  'head-sheared': ['grip-shank', 'gouge-and-grip', 'hollow-ream', 'extraction-sleeve', 'burr-out'],
  'fragment-retained': ['far-side', 'push-through', 'hollow-ream', 'extraction-sleeve', 'burr-out'],
};
const jammed: MoveId[] = ['grip-head', 'conical-extractor', 'free-plate', 'drill-head-off'];

describe('the moves of a stage', () => {
  it.each(Object.entries(stages))(
    '%s: each is offered or withdrawn, leaving in with them, no other named',
    (stage, moves) => {
      const screw = atTheTable(stage === 'seated' ? {} : { stage: stage as WorkingStage }).of('1');
      expect([...offered(screw), ...Object.keys(closed(screw))].sort()).toEqual([...moves, 'leave-in'].sort());
      const order = (ids: MoveId[]) => ids.map((id) => moveIds.indexOf(id));
      expect(order(offered(screw))).toEqual([...order(offered(screw))].sort((a, b) => a - b));
    },
  );

  it.each(['no-change', 'tool-broke', 'tool-jammed'] as const)(
    'opens four more for a seated screw whose turn-out ended %s',
    (outcome) => {
      const screw = atTheTable({ locking: true }).tries('1', 'turn-out', outcome).of('1');
      expect([...offered(screw), ...Object.keys(closed(screw))].sort()).toEqual(
        ['turn-out', ...jammed, 'leave-in'].sort(),
      );
    },
  );

  it('does not open them after a gain, nor after another move', () => {
    const log = atTheTable().tries('1', 'turn-out', 'moving').tries('1', 'grip-head', 'no-change');
    expect(offered(log.of('1'))).toEqual(['turn-out', 'leave-in']);
  });

  it('are given in every phase, and as if the running move had not started', () => {
    const log = atTheTable();
    const before = log.of('1');
    expect(
      new Log()
        .opened()
        .screw('1')
        .room('driver-hexagonal')
        .of('1')
        .offered.map(({ move }) => move),
    ).toEqual(['turn-out', 'leave-in']);
    const running = log.begins('1', 'turn-out').of('1');
    expect(running).toMatchObject({ move: 'turn-out', offered: before.offered, withdrawn: before.withdrawn });
    log.write({ type: 'work-ended' }).write({ type: 'case-closed' });
    expect(log.of('1')).toMatchObject({ offered: before.offered, withdrawn: before.withdrawn });
  });
});

const stripped = (facts: object = {}, opened: object = {}) =>
  atTheTable({ stage: 'recess-stripped', ...facts }, opened);

describe('closed with a reason, the first that applies', () => {
  it('does-not-fit: freeing the plate without a plate', () => {
    for (const construct of ['nail', 'screws'] as const)
      expect(closed(stripped({ locking: true }, { construct }).of('1'))['free-plate']).toBe('does-not-fit');
    expect(offered(stripped({ locking: true }).of('1'))).toContain('free-plate');
    expect(closed(stripped({ locking: true }).write({ type: 'plate-off' }).of('1'))['free-plate']).toBe('does-not-fit');
  });

  it('does-not-fit: freeing the plate for a plain screw that is not the last one in', () => {
    const log = stripped().screw('2');
    expect(closed(log.of('1'))['free-plate']).toBe('does-not-fit');
    expect(offered(log.tries('2', 'turn-out', 'out').of('1'))).toContain('free-plate');
  });

  it('locked-flush: gripping a locking head that was not found proud', () => {
    expect(closed(stripped({ locking: true }).of('1'))['grip-head']).toBe('locked-flush');
    expect(closed(stripped({ locking: true }).finds('1', { headProud: false }).of('1'))['grip-head']).toBe(
      'locked-flush',
    );
    expect(offered(stripped({ locking: true }).finds('1', { headProud: true }).of('1'))).toContain('grip-head');
  });

  it('not-proud: a plain head found flush, a shank, a tip, a corridor that nobody found', () => {
    expect(offered(stripped().of('1'))).toContain('grip-head');
    expect(closed(stripped().finds('1', { headProud: false }).of('1'))['grip-head']).toBe('not-proud');
    const shank = atTheTable({ stage: 'head-sheared' });
    expect(closed(shank.of('1'))['grip-shank']).toBe('not-proud');
    expect(offered(shank.finds('1', { shankProud: true }).of('1'))).toContain('grip-shank');
    expect(offered(atTheTable({ stage: 'head-sheared' }).write({ type: 'plate-off' }).of('1'))).toContain('grip-shank');
    const deep = atTheTable({ stage: 'fragment-retained' });
    expect(closed(deep.of('1'))).toMatchObject({ 'far-side': 'not-proud', 'push-through': 'not-proud' });
    expect(offered(deep.finds('1', { tipProud: true }).of('1'))).toContain('far-side');
    expect(closed(deep.of('1'))['push-through']).toBe('not-proud');
    expect(offered(deep.finds('1', { corridor: true }).of('1'))).toEqual(
      expect.arrayContaining(['far-side', 'push-through']),
    );
    expect(closed(deep.finds('1', { tipProud: false }).of('1'))['far-side']).toBe('not-proud');
  });

  it('a shank stands proud for a screw that is listed after the plate came off', () => {
    const log = atTheTable().write({ type: 'plate-off' }).screw('2', { stage: 'head-sheared' });
    expect(offered(log.of('2'))).toContain('grip-shank');
  });

  it('does not go by the estimate of where the fragment lies', () => {
    const log = atTheTable({ stage: 'fragment-retained' }).finds('1', { nearSurface: 0, fragmentLength: 30 });
    expect(closed(log.of('1'))['far-side']).toBe('not-proud');
  });

  it('used-up: a move after no change or a slip, in its stage alone [Z10]', () => {
    for (const outcome of ['no-change', 'slipped'] as const) {
      const log = stripped().tries('1', 'grip-head', outcome).looksAgain('1');
      expect(closed(log.of('1'))['grip-head']).toBe('used-up');
    }
    for (const outcome of ['moving', 'set-up-done', 'tool-broke'] as const)
      expect(offered(stripped().tries('1', 'grip-head', outcome).of('1'))).toContain('grip-head');
    const lower = atTheTable({ stage: 'head-sheared' }).tries('1', 'burr-out', 'no-change');
    expect(closed(lower.of('1'))['burr-out']).toBe('used-up');
    lower.begins('1', 'gouge-and-grip').ends('1', 'shank-broke', { reachable: false });
    expect(offered(lower.of('1'))).toContain('burr-out');
  });

  it('used-up: reseating the driver after any end but moving [Z10]', () => {
    const once = () => stripped().looksAgain('1');
    expect(offered(once().of('1'))).toContain('reseat-driver');
    for (const outcome of ['no-change', 'slipped', 'tool-broke', 'set-up-done'] as const) {
      const log = once().tries('1', 'reseat-driver', outcome).looksAgain('1');
      expect(closed(log.of('1'))['reseat-driver']).toBe('used-up');
    }
    expect(offered(once().tries('1', 'reseat-driver', 'moving').of('1'))).toContain('reseat-driver');
  });

  it('used-up: turning out after no change opens once more after a voluntary reassessment, and once only', () => {
    const log = atTheTable().tries('1', 'turn-out', 'no-change');
    expect(closed(log.of('1'))['turn-out']).toBe('used-up');
    expect(offered(log.looksAgain('1').of('1'))).toContain('turn-out');
    log.tries('1', 'turn-out', 'no-change').looksAgain('1');
    expect(closed(log.of('1'))['turn-out']).toBe('used-up');
    expect(log.view.outOfOrder).toEqual([]);
  });

  it('used-up: a reassessment that a slip had asked for does not open turning out again', () => {
    const log = atTheTable().tries('1', 'turn-out', 'no-change').tries('1', 'grip-head', 'slipped').looksAgain('1');
    expect(log.of('1').stage).toBe('seated');
    expect(closed(log.of('1'))['turn-out']).toBe('used-up');
    expect(offered(log.looksAgain('1').of('1'))).toContain('turn-out');
  });

  it('a move that is closed otherwise gives the first reason', () => {
    const log = new Log().opened().screw('1', { stage: 'recess-stripped', locking: true }).screw('2').start();
    expect(closed(log.of('1'))).toMatchObject({
      'grip-head': 'locked-flush',
      'free-plate': 'tool-missing',
      'slot-head': 'tool-missing',
    });
    log.tries('1', 'grip-head', 'no-change').tries('1', 'slot-head', 'no-change');
    expect(closed(log.of('1'))).toMatchObject({ 'grip-head': 'locked-flush', 'slot-head': 'used-up' });
    const deep = new Log()
      .opened()
      .screw('1', { stage: 'fragment-retained' })
      .start()
      .tries('1', 'extraction-sleeve', 'no-change');
    expect(closed(deep.of('1'))).toMatchObject({ 'extraction-sleeve': 'needs-reaming', 'far-side': 'not-proud' });
    const twice = new Log().opened().screw('1').start().tries('1', 'turn-out', 'slipped').looksAgain('1');
    twice.tries('1', 'reseat-driver', 'slipped').looksAgain('1');
    expect(closed(twice.of('1'))['reseat-driver']).toBe('slipped');
  });

  it('a jammed tool closes what needs the recess until a later move ends otherwise', () => {
    const log = stripped().looksAgain('1').tries('1', 'conical-extractor', 'tool-jammed');
    const needing: MoveId[] = ['reseat-driver', 'pack-recess', 'drive-oversize', 'conical-extractor', 'reverse-tap'];
    expect(offered(log.of('1'))).toEqual(['grip-head', 'free-plate', 'slot-head', 'drill-head-off', 'leave-in']);
    expect(Object.keys(closed(log.of('1'))).sort()).toEqual([...needing].sort());
    log.tries('1', 'grip-head', 'tool-jammed');
    expect(offered(log.of('1'))).not.toContain('pack-recess');
    log.tries('1', 'grip-head', 'moving');
    expect(offered(log.of('1'))).toEqual(expect.arrayContaining(['pack-recess', 'conical-extractor', 'reverse-tap']));
  });
});

const gripper: ToolId[] = ['head-gripper', 'locking-pliers', 'retired-rongeur'];
const driver: ToolId[] = ['driver-hexagonal'];
/** Groups of tools each move needs for a hexagonal 3.5 mm recess; any one of a group serves. */
const needs: [MoveId, WorkingStage, ToolId[][]][] = [
  ['turn-out', 'seated', [driver]],
  ['reseat-driver', 'recess-stripped', [driver]],
  ['pack-recess', 'recess-stripped', [['metal-foil'], driver]],
  ['drive-oversize', 'recess-stripped', [['mallet'], ['driver-hexalobular', 'driver-cruciform', 'driver-slotted']]],
  ['grip-head', 'recess-stripped', [gripper]],
  ['grip-shank', 'head-sheared', [gripper]],
  ['conical-extractor', 'recess-stripped', [['conical-extractor'], ['t-handle']]],
  ['reverse-tap', 'recess-stripped', [['hard-metal-drill'], ['reverse-tap'], ['t-handle', 'reversing-drive']]],
  ['free-plate', 'recess-stripped', [['metal-cutting-saw', 'metal-cutting-burr', 'bolt-cutter']]],
  ['slot-head', 'recess-stripped', [['metal-cutting-burr'], ['driver-slotted', ...gripper]]],
  ['drill-head-off', 'recess-stripped', [['hard-metal-drill']]],
  ['gouge-and-grip', 'head-sheared', [['gouge'], gripper]],
  ['far-side', 'fragment-retained', [gripper]],
  ['push-through', 'fragment-retained', [['punch'], ['image-intensifier']]],
  ['hollow-ream', 'head-sheared', [['hollow-reamer'], ['reversing-drive']]],
  ['extraction-sleeve', 'fragment-retained', [['extraction-sleeve'], ['reversing-drive']]],
  ['burr-out', 'fragment-retained', [['metal-cutting-burr'], ['irrigation']]],
];

describe('tools each move needs', () => {
  it('are written down here for every move', () => {
    expect(needs.map(([move]) => move).sort()).toEqual(moveIds.filter((move) => move !== 'leave-in').sort());
  });

  describe.each(needs)('%s from %s', (move, stage, groups) => {
    const empty = new Log()
      .opened()
      .screw('1', { driveSize: 3.5, ...(stage !== 'seated' && { stage }) })
      .start();
    if (move === 'extraction-sleeve') empty.tries('1', 'hollow-ream', 'set-up-done');
    empty.finds('1', { headProud: true, shankProud: true, tipProud: true, corridor: true }).looksAgain('1');
    const bare = (...tools: ToolId[]) =>
      empty
        .fork()
        .room(...tools)
        .of('1');
    const first = groups.map(([tool]) => tool as ToolId);

    it('names the first of every group when none is there', () => {
      expect(bare().withdrawn).toContainEqual({ move, why: 'tool-missing', missing: first });
    });

    it('is open with any one of each group, and no other tool stands in for it', () => {
      groups.forEach((group, i) => {
        const others = first.filter((_, j) => j !== i);
        for (const tool of toolIds) {
          const screw = bare(...others, tool);
          const serves = group.includes(tool) || others.some((other) => group.includes(other));
          expect([tool, offered(screw).includes(move)]).toEqual([tool, serves]);
          if (!serves) expect(screw.withdrawn).toContainEqual({ move, why: 'tool-missing', missing: [first[i]] });
        }
      });
    });
  });
});

describe('a tool fits', () => {
  const room = (facts: object = {}) => new Log().opened().screw('1', facts).start();

  it.each([
    [{}, true],
    [{ fits: [3.5, 4.5] }, true],
    [{ fits: [3.5] }, false],
    [{ fits: [] }, false],
    [{ inner: 4.5 }, true],
    [{ inner: 4.4 }, false],
    [{ inner: 6 }, true],
    [{ fits: [3.5], inner: 4.8 }, true],
    [{ fits: [4.5], inner: 4 }, true],
    [{ outer: 7 }, true],
  ])('a reamer with %j for a screw of 4.5 mm: %s', (measures, fits) => {
    const log = room({ stage: 'head-sheared' }).room('reversing-drive').tool('hollow-reamer', measures);
    expect(offered(log.of('1')).includes('hollow-ream')).toBe(fits);
    if (!fits)
      expect(log.of('1').withdrawn).toContainEqual({
        move: 'hollow-ream',
        why: 'tool-missing',
        missing: ['hollow-reamer'],
      });
  });

  it('a drill by its list [Z9]', () => {
    const log = room({ stage: 'recess-stripped' }).tool('hard-metal-drill', { fits: [3.5] });
    expect(closed(log.of('1'))['drill-head-off']).toBe('tool-missing');
    expect(offered(log.tool('hard-metal-drill', { fits: [4.5] }).of('1'))).toContain('drill-head-off');
  });

  it('a driver by the form, and by the size when both are known', () => {
    const turns = (facts: object, tool: ToolId, size?: number) =>
      offered(
        room(facts)
          .tool(tool, size === undefined ? {} : { size })
          .of('1'),
      ).includes('turn-out');
    expect(turns({ driveSize: 3.5 }, 'driver-hexagonal', 3.5)).toBe(true);
    expect(turns({ driveSize: 3.5 }, 'driver-hexagonal', 2.5)).toBe(false);
    expect(turns({ driveSize: 3.5 }, 'driver-hexagonal')).toBe(true);
    expect(turns({}, 'driver-hexagonal', 2.5)).toBe(true);
    expect(turns({ driveSize: 3.5 }, 'driver-hexalobular', 3.5)).toBe(false);
    for (const tool of ['driver-hexagonal', 'driver-hexalobular', 'driver-cruciform', 'driver-slotted'] as const)
      expect(turns({ drive: 'unknown' }, tool)).toBe(true);
    expect(turns({ drive: 'unknown' }, 'pick')).toBe(false);
  });

  it('a tight driver when it is of another form, or of the same form and larger', () => {
    const taps = (tool: ToolId, size?: number) =>
      offered(
        room({ stage: 'recess-stripped', driveSize: 3.5 })
          .room('mallet')
          .tool(tool, size === undefined ? {} : { size })
          .of('1'),
      ).includes('drive-oversize');
    expect(taps('driver-hexagonal', 4)).toBe(true);
    expect(taps('driver-hexagonal', 3.5)).toBe(false);
    expect(taps('driver-hexagonal', 2.5)).toBe(false);
    expect(taps('driver-hexalobular')).toBe(true);
    expect(taps('driver-slotted', 1)).toBe(true);
  });

  it('two of one id with other measures are two; the same again is one', () => {
    const log = room({ stage: 'recess-stripped' })
      .tool('hard-metal-drill', { fits: [3.5] })
      .tool('hard-metal-drill', { fits: [4.5] });
    log.tool('hard-metal-drill', { fits: [4.5] });
    expect(offered(log.of('1'))).toContain('drill-head-off');
    log.tool('hard-metal-drill', { fits: [3.5], present: false });
    expect(offered(log.of('1'))).toContain('drill-head-off');
    log.tool('hard-metal-drill', { fits: [4.5], present: false });
    expect(closed(log.of('1'))['drill-head-off']).toBe('tool-missing');
  });

  it('taken away without measures takes away all of the id', () => {
    const log = room({ stage: 'recess-stripped' })
      .tool('hard-metal-drill', { fits: [3.5, 4.5] })
      .tool('hard-metal-drill', { size: 4.5 });
    log.tool('gouge').tool('hard-metal-drill', { present: false });
    expect(closed(log.of('1'))['drill-head-off']).toBe('tool-missing');
    expect(log.folded.case.context.room.tools.map(({ tool }) => tool)).toEqual(['gouge']);
  });

  it('also when it broke: it is not taken out of the room by itself', () => {
    expect(offered(atTheTable().tries('1', 'turn-out', 'tool-broke').of('1'))).toContain('turn-out');
  });
});

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
