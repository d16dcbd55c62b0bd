/** Which cases are old, by the calendar. Nothing is ever wiped by itself. */
import type { CaseLine } from './session.ts';

/**
 * The moment so many months before another, ms since 1970. A day that the month lacks is its last one.
 *
 * @example new Date(monthsBefore(Date.parse('2026-03-31T12:00:00Z'), 1)).toISOString() // '2026-02-28T12:00:00.000Z'
 */
export function monthsBefore(ms: number, months: number): number {
  const date = new Date(ms);
  const day = date.getUTCDate();
  date.setUTCDate(1);
  date.setUTCMonth(date.getUTCMonth() - months);
  const last = new Date(Date.UTC(date.getUTCFullYear(), date.getUTCMonth() + 1, 0)).getUTCDate();
  return date.setUTCDate(Math.min(day, last));
}

/** Cases whose last entry is older than so many months. None when `months` is null. */
export const oldCases = (lines: readonly CaseLine[], months: number | null, now: number): CaseLine[] =>
  months === null
    ? []
    : lines.filter(({ lastAt, meta }) => Date.parse(lastAt ?? meta.created) < monthsBefore(now, months));
