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
  /** The last comparison of the device with the clock on the wall: its base is that of every time printed. */
  wall: EntryOf<'clock-compared'> | null;
  /**
   * When it happened, or when it was entered, ms since 1970, by the clock on the wall; as the device showed it where
   * nobody compared the two, or where nobody knows how much time lies between the comparison and the entry.
   */
  at(entry: Entry, time?: 'at' | 'logged'): number;
  /** That time in the case's zone to the second, with its date when that is not the date of the case. */
  time(entry: Entry, time?: 'at' | 'logged'): string;
  /** What the device showed, where that is another second; null where it is the same. */
  deviceTime(entry: Entry): string | null;
  /** Is it printed as the device showed it, although the others stand by the clock on the wall? */
  isDeviceAlone(entry: Entry): boolean;
  /** An instant as `time` prints it. */
  when(ms: number): string;
  /** In order of time: with the jumps of the device clock taken out, as the rules of the fold take them; then by number. */
  inOrder<E extends Entry>(entries: readonly E[]): E[];
  /** Was it told after the case was closed? What was then told is no part of the operation. */
  isAfterClosing(n: number): boolean;
  /** Minutes from one entry to another, jumps of the device clock taken out. */
  minutes(from: Entry, to: Entry): number;
  /** Did the log stop between them, for how long nobody knows? */
  isGapBetween(from: Entry, to: Entry): boolean;
  /** Minutes in words, and what is not known of them. */
  lasted(minutes: number, from: Entry, to: Entry): string;
}

/** Format 1 did not say which clock it was. */
const isOfWall = (entry: Entry): entry is EntryOf<'clock-compared'> =>
  entry.type === 'clock-compared' && entry.source === 'wall';

/** Reads a case for the record. */
export function readLog(entries: readonly Entry[], folded: Folded, view: CaseView, content: Content): RecordLog {
  const locale = localeOf(content.phrases.language);
  const counting = effectiveEntries(folded.trace);
  const { opened } = folded.case.context.room;
  const zone = opened?.zone ?? 'UTC';
  const first = opened ?? entries[0];
  const { rules, jumps } = folded;
  const corrected = (entry: Entry) => rules.corrected(epoch(entry.at), entry.n, jumps);
  // Rules 1 took the times as they were written.
  const place = (entry: Entry) => (rules.number > 1 ? corrected(entry) : epoch(entry.at));
  const closed = counting.find(({ type }) => type === 'case-closed')?.n ?? Infinity;
  const gaps = counting.flatMap((entry) => (entry.type === 'resumed' && entry.gap === 'not-known' ? [entry.n] : []));
  const isGapBetween = (from: Entry, to: Entry) =>
    gaps.some((n) => n > Math.min(from.n, to.n) && n <= Math.max(from.n, to.n));
  const wall = rules.number > 1 ? (counting.findLast(isOfWall) ?? null) : null;
  const ahead = wall === null ? 0 : epoch(wall.theatreClock) - corrected(wall);
  const at = (entry: Entry, time: 'at' | 'logged' = 'at') => {
    const device = epoch(entry[time]);
    return wall === null || isGapBetween(entry, wall) ? device : rules.corrected(device, entry.n, jumps) + ahead;
  };
  const date = first ? inZone(at(first), zone).date : null;
  const when = (ms: number) => {
    const there = inZone(ms, zone);
    return there.date === date ? there.time : `${locale.day(there.date)} ${there.time}`;
  };
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
    wall,
    at,
    time: (entry, time) => when(at(entry, time)),
    deviceTime: (entry) => {
      const device = when(epoch(entry.at));
      return device === when(at(entry)) ? null : device;
    },
    isDeviceAlone: (entry) => wall !== null && isGapBetween(entry, wall),
    when,
    isAfterClosing: (n) => n > closed,
    minutes: (from, to) => minutesBetween(corrected(from), corrected(to)),
    isGapBetween,
    lasted: (minutes, from, to) => locale.lasted(minutes, !isGapBetween(from, to)),
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
