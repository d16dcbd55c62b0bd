/** Where each entry of a log goes: to the case, to its screws, or to both. */
import type { HoldId, PartMove, WorkingStage } from '../content/ids.ts';
import { moveOf } from '../content/moves.ts';
import type { Move } from '../content/types.ts';
import { inflationsOf } from './cuff.ts';
import { caseMachine } from './case.machine.ts';
import { currentInflation } from './clocks.ts';
import { boneCost, projected } from './compute/bone-cost.ts';
import { workingTool } from './compute/fit.ts';
import { openKeys, screwAccount } from './account.ts';
import type { Entry, EntryOf } from './entry.ts';
import type { CaseEvent, EndedMove, RunningMove, ScrewEvent } from './events.ts';
import type { Change, Folded, ScrewSnapshot } from './folded.ts';
import { noLoss } from './guards.ts';
import { secondOf } from './second-ladder.ts';
import { holdsBefore } from './before.ts';
import { belongs, closedBecause, type Situation } from './offer.ts';
import type { Timed } from './rules.ts';
import { isWorking } from './screw.context.ts';
import { screwMachine } from './screw.machine.ts';
import { calledScrew, closingHolds, hardMetalHold, screwStops, situationOf, timedHolds } from './standing.ts';
import { initialState, transition } from './transition.ts';

export type Handler<T extends Entry['type']> = (state: Folded, taken: Timed & { entry: EntryOf<T> }) => Change | null;
export type Routes = { readonly [T in Entry['type']]?: Handler<T> };

/** An entry as an event, with what its place in the log makes of it. */
export const eventFor = (state: Folded, { entry, corrected, format }: Timed): ScrewEvent & CaseEvent => {
  const after = format > 1 && state.case.matches('closed');
  return {
    ...{ type: entry.type, entry, corrected, format, rules: state.rules.number },
    ...(after && { afterClosing: true }),
  } as ScrewEvent & CaseEvent;
};

/**
 * Ways to get a part out that a screw left in would turn against the bone. Seating the extractor is none: it goes on
 * before the last bolt comes out, or the nail spins (Erturan 2012).
 */
export const drivesPart: readonly PartMove[] = ['lever-plate', 'hammer-nail'];

const toCase = (state: Folded, taken: Timed) => onCase(state, eventFor(state, taken));

const toScrews = (ids: (state: Folded, entry: Entry & { screw?: string }) => readonly string[]) =>
  ((state, taken) => onScrews(state, ids(state, taken.entry), eventFor(state, taken))) as Handler<Entry['type']>;

const named = toScrews((_, { screw }) => (screw === undefined ? [] : [screw]));
const every = toScrews(({ screws }) => [...screws.keys()]);
const asked = toScrews((state, { screw }) => addressed(state, screw));

/** A turn of the case that leaves behind what stood open over it. */
const pastHolds =
  (open: (state: Folded) => readonly HoldId[]): Handler<'work-started' | 'case-closed'> =>
  (state, taken) => {
    const heard = toCase(state, taken);
    return heard && { ...heard, unanswered: unansweredBy(state, open(state), taken.entry.n) };
  };

/** Where an entry goes that is not for the case alone, by rules 1. */
export const routes: Routes = {
  'screw-listed': onListing,
  'move-started': onMove,
  'move-ended': onEnd,
  'left-in': onEnd,
  'screw-called': named,
  reassessed: named,
  found: named,
  'piece-recovered': onPiece,
  'hold-answered': asked,
  'plate-off': (state, taken) => passedFixed(state, taken, taken.entry.part ?? 'plate', every(state, taken)),
  'part-move': (state, taken) => {
    const { part, move } = taken.entry;
    return passedFixed(state, taken, drivesPart.includes(move) ? part : null, onPartMove(state, taken));
  },
  'colleague-called': every,
  destroyed: named,
  'head-seen': named,
  'length-answered': named,
  deferred: (state, taken) => {
    const { screw } = taken.entry;
    if (isBegunSince(state, screw, taken))
      return onCase(state, { ...breakingOff(state, taken, []), passed: true } as CaseEvent);
    return onScrews(state, [screw], breakingOff(state, taken, [screw]));
  },
  stopped: (state, taken) => {
    const all = [...state.screws.keys()].filter((id) => !isBegunSince(state, id, taken));
    return onScrews(state, all, breakingOff(state, taken, all));
  },
  struck: (state, taken) => (state.case.matches('closed') && taken.format > 1 ? toCase(state, taken) : {}),
  'bone-measured': (state, taken) =>
    taken.entry.screw !== undefined && !state.screws.has(taken.entry.screw) ? null : toCase(state, taken),
  'put-in': (state, taken) => {
    const { screw } = taken.entry;
    const again = screw !== undefined && state.screws.has(screw);
    return onCase(state, { ...eventFor(state, taken), type: 'put-in', entry: taken.entry, again });
  },
  tourniquet: (state, { entry, corrected }) => {
    const { cuff, inflations } = state.case.context;
    if ((entry.to === 'up') === (currentInflation(state.case.context) !== null)) return null;
    // Rules 1 took the changes in the order in which they were told.
    const told = [...cuff, { n: entry.n, to: entry.to, corrected }];
    return onCase(state, {
      type: entry.type,
      entry,
      corrected,
      cuff: told,
      inflations: inflationsOf(told, inflations),
    });
  },
  'count-answered': (state, taken) => {
    // Format 1 asked of no part: an answer of its own is not short of what nobody asked for.
    const open = openKeys(state, { parts: taken.format > 1 });
    const event = { ...eventFor(state, taken), unaccounted: open.length > 0, open: openKeys(state) };
    return onCase(state, event);
  },
  'work-started': pastHolds((state) => hardMetalHold(state)),
  'case-closed': pastHolds((state) => closingHolds(state)),
};

/** Does a move run on a screw that was begun after this? Told late, this breaks it not off. */
const isBegunSince = ({ screws }: Folded, id: string, { corrected }: Timed): boolean =>
  (screws.get(id)?.context.running?.corrected ?? -Infinity) > corrected;

/** Work is broken off on these screws: what ran there ends, and the metal it cut was cut. */
function breakingOff(state: Folded, taken: Timed, ids: readonly string[]): ScrewEvent & CaseEvent {
  const cut = ids.some((id) => {
    const running = state.screws.get(id)?.context.running;
    return running ? moveOf(state.content, running.move).shavings : false;
  });
  return { ...eventFor(state, taken), cut } as ScrewEvent & CaseEvent;
}

/** Sends an entry to the machines by these routes, else to the case alone; null when one of them cannot take it. */
export const dispatchBy =
  (by: Routes) =>
  (state: Folded, taken: Timed): Change | null =>
    ((by[taken.entry.type] ?? toCase) as Handler<Entry['type']>)(state, taken);

export function onCase(state: Folded, event: CaseEvent): Change | null {
  const next = transition(caseMachine, state.case, event);
  return next && { case: next };
}

/** An event for the case and for the screws named; refused as a whole when one of them is not listed or does not accept it. */
export function onScrews(state: Folded, ids: readonly string[], event: ScrewEvent & CaseEvent): Change | null {
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

function onListing(state: Folded, taken: Timed<EntryOf<'screw-listed'>>): Change | null {
  const { entry } = taken;
  const event = eventFor(state, taken);
  if (state.screws.has(entry.screw)) return onScrews(state, [entry.screw], event);
  const heard = onCase(state, event);
  const { room, colleague } = state.case.context;
  const screw = initialState(screwMachine(state.content), { facts: entry, plateOff: room.plateOff, colleague });
  return heard && { ...heard, screws: replaced(state.screws, entry.screw, screw) };
}

/** A part was taken off or driven out while what holds it may still be in: by the second ladder that stands open. */
function passedFixed(state: Folded, { entry, late }: Timed, part: string | null, heard: Change | null): Change | null {
  const isFixed = part !== null && !late && secondOf(state.content)?.stillFixed(state, part) === true;
  if (!heard || !isFixed) return heard;
  // Noted with the part itself, whatever moves were made before past the same question.
  return { ...heard, unanswered: [...state.unanswered, { hold: 'still-fixed', entry: entry.n }] };
}

/** By the second ladder a plate that is lifted or comes out is off for every screw. */
function onPartMove(state: Folded, taken: Timed<EntryOf<'part-move'>>): Change | null {
  const heard = toCase(state, taken);
  const isOff = heard?.case?.context.room.plateOff === true && !state.case.context.room.plateOff;
  if (!isOff || !secondOf(state.content)) return heard;
  const { entry, corrected } = taken;
  const { n, at, logged } = entry;
  const off: ScrewEvent = { type: 'plate-off', corrected, entry: { n, at, logged, type: 'plate-off' } };
  return { ...heard, screws: new Map([...state.screws].map(([id, screw]) => [id, tell(state, id, off) ?? screw])) };
}

/** The move that an end brings to an end: the running one, or one told late. */
export function endedMove(
  state: Folded,
  screw: ScrewSnapshot | undefined,
  running: RunningMove | null | undefined = screw?.context.running,
): EndedMove {
  if (!screw || !running) return { ended: null };
  const move = moveOf(state.content, running.move);
  return {
    ended: { move, tool: running.tool ?? workingTool(move, screw.context.facts), named: running.tool !== undefined },
  };
}

export function onEnd(state: Folded, taken: Timed<EntryOf<'move-ended' | 'left-in'>>): Change | null {
  const { entry } = taken;
  const screw = entry.screw === undefined ? undefined : state.screws.get(entry.screw);
  const ended = endedMove(state, screw);
  const ids = entry.screw === undefined ? [] : [entry.screw];
  const event = { ...eventFor(state, taken), ...ended } as ScrewEvent & CaseEvent;
  const heard = onScrews(state, ids, event);
  const out = heard && entry.type === 'move-ended' && taken.format > 1 ? heard.screws?.get(entry.screw) : undefined;
  if (!out || !isShort({ ...state, ...heard }, out, entry as EntryOf<'move-ended'>)) return heard;
  return onScrews(state, ids, { ...event, short: true } as ScrewEvent & CaseEvent);
}

/** A piece that came out. The screw came out unmeasured, and this is its length: short, it asks as a short end does. */
function onPiece(state: Folded, taken: Timed<EntryOf<'piece-recovered'>>): Change | null {
  const { entry, format } = taken;
  const { screw, length, lengthHow, whole, complete } = entry;
  const heard = named(state, taken);
  const was = screw === undefined ? undefined : state.screws.get(screw)?.context;
  const isLength = was?.stage === 'out' && was.outUnmeasured && was.breaks.length === 0 && lengthHow !== 'difference';
  const after = screw === undefined ? undefined : heard?.screws?.get(screw);
  if (format < 2 || !heard || !after || !isLength) return heard;
  if (!isShort({ ...state, ...heard }, after, { outcome: 'out', recovered: length, whole: whole ?? complete }))
    return heard;
  return onScrews(state, [after.context.id], { ...eventFor(state, taken), short: true } as ScrewEvent & CaseEvent);
}

/** It came out and was measured, and more is missing of it than what was said of the rest explains. */
function isShort(
  after: Folded,
  { context }: ScrewSnapshot,
  { outcome, recovered, whole }: Pick<EntryOf<'move-ended'>, 'outcome' | 'recovered' | 'whole'>,
) {
  if (outcome !== 'out' || recovered === undefined || whole === true) return false;
  // A head that was seen in the plate explains what is missing, also while the plate is in.
  const { closes, unaccounted } = screwAccount(after, context, 'out');
  return closes === 'open' && (unaccounted ?? 0) > 0;
}

/** Bores that a move is expected to make on a screw in this stage, with the tools that are in the room. */
export function expectedBores(
  state: Folded,
  { context }: ScrewSnapshot,
  stage: WorkingStage,
  entry: EntryOf<'move-started'>,
) {
  const { tools } = state.case.context.room;
  const move = moveOf(state.content, entry.move);
  const foreseen = secondOf(state.content)?.foreseen(state.content, context, tools) ?? tools;
  return projected(state.content, move, stage, context.facts, foreseen, entry.tool).bores;
}

/** By the second ladder: the tools in the room that a move can have been made with. */
export function amongTools(
  { content, case: { context } }: Folded,
  screw: ScrewSnapshot,
  { move }: EntryOf<'move-started'>,
): { among?: string[] } {
  const second = secondOf(content);
  return second ? { among: second.among(content, moveOf(content, move), screw.context.facts, context.room) } : {};
}

/**
 * A second start ends the first as `no-change`.
 *
 * @param told it was told late, so nothing was asked about it: neither offered nor answered
 */
export function onMove(
  state: Folded,
  { entry, corrected, format, waits: awaited, asked }: Timed<EntryOf<'move-started'>>,
  { told }: { told: boolean } = { told: false },
): Change | null {
  const listed = state.screws.get(entry.screw);
  if (!listed) return null;
  const ended = endedMove(state, listed);
  const waits = listed.context.running?.waits === true;
  const restedBy: ScrewEvent = waits ? { type: 'set-aside' } : noChange(entry, corrected);
  const rested = ended.ended ? (tell(state, entry.screw, restedBy) ?? listed) : listed;
  const { room } = state.case.context;
  const move = moveOf(state.content, entry.move);
  const { stage } = listed.context;
  if (!isWorking(stage)) return null;
  const bores = expectedBores(state, listed, stage, entry);
  const endedNow = waits ? { ended: null } : ended;
  const heard = onCase(state, { type: entry.type, entry, corrected, format, ...endedNow, ...(told && { told }) });
  const unsaid = entry.bores === undefined && move.boneAsked;
  // What a word on the far wall was for is known only as its move begins.
  const passes = listed.context.answered.includes('far-wall');
  const key = passes ? secondOf(state.content)?.farWallKey(state.content, move, listed.context, room) : undefined;
  const farWall = key === undefined ? {} : { farWall: { key, tool: entry.tool ?? null } };
  const event: ScrewEvent = {
    ...{ type: entry.type, entry, corrected, move, projected: bores, late: told, ...farWall },
    ...(awaited && { waits: true }),
    ...amongTools(state, listed, entry),
  };
  const next = transition(screwMachine(state.content), rested, event);
  if (!heard || !next) return null;
  const screws = replaced(state.screws, entry.screw, next);
  if (told) return { ...heard, screws };
  if (asked)
    return {
      ...heard,
      screws,
      unoffered: asked.unoffered ? [...state.unoffered, entry.n] : state.unoffered,
      unanswered: unansweredBy(state, asked.unanswered, entry.n),
    };
  const now: Folded = { ...state, screws: replaced(state.screws, entry.screw, rested) };
  const situation = situationOf(now, entry.screw) as Situation;
  const isOpen =
    belongs(move, rested.context, state.content) && closedBecause(move, situation, room, state.content) === null;
  return {
    ...heard,
    screws,
    unoffered: isOpen ? state.unoffered : [...state.unoffered, entry.n],
    unanswered: unansweredBy(
      state,
      openBefore(now, situation, move, entry, corrected, (entry.bores ?? bores).length > 0 || unsaid),
      entry.n,
    ),
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
  const { content } = state;
  const second = secondOf(content);
  const loss = costsBone ? boneCost(content, room, screw, move, entry.bores).loss : noLoss;
  const before = holdsBefore(content, room, screw, move, { loss, costsBone }, entry.tool ?? null).filter(
    (hold) => !screw.answered.includes(hold) && !(hold === 'reverse' && entry.reverseConfirmed === true),
  );
  const ofScrew = screwStops(state.screws.get(entry.screw) as ScrewSnapshot);
  return [...ofScrew, ...(second?.pausing(state) ?? []), ...before, ...timedHolds(state, corrected)];
}

function unansweredBy(state: Folded, open: readonly HoldId[], entry: number): Folded['unanswered'] {
  const holds = secondOf(state.content)?.onceAnOpening(state, open) ?? open;
  return holds.length ? [...state.unanswered, ...holds.map((hold) => ({ hold, entry }))] : state.unanswered;
}
