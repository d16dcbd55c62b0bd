/** A log that was taken up again after a gap of unknown length: what lies across it has no known duration. */
import { describe, expect, it } from 'vitest';
import { attemptsOf, isAcrossGap } from '../../machines/trace.ts';
import { bothWays, table2 } from './build-2.ts';
import type { Log } from './build.ts';

const resumes = (log: Log, gap: 'known' | 'not-known' = 'not-known') =>
  log.write({ type: 'resumed', device: 'the other tablet', gap });
const spans = (log: Log) => attemptsOf(log.folded.trace).map(({ spansGap }) => spansGap);

describe('a gap of unknown length', () => {
  it('leaves what began before it and ended after it without a known duration, and nothing else', () => {
    const log = table2().screw('2').tries('1', 'turn-out', 'no-change').begins('2', 'turn-out');
    resumes(log).ends('2', 'no-change').tries('1', 'grip-head', 'no-change');
    expect(spans(log)).toEqual([false, true, false]);
    const [lived, whole] = bothWays(log);
    expect(lived).toEqual(whole);
  });

  it('of known length leaves durations as they are', () => {
    expect(spans(resumes(table2().begins('1', 'turn-out'), 'known').ends('1', 'no-change'))).toEqual([false]);
  });

  it('says so of any two entries', () => {
    const log = table2();
    const before = log.n;
    const gap = resumes(log).n;
    log.remarks().remarks();
    const { trace } = log.folded;
    expect(isAcrossGap(trace, before, gap + 1)).toBe(true);
    expect(isAcrossGap(trace, before)).toBe(true);
    expect(isAcrossGap(trace, gap, gap + 2)).toBe(false);
    expect(isAcrossGap(trace, before - 2, before)).toBe(false);
    expect(isAcrossGap(trace, before, gap)).toBe(false);
    resumes(log).remarks();
    expect(isAcrossGap(log.folded.trace, before, gap + 1)).toBe(true);
    expect(isAcrossGap(log.folded.trace, gap, gap + 2)).toBe(false);
  });

  it('makes no end impossible that lies, by the times, before its own start', () => {
    const end = (log: Log) => {
      const start = log.entries.at(-1);
      const at = new Date(Date.parse(start?.at as string) - 600_000).toISOString();
      const logged = new Date(Date.parse(start?.at as string) + 600_000).toISOString();
      return { type: 'move-ended', screw: '1', outcome: 'no-change', start: start?.n as number, at, logged } as const;
    };
    const plain = table2().begins('1', 'turn-out');
    const told = end(plain);
    expect(plain.write(told).view.impossibleTimes).toEqual([plain.n]);
    const over = table2().begins('1', 'turn-out');
    resumes(over).write(told);
    expect(over.view.impossibleTimes).toEqual([]);
  });
});
