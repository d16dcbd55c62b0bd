/**
 * Which moves are open for a screw now, in ladder order, and why the others of its stage are closed.
 */
import type { ClosedReason } from '../content/ids.ts';
import type { Content, Move } from '../content/types.ts';
import { isPlateOn, type Room } from './case.context.ts';
import { boneCost } from './compute/bone-cost.ts';
import { missingFor } from './compute/fit.ts';
import { holdsBefore } from './before.ts';
import { secondOf } from './second-ladder.ts';
import { isWorking, type ScrewContext } from './screw.context.ts';
import type { Closed, Situation } from './situation.ts';
import type { OfferedMove, WithdrawnMove } from './view.types.ts';

export type { Closed, Situation };

/** Is the move made for the stage this screw is in? */
export const belongs = (move: Move, screw: ScrewContext, content: Content): boolean =>
  secondOf(content)?.belongs(move, screw) ??
  (isWorking(screw.stage) &&
    (move.fits.includes(screw.stage) || (screw.stage === 'seated' && move.fitsJammedSeat && screw.jammedSeat)));

/** The moves of the stage that a screw is in, in their order. */
export function movesFor(content: Content, screw: ScrewContext): Content['moves'] {
  const moves = content.moves.filter((move) => belongs(move, screw, content));
  return secondOf(content)?.ordered(moves, screw) ?? moves;
}

/** A head is taken to stand proud unless the screw locks into the plate; what was found goes before. */
const headProud = ({ facts, found }: ScrewContext) => found.headProud ?? !facts.locking;

/** Facts of the screw and the construct that close a move, before tools and history are looked at. */
function factsAgainst(move: Move, { screw, lastIn }: Situation, room: Room): ClosedReason | null {
  switch (move.id) {
    case 'free-plate': {
      return isPlateOn(room) && (screw.facts.locking || lastIn) ? null : 'does-not-fit';
    }
    case 'grip-head':
      if (headProud(screw)) return null;
      return screw.facts.locking ? 'locked-flush' : 'not-proud';
    case 'grip-shank':
      return screw.shankProud ? null : 'not-proud';
    case 'far-side':
      return screw.found.tipProud ? null : 'not-proud';
    case 'push-through':
      return screw.found.corridor ? null : 'not-proud';
    case 'extraction-sleeve':
      return screw.reamed ? null : 'needs-reaming';
    default:
      return null;
  }
}

/** From the second slip on every plain driver move is closed. */
const slippedTwice = (move: Move, screw: ScrewContext) => move.id === 'reseat-driver' && screw.slips >= 2;

/**
 * Why a move of this stage is closed, the first reason that applies; null when it is open.
 *
 * Order: not used here (a department's word), does not fit (also a recess filled by a jammed tool), locked flush, not
 * proud, needs reaming, slipped, used up, tool missing, hold open (also: reseating before anybody has looked again).
 */
export function closedBecause(move: Move, situation: Situation, room: Room, content: Content): Closed | null {
  const second = secondOf(content);
  return second ? second.closed(move, situation, room, content) : closedByFirst(move, situation, room);
}

function closedByFirst(move: Move, situation: Situation, room: Room): Closed | null {
  const { screw, reassess } = situation;
  if (move.id === 'leave-in') return null;
  const because = (why: ClosedReason): Closed => ({ why, missing: [] });
  if (move.notUsedHere) return because('not-used-here');
  if (screw.toolInRecess && move.needsRecess) return because('does-not-fit');
  const fact = factsAgainst(move, situation, room);
  if (fact) return because(fact);
  if (slippedTwice(move, screw)) return because('slipped');
  if (screw.usedUp.includes(move.id)) return because('used-up');
  const missing = missingFor(move, screw.facts, room.tools);
  if (missing.length) return { why: 'tool-missing', missing };
  if (reassess || (move.id === 'reseat-driver' && !screw.reassessed)) return because('hold-open');
  return null;
}

export interface Offer {
  offered: OfferedMove[];
  withdrawn: WithdrawnMove[];
}

/**
 * The offer for one screw: empty once it has ended. `leave-in` stands last, and first only when every other open move
 * carries `bone-stop`; nothing else is ever reordered by its cost.
 */
export function offer(content: Content, room: Room, situation: Situation): Offer {
  const offered: OfferedMove[] = [];
  const withdrawn: WithdrawnMove[] = [];
  const { screw } = situation;
  // While a move runs the offer stands as if it had not started, so with what was answered for it.
  const answered = [...(screw.running?.answered ?? []), ...screw.answered];
  const second = secondOf(content);
  for (const move of movesFor(content, screw)) {
    const closed = closedBecause(move, situation, room, content);
    if (closed) {
      withdrawn.push({ move: move.id, ...closed });
      continue;
    }
    const cost = boneCost(content, room, screw, move);
    const ahead = { loss: cost.loss, costsBone: cost.costsBone };
    const holds = holdsBefore(content, room, screw, move, ahead).filter((hold) => !answered.includes(hold));
    offered.push({
      move: move.id,
      holds,
      ...cost.figures,
      shavings: move.shavings,
      assumed: cost.assumed,
      ...second?.marks(move, screw, room, content),
    });
  }
  const leaving = offered.filter(({ move }) => move === 'leave-in');
  const others = offered.filter(({ move }) => move !== 'leave-in');
  const lastResort = others.every(({ holds }) => holds.includes('bone-stop'));
  return { offered: lastResort ? [...leaving, ...others] : [...others, ...leaving], withdrawn };
}
