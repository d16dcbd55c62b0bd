/** The folded state as it is printed and shown. */
import { chanceLeftOf } from './slips.ts';
import type { HoldId, NoticeId } from '../content/ids.ts';
import type { Content } from '../content/types.ts';
import { isPlateOn, type Room } from './case.context.ts';
import { clocks, currentInflation, minutesBetween } from './clocks.ts';
import { partAccounts, screwAccount, tipAccounts } from './account.ts';
import type { Folded, ScrewSnapshot } from './folded.ts';
import {
  calledScrew,
  closingHolds,
  hardMetalHold,
  screwHolds,
  screwLines,
  situationOf,
  timedHolds,
} from './standing.ts';
import { secondOf } from './second-ladder.ts';
import { considerTrephine, metalCutOnBone, tourniquetLimitNear } from './guards.ts';
import { offer, type Offer, type Situation } from './offer.ts';
import { isWorking, type ScrewContext } from './screw.context.ts';
import type { Seals } from './seal.ts';
import type { CaseState, CaseView, OfferedMove, Phase, ScrewView } from './view.types.ts';

const offers = new WeakMap<ScrewContext, Omit<Situation, 'screw'> & { room: Room; offer: Offer }>();

/** The offer for a screw, computed again only when the screw, its holds or the room changed. */
export function offerFor(content: Content, room: Room, situation: Situation): Offer {
  const { screw, reassess, lastIn, around } = situation;
  const known = offers.get(screw);
  const isSame = known?.room === room && known.reassess === reassess && known.lastIn === lastIn;
  if (known && isSame && known.around === around) return known.offer;
  const fresh = offer(content, room, situation);
  offers.set(screw, { room, reassess, lastIn, around, offer: fresh });
  return fresh;
}

export function phaseOf({ case: snapshot }: Folded): Phase {
  if (snapshot.matches('closed')) return 'closed';
  return (['closing', 'working'] as const).find((phase) => snapshot.matches({ open: { phase } })) ?? 'briefing';
}

function screwNotices(state: Folded, { context }: ScrewSnapshot, offered: readonly OfferedMove[]): NoticeId[] {
  const { content } = state;
  const second = secondOf(content);
  if (second) return second.screwNotices(state, context, offered);
  const notices: NoticeId[] = [];
  if (considerTrephine(context)) notices.push('consider-trephine');
  const running = content.moves.find(({ id }) => id === context.running?.move);
  if (running && metalCutOnBone(running)) notices.push('heat');
  return notices;
}

/** Can a screw be left for later: is there something else to do first, another screw or the plate? */
function mayDefer({ screws, case: { context } }: Folded, id: string): boolean {
  const isIn = (screw: ScrewSnapshot | undefined) => screw !== undefined && isWorking(screw.context.stage);
  return (
    isIn(screws.get(id)) &&
    (isPlateOn(context.room) || [...screws].some(([other, screw]) => other !== id && isIn(screw)))
  );
}

/** Do all other screws that are in wait as well? Then putting this one off leaves none in hand. */
function othersWait({ screws, case: { context } }: Folded, id: string): boolean {
  const others = [...screws].flatMap(([other, screw]) =>
    other !== id && isWorking(screw.context.stage) ? [other] : [],
  );
  return others.length > 0 && others.every((other) => context.waiting.includes(other));
}

function screwView(state: Folded, id: string, screw: ScrewSnapshot): ScrewView {
  const { content } = state;
  const { context } = screw;
  const second = secondOf(content);
  const { offered, withdrawn } = offerFor(content, state.case.context.room, situationOf(state, id) as Situation);
  const shown: ScrewView = {
    stage: context.stage,
    slips: context.slips,
    chanceLeft: chanceLeftOf(content, context),
    move: context.running?.move ?? null,
    holds: screwHolds(screw),
    notices: screwNotices(state, screw, offered),
    offered,
    withdrawn,
    metal: screwAccount(state, context),
    mayDefer: mayDefer(state, id),
    lengthAsked: context.lengthAsked?.n ?? null,
    ...(second && { lines: screwLines(screw), othersWait: othersWait(state, id) }),
  };
  // Worked out for who reads it: a touch shows that of one screw.
  if (second) Object.defineProperty(shown, 'ifYouWait', { enumerable: true, get: () => second.ifYouWait(state, id) });
  return shown;
}

/** Holds on the case as of a corrected time, in the order of their ids. After closing: those that nobody had answered. */
export function caseHolds(state: Folded, now: number): HoldId[] {
  // Only a closing leaves these two unanswered.
  const left = state.unanswered.map(({ hold }) => hold).filter((hold) => hold === 'shavings' || hold === 'count');
  const closing = phaseOf(state) === 'closing' ? closingHolds(state) : left;
  const second = secondOf(state.content);
  const holds = [...hardMetalHold(state), ...timedHolds(state, now), ...closing];
  return second ? second.inOrder(state.content, [...second.pausing(state), ...holds]) : holds;
}

function caseNotices(state: Folded, now: number): NoticeId[] {
  const { content } = state;
  const { context } = state.case;
  const second = secondOf(content);
  if (second) return second.caseNotices(state, now);
  const inflation = currentInflation(context);
  const near =
    inflation && tourniquetLimitNear(minutesBetween(inflation.up, now), context.tourniquetLimit, content.limits);
  return near ? ['tourniquet'] : [];
}

/** Corrected time at which the move began that the clocks show: the called screw's, else the last begun. */
function moveSince(state: Folded): number | null {
  const running = [...state.screws.values()].flatMap(({ context }) =>
    context.running ? [{ id: context.id, corrected: context.running.corrected }] : [],
  );
  const called = running.find(({ id }) => id === state.case.context.called);
  return (called ?? running.sort((a, b) => b.corrected - a.corrected)[0])?.corrected ?? null;
}

/** The part of the view that changes with time alone. */
export const timed = (state: Folded, now: number): Pick<CaseView, 'holds' | 'notices' | 'clocks'> => ({
  holds: caseHolds(state, now),
  notices: caseNotices(state, now),
  clocks: clocks(state.content, state.case.context, moveSince(state), now),
});

/**
 * What is shown of a case while it goes on, with clocks and timed holds as of `now`.
 *
 * @param now corrected ms; left out: as of the latest entry
 * @example stateOf(fold([], content)).phase // 'briefing'
 */
export function stateOf(state: Folded, now = state.latest): CaseState {
  const { context } = state.case;
  const second = secondOf(state.content);
  return {
    phase: phaseOf(state),
    called: calledScrew(state),
    screws: Object.fromEntries([...state.screws].map(([id, screw]) => [id, screwView(state, id, screw)])),
    toolTips: tipAccounts(state),
    parts: Object.fromEntries(
      partAccounts(state).map(({ id, kind, end, pieces, closes }) => [id, { kind, end, pieces, closes }]),
    ),
    ...(second && { bone: second.boneView(state) }),
    stopped: context.stopped?.n ?? null,
    limits: {
      ...context.room.limits,
      ...{ tourniquet: context.tourniquetLimit, theatre: context.theatreMinutes },
    },
    ...timed(state, now),
    outOfOrder: [...state.outOfOrder],
    unoffered: [...state.unoffered],
    unanswered: [...state.unanswered],
    struck: [...state.struck],
    late: [...state.late],
    impossibleTimes: [...state.impossibleTimes],
    conflicts: state.conflicts.map(({ entries: [a, b] }) => [a, b]),
  };
}

/**
 * The whole state, with what is known of its log.
 *
 * @param now corrected ms; left out: as of the latest entry
 * @param seals what `verify` said of the log
 * @example view(fold([], content)).seals // 'unsealed'
 */
export const view = (state: Folded, now?: number, seals: Seals = { seals: 'unsealed', brokenAt: null }): CaseView => ({
  ...stateOf(state, now),
  ...seals,
});
