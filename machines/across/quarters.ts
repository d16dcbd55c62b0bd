/** Cases in which metal of a screw stayed, quarter by quarter: whether fewer do is seen over time, not in one figure. */
import { wilson } from './intervals.ts';

/** What became of the screws of a case, as one word: something stays, nothing does, or nobody has said of all of them. */
export type Fate = 'stays' | 'none' | 'unsaid';

export type QuarterCounts = Record<Fate, number>;

export interface QuarterRow {
  /** Such as 2026-Q1; null: the day of opening is not known. */
  quarter: string | null;
  /** Cases of which it was said for every screw, or that one stays. */
  of: number;
  /** Of those: a screw, or a piece of one, stays in. */
  count: number;
  /** Wilson's 95 % interval; null when there was nothing to count. */
  low: number | null;
  high: number | null;
  /** Cases of which nobody said what became of every screw, and of none that it stays: in no share. */
  unsaid: number;
}

/**
 * The quarter of a day.
 *
 * @param day such as 2026-02-17
 * @example quarterOf('2026-02-17') // '2026-Q1'
 */
export const quarterOf = (day: string): string => `${day.slice(0, 4)}-Q${Math.ceil(Number(day.slice(5, 7)) / 3)}`;

/**
 * What became of the screws of a case.
 *
 * @param left screws said to stay
 * @param stillIn screws neither out nor said to stay
 * @example fateOf({ left: [], stillIn: [] }) // 'none'
 */
export function fateOf({ left, stillIn }: { left: readonly unknown[]; stillIn: readonly unknown[] }): Fate {
  if (left.length > 0) return 'stays';
  return stillIn.length > 0 ? 'unsaid' : 'none';
}

/**
 * Counts as rows, in the order of time; those without a day last.
 *
 * @example quarterRows(new Map([['2026-Q1', { stays: 1, none: 1, unsaid: 2 }]]))[0]?.of // 2
 */
export function quarterRows(counts: ReadonlyMap<string | null, QuarterCounts>): QuarterRow[] {
  return [...counts]
    .sort(([a], [b]) => ((a ?? '~') < (b ?? '~') ? -1 : 1))
    .map(([quarter, { stays, none, unsaid }]) => {
      const of = stays + none;
      const interval = wilson(stays, of);
      return { quarter, of, count: stays, low: interval?.low ?? null, high: interval?.high ?? null, unsaid };
    });
}
