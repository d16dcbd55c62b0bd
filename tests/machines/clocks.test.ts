/** Clocks come from entries alone: across midnight, changes of the hour, leap days and jumps of the device clock. */
import { describe, expect, it } from 'vitest';
import { correctedByWriting, correctedTime } from '../../machines/clocks.ts';
import { fold, ruleVersions } from '../../machines/fold.ts';
import { epoch, inZone } from '../../machines/time.ts';
import { view } from '../../machines/view.ts';
import { atTheTable, content, inTheRoom, type Log } from './build.ts';

const clocksAt = (log: Log, time: string) => view(log.folded, epoch(time)).clocks;
const begun = (at: string) => inTheRoom().start({ at });

describe('the case clock', () => {
  it('runs from the start of the work to its end, and on when the work goes on', () => {
    expect(inTheRoom().view.clocks.caseMinutes).toBeNull();
    const log = begun('2026-03-04T09:00:00Z').remarks('x', { at: '2026-03-04T09:41:12Z' });
    expect(log.view.clocks.caseMinutes).toBeCloseTo(41.2, 9);
    log.write({ type: 'work-ended', at: '2026-03-04T10:00:00Z' }).remarks('x', { at: '2026-03-04T11:00:00Z' });
    expect(log.view.clocks.caseMinutes).toBe(60);
    expect(clocksAt(log, '2026-03-04T09:30:00Z').caseMinutes).toBe(30);
    log.begins('1', 'turn-out', { at: '2026-03-04T11:30:00Z' });
    expect(log.view.clocks.caseMinutes).toBe(150);
  });

  it.each([
    ['midnight', '2026-03-04T23:30:00+01:00', '2026-03-05T00:45:00+01:00', 75],
    ['the end of the year', '2026-12-31T23:50:00+01:00', '2027-01-01T00:10:00+01:00', 20],
    ['the hour skipped in spring (Oslo)', '2026-03-29T01:30:00+01:00', '2026-03-29T03:30:00+02:00', 60],
    ['the hour repeated in autumn (Oslo)', '2026-10-25T02:30:00+02:00', '2026-10-25T02:30:00+01:00', 60],
    ['a leap day', '2028-02-28T23:00:00+01:00', '2028-03-01T01:00:00+01:00', 26 * 60],
    ['no leap day', '2027-02-28T23:00:00+01:00', '2027-03-01T01:00:00+01:00', 120],
    ['two offsets', '2026-03-04T23:30:00+01:00', '2026-03-04T23:30:00Z', 60],
  ])('is right across %s [Z13]', (_, from, to, minutes) => {
    expect(begun(from).remarks('x', { at: to }).view.clocks.caseMinutes).toBe(minutes);
    expect(clocksAt(begun(from), to).caseMinutes).toBe(minutes);
  });

  it('stands as of the latest time, which need not be the last entry', () => {
    const log = begun('2026-03-04T09:00:00Z').remarks('x', { at: '2026-03-04T10:00:00Z' });
    log.remarks('late', { at: '2026-03-04T09:30:00Z', logged: '2026-03-04T10:00:30Z' });
    expect(log.view.clocks.caseMinutes).toBe(60);
  });

  it('is not moved by an entry that cannot have happened', () => {
    const log = begun('2026-03-04T09:00:00Z').write({ type: 'work-started', at: '2026-03-04T12:00:00Z' });
    expect(log.view).toMatchObject({ outOfOrder: [log.n], clocks: { caseMinutes: 0 } });
  });

  it('reads on the wall of the theatre as its zone has it', () => {
    expect(inZone(epoch('2026-03-29T00:59:59Z'), 'Europe/Oslo')).toEqual({ date: '2026-03-29', time: '01:59:59' });
    expect(inZone(epoch('2026-03-29T01:00:00Z'), 'Europe/Oslo')).toEqual({ date: '2026-03-29', time: '03:00:00' });
    expect(inZone(epoch('2026-10-25T00:30:00Z'), 'Europe/Oslo').time).toBe('02:30:00');
    expect(inZone(epoch('2026-10-25T01:30:00Z'), 'Europe/Oslo').time).toBe('02:30:00');
  });
});

describe('a jump of the device clock', () => {
  const jumped = (seconds: number, at: string) =>
    begun('2026-03-04T09:00:00Z').write({ type: 'clock-jumped', seconds, at, logged: at });

  it('forward is taken out of what lies across it [Z13]', () => {
    const log = jumped(3600, '2026-03-04T10:10:00Z').remarks('x', { at: '2026-03-04T10:20:00Z' });
    expect(log.view.clocks.caseMinutes).toBe(20);
  });

  it('backward is added to what lies across it [Z13]', () => {
    const log = begun('2026-03-04T09:00:00Z').write({
      type: 'clock-jumped',
      seconds: -1800,
      at: '2026-03-04T09:20:00Z',
      logged: '2026-03-04T09:20:00Z',
    });
    expect(log.remarks('x', { at: '2026-03-04T09:25:00Z' }).view.clocks.caseMinutes).toBe(55);
  });

  it('backward leaves alone what was entered before it, though the clock then said a later time [Z13]', () => {
    const log = begun('2026-03-04T09:00:00Z').write({ type: 'tourniquet', to: 'up', at: '2026-03-04T09:50:00Z' });
    const logged = '2026-03-04T09:50:00Z';
    log.write({ type: 'clock-jumped', seconds: -1800, at: '2026-03-04T09:25:00Z', logged });
    log.remarks('x', { at: '2026-03-04T09:35:00Z', logged });
    expect(log.view.clocks).toMatchObject({ caseMinutes: 65, tourniquetMinutes: 15 });
  });

  it('counts once for each, and not for what began after it', () => {
    const log = jumped(600, '2026-03-04T09:30:00Z').write({
      type: 'clock-jumped',
      seconds: 300,
      at: '2026-03-04T09:40:00Z',
    });
    log.begins('1', 'turn-out', { at: '2026-03-04T09:50:00Z' });
    expect(log.remarks('x', { at: '2026-03-04T10:00:00Z' }).view.clocks).toMatchObject({
      caseMinutes: 45,
      moveMinutes: 10,
    });
  });

  // Eight minutes up as the entry is made, on a clock that stands an hour ahead: 10:12 less 8 is 10:04 on that clock.
  const lateCuff = () =>
    jumped(3600, '2026-03-04T10:10:00Z')
      .write({ type: 'tourniquet', to: 'up', at: '2026-03-04T10:04:00Z', logged: '2026-03-04T10:12:00Z' })
      .remarks('x', { at: '2026-03-04T10:20:00Z' });

  it('is taken out of a late entry about the time before it: its time stands in the clock it was logged by [Z13] [Z16]', () => {
    expect(lateCuff().view.clocks).toMatchObject({ caseMinutes: 20, tourniquetMinutes: 16 });
    expect(lateCuff().view.late).toEqual([lateCuff().n - 1]);
  });

  it('was left in such an entry by rules 1, which made 64 minutes of 20', () => {
    const byRules1 = fold(lateCuff().entries, content, ruleVersions.of(1));
    expect(view(byRules1).clocks).toMatchObject({ caseMinutes: 64, tourniquetMinutes: 0 });
  });
});

describe('a device clock set forward and back', () => {
  const up = () => begun('2026-03-04T09:00:00Z').write({ type: 'tourniquet', to: 'up', at: '2026-03-04T09:00:00Z' });
  const jump = (log: Log, seconds: number, at: string, logged = at) =>
    log.write({ type: 'clock-jumped', seconds, at, logged });

  it('by three hours, entered late in between: ten minutes of tourniquet are ten minutes, and no hold stands [Z13]', () => {
    const log = jump(up(), 10_800, '2026-03-04T12:02:00Z');
    log.write({ type: 'images', shots: 1, at: '2026-03-04T12:05:00Z' });
    jump(log, -10_800, '2026-03-04T09:06:00Z', '2026-03-04T12:05:00Z');
    const down = { at: '2026-03-04T09:10:00Z', logged: '2026-03-04T12:05:00Z' };
    log.write({ type: 'tourniquet', to: 'down', ...down });
    expect(log.view.clocks).toMatchObject({ tourniquetTotalMinutes: 10, caseMinutes: 10 });
    expect(log.view.holds).toEqual([]);
    expect(log.view.late).toEqual([]);
  });

  it('back by an hour twice: the hour and five minutes that passed are counted, and its limit is heard [Z13]', () => {
    const log = up().write({ type: 'limits-set', tourniquetMinutes: 60, at: '2026-03-04T09:00:30Z' });
    jump(log, -3600, '2026-03-04T08:30:00Z', '2026-03-04T09:00:30Z');
    jump(log, -3600, '2026-03-04T08:00:00Z', '2026-03-04T09:00:30Z');
    log.remarks('x', { at: '2026-03-04T08:05:00Z', logged: '2026-03-04T09:00:30Z' });
    expect(log.view.clocks.tourniquetMinutes).toBe(65);
    expect(log.view.holds).toEqual(['tourniquet']);
  });
});

describe('the time of an entry less the jumps before it', () => {
  const jump = { n: 5, at: 3_600_000, seconds: 60 };
  const back = { n: 7, at: 5_000_000, seconds: -10 };
  it('is less by every jump logged before it, whatever time it is about, and by its own', () => {
    expect(correctedTime(7_200_000, 9, [jump])).toBe(7_140_000);
    expect(correctedTime(3_599_999, 9, [jump])).toBe(3_539_999);
    expect(correctedTime(3_600_000, 5, [jump])).toBe(3_540_000);
    expect(correctedTime(7_200_000, 9, [jump, back])).toBe(7_150_000);
  });
  it('is as written where the jump was logged later', () => {
    expect(correctedTime(7_200_000, 4, [jump])).toBe(7_200_000);
    expect(correctedTime(7_200_000, 6, [jump, back])).toBe(7_140_000);
  });
  it('went by what was written under rules 1, for the entry itself as well', () => {
    expect(correctedByWriting(7_200_000, 9, [jump])).toBe(7_140_000);
    expect(correctedByWriting(3_600_000, 6, [jump])).toBe(3_540_000);
    expect(correctedByWriting(7_200_000, 9, [jump, back])).toBe(7_150_000);
    expect(correctedByWriting(7_200_000, 5, [jump])).toBe(7_200_000);
    expect(correctedByWriting(3_599_999, 9, [jump])).toBe(3_599_999);
  });
});

describe('the clock of the move', () => {
  it('runs while a move runs', () => {
    const log = atTheTable().begins('1', 'turn-out', { at: '2026-03-04T10:00:00Z' });
    expect(clocksAt(log, '2026-03-04T10:03:30Z').moveMinutes).toBe(3.5);
    expect(log.ends('1', 'no-change').view.clocks.moveMinutes).toBeNull();
    expect(atTheTable().view.clocks.moveMinutes).toBeNull();
  });
});

describe('the tourniquet clock', () => {
  const turn = (log: Log, to: 'up' | 'down', at: string) => log.write({ type: 'tourniquet', to, at });

  it('is right across midnight, with the limit standing at it [Z13]', () => {
    const log = turn(atTheTable(), 'up', '2026-03-04T23:00:00+01:00');
    expect(clocksAt(log, '2026-03-05T00:40:00+01:00')).toMatchObject({
      tourniquetUp: true,
      tourniquetMinutes: 100,
      tourniquetTotalMinutes: 100,
      reperfusionMinutes: null,
    });
    expect(view(log.folded, epoch('2026-03-05T00:45:00+01:00')).notices).toEqual(['tourniquet']);
    expect(view(log.folded, epoch('2026-03-05T01:00:00+01:00')).holds).toEqual(['tourniquet']);
  });

  it('adds inflations, and counts the reperfusion since the last let-down', () => {
    const log = turn(turn(atTheTable(), 'up', '2026-03-04T09:00:00Z'), 'down', '2026-03-04T10:00:00Z');
    expect(clocksAt(log, '2026-03-04T10:12:00Z')).toMatchObject({
      tourniquetUp: false,
      tourniquetMinutes: 0,
      tourniquetTotalMinutes: 60,
      reperfusionMinutes: 12,
    });
    turn(log, 'up', '2026-03-04T10:20:00Z');
    expect(clocksAt(log, '2026-03-04T10:50:00Z')).toMatchObject({
      tourniquetUp: true,
      tourniquetMinutes: 30,
      tourniquetTotalMinutes: 90,
    });
  });

  it('counts the reperfusion since the last of several let-downs, and on while the cuff is up again', () => {
    const log = turn(turn(atTheTable(), 'up', '2026-03-04T09:00:00Z'), 'down', '2026-03-04T10:00:00Z');
    turn(log, 'up', '2026-03-04T10:20:00Z');
    expect(clocksAt(log, '2026-03-04T10:50:00Z').reperfusionMinutes).toBe(50);
    turn(log, 'down', '2026-03-04T11:00:00Z');
    expect(clocksAt(log, '2026-03-04T11:05:00Z')).toMatchObject({
      tourniquetTotalMinutes: 100,
      reperfusionMinutes: 5,
    });
  });

  it('looked at as of a time before it was up, stands at nought and never below', () => {
    const log = turn(atTheTable(), 'up', '2026-03-04T10:00:00Z');
    expect(clocksAt(log, '2026-03-04T09:40:00Z')).toMatchObject({ tourniquetMinutes: 0, tourniquetTotalMinutes: 0 });
  });

  it('never up: nothing to count', () => {
    expect(atTheTable().view.clocks).toMatchObject({
      tourniquetUp: false,
      tourniquetMinutes: 0,
      tourniquetTotalMinutes: 0,
      reperfusionMinutes: null,
    });
  });
});

describe('the antibiotic clock', () => {
  const given = (drug: string, at = '2026-03-04T08:30:00Z') => atTheTable().write({ type: 'antibiotic', drug, at });

  it('counts down to the next dose, and below nought when it is overdue', () => {
    expect(clocksAt(given('cefazolin'), '2026-03-04T09:11:00Z').antibioticDueMinutes).toBe(199);
    expect(clocksAt(given('cefazolin'), '2026-03-04T12:31:00Z').antibioticDueMinutes).toBe(-1);
    expect(clocksAt(given(' Cefazolin '), '2026-03-04T09:11:00Z').antibioticDueMinutes).toBe(199);
    expect(clocksAt(given('Clindamycin'), '2026-03-04T08:30:00Z').antibioticDueMinutes).toBe(360);
  });

  it('is silent, not nought, for no dose, an unknown drug and one that is not given again [Z21]', () => {
    expect(atTheTable().view.clocks.antibioticDueMinutes).toBeNull();
    expect(given('house mixture').view.clocks.antibioticDueMinutes).toBeNull();
    expect(given('vancomycin').view.clocks.antibioticDueMinutes).toBeNull();
  });

  it('goes by the last dose in time, also when an earlier one is entered late [Z16]', () => {
    const log = given('cefazolin').write({ type: 'antibiotic', drug: 'cefazolin', at: '2026-03-04T12:00:00Z' });
    expect(clocksAt(log, '2026-03-04T12:00:00Z').antibioticDueMinutes).toBe(240);
    log.write({ type: 'antibiotic', drug: 'cefoxitin', at: '2026-03-04T09:00:00Z', logged: '2026-03-04T12:05:00Z' });
    expect(clocksAt(log, '2026-03-04T12:10:00Z').antibioticDueMinutes).toBe(230);
  });

  it('takes jumps of the device clock out [Z13]', () => {
    const log = given('cefazolin').write({ type: 'clock-jumped', seconds: 3600, at: '2026-03-04T10:30:00Z' });
    expect(log.view.clocks.antibioticDueMinutes).toBe(180);
  });
});

describe('images', () => {
  it('are added up', () => {
    const log = atTheTable()
      .write({ type: 'images', shots: 3 })
      .write({ type: 'images', shots: 1, dose: 0.4, doseUnit: 'Gy cm2' });
    expect(log.view.clocks.shots).toBe(4);
  });
});

describe('a late entry', () => {
  it('is one entered more than 60 s after it happened [Z16]', () => {
    const entered = (logged: string) =>
      atTheTable().remarks('x', { at: '2026-03-04T09:00:00Z', logged }).view.late.length;
    expect(entered('2026-03-04T09:01:00Z')).toBe(0);
    expect(entered('2026-03-04T09:01:00.001Z')).toBe(1);
  });

  it('stays late when it is struck or out of order [Z16]', () => {
    const log = atTheTable().remarks('x', { at: '2026-03-04T09:00:00Z', logged: '2026-03-04T09:10:00Z' });
    const struck = log.n;
    log.strikes(struck).write({ type: 'work-started', at: '2026-03-04T09:00:00Z', logged: '2026-03-04T09:20:00Z' });
    expect(log.view).toMatchObject({ late: [struck, log.n], struck: [struck], outOfOrder: [log.n] });
  });
});
