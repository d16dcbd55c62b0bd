/** A case as the record reads it: its entries in force, its zone, and times in words. */
import type { Content } from '../../content/types.ts';
import { minutesBetween } from '../../machines/clocks.ts';
import type { Entry, EntryOf, EntryType } from '../../machines/entry.ts';
import type { Folded } from '../../machines/folded.ts';
import { epoch, inZone, offsetMinutes, offsetText } from '../../machines/time.ts';
import { effectiveEntries } from '../../machines/trace.ts';
import type { CaseView } from '../../machines/view.types.ts';
import { localeOf, type Locale } from './locales/index.ts';

export interface RecordLog {
  entries: readonly Entry[];
  folded: Folded;
  view: CaseView;
  content: Content;
  /** The language that the content is in. */
  locale: Locale;
  /** Neither struck nor out of order, in order of `n`. */
  effective: readonly Entry[];
  opened: EntryOf<'case-opened'> | null;
  /** Zone of the case; UTC until a case is opened. */
  zone: string;
  /** Date of the opening, else of the first entry, in that zone. */
  date: string | null;
  /** Entries in force of one type, by time, then number. */
  of<T extends EntryType>(type: T): EntryOf<T>[];
  /** Wall-clock time in the case's zone to the second, with its date when that is not the date of the case. */
  when(ms: number): string;
  /** In order of time: with the jumps of the device clock taken out, as the rules of the fold take them; then by number. */
  inOrder<E extends Entry>(entries: readonly E[]): E[];
  /** Minutes from one entry to another, jumps of the device clock taken out. */
  minutes(from: Entry, to: Entry): number;
}

/** Reads a case for the record. */
export function readLog(entries: readonly Entry[], folded: Folded, view: CaseView, content: Content): RecordLog {
  const locale = localeOf(content.phrases.language);
  const counting = effectiveEntries(folded.trace);
  const { opened } = folded.case.context.room;
  const zone = opened?.zone ?? 'UTC';
  const first = opened ?? entries[0];
  const date = first ? inZone(epoch(first.at), zone).date : null;
  const { rules, jumps } = folded;
  const corrected = (entry: Entry) => rules.corrected(epoch(entry.at), entry.n, jumps);
  // Rules 1 took the times as they were written.
  const place = (entry: Entry) => (rules.number > 1 ? corrected(entry) : epoch(entry.at));
  const inOrder = <E extends Entry>(some: readonly E[]): E[] =>
    [...some].sort((a, b) => place(a) - place(b) || a.n - b.n);
  return {
    entries,
    folded,
    view,
    content,
    locale,
    effective: counting,
    opened,
    zone,
    date,
    of: <T extends EntryType>(type: T) =>
      inOrder<Entry>(counting.filter((entry) => entry.type === type)) as EntryOf<T>[],
    inOrder,
    when: (ms) => {
      const there = inZone(ms, zone);
      return there.date === date ? there.time : `${locale.day(there.date)} ${there.time}`;
    },
    minutes: (from, to) => minutesBetween(corrected(from), corrected(to)),
  };
}

/**
 * Offset of a zone at an instant, in words.
 *
 * @example offsetAt(Date.UTC(2026, 1, 17, 9), 'Europe/Oslo') // 'UTC+01:00'
 */
export function offsetAt(ms: number, zone: string): string {
  const minutes = offsetMinutes(ms, zone);
  return Number.isFinite(minutes) ? `UTC${offsetText(minutes)}` : 'UTC';
}
