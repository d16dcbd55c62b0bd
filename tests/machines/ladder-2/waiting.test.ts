/** What opens for a screw if it waits, case by case: the others out, the plate off or forced, one tool more. */
import { describe, expect, it } from 'vitest';
import type { ToolId } from '../../../content/ids.ts';
import type { Folded } from '../../../machines/folded.ts';
import { ifYouWait } from '../../../machines/ladder/wait.ts';
import { closed, offered, type Log } from '../build.ts';
import { atTable, loose } from './build.ts';

const waits = (log: Log, id = '1') => ifYouWait(log.folded, id);
/** Tactic, screws and what opens, in one line; '' where waiting opens nothing. */
const row = (log: Log, id = '1') =>
  waits(log, id)
    .map(({ tactic, screws, opens }) => [tactic, ...(screws ?? []), opens].join(' '))
    .join();
const sure = (log: Log, id = '1') => waits(log, id)[0]?.sure;
const sheared = { stage: 'head-sheared' } as const;
const stripped = { stage: 'recess-stripped' } as const;
const pliers: ToolId[] = ['locking-pliers'];
/** A screw that comes out for sure: its driver is here, and both sizes are known. */
const easy = { driveSize: 3.5 } as const;
const driver = (log: Log) => log.tool('driver-hexagonal', { size: 3.5 });

describe('a screw under a plate', () => {
  it('waits for the plate to come off, once what holds the plate is out', () => {
    const log = driver(atTable({ facts: sheared, tools: pliers }).screw('2', easy));
    expect(row(log)).toBe('plate-off 2 grip-shank');
    // How its shank will stand nobody knows before the plate is off.
    expect(sure(log)).toBe(false);
    expect(waits(log)[0]?.cortexLost).toBeCloseTo(log.view.bone?.levels['1']?.cortexLost as number, 12);
    expect(sure(atTable({ facts: sheared, tools: ['gouge', ...pliers] }))).toBe(false);
  });

  it('is sure of it where the move that opens rests on nothing unknown, and the others come out for sure', () => {
    const drilled: ToolId[] = ['metal-cutting-burr', 'irrigation'];
    const one = (facts: object) => driver(atTable({ facts: sheared, tools: drilled }).screw('2', facts));
    expect([row(one(easy)), sure(one(easy))]).toEqual(['plate-off 2 burr-out', true]);
    // Whether the driver is of the size of that recess nobody knows.
    expect([row(one({})), sure(one({}))]).toEqual(['plate-off 2 burr-out', false]);
  });

  it('names those that hold the plate, and not those beside it, without a head, headless or out', () => {
    const log = driver(atTable({ facts: sheared, tools: pliers }))
      .screw('2', easy)
      .screw('3', { ...easy, underPlate: false })
      .screw('4', sheared)
      .screw('5', { ...easy, form: 'headless' })
      .screw('6', easy)
      .tries('6', 'turn-out', 'out', { recovered: 36 })
      .screw('7', { ...easy, stage: 'recess-stripped' });
    expect(row(log.finds('7', { headProud: true }))).toBe('plate-off 2 7 grip-shank');
  });

  it('waits for nothing but the plate itself where nothing holds that', () => {
    const log = atTable({ facts: sheared, tools: pliers });
    expect(row(log)).toBe('plate-off grip-shank');
    expect(waits(log)[0]).not.toHaveProperty('screws');
    expect(row(log.write({ type: 'plate-off' }))).toBe('tool:gouge gouge-and-grip');
  });

  it('cannot wait for the plate while its own head holds that, or while it lies beside it', () => {
    const own = atTable({ facts: stripped, tools: ['bone-saw'] });
    expect(row(own)).not.toContain('plate-off');
    expect(row(atTable({ facts: { ...sheared, underPlate: false }, tools: pliers }))).not.toContain('plate-off');
  });
});

describe('what the plate would change', () => {
  const spent = (log: Log) => log.begins('1', 'grip-head', { tool: 'locking-pliers' }).ends('1', 'no-change');

  it('is no matter for a screw whose own head holds it, though it would open what is used up', () => {
    const log = spent(atTable({ facts: stripped, tools: pliers }).finds('1', { headProud: true }));
    expect(row(log)).not.toContain('plate-off');
    expect(closed(log.of('1'))['grip-head']).toBe('used-up');
    expect(offered(log.write({ type: 'plate-off' }).of('1'))).toContain('grip-head');
  });

  it('is no matter where there is none', () => {
    const log = spent(atTable({ ...loose, facts: stripped, tools: pliers }).finds('1', { headProud: true }));
    expect(row(log)).not.toContain('plate-off');
  });

  it('is none any more once the case is closed', () => {
    const log = atTable({ facts: sheared, tools: pliers }).write({ type: 'work-ended' }).write({ type: 'case-closed' });
    expect(row(log)).toBe('');
  });
});

describe('two screws that wait for each other', () => {
  /** The other one holds the plate, and nothing here takes it out. */
  const stuck = (tools: ToolId[]) => atTable({ facts: sheared, tools }).screw('2', { ...stripped, underPlate: true });

  it('are freed by levering the plate off, else by cutting it, with what is here', () => {
    const none: ToolId[] = ['irrigation', 'hollow-reamer', 'reversing-drive'];
    expect(row(stuck([...none, 'elevator']))).toBe('lever-plate 2 hollow-ream');
    expect(row(stuck([...none, 'osteotome']))).toBe('lever-plate 2 hollow-ream');
    expect(row(stuck([...none, 'elevator', 'bolt-cutter']))).toBe('lever-plate 2 hollow-ream');
    expect(row(stuck([...none, 'bolt-cutter']))).toBe('cut-plate 2 hollow-ream');
    expect(row(stuck(none))).toBe('');
  });

  it('are freed for sure where the move that opens rests on nothing unknown: a lever takes no screw out', () => {
    const log = stuck(['metal-cutting-burr', 'irrigation', 'elevator']);
    expect([row(log), sure(log)]).toEqual(['lever-plate 2 burr-out', true]);
  });

  it('are not levered apart where the one that holds the plate comes out', () => {
    const log = stuck(['elevator', ...pliers]);
    expect(row(log)).toBe('plate-off 2 grip-shank');
  });
});

describe('the others', () => {
  const tools: ToolId[] = ['metal-cutting-saw'];

  it('out first open what only the last screw may have done to it', () => {
    const log = driver(atTable({ facts: stripped, tools }).screw('2', easy).screw('3', easy));
    expect(row(log)).toBe('others-out 2 3 free-plate');
    expect(sure(log)).toBe(true);
    expect(sure(log.screw('3', {}))).toBe(false);
  });

  it('are only those that have a way out, and that are in', () => {
    const log = driver(atTable({ facts: stripped, tools }).screw('2', easy).screw('3', easy));
    log.tries('3', 'turn-out', 'out', { recovered: 36 });
    expect(row(log)).toBe('others-out 2 free-plate');
    // One that stays, or that has no way out, keeps this one from being the last.
    expect(row(log.fork().screw('4', { ...sheared, underPlate: false }))).not.toContain('free-plate');
    expect(row(log.fork().screw('4', easy).leaves('4'))).not.toContain('free-plate');
  });

  it('open nothing that is open already', () => {
    const log = driver(atTable({ facts: { ...stripped, locking: true }, tools }).screw('2', easy));
    expect(row(log)).not.toContain('free-plate');
  });
});

describe('one tool more', () => {
  const lone = (tools: ToolId[], facts: object = stripped) => atTable({ ...loose, facts, tools });

  it('is the one that opens the move which stands first in the ladder', () => {
    expect(row(lone([]))).toBe('tool:head-gripper grip-head');
    expect(row(lone(['driver-hexagonal']))).toBe('tool:metal-foil pack-recess');
    expect(row(lone(['t-handle', ...pliers]))).toBe('tool:conical-extractor conical-extractor');
    expect(row(lone([], {}))).toBe('tool:driver-hexagonal turn-out');
    expect(row(lone([], { drive: 'slotted' }))).toBe('tool:driver-slotted turn-out');
  });

  it('comes in the size that fits, so that nothing about it is unknown', () => {
    expect(sure(lone([], easy))).toBe(true);
    // Of a recess whose size nobody knows nobody can bring the right one.
    expect(sure(lone([], {}))).toBe(false);
    const sleeve = () => lone(['reversing-drive', ...pliers, 'gouge'], sheared);
    expect(row(sleeve().finds('1', { shankStands: 5 }))).toBe('tool:extraction-sleeve extraction-sleeve');
    expect(sure(sleeve().finds('1', { shankStands: 5 }))).toBe(true);
    expect(sure(lone([]))).toBe(false);
    expect(sure(lone([]).finds('1', { headProud: true }))).toBe(true);
  });

  it('of another form than the recess is brought in no size: how wide it is nobody knows', () => {
    const log = lone(['mallet'], { ...stripped, drive: 'hexalobular', driveSize: 15 });
    expect([row(log), sure(log)]).toEqual(['tool:driver-hexagonal drive-oversize', false]);
  });

  it('may be one that makes a head worth drilling off', () => {
    const drill: ToolId[] = ['hard-metal-drill', 'driver-hexagonal', 'metal-foil', 'mallet', 'driver-hexalobular'];
    const log = lone(drill).finds('1', { headProud: false });
    log.tool('conical-extractor').tool('t-handle').tool('reverse-tap');
    expect(row(log)).toBe('tool:head-gripper drill-head-off');
  });

  it('is none where every move is open, or none would open by one tool alone', () => {
    expect(
      row(lone([], { stage: 'fragment-retained', cortices: 1 }).finds('1', { tipProud: false, corridor: false })),
    ).toBe('tool:metal-cutting-burr window');
    const deep = lone(['metal-cutting-burr', 'irrigation'], { stage: 'fragment-retained' });
    expect(row(deep.finds('1', { tipProud: false, corridor: false }))).toBe('');
  });

  it('is thought of only where no other tactic opens anything', () => {
    const log = driver(atTable({ facts: sheared, tools: pliers }).screw('2', easy));
    expect(waits(log)).toHaveLength(1);
    expect(row(log)).not.toContain('tool:');
  });
});

describe('what waiting opens', () => {
  it('is nothing for a screw that is out or stays', () => {
    const log = atTable({ tools: pliers }).screw('2', sheared);
    expect(row(log.fork().leaves('2'), '2')).toBe('');
    expect(row(log.tries('2', 'grip-shank', 'out'), '2')).toBe('');
  });

  it('is asked as if nobody had to look again, and costs what the move costs then', () => {
    const log = driver(atTable({ facts: sheared, tools: ['gouge', 'head-gripper'] }).screw('2', easy));
    log.begins('1', 'gouge-and-grip').ends('1', 'slipped', { bores: [] });
    expect(log.of('1').holds).toContain('reassess');
    expect(row(log)).toBe('plate-off 2 grip-shank');
    const gouge = atTable({ facts: { ...sheared, underPlate: true }, tools: ['gouge', 'head-gripper'] });
    gouge.finds('1', { shankProud: false });
    expect(waits(gouge)[0]?.opens).toBe('grip-shank');
  });

  it('is the same for the same state, and worked out anew for another', () => {
    const log = driver(atTable({ facts: sheared, tools: pliers }).screw('2', easy));
    expect(waits(log)).toBe(waits(log));
    const before: Folded = log.folded;
    const after = log.fork().write({ type: 'plate-off' });
    expect(row(after)).not.toBe(row(log));
    expect(ifYouWait(before, '1')[0]?.tactic).toBe('plate-off');
  });
});
