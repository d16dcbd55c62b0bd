/** What only later entries tell of an earlier one: that it was struck, was of another screw, changed the cuff after all. */
import type { HoldId } from '../content/ids.ts';
import { jumpsWith, type Jump } from './clocks.ts';
import { cuffChanges, type CuffChange } from './cuff.ts';
import type { Entry, EntryOf } from './entry.ts';
import { formatFrom } from './conversions.ts';
import { struckBy } from './strike.ts';
import { epoch } from './time.ts';
import type { Attempt } from './trace.ts';

/** What was asked of a move after its touch, as its end or its start reads with it. */
export type Answered = Pick<EntryOf<'move-answered'>, 'recess' | 'head' | 'turned' | 'bores' | 'depth'>;

/** What stood at a start of a move when it was asked about; what is said of the log later does not change it. */
export interface Asked {
  unoffered: boolean;
  unanswered: readonly HoldId[];
}

export interface Hindsight {
  struck: ReadonlySet<number>;
  /** Strikes that cannot stand. */
  refused: ReadonlySet<number>;
  /** Changes of the cuff that set it to what it was, by time, when they were told and after each that was told since. */
  idle: ReadonlySet<number>;
  /** Starts whose end was told with their number. */
  awaited: ReadonlySet<number>;
  /** The screw that an entry was of, where it was entered for another one. */
  screwOf: ReadonlyMap<number, string>;
  /** What was asked as a move began, of those that something was said of since. */
  asked: ReadonlyMap<number, Asked>;
  /** Number of the closing; Infinity where there is none. */
  closing: number;
  /** By the number of the end, or of the start of a move that nobody ended. */
  answered: ReadonlyMap<number, Answered>;
}

type Corrected = (at: number, n: number, jumps: readonly Jump[]) => number;

/** Looks at the whole log once. */
export function hindsightOf(entries: readonly Entry[], corrected: Corrected, format: number): Hindsight {
  const formats: number[] = [];
  for (const entry of entries) formats.push(formatFrom(entry, formats.at(-1) ?? format));
  const { struck, refused } = struckBy(entries, (n) => formats[n - 1] ?? format);
  const told: CuffChange[] = [];
  let jumps: readonly Jump[] = [];
  let seen = -Infinity;
  const awaited = new Set<number>();
  for (const entry of entries) {
    if (struck.has(entry.n)) continue;
    const at = epoch(entry.at);
    jumps = jumpsWith(jumps, entry, seen, corrected);
    seen = Math.max(seen, corrected(at, entry.n + 1, jumps));
    if (entry.type === 'tourniquet') told.push({ n: entry.n, to: entry.to, corrected: corrected(at, entry.n, jumps) });
    if (entry.type === 'move-ended' && entry.start !== undefined) awaited.add(entry.start);
  }
  const changed = (n: number, upTo: number) => cuffChanges(told.slice(0, upTo)).some((one) => one.n === n);
  // What was heard once, entry by entry, stays heard, whatever was told of the time before it since.
  const idle = told.filter(({ n }, i) => !told.some((_, k) => k >= i && changed(n, k + 1)));
  const none = { screwOf: new Map(), answered: new Map(), asked: new Map() };
  const closing = entries.find(({ type, n }) => type === 'case-closed' && !struck.has(n))?.n ?? Infinity;
  return { struck, refused, idle: new Set(idle.map(({ n }) => n)), awaited, closing, ...none };
}

/** Does any of these entries change how earlier ones read, so that it can be told only once the moves are known? */
export const rereads = (entries: readonly Entry[], { struck }: Pick<Hindsight, 'struck'>): boolean =>
  entries.some(({ type, n }) => (type === 'reassigned' || type === 'move-answered') && !struck.has(n));

/** What describes a screw as it is named stays with its name. */
const descriptions: readonly Entry['type'][] = ['screw-listed', 'bone-measured', 'reassigned'];

/**
 * The same with what was said of entries by their numbers: which screw they were of, and how moves ended.
 *
 * @param attempts of the log as it reads without; an end follows its start
 */
export function withAnswers(before: Hindsight, entries: readonly Entry[], attempts: readonly Attempt[]): Hindsight {
  const screwOf = new Map<number, string>();
  const answered = new Map<number, Answered>();
  const endOf = new Map(attempts.map(({ start, end }) => [start.n, end]));
  // These go where their starts go, whatever is said of them.
  const ends = new Set(attempts.flatMap(({ end }) => (end?.type === 'move-ended' ? [end.n] : [])));
  const give = (n: number, screw: string) => {
    screwOf.set(n, screw);
    const end = endOf.get(n);
    if (end?.type === 'move-ended') screwOf.set(end.n, screw);
  };
  const screwNow = (entry: Entry) => screwOf.get(entry.n) ?? ('screw' in entry ? entry.screw : undefined);
  for (const entry of entries) {
    if (before.struck.has(entry.n)) continue;
    if (entry.type === 'reassigned') {
      if (entry.screw !== undefined)
        for (const n of entry.entries ?? []) if (n < entry.n && !ends.has(n)) give(n, entry.screw);
      if (entry.swap && entry.from !== undefined) {
        const [a, b] = entry.swap;
        for (const one of entries.slice(entry.from - 1, entry.n - 1)) {
          const now = screwNow(one);
          if (descriptions.includes(one.type) || ends.has(one.n) || (now !== a && now !== b)) continue;
          give(one.n, now === a ? b : a);
        }
      }
    }
    if (entry.type === 'move-answered') {
      const end = endOf.get(entry.of);
      const of = end?.type === 'move-ended' ? end.n : entry.of;
      const { head, bores, depth } = entry;
      // After the closing no stage moves any more, and these two move it.
      const { recess, turned } = entry.n > before.closing ? {} : entry;
      const said = Object.entries({ recess, head, turned, bores, depth }).filter(([, value]) => value !== undefined);
      answered.set(of, { ...answered.get(of), ...Object.fromEntries(said) });
    }
  }
  return { ...before, screwOf, answered };
}
