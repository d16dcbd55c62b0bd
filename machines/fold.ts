/**
 * From the log to the state. The log is the truth; what is folded from it can be thrown away at any time.
 *
 * The log records what happened and never refuses it: an entry that cannot have happened at that point is kept,
 * listed as out of order and has no effect; a move made while a hold stood open is folded and listed as unanswered.
 */
import type { Content } from '../content/types.ts';
import './ladder/comes.ts';
import { caseMachine } from './case.machine.ts';
import { correctedByWriting, correctedTime, jumpsWith } from './clocks.ts';
import { openKeys } from './account.ts';
import { dispatchBy, onCase, routes } from './dispatch.ts';
import type { Entry, EntryOf } from './entry.ts';
import type { Change, Folded } from './folded.ts';
import { asNewest, formatFrom } from './conversions.ts';
import { askedIn, wordsAfterMoves } from './asked.ts';
import { hindsightOf, rereads, withAnswers, type Hindsight } from './hindsight.ts';
import { dispatchLate, isWork } from './late.ts';
import { done, reached } from './past.ts';
import { ruleBook, type Timed } from './rules.ts';
import { situationOf } from './standing.ts';
import { readAsSlip } from './turned.ts';
import { epoch } from './time.ts';
import { attemptsOf, traced } from './trace.ts';
import { initialState } from './transition.ts';

/** What cases are folded and computed by. */
export const ruleVersions = ruleBook<Folded, Change>({
  number: 1,
  name: 'as first released',
  lateAfterMs: 60_000,
  corrected: correctedByWriting,
  apply: dispatchBy(routes),
});
ruleVersions.add({
  number: 2,
  name: 'a late truth adds and never silences; a jump of the clock counts by when it was logged',
  lateAfterMs: 60_000,
  corrected: correctedTime,
  apply: dispatchLate,
});

/** Entries that change how earlier ones read: after one of them all is folded again. */
export const refolds: readonly Entry['type'][] = ['struck', 'reassigned', 'move-answered'];

/**
 * The state before any entry.
 *
 * @param format that the log begins in
 */
export const unfolded = (content: Content, rules = ruleVersions.current(), format = 1): Folded => ({
  content,
  rules,
  format,
  case: initialState(caseMachine, { content, byTime: rules.number > 1 }),
  screws: new Map(),
  jumps: [],
  latest: -Infinity,
  seen: -Infinity,
  began: format,
  outOfOrder: [],
  unoffered: [],
  unanswered: [],
  struck: [],
  late: [],
  impossibleTimes: [],
  conflicts: [],
  past: new Map(),
  logged: -Infinity,
  trace: null,
});

/**
 * Folds a whole log, in order of `n`.
 *
 * @param entries checked entries, 1, 2, 3 …; their seals are not looked at
 * @param rules left out: the newest
 * @param format that the log begins in, where it does not say so itself
 * @returns the state; never throws
 * @example fold([], content).case.value // 'unopened'
 */
export function fold(entries: readonly Entry[], content: Content, rules = ruleVersions.current(), format = 1): Folded {
  const begin = unfolded(content, rules, format);
  const hindsight = hindsightOf(entries, rules.corrected, format);
  let asked: Hindsight['asked'] = new Map();
  if (rules.number > 1)
    for (const n of wordsAfterMoves(entries, hindsight))
      asked = askedIn(read(entries.slice(0, n - 1), begin, hindsight, asked).trace);
  return read(entries, begin, hindsight, asked);
}

/** Reads these entries, the first of a log, with all the strikes of the whole log, and with what was asked then. */
function read(entries: readonly Entry[], begin: Folded, whole: Hindsight, asked: Hindsight['asked']): Folded {
  const hindsight = { ...whole, asked };
  const run = (known: Hindsight) => entries.reduce((state, entry) => applyEntry(state, entry, known), begin);
  let state = run(hindsight);
  if (rereads(entries, hindsight)) state = run(withAnswers(hindsight, entries, attemptsOf(state.trace)));
  return { ...state, struck: [...hindsight.struck].sort((a, b) => a - b) };
}

/**
 * One more entry. Costs no more in a long log than in a short one, but for a strike, and for a change of the cuff that
 * may be what an earlier one waited for: these fold all again.
 *
 * @param log the entries that `state` was folded from; what stands in it from this one on is not looked at
 */
export function step(state: Folded, entry: Entry, log: readonly Entry[]): Folded {
  const again =
    refolds.includes(entry.type) ||
    (entry.type === 'tourniquet' && waits(state, log)) ||
    (entry.type === 'move-ended' && (namesPassed(state, entry) || isSpokenOf(state, log)));
  return again
    ? fold([...log.slice(0, entry.n - 1), entry], state.content, state.rules, state.began)
    : applyEntry(state, entry, null);
}

/**
 * The entries as they read with all that was said of them by their numbers: of the screw that they were of, with what
 * was answered of a move after its touch. Without such a word the same list.
 */
export function settled(entries: readonly Entry[], content: Content, format = 1): readonly Entry[] {
  const hindsight = hindsightOf(entries, ruleVersions.current().corrected, format);
  if (!rereads(entries, hindsight)) return entries;
  const { screwOf, answered } = withAnswers(
    hindsight,
    entries,
    attemptsOf(fold(entries, content, undefined, format).trace),
  );
  const known = { ...hindsight, screwOf, answered };
  return entries.map((entry) => reread(entry, known));
}

/** Does an end name a start that something else has brought to an end already? */
function namesPassed({ screws }: Folded, { screw, start }: EntryOf<'move-ended'>): boolean {
  const context = screws.get(screw)?.context;
  if (start === undefined || !context) return false;
  return context.running?.entry !== start && !context.lateOpen.some(({ entry }) => entry === start);
}

/** Was something said, by its number, of a move that still runs? Then its end reads with it. */
const isSpokenOf = ({ trace }: Folded, log: readonly Entry[]): boolean =>
  [...(trace?.running.keys() ?? [])].some((start) =>
    log.slice(start).some((word) => word.type === 'reassigned' || (word.type === 'move-answered' && word.of === start)),
  );

/** Does a change of the cuff stand out of order, because it set the cuff to what it was? */
const waits = ({ outOfOrder }: Folded, log: readonly Entry[]) =>
  outOfOrder.some((n) => log[n - 1]?.type === 'tourniquet');

/** `logged` of format 1 was held back by a jump backwards: what it then says of lateness is the jump. */
function isHeldBack({ format, logged, jumps }: Folded, entry: Entry): boolean {
  const backwards = entry.type === 'clock-jumped' ? entry.seconds < 0 : jumps.some(({ seconds }) => seconds < 0);
  return format === 1 && backwards && epoch(entry.logged) === logged;
}

const isLate = (state: Folded, entry: Entry): boolean =>
  entry.at !== entry.logged &&
  epoch(entry.logged) - epoch(entry.at) > state.rules.lateAfterMs &&
  !(state.rules.number > 1 && isHeldBack(state, entry));

function applyEntry(before: Folded, written: Entry, hindsight: Hindsight | null): Folded {
  const format = formatFrom(written, before.format);
  const logged = Math.max(before.logged, epoch(written.logged));
  const told = asNewest(written, format);
  const { n } = told;
  const entry = reread(told, hindsight);
  const late = isLate(before.format === format ? before : { ...before, format }, entry);
  const at = epoch(entry.at);
  const jumps = jumpsWith(before.jumps, entry, before.seen, before.rules.corrected);
  const struck = hindsight?.struck.has(n) ?? false;
  const reached = before.rules.corrected(at, n + 1, jumps);
  const seen = struck ? before.seen : Math.max(before.seen, reached);
  const state = { ...before, format, logged, seen, late: late ? [...before.late, n] : before.late };
  // A jump that counts for nothing moves no time either.
  const corrected = state.rules.corrected(at, n, struck ? before.jumps : jumps);
  const timed: Timed = {
    ...{ entry, corrected, late, format },
    ...(hindsight && { idle: hindsight.idle.has(n) }),
    ...(hindsight?.awaited.has(n) && { waits: true }),
    ...(hindsight?.asked.has(n) && { asked: hindsight.asked.get(n) }),
  };
  const taken = { entry, format, corrected, late, struck, left: situationAfter, movedFrom: movedFrom(told, entry) };
  const { apply } = state.rules;
  const heard = struck || hindsight?.refused.has(n) ? null : apply(state, timed);
  if (!heard) {
    const outOfOrder = struck ? state.outOfOrder : [...state.outOfOrder, n];
    return { ...state, outOfOrder, trace: traced(before, { ...taken, after: null }) };
  }
  const latest = Math.max(state.latest, reached);
  const after = recounted(withPast(state, { ...state, ...heard, jumps, latest }, timed), timed);
  return { ...after, trace: traced(before, { ...taken, after }) };
}

/** An entry as it reads now: of the screw that it was of, whatever it was entered for, with what was answered since. */
function reread(told: Entry, hindsight: Hindsight | null): Entry {
  const screw = hindsight?.screwOf.get(told.n);
  const answered = hindsight?.answered.get(told.n);
  const moved = screw === undefined || !('screw' in told) || told.screw === screw ? told : { ...told, screw };
  return readAsSlip(answered ? { ...moved, ...answered } : moved);
}

/** The screw that an entry was entered for, where it was of another one; null where it was of the one it names. */
const movedFrom = (told: Entry, entry: Entry): string | null =>
  'screw' in told && 'screw' in entry && entry.screw !== told.screw ? (told.screw ?? null) : null;

/** What became open after the metal was counted opens the count again. */
function recounted(after: Folded, { entry, corrected }: Timed): Folded {
  const { counted } = after.case.context;
  if (after.rules.number < 2 || counted === null || !after.case.matches({ open: { count: 'answered' } })) return after;
  if (openKeys(after).every((key) => counted.includes(key))) return after;
  return { ...after, ...onCase(after, { type: 'count-reopened', entry, corrected }) };
}

/** Remembers of the screw that an entry names what a late entry may have to know. */
function withPast(before: Folded, after: Folded, { entry, corrected }: Timed): Folded {
  const screw = 'screw' in entry ? entry.screw : undefined;
  const now = screw === undefined ? undefined : after.screws.get(screw)?.context;
  if (screw === undefined || !now) return after;
  let { past } = after;
  const was = before.screws.get(screw)?.context;
  // What a screw is first listed as it was from the start.
  if (past === before.past && now.stage !== (was?.stage ?? 'seated'))
    past = reached(past, screw, { n: entry.n, from: was ? corrected : -Infinity, stage: now.stage });
  if (isWork(entry)) past = done(past, screw, { n: entry.n, corrected });
  return past === after.past ? after : { ...after, past };
}

/** What stood open and what was missing once a move had ended. */
function situationAfter(after: Folded, screw: string) {
  const situation = situationOf(after, screw);
  return situation ? { situation, room: after.case.context.room } : null;
}
