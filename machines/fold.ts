/**
 * From the log to the state. The log is the truth; what is folded from it can be thrown away at any time.
 *
 * The log records what happened and never refuses it: an entry that cannot have happened at that point is kept,
 * listed as out of order and has no effect; a move made while a hold stood open is folded and listed as unanswered.
 */
import type { Content } from '../content/types.ts';
import { caseMachine } from './case.machine.ts';
import { correctedByWriting, correctedTime } from './clocks.ts';
import { dispatchBy, routes } from './dispatch.ts';
import type { Entry } from './entry.ts';
import type { Change, Folded } from './folded.ts';
import { asNewest, formatFrom } from './formats.ts';
import { hindsightOf, type Hindsight } from './hindsight.ts';
import { dispatchLate, isWork } from './late.ts';
import { done, reached } from './past.ts';
import { ruleBook, type Timed } from './rules.ts';
import { situationOf } from './standing.ts';
import { epoch } from './time.ts';
import { traced } from './trace.ts';
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

/** The state before any entry. */
export const unfolded = (content: Content, rules = ruleVersions.current()): Folded => ({
  content,
  rules,
  format: 1,
  case: initialState(caseMachine, { content, byTime: rules.number > 1 }),
  screws: new Map(),
  jumps: [],
  latest: -Infinity,
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
 * @returns the state; never throws
 * @example fold([], content).case.value // 'unopened'
 */
export function fold(entries: readonly Entry[], content: Content, rules = ruleVersions.current()): Folded {
  const hindsight = hindsightOf(entries, rules.corrected);
  let state = unfolded(content, rules);
  for (const entry of entries) state = applyEntry(state, entry, hindsight);
  return { ...state, struck: [...hindsight.struck].sort((a, b) => a - b) };
}

/**
 * One more entry. Costs no more in a long log than in a short one, but for a strike, and for a change of the cuff that
 * may be what an earlier one waited for: these fold all again.
 *
 * @param log the entries that `state` was folded from; what stands in it from this one on is not looked at
 */
export function step(state: Folded, entry: Entry, log: readonly Entry[]): Folded {
  return entry.type === 'struck' || (entry.type === 'tourniquet' && waits(state, log))
    ? fold([...log.slice(0, entry.n - 1), entry], state.content, state.rules)
    : applyEntry(state, entry, null);
}

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
  const entry = asNewest(written, format);
  const { n } = entry;
  const late = isLate(before.format === format ? before : { ...before, format }, entry);
  const at = epoch(entry.at);
  const jumps = entry.type === 'clock-jumped' ? [...before.jumps, { n, at, seconds: entry.seconds }] : before.jumps;
  const struck = hindsight?.struck.has(n) ?? false;
  const state = { ...before, format, logged, late: late ? [...before.late, n] : before.late };
  // A jump that counts for nothing moves no time either.
  const corrected = state.rules.corrected(at, n, struck ? before.jumps : jumps);
  const timed: Timed = { entry, corrected, late, ...(hindsight && { idle: hindsight.idle.has(n) }) };
  const taken = { entry, corrected, late, struck, left: situationAfter };
  const { apply } = state.rules;
  const heard = struck || hindsight?.refused.has(n) ? null : apply(state, timed);
  if (!heard) {
    const outOfOrder = struck ? state.outOfOrder : [...state.outOfOrder, n];
    return { ...state, outOfOrder, trace: traced(before, { ...taken, after: null }) };
  }
  const latest = Math.max(state.latest, state.rules.corrected(at, n + 1, jumps));
  const after = withPast(state, { ...state, ...heard, jumps, latest }, timed);
  return { ...after, trace: traced(before, { ...taken, after }) };
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
