/** A struck entry behaves as if it had never been made; what no longer follows is kept and listed. */
import { describe, expect, it } from 'vitest';
import { atTheTable, inTheRoom, Log, offered, type Log as Built } from './build.ts';

/** The state less what tells of the correction itself: numbers of entries and the time of the latest. */
function bare(log: Built) {
  const {
    struck: _s,
    late: _l,
    clocks: _c,
    outOfOrder: _o,
    unoffered: _u,
    unanswered: _a,
    toolTips,
    ...rest
  } = log.view;
  return { ...rest, toolTips: toolTips.map(({ entry: _, ...tip }) => tip) };
}

describe('striking', () => {
  it('a slip takes back stage, slips and hold [Z3]', () => {
    const log = atTheTable().tries('1', 'turn-out', 'slipped');
    const slip = log.n;
    log.strikes(slip);
    expect(log.of('1')).toMatchObject({ stage: 'seated', slips: 0, chanceLeft: 1, holds: [], move: 'turn-out' });
    expect(log.view).toMatchObject({ struck: [slip], outOfOrder: [] });
  });

  it.each<[string, (log: Built) => Built]>([
    ['a tool', (log) => log.tool('hollow-reamer', { inner: 5, outer: 7 })],
    ['a measure', (log) => log.bone(20, 4)],
    ['limits', (log) => log.write({ type: 'limits-set', boneConsider: 0.05, tourniquetMinutes: 30 })],
    ['a finding', (log) => log.finds('1', { headProud: false })],
    ['a screw', (log) => log.screw('2')],
    ['a corrected screw', (log) => log.screw('1', { stage: 'head-sheared', diameter: 6.5 })],
    ['a tourniquet', (log) => log.write({ type: 'tourniquet', to: 'up' })],
    ['a damaged tool', (log) => log.write({ type: 'tool-damaged', tool: 'gouge', how: 'chipped', tipMissing: true })],
    ['what was left in', (log) => log.leaves('1')],
    ['the plate off', (log) => log.write({ type: 'plate-off' })],
    ['a consent point', (log) => log.write({ type: 'consent-point', point: 'may-stay', confirmed: true })],
    ['the end of the work', (log) => log.write({ type: 'work-ended' })],
    ['the closing', (log) => log.write({ type: 'case-closed' })],
  ])('%s leaves all as if it had not been entered', (_, add) => {
    const log = add(atTheTable());
    const struck = log.n;
    log.strikes(struck).tries('1', 'turn-out', 'no-change');
    expect(bare(log)).toEqual(bare(atTheTable().tries('1', 'turn-out', 'no-change')));
    expect(log.view).toMatchObject({ struck: [struck], outOfOrder: [] });
  });

  it('a start leaves its end out of order, kept and listed', () => {
    const log = atTheTable().begins('1', 'turn-out');
    const start = log.n;
    log.ends('1', 'slipped').strikes(start);
    expect(log.view).toMatchObject({ struck: [start], outOfOrder: [start + 1] });
    expect(log.of('1')).toMatchObject({ stage: 'seated', slips: 0, holds: [] });
    expect(log.entries).toHaveLength(start + 2);
  });

  it('the listing of a screw leaves all that was done on it out of order', () => {
    const log = inTheRoom().screw('2');
    const listing = log.n;
    log.start().tries('2', 'turn-out', 'slipped').looksAgain('2').strikes(listing);
    expect(log.view.outOfOrder).toEqual([listing + 2, listing + 3, listing + 4]);
    expect(Object.keys(log.view.screws)).toEqual(['1']);
  });

  it('the end of a screw opens it again', () => {
    const log = atTheTable().tries('1', 'turn-out', 'out');
    const out = log.n;
    log.strikes(out).ends('1', 'no-change');
    expect(log.of('1').stage).toBe('seated');
    expect(offered(log.of('1'))).toContain('grip-head');
    const left = atTheTable().leaves('1');
    expect(left.strikes(left.n).of('1').stage).toBe('seated');
  });

  it('what stood unanswered or unoffered takes that away with it', () => {
    const log = atTheTable().tries('1', 'turn-out', 'slipped').begins('1', 'pack-recess');
    const move = log.n;
    expect(log.view.unanswered).toHaveLength(1);
    expect(log.strikes(move).view).toMatchObject({ unanswered: [], unoffered: [], struck: [move] });
  });

  it('the start of the work leaves every move out of order', () => {
    const log = atTheTable();
    const start = log.n;
    log.tries('1', 'turn-out', 'out').strikes(start);
    expect(log.view).toMatchObject({ phase: 'briefing', outOfOrder: [start + 1, start + 2] });
  });

  it('the opening leaves what came before a new opening out of order, the strike itself not', () => {
    const log = new Log().opened({ side: 'left' }).screw('1').strikes(1).opened({ side: 'right' }).screw('1');
    expect(log.view).toMatchObject({ struck: [1], outOfOrder: [2] });
    expect(log.folded.case.context.room.opened?.side).toBe('right');
    expect(Object.keys(log.view.screws)).toEqual(['1']);
  });

  it('the closing opens the case again, and then more can be struck', () => {
    const log = atTheTable().tries('1', 'turn-out', 'slipped');
    const slip = log.n;
    log.write({ type: 'case-closed' });
    const closing = log.n;
    log.strikes(closing).strikes(slip);
    expect(log.view).toMatchObject({ phase: 'working', struck: [slip, closing], outOfOrder: [] });
  });

  it('an opening that was struck leaves a closing without effect: there was nothing to close', () => {
    const log = new Log().opened().strikes(1).write({ type: 'case-closed' }).opened().remarks();
    const remark = log.n;
    log.strikes(remark);
    expect(log.view).toMatchObject({ struck: [1, remark], outOfOrder: [3], phase: 'briefing' });
  });

  it('a closing before any opening closes nothing either', () => {
    const log = new Log().write({ type: 'case-closed' }).opened().remarks().strikes(3);
    expect(log.view).toMatchObject({ struck: [3], outOfOrder: [1], phase: 'briefing' });
  });

  it('with two openings, one of them struck, a closing closes the case', () => {
    const log = new Log().opened({ side: 'left' }).strikes(1).opened({ side: 'right' }).remarks();
    log.write({ type: 'case-closed' }).strikes(4);
    expect(log.view).toMatchObject({ struck: [1], outOfOrder: [6], phase: 'closed' });
  });

  it('a closing that came when the case was closed already may be struck, and the case stays closed', () => {
    const log = atTheTable().write({ type: 'case-closed' }).write({ type: 'case-closed' });
    const second = log.n;
    log.strikes(second);
    expect(log.view).toMatchObject({ struck: [second], outOfOrder: [], phase: 'closed' });
  });
});

describe('a strike is out of order', () => {
  it.each([
    ['of itself', 0],
    ['of a later entry', 1],
    ['of an entry that never came', 99],
  ])('%s', (_, ahead) => {
    const log = atTheTable();
    log.strikes(log.n + 1 + ahead).remarks();
    expect(log.view).toMatchObject({ struck: [], outOfOrder: [log.n - 1] });
  });

  it('of another strike, which then still stands', () => {
    const log = atTheTable().tries('1', 'turn-out', 'slipped');
    const slip = log.n;
    log.strikes(slip).strikes(slip + 1);
    expect(log.view).toMatchObject({ struck: [slip], outOfOrder: [slip + 2] });
    expect(log.of('1').stage).toBe('seated');
  });

  it('after the case was closed, of anything but the closing', () => {
    const log = atTheTable().tries('1', 'turn-out', 'slipped');
    const slip = log.n;
    log.write({ type: 'case-closed' }).strikes(slip).strikes(1);
    expect(log.view).toMatchObject({ struck: [], outOfOrder: [log.n - 1, log.n], phase: 'closed' });
    expect(log.of('1').stage).toBe('recess-stripped');
  });

  it('after the case was closed is not, of an entry struck before: it says nothing new', () => {
    const log = atTheTable().remarks();
    const remark = log.n;
    log.strikes(remark).write({ type: 'case-closed' }).strikes(remark);
    expect(log.view).toMatchObject({ struck: [remark], outOfOrder: [], phase: 'closed' });
  });

  it('after a case was closed again, whose first closing was struck', () => {
    const log = atTheTable().remarks();
    const remark = log.n;
    log.write({ type: 'case-closed' });
    const first = log.n;
    log.strikes(first).write({ type: 'case-closed' }).strikes(remark);
    expect(log.view).toMatchObject({ struck: [first], outOfOrder: [log.n], phase: 'closed' });
  });

  it('twice of the same entry is not: it says nothing new', () => {
    const log = atTheTable().remarks();
    const remark = log.n;
    log.strikes(remark).strikes(remark);
    expect(log.view).toMatchObject({ struck: [remark], outOfOrder: [] });
  });
});
