/**
 * The trace: what each entry was in its log, worked out once, by the fold, and from here alone.
 *
 * One row an entry, and the attempts: each move from its start to whatever ended it. Timeline, narrative, last entry,
 * record and counting read it; nothing else matches the ends of moves to their starts.
 */
import type { AnyMoveId, HoldId, Outcome, Stage, ToolId } from '../content/ids.ts';
import { moveOf } from '../content/moves.ts';
import type { Content } from '../content/types.ts';
import type { Room } from './case.context.ts';
import { minutesBetween } from './clocks.ts';
import type { Bore, Entry, EntryOf } from './entry.ts';
import type { Situation } from './offer.ts';
import { levelAt, type Pasts } from './past.ts';
import { madeMove, stageAfter } from './second-ladder.ts';
import { depth, isGain, type ScrewContext } from './screw.context.ts';

/** One move on one screw, from its start to whatever ended it. */
export interface Attempt {
  screw: string;
  move: AnyMoveId;
  /** The tool named at its start. */
  tool: ToolId | undefined;
  start: EntryOf<'move-started'>;
  /** Corrected time of its start, ms. */
  from: number;
  /** Holds that stood open as it began and that nobody had answered. */
  holds: readonly HoldId[];
  /** Null while it runs. */
  end: Entry | null;
  to: number | null;
  /** Corrected minutes from start to end, at least 0; null while it runs. */
  minutes: number | null;
  /** How long it took is not known: the log was taken up again in between, after a gap of unknown length. */
  spansGap: boolean;
  /** Null while it runs, or when nobody said how it ended: another move was begun, or the screw was left in. */
  outcome: Outcome | null;
  /** It brought the job further; `moving` counts as gain. */
  gained: boolean;
  stageBefore: Stage;
  stageAfter: Stage;
  /** Bores that it left, and whether somebody entered them or they are only what was to be expected. */
  bores: readonly Bore[];
  boresEntered: boolean;
}

export interface TraceRow {
  entry: Entry;
  /** Number of the format that it stands in. */
  format: number;
  /** The screw that it was entered for, where it was of another one. */
  movedFrom: string | null;
  /** Its time in ms, less the jumps of the device clock before it. */
  corrected: number;
  /** It had effect: neither struck nor out of order. */
  heard: boolean;
  struck: boolean;
  late: boolean;
  /** A move that was not among those offered. */
  unoffered: boolean;
  /** Holds that stood open over it and that nobody had answered. */
  unanswered: readonly HoldId[];
  /** A screw listed that was listed before. */
  again: boolean;
  /** The attempt that it began. */
  began: Attempt | null;
  /** The attempt that it brought to an end, whole. */
  ended: Attempt | null;
  /** All attempts that it brought to an end: work that is stopped breaks off every one that runs. */
  endedAll: readonly Attempt[];
  /** An end without effect: the start that it was told for, as far as one is known. */
  toldOf: Attempt | null;
  /** Stage of its screw before it; null when it names none that is listed. */
  stageBefore: Stage | null;
  /** After an end that somebody told: the screw and the room it stood in, for what was open and what was missing then. */
  left: { situation: Situation; room: Room } | null;
}

/** The last row and all before it. Shared between states, so that one more entry costs the same in any log. */
export interface Trace {
  row: TraceRow;
  before: Trace | null;
  /** Attempts that run, by the number of their start. */
  running: ReadonlyMap<number, Attempt>;
  /** The last start told of each screw, whether it had effect or not. */
  told: ReadonlyMap<string, Attempt>;
  /** The last entry that took the log up again after a gap of unknown length; 0 before any. */
  gap: number;
}

/**
 * Is the time between two entries not known, because the log was taken up again between them after a gap of unknown
 * length?
 *
 * @param from number of the first, in the order in which they were entered
 * @param to number of the second; left out: now
 * @example isAcrossGap(null, 3, 9) // false
 */
export function isAcrossGap(trace: Trace | null, from: number, to = Infinity): boolean {
  for (let at = trace; at && at.gap > from; at = at.before) if (at.row.entry.n === at.gap && at.gap < to) return true;
  return false;
}

/** What a row needs to know of a state. */
interface Stood {
  content: Content;
  screws: ReadonlyMap<string, { context: ScrewContext }>;
  past: Pasts;
  rules: { number: number };
  unoffered: readonly number[];
  unanswered: readonly { hold: HoldId; entry: number }[];
  trace: Trace | null;
}

/** How an entry was taken. `after`: the state with it, null when it had no effect. */
export interface Taken<State> {
  entry: Entry;
  format: number;
  movedFrom: string | null;
  corrected: number;
  late: boolean;
  struck: boolean;
  after: State | null;
  left: (after: State, screw: string) => TraceRow['left'];
}

const noneRuns: ReadonlyMap<number, Attempt> = new Map();
const noneTold: ReadonlyMap<string, Attempt> = new Map();

function begun(before: Stood, entry: EntryOf<'move-started'>, from: number, holds: readonly HoldId[]): Attempt {
  const now = before.screws.get(entry.screw)?.context.stage ?? 'seated';
  // Told late, it began in the stage of its own time.
  const stage = before.rules.number > 1 ? shallower(now, levelAt(before.past.get(entry.screw), from)) : now;
  return {
    screw: entry.screw,
    move: entry.move,
    tool: entry.tool,
    start: entry,
    from,
    holds,
    end: null,
    to: null,
    minutes: null,
    spansGap: false,
    outcome: null,
    gained: false,
    stageBefore: stage,
    stageAfter: stage,
    bores: [],
    boresEntered: entry.bores !== undefined,
  };
}

const shallower = (a: Stage, b: Stage) => (depth(a) < depth(b) ? a : b);

function finished(attempt: Attempt, content: Content, entry: Entry, to: number, was: ScrewContext, now: ScrewContext) {
  const told = entry.type === 'move-ended' ? entry : null;
  const bores = now.bores.slice(was.bores.length);
  const isHistory = was.running?.entry !== attempt.start.n;
  const move = told && madeMove(content, moveOf(content, attempt.move), attempt, told);
  const reached = told && move && isHistory ? stageAfter(content, was, told, move, attempt.stageBefore) : null;
  return {
    ...attempt,
    end: entry,
    to,
    minutes: minutesBetween(attempt.from, to),
    outcome: told?.outcome ?? null,
    gained: told !== null && move !== null && isGain(told, move),
    stageAfter: isHistory ? (reached ?? attempt.stageBefore) : now.stage,
    bores,
    boresEntered: attempt.boresEntered || told?.bores !== undefined,
  };
}

const changed = <K>(map: ReadonlyMap<K, Attempt>, key: K, value: Attempt | null) => {
  const next = new Map(map);
  if (value) next.set(key, value);
  else next.delete(key);
  return next;
};

/**
 * The trace with one more row.
 *
 * @param before the state that the entry came to
 * @param taken the entry and how the fold took it
 * @returns never throws; costs the same in a long log as in a short one
 */
export function traced<State extends Stood>(before: State, taken: Taken<State>): Trace {
  const { entry, format, movedFrom, corrected, late, struck, after } = taken;
  // Undefined where the entry names none: no screw is kept under that.
  const { screw } = entry as { screw: string };
  const was = before.screws.get(screw)?.context;
  let running = before.trace?.running ?? noneRuns;
  let told = before.trace?.told ?? noneTold;
  const unanswered = after ? after.unanswered.slice(before.unanswered.length).map(({ hold }) => hold) : [];

  const endedAll: Attempt[] = [];
  for (const id of entry.type === 'stopped' ? before.screws.keys() : [screw]) {
    const had = before.screws.get(id)?.context;
    const has = after?.screws.get(id)?.context;
    if (!had || !has || has.ends <= had.ends) continue;
    // What ends has begun: a screw counts no other ends.
    const open = running.get(has.endedStart as number) as Attempt;
    const spansGap = open.start.n < (before.trace?.gap ?? 0);
    endedAll.push(finished({ ...open, spansGap }, before.content, entry, corrected, had, has));
    running = changed(running, open.start.n, null);
  }
  const ended = endedAll[0] ?? null;
  let began: Attempt | null = null;
  if (entry.type === 'move-started') {
    const attempt = begun(before, entry, corrected, unanswered);
    told = changed(told, entry.screw, attempt);
    if (after) running = changed(running, entry.n, (began = attempt));
  }
  const toldOf =
    entry.type === 'move-ended' && !ended
      ? ([...running.values()].findLast((one) => one.screw === entry.screw) ?? told.get(entry.screw) ?? null)
      : null;
  return {
    row: {
      entry,
      format,
      movedFrom,
      corrected,
      heard: after !== null,
      struck,
      late,
      unoffered: after !== null && after.unoffered.length > before.unoffered.length,
      unanswered,
      again: entry.type === 'screw-listed' && was !== undefined && after !== null,
      began,
      ended,
      endedAll,
      toldOf,
      stageBefore: was?.stage ?? null,
      left: after && ended?.outcome ? taken.left(after, screw) : null,
    },
    before: before.trace,
    running,
    told,
    gap: after && entry.type === 'resumed' && entry.gap === 'not-known' ? entry.n : (before.trace?.gap ?? 0),
  };
}

const rows = new WeakMap<Trace, readonly TraceRow[]>();

/**
 * All rows, in order of `n`: the row of entry n stands at n − 1.
 *
 * @example rowsOf(null) // []
 */
export function rowsOf(trace: Trace | null): readonly TraceRow[] {
  if (!trace) return [];
  let known = rows.get(trace);
  if (!known) {
    const list: TraceRow[] = [];
    for (let at: Trace | null = trace; at; at = at.before) list.push(at.row);
    rows.set(trace, (known = list.reverse()));
  }
  return known;
}

/** The row of an entry; undefined when the log has no such number. The newest costs nothing to find. */
export function rowOf(trace: Trace | null, n: number): TraceRow | undefined {
  return trace?.row.entry.n === n ? trace.row : rowsOf(trace)[n - 1];
}

/** Entries that count, neither struck nor out of order, in order of `n`. */
export const effectiveEntries = (trace: Trace | null): Entry[] =>
  rowsOf(trace).flatMap(({ heard, entry }) => (heard ? [entry] : []));

/** All attempts, in the order in which they began. */
export function attemptsOf(trace: Trace | null): Attempt[] {
  const attempts = new Map<number, Attempt>();
  for (const { began, endedAll } of rowsOf(trace)) {
    for (const ended of endedAll) attempts.set(ended.start.n, ended);
    if (began) attempts.set(began.start.n, began);
  }
  return [...attempts.values()];
}

/** Stages in which screws were as they were left in, by screw: where more was said of it since, as it was first. */
export function leftFrom(trace: Trace | null): ReadonlyMap<string, Stage> {
  const from = new Map<string, Stage>();
  for (const { entry, heard, stageBefore } of rowsOf(trace))
    if (
      heard &&
      entry.type === 'left-in' &&
      entry.screw !== undefined &&
      !(from.has(entry.screw) && stageBefore === 'left-in')
    )
      from.set(entry.screw, stageBefore as Stage);
  return from;
}
