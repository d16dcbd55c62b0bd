/**
 * From the log to the state. The log is the truth; what is folded from it can be thrown away at any time.
 *
 * The log records what happened and never refuses it: an entry that cannot have happened at that point is kept,
 * listed as out of order and has no effect; a move made while a hold stood open is folded and listed as unanswered.
 */
import type { SnapshotFrom } from 'xstate';
import type { HoldId, WorkingStage } from '../content/ids.ts';
import { moveOf } from '../content/moves.ts';
import type { Content, Move } from '../content/types.ts';
import { caseMachine, type CaseMachine } from './case.machine.ts';
import { currentInflation, minutesBetween, correctedTime, workedMinutes, type Jump } from './clocks.ts';
import { boneCost, projected } from './compute/bone-cost.ts';
import { serves, workingTool } from './compute/fit.ts';
import { isAnythingUnaccounted } from './compute/metal.ts';
import type { Entry, EntryOf } from './entry.ts';
import type { CaseEvent, EndedMove, ScrewEvent } from './events.ts';
import {
  noHardMetalDrillFits,
  noLoss,
  shavingsNotWashedOut,
  theatreTimeUsedUp,
  tourniquetLimitReached,
} from './guards.ts';
import { asNewest, formatFrom } from './formats.ts';
import { initialState, transition } from './transition.ts';
import { belongs, closedBecause, holdsBefore, type Situation } from './offer.ts';
import { ruleBook, type Rules } from './rules.ts';
import { screwMachine, type ScrewMachine } from './screw.machine.ts';
import { isWorking } from './screw.context.ts';
import { struckBy } from './strike.ts';
import { traced, type Trace } from './trace.ts';
import { epoch } from './time.ts';

export type ScrewSnapshot = SnapshotFrom<ScrewMachine>;
export type CaseSnapshot = SnapshotFrom<CaseMachine>;

export interface Folded {
  content: Content;
  /** What it is folded by. */
  rules: Rules<Folded, Change>;
  /** Number of the format of the case file that its last entry stands in. */
  format: number;
  case: CaseSnapshot;
  /** In the order in which they were first listed. */
  screws: ReadonlyMap<string, ScrewSnapshot>;
  jumps: readonly Jump[];
  /** Latest corrected time of an entry that had effect, ms. */
  latest: number;
  outOfOrder: readonly number[];
  unoffered: readonly number[];
  unanswered: readonly { hold: HoldId; entry: number }[];
  struck: readonly number[];
  late: readonly number[];
  /** What each entry was; null before any. */
  trace: Trace | null;
}

export const isLate = (
  { at, logged }: Pick<Entry, 'at' | 'logged'>,
  { lateAfterMs } = ruleVersions.current(),
): boolean => at !== logged && epoch(logged) - epoch(at) > lateAfterMs;

/** The state before any entry. */
export const unfolded = (content: Content, rules = ruleVersions.current()): Folded => ({
  content,
  rules,
  format: 1,
  case: initialState(caseMachine, { content }),
  screws: new Map(),
  jumps: [],
  latest: -Infinity,
  outOfOrder: [],
  unoffered: [],
  unanswered: [],
  struck: [],
  late: [],
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
  const strikes = struckBy(entries);
  let state = unfolded(content, rules);
  for (const entry of entries)
    state = applyEntry(state, entry, strikes.struck.has(entry.n), strikes.refused.has(entry.n));
  return { ...state, struck: [...strikes.struck].sort((a, b) => a - b) };
}

/**
 * One more entry. Costs no more in a long log than in a short one, but for a strike, which folds all again.
 *
 * @param before the entries that `state` was folded from
 */
export function step(state: Folded, entry: Entry, before: readonly Entry[]): Folded {
  return entry.type === 'struck'
    ? fold([...before, entry], state.content, state.rules)
    : applyEntry(state, entry, false, false);
}

function applyEntry(before: Folded, written: Entry, isStruck: boolean, isRefused: boolean): Folded {
  const format = formatFrom(written, before.format);
  const state = { ...before, format };
  const entry = asNewest(written, format);
  const isLateEntry = isLate(entry, state.rules);
  const late = isLateEntry ? [...state.late, entry.n] : state.late;
  const at = epoch(entry.at);
  const corrected = correctedTime(at, entry.n, state.jumps);
  const taken = { entry, corrected, late: isLateEntry, struck: isStruck, left: situationAfter };
  const heard = isStruck || isRefused ? null : state.rules.apply(state, entry, corrected);
  if (!heard) {
    const outOfOrder = isStruck ? state.outOfOrder : [...state.outOfOrder, entry.n];
    return { ...state, late, outOfOrder, trace: traced(state, { ...taken, after: null }) };
  }
  const jumps =
    entry.type === 'clock-jumped' ? [...state.jumps, { n: entry.n, at, seconds: entry.seconds }] : state.jumps;
  const latest = Math.max(state.latest, correctedTime(at, entry.n + 1, jumps));
  const after = { ...state, ...heard, jumps, late, latest };
  return { ...after, trace: traced(state, { ...taken, after }) };
}

/** What stood open and what was missing once a move had ended. */
const situationAfter = (after: Folded, screw: string) => ({
  situation: situationOf(after, screw) as Situation,
  room: after.case.context.room,
});

/** What an entry changes. */
export type Change = Partial<Pick<Folded, 'case' | 'screws' | 'unoffered' | 'unanswered'>>;

type Handler<T extends Entry['type']> = (state: Folded, entry: EntryOf<T>, corrected: number) => Change | null;

const toCase = (state: Folded, entry: Entry, corrected: number) =>
  onCase(state, { type: entry.type, entry, corrected } as CaseEvent);

const toScrews = (ids: (state: Folded, entry: Entry & { screw?: string }) => readonly string[]) =>
  ((state, entry, corrected) =>
    onScrews(state, ids(state, entry), { type: entry.type, entry, corrected } as ScrewEvent & CaseEvent)) as Handler<
    Entry['type']
  >;

const named = toScrews((_, { screw }) => (screw === undefined ? [] : [screw]));
const every = toScrews(({ screws }) => [...screws.keys()]);
const asked = toScrews((state, { screw }) => addressed(state, screw));

/** A turn of the case that leaves behind what stood open over it. */
const pastHolds =
  (open: (state: Folded) => readonly HoldId[]): Handler<'work-started' | 'case-closed'> =>
  (state, entry, corrected) => {
    const heard = toCase(state, entry, corrected);
    return heard && { ...heard, unanswered: unansweredBy(state, open(state), entry.n) };
  };

/** Where an entry goes that is not for the case alone. */
const routes: { [T in Entry['type']]?: Handler<T> } = {
  'screw-listed': onListing,
  'move-started': onMove,
  'move-ended': onEnd,
  'left-in': onEnd,
  'screw-called': named,
  reassessed: named,
  found: named,
  'piece-recovered': named,
  'hold-answered': asked,
  'plate-off': every,
  'colleague-called': every,
  struck: () => ({}),
  'bone-measured': (state, entry, corrected) =>
    entry.screw !== undefined && !state.screws.has(entry.screw) ? null : toCase(state, entry, corrected),
  'count-answered': (state, entry, corrected) => {
    const { pieceTolerance } = state.content.limits;
    const contexts = [...state.screws.values()].map(({ context }) => context);
    const unaccounted = isAnythingUnaccounted(contexts, state.case.context, pieceTolerance.value);
    return onCase(state, { type: entry.type, entry, corrected, unaccounted });
  },
  'work-started': pastHolds((state) => hardMetalHold(state)),
  'case-closed': pastHolds((state) => closingHolds(state)),
};

/** Sends an entry to the machines; null when one of them cannot take it. */
const dispatch = (state: Folded, entry: Entry, corrected: number): Change | null =>
  ((routes[entry.type] ?? toCase) as Handler<Entry['type']>)(state, entry, corrected);

function onCase(state: Folded, event: CaseEvent): Change | null {
  const next = transition(caseMachine, state.case, event);
  return next && { case: next };
}

/** An event for the case and for the screws named; refused as a whole when one of them is not listed or does not accept it. */
function onScrews(state: Folded, ids: readonly string[], event: ScrewEvent & CaseEvent): Change | null {
  const heard = onCase(state, event);
  if (!heard) return null;
  let screws = state.screws;
  for (const id of ids) {
    const next = tell(state, id, event);
    if (!next) return null;
    screws = replaced(screws, id, next);
  }
  return { ...heard, screws };
}

function tell(state: Folded, id: string, event: ScrewEvent): ScrewSnapshot | null {
  const screw = state.screws.get(id);
  return screw ? transition(screwMachine(state.content), screw, event) : null;
}

const replaced = (screws: Folded['screws'], id: string, next: ScrewSnapshot) => new Map(screws).set(id, next);

/** Whom an answer is for: the screw named, else the one called that is still in, else all. */
function addressed(state: Folded, screw: string | undefined): readonly string[] {
  const called = calledScrew(state);
  return screw !== undefined ? [screw] : called !== null ? [called] : [...state.screws.keys()];
}

/** The screw that is being worked on; null when none was called or it has ended. */
export function calledScrew({ case: { context }, screws }: Folded): string | null {
  // Null is no screw's name: nothing is kept under it.
  const screw = screws.get(context.called as string);
  return screw && isWorking(screw.context.stage) ? context.called : null;
}

function onListing(state: Folded, entry: EntryOf<'screw-listed'>, corrected: number): Change | null {
  const event = { type: entry.type, entry, corrected };
  if (state.screws.has(entry.screw)) return onScrews(state, [entry.screw], event);
  const heard = onCase(state, event);
  const { plateOff } = state.case.context.room;
  const screw = initialState(screwMachine(state.content), { facts: entry, plateOff });
  return heard && { ...heard, screws: replaced(state.screws, entry.screw, screw) };
}

function endedMove(state: Folded, screw: ScrewSnapshot | undefined): EndedMove {
  if (!screw?.context.running) return { ended: null };
  const { running, facts } = screw.context;
  const move = moveOf(state.content, running.move);
  return { ended: { move, tool: running.tool ?? workingTool(move, facts), named: running.tool !== undefined } };
}

function onEnd(state: Folded, entry: EntryOf<'move-ended' | 'left-in'>, corrected: number): Change | null {
  const ended = endedMove(state, state.screws.get(entry.screw as string));
  const ids = entry.screw === undefined ? [] : [entry.screw];
  return onScrews(state, ids, { type: entry.type, entry, corrected, ...ended } as ScrewEvent & CaseEvent);
}

/** A second start ends the first as `no-change`. */
function onMove(state: Folded, entry: EntryOf<'move-started'>, corrected: number): Change | null {
  const listed = state.screws.get(entry.screw);
  if (!listed) return null;
  const ended = endedMove(state, listed);
  // What runs can always end without a change.
  const rested = ended.ended ? (tell(state, entry.screw, noChange(entry, corrected)) as ScrewSnapshot) : listed;
  const { room } = state.case.context;
  const move = moveOf(state.content, entry.move);
  // A screw that has ended refuses the start below.
  const stage = listed.context.stage as WorkingStage;
  const { bores } = projected(state.content, move, stage, listed.context.facts, room.tools, entry.tool);
  const heard = onCase(state, { type: entry.type, entry, corrected, ...ended });
  const event: ScrewEvent = { type: entry.type, entry, corrected, move, projected: bores };
  const next = transition(screwMachine(state.content), rested, event);
  if (!heard || !next) return null;
  const now: Folded = { ...state, screws: replaced(state.screws, entry.screw, rested) };
  const situation = situationOf(now, entry.screw) as Situation;
  const isOpen = belongs(move, rested.context) && closedBecause(move, situation, room) === null;
  return {
    ...heard,
    screws: replaced(state.screws, entry.screw, next),
    unoffered: isOpen ? state.unoffered : [...state.unoffered, entry.n],
    unanswered: unansweredBy(state, openBefore(now, situation, move, entry, corrected, bores.length > 0), entry.n),
  };
}

const noChange = (entry: EntryOf<'move-started'>, corrected: number): ScrewEvent => ({
  type: 'move-ended',
  corrected,
  entry: {
    n: entry.n,
    at: entry.at,
    logged: entry.logged,
    type: 'move-ended',
    screw: entry.screw,
    outcome: 'no-change',
  },
});

/** Holds that stand open as this move starts, and that nobody has answered. */
function openBefore(
  state: Folded,
  situation: Situation,
  move: Move,
  entry: EntryOf<'move-started'>,
  corrected: number,
  costsBone: boolean,
): HoldId[] {
  const { room } = state.case.context;
  const { screw } = situation;
  const loss = costsBone ? boneCost(state.content, room, screw, move).loss : noLoss;
  const before = holdsBefore(move, loss, room).filter(
    (hold) => !screw.answered.includes(hold) && !(hold === 'reverse' && entry.reverseConfirmed === true),
  );
  return [...screwHolds(state.screws.get(entry.screw) as ScrewSnapshot), ...before, ...timedHolds(state, corrected)];
}

const unansweredBy = (state: Folded, holds: readonly HoldId[], entry: number) => [
  ...state.unanswered,
  ...holds.map((hold) => ({ hold, entry })),
];

/** What the offer needs to know of a screw; undefined when it isn't listed. */
export function situationOf(state: Folded, id: string): Situation | undefined {
  const screw = state.screws.get(id);
  if (!screw) return undefined;
  const lastIn = [...state.screws].every(([other, { context }]) => other === id || context.stage === 'out');
  return { screw: screw.context, reassess: screw.matches({ reassess: 'open' }), lastIn };
}

/** Standing holds of one screw; none once it has ended. */
export function screwHolds(screw: ScrewSnapshot): HoldId[] {
  if (!isWorking(screw.context.stage)) return [];
  return (['reassess', 'second-surgeon'] as const).filter((hold) => screw.matches({ [hold]: 'open' }));
}

/** Tourniquet and theatre time, as of a corrected time. */
export function timedHolds({ case: { context } }: Folded, now: number): HoldId[] {
  const holds: HoldId[] = [];
  const inflation = currentInflation(context);
  if (
    inflation &&
    !inflation.answered &&
    tourniquetLimitReached(minutesBetween(inflation.up, now), context.tourniquetLimit)
  )
    holds.push('tourniquet');
  if (!context.answered.time && theatreTimeUsedUp(workedMinutes(context, now), context.theatreMinutes))
    holds.push('time');
  return holds;
}

/** H6 stands in the briefing, until it is answered or the drill is there. */
export function hardMetalHold(state: Folded): HoldId[] {
  const { room, answered } = state.case.context;
  if (!state.case.matches({ open: { phase: 'briefing' } }) || answered['hard-metal']) return [];
  const screws = [...state.screws.values()].map(({ context }) => context);
  const drill = { anyOf: ['hard-metal-drill' as const] };
  return noHardMetalDrillFits(screws, ({ facts }) => room.tools.some((tool) => serves(tool, drill, facts)))
    ? ['hard-metal']
    : [];
}

/** H9 and H10: from the end of the work; also when a case is closed straight from the work. */
export function closingHolds(state: Folded): HoldId[] {
  const open = state.case.matches({ open: { phase: 'closing' } }) || state.case.matches({ open: { phase: 'working' } });
  if (!open) return [];
  const holds: HoldId[] = shavingsNotWashedOut(state.case.context) ? ['shavings'] : [];
  return state.case.matches({ open: { count: 'answered' } }) ? holds : [...holds, 'count'];
}

/** What cases are folded and computed by. */
export const ruleVersions = ruleBook<Folded, Change>({
  number: 1,
  name: 'as first released',
  lateAfterMs: 60_000,
  apply: dispatch,
});
