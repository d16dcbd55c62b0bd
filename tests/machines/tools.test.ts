/** The tools each move needs, and which tool fits which screw. */
import { describe, expect, it } from 'vitest';
import { moveIds, toolIds, type MoveId, type ToolId, type WorkingStage } from '../ids.ts';
import { atTheTable, closed, Log, offered } from './build.ts';

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
