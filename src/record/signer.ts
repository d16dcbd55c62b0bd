/** Who signed, among the people listed. */
import type { EntryOf } from '../../machines/entry.ts';
import { rowsOf } from '../../machines/trace.ts';
import type { RecordLog } from './log.ts';
import type { Listing, Standing } from './standing.ts';

/**
 * How the name of a signature stands to the people listed. Names are the same when they read the same: two people of
 * one name are not told apart, and one listed twice is not taken for two.
 *
 * @returns `before` empty where the name stood in no list when it was signed: then it was typed by hand
 * @example standingOf(log, signed).before // [{ n: 2, role: 'surgeon', struckBy: null }]
 */
export function standingOf(log: RecordLog, signed: EntryOf<'signed'>): Standing {
  const { clean } = log.locale;
  const strikes = new Map<number, number>();
  for (const { n, entry } of log.of('struck')) if (!strikes.has(entry)) strikes.set(entry, n);
  const all = rowsOf(log.folded.trace).flatMap(({ entry, heard, struck }): Listing[] =>
    entry.type === 'person-listed' && (heard || struck) && clean(entry.who) === clean(signed.who)
      ? [{ n: entry.n, role: entry.role, struckBy: strikes.get(entry.n) ?? null }]
      : [],
  );
  return {
    before: all.filter(({ n, struckBy }) => n < signed.n && (struckBy === null || struckBy > signed.n)),
    since: all.filter(({ n, struckBy }) => n > signed.n && struckBy === null),
  };
}
