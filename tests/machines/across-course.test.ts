/** The plan of a case before its first move, and what came of it. */
import { describe, expect, it } from 'vitest';
import { courseOf } from '../../machines/across/course.ts';
import { caseOutcome } from '../../machines/across/outcome.ts';
import { epoch } from '../../machines/time.ts';
import { Log, atTheTable, content, inTheRoom } from './build.ts';
import { table2 } from './build-2.ts';

const course = (log: Log) => courseOf(log.folded);
const closed = (log: Log) => log.write({ type: 'work-ended' }).write({ type: 'case-closed' });

describe('the plan', () => {
  it('is what stood before the first move, whichever screw that was of', () => {
    const log = atTheTable().screw('2');
    const before = log.n;
    expect(course(log)).toMatchObject({ planned: before, begunAt: null, firstAt: null });
    const now = course(log.begins('2', 'turn-out').ends('2', 'out').screw('3').tries('1', 'turn-out', 'out'));
    expect(now.planned).toBe(before);
    const first = epoch(log.entries[before]?.at ?? '');
    expect([now.begunAt, now.firstAt]).toEqual([first, first]);
  });

  it('ends at a move on the plate, too', () => {
    const log = table2().write({ type: 'part-listed', part: 'plate', kind: 'plate' });
    const before = log.n;
    expect(
      course(log.write({ type: 'part-move', part: 'plate', move: 'lever-plate', outcome: 'no-change' })).planned,
    ).toBe(before);
  });

  it('does not end at a start that was struck', () => {
    const log = atTheTable().begins('1', 'turn-out');
    const before = log.strikes(log.n).n;
    expect(course(log.remarks().begins('1', 'turn-out')).planned).toBe(before + 1);
  });

  it('is not known where what stood before the first entry of a move tells of the time after it began', () => {
    const late = (told: (log: Log) => Log) => {
      const log = told(inTheRoom().start().after(10));
      return course(log.begins('1', 'turn-out', { at: '2026-03-04T08:20:00Z', logged: '2026-03-04T09:00:00Z' }));
    };
    expect(late((log) => log.remarks()).toldLater).toBe(false);
    expect(late((log) => log.after(15).remarks()).toldLater).toBe(false);
    expect(late((log) => log.after(15).finds('1', { headProud: true })).toldLater).toBe(true);
  });
});

describe('what came of it', () => {
  const fates = (log: Log) => course(log).screws;

  it('is out, or left in after a try; what nobody said is neither', () => {
    const log = atTheTable().screw('2').screw('3').screw('4');
    log.tries('1', 'turn-out', 'out').tries('2', 'turn-out', 'slipped').leaves('2').leaves('3');
    expect(fates(closed(log.tries('4', 'turn-out', 'slipped')))).toEqual({
      1: { fate: 'out', tried: true },
      2: { fate: 'left-in', tried: true },
      3: { fate: 'left-in', tried: false },
      4: { fate: 'unsaid', tried: true },
    });
  });

  it('is what was found after the closing, where nobody had said; unsaid where both do not go together', () => {
    const log = closed(table2().screw('2').tries('1', 'turn-out', 'slipped').tries('2', 'turn-out', 'out'));
    expect(fates(log.fork().leaves('1'))['1']).toEqual({ fate: 'left-in', tried: true });
    expect(fates(log.fork().leaves('2'))['2']).toEqual({ fate: 'unsaid', tried: true });
  });

  it('is unsaid while it came out short and nobody told why', () => {
    const log = table2().begins('1', 'turn-out').ends('1', 'out', { recovered: 20, lengthHow: 'measured' });
    expect(fates(log)['1']?.fate).toBe('unsaid');
    expect(fates(log.write({ type: 'length-answered', screw: '1', answer: 'listed-wrong' }))['1']?.fate).toBe('out');
  });

  it('has the minutes from the start to the end of the work, without either none', () => {
    expect(course(closed(atTheTable().after(30).tries('1', 'turn-out', 'out'))).minutes).toBe(31);
    expect(course(atTheTable().tries('1', 'turn-out', 'out')).minutes).toBeNull();
    expect(course(closed(inTheRoom().tries('1', 'turn-out', 'out'))).minutes).toBeNull();
  });

  it('has no minutes across a gap of unknown length', () => {
    const gap = (how: 'known' | 'not-known') =>
      course(closed(table2().write({ type: 'resumed', device: 'tablet', gap: how }).tries('1', 'turn-out', 'out')))
        .minutes;
    expect(gap('known')).toBeGreaterThan(0);
    expect(gap('not-known')).toBeNull();
  });

  it('stands with what a case brings, and has its closing', () => {
    const log = closed(atTheTable().tries('1', 'turn-out', 'out'));
    const { course: brought } = caseOutcome(log.entries, content);
    expect(brought).toEqual(course(log));
    expect(brought.closedAt).toBe(epoch(log.entries.at(-1)?.logged ?? ''));
  });

  it('is read without what was struck', () => {
    const log = atTheTable().tries('1', 'turn-out', 'slipped').leaves('1');
    const { screws } = caseOutcome(
      closed(log.strikes(log.n).looksAgain('1').tries('1', 'reseat-driver', 'out')).entries,
      content,
    ).course;
    expect(screws['1']).toEqual({ fate: 'out', tried: true });
  });
});
