/** What the fold says of a log before any entry, of late entries, of whom an answer is for, of what a closing leaves open. */
import { describe, expect, it } from 'vitest';
import { fold, ruleVersions, unfolded } from '../../machines/fold.ts';
import { calledScrew, closingHolds, situationOf } from '../../machines/standing.ts';
import { Log, atTheTable, content, inTheRoom } from './build.ts';

describe('the state before any entry', () => {
  it('holds nothing', () => {
    const { case: unopened, rules, screws, ...rest } = unfolded(content);
    expect(rest).toEqual({
      ...{
        content,
        format: 1,
        began: 1,
        jumps: [],
        latest: -Infinity,
        seen: -Infinity,
        logged: -Infinity,
        trace: null,
      },
      ...{ outOfOrder: [], unoffered: [], unanswered: [], struck: [], late: [] },
      ...{ impossibleTimes: [], conflicts: [], past: new Map() },
    });
    expect([unopened.value, rules, screws.size]).toEqual(['unopened', ruleVersions.current(), 0]);
    expect(fold([], content)).toEqual(unfolded(content));
  });

  it('is read by the rules as first released', () =>
    expect(ruleVersions.of(1)).toMatchObject({ number: 1, name: 'as first released', lateAfterMs: 60_000 }));
});

describe('an entry', () => {
  const at = '2026-03-04T09:00:00Z';
  const within = (lateAfterMs: number) => ({ ...ruleVersions.current(), lateAfterMs });
  const isLate = (times: { at: string; logged: string }, rules = ruleVersions.current()) =>
    fold([{ n: 1, ...times, type: 'remark', text: 'x' }], content, rules).late.length === 1;

  it('is late from more than a minute after it happened', () => {
    expect(isLate({ at, logged: at })).toBe(false);
    expect(isLate({ at, logged: '2026-03-04T09:01:00Z' })).toBe(false);
    expect(isLate({ at, logged: '2026-03-04T09:01:00.001Z' })).toBe(true);
    expect(isLate({ at, logged: '2026-03-04T10:00:30+01:00' })).toBe(false);
    expect(isLate({ at, logged: '2026-03-04T09:00:30Z' }, within(20_000))).toBe(true);
  });

  it('entered as it happens is late by no rule', () => expect(isLate({ at, logged: at }, within(-1))).toBe(false));

  it('that is late is listed, struck or not', () => {
    const log = inTheRoom().remarks('x', { at, logged: '2026-03-04T09:05:00Z' });
    expect(log.view.late).toEqual([log.n]);
    const late = log.n;
    expect(log.strikes(late).view).toMatchObject({ late: [late], struck: [late] });
  });

  it('moves the latest time on, with the jumps of the clock taken out, and never back', () => {
    const latest = (log: Log) => new Date(log.folded.latest).toISOString();
    const log = inTheRoom().remarks('x', { at });
    expect(latest(log)).toBe('2026-03-04T09:00:00.000Z');
    expect(latest(log.remarks('late', { at: '2026-03-04T08:30:00Z', logged: at }))).toBe('2026-03-04T09:00:00.000Z');
    log.write({ type: 'clock-jumped', seconds: 240, at: '2026-03-04T09:10:00Z' });
    expect(latest(log)).toBe('2026-03-04T09:06:00.000Z');
    expect(latest(log.remarks('x', { at: '2026-03-04T09:15:00Z' }))).toBe('2026-03-04T09:11:00.000Z');
    expect(log.folded.jumps).toHaveLength(1);
  });
});

describe('strikes', () => {
  it('are listed by the number of what they struck, in order', () => {
    const log = atTheTable();
    const first = log.n + 1;
    for (let i = 0; i < 12; i++) log.remarks();
    log.strikes(first + 11).strikes(first + 2);
    expect(log.view.struck).toEqual([first + 2, first + 11]);
  });
});

describe('an answer that names no screw', () => {
  const three = () =>
    atTheTable().screw('2').screw('3').tries('1', 'turn-out', 'slipped').tries('2', 'turn-out', 'slipped');
  const open = (log: Log) => ['1', '2'].map((id) => log.of(id).holds.includes('reassess'));

  it('is for the screw called', () => {
    expect(open(three().answers('reassess'))).toEqual([true, false]);
    expect(open(three().call('1').answers('reassess'))).toEqual([false, true]);
    expect(open(three().call('3').answers('reassess'))).toEqual([true, true]);
  });

  it('is for all once the one called has ended; one that names its screw is for that alone', () => {
    const ended = () => three().tries('3', 'turn-out', 'out');
    expect(calledScrew(ended().folded)).toBeNull();
    expect(open(ended().answers('reassess'))).toEqual([false, false]);
    expect(open(ended().answers('reassess', { screw: '2' }))).toEqual([true, false]);
  });
});

describe('the situation of a screw', () => {
  it('is none of one that is not listed', () => expect(situationOf(atTheTable().folded, '9')).toBeUndefined());

  it('is that of the last one in once every other is out, not left in', () => {
    const log = () => atTheTable().screw('2').screw('3');
    const last = (one: Log) => ['1', '2', '3'].map((id) => situationOf(one.folded, id)?.lastIn);
    expect(situationOf(atTheTable().folded, '1')?.lastIn).toBe(true);
    expect(last(log())).toEqual([false, false, false]);
    expect(last(log().tries('2', 'turn-out', 'out'))).toEqual([false, false, false]);
    expect(last(log().tries('2', 'turn-out', 'out').tries('3', 'turn-out', 'out'))).toEqual([true, false, false]);
    expect(last(log().tries('2', 'turn-out', 'out').leaves('1'))).toEqual([false, false, false]);
  });

  it('says whether somebody has to look again', () => {
    const log = atTheTable().tries('1', 'turn-out', 'slipped');
    expect(situationOf(log.folded, '1')?.reassess).toBe(true);
    expect(situationOf(log.looksAgain('1').folded, '1')?.reassess).toBe(false);
  });
});

describe('left open', () => {
  it('by a word on the reverse alone is what the bone still asks', () => {
    const log = atTheTable({ stage: 'head-sheared' }).write({ type: 'limits-set', boneConsider: 0.01, boneStop: 0.02 });
    log.begins('1', 'hollow-ream', { reverseConfirmed: true });
    expect(log.view.unanswered).toEqual([{ hold: 'bone-stop', entry: log.n }]);
  });

  it('by a closing is the count once the work has begun, nothing before it, and nothing twice', () => {
    const close = (log: Log) => log.write({ type: 'case-closed' });
    expect(close(inTheRoom()).view.unanswered).toEqual([]);
    const begun = close(atTheTable());
    expect(begun.view.unanswered).toEqual([{ hold: 'count', entry: begun.n }]);
    expect(closingHolds(inTheRoom().folded)).toEqual([]);
    expect(closingHolds(atTheTable().folded)).toEqual(['count']);
    expect(closingHolds(atTheTable().write({ type: 'work-ended' }).folded)).toEqual(['count']);
    expect(closingHolds(begun.folded)).toEqual([]);
    expect(close(begun).view.unanswered).toHaveLength(1);
  });
});
