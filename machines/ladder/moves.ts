/** Which moves a screw is offered by the second ladder, in which order, and why the others are closed. */
import { chanceLeftOf } from '../slips.ts';
import { isWorking, type ScrewContext } from '../screw.context.ts';
import type { ClosedReason, ToolId } from '../../content/ids.ts';
import type { Content, Move, Opening } from '../../content/types.ts';
import { isPlateOn, type Room } from '../case.context.ts';
import type { Closed, Situation } from '../situation.ts';
import type { OfferMarks, UnknownFact } from '../view.types.ts';
import { leftUntried, toolKey, type Climb } from './climb.ts';
import { among, counted, fit, isSizeUnknown, missing } from './fit.ts';

const climbOf = (screw: ScrewContext): Climb => screw.climb as Climb;

const openings: Readonly<Record<Opening, (screw: ScrewContext) => boolean>> = {
  'head-covered': ({ found }) => found.headCovered === true,
  'turned-without-gain': (screw) => climbOf(screw).turnedWithoutGain,
  'turned-free': (screw) => climbOf(screw).turnedFree,
  'moved-then-stuck': (screw) => climbOf(screw).movedThenStuck,
  'partly-threaded': ({ facts }) => facts.thread === 'partly',
  'jammed-seat': ({ jammedSeat }) => jammedSeat,
};

/** A window over a deep piece opens it to gripping. */
const isWindowed = (move: Move, screw: ScrewContext) =>
  move.id === 'grip-shank' && screw.stage === 'fragment-retained' && climbOf(screw).windowed;

/** Is the move made for the stage of this screw, and has what opens it happened? */
export function belongs(move: Move, screw: ScrewContext): boolean {
  const { stage } = screw;
  if (!isWorking(stage)) return false;
  const fits = move.fits.includes(stage) || (stage === 'seated' && move.fitsJammedSeat && screw.jammedSeat);
  if (!fits) return isWindowed(move, screw);
  return move.opens.length === 0 || move.opens.some((opening) => openings[opening](screw));
}

/** Moves that another one made ready come first; else by the order of the stage, ties by the list. */
export function ordered<M extends Move>(moves: readonly M[], screw: ScrewContext): M[] {
  const place = (move: Move): number => {
    const isReady = isWindowed(move, screw) || (move.id === 'extraction-sleeve' && climbOf(screw).reaming !== null);
    const stage = isWorking(screw.stage) ? screw.stage : 'seated';
    return isReady ? 0 : (move.order[stage] ?? Infinity);
  };
  const places = new Map(moves.map((move) => [move, place(move)]));
  const at = (move: M) => places.get(move) as number;
  return [...moves].sort((a, b) => (at(a) === at(b) ? 0 : at(a) - at(b)));
}

/** Does a plate that is on lie over or under the head of this screw? */
export const liesUnderPlate = ({ facts }: Pick<ScrewContext, 'facts'>, { opened, plateOff }: Room): boolean =>
  !plateOff && (facts.underPlate ?? opened?.construct === 'plate');

/** Does a plate that is on hang on the head of this screw? */
export const hangsOnHead = (screw: Pick<ScrewContext, 'stage' | 'facts'>, room: Room): boolean =>
  (screw.stage === 'seated' || screw.stage === 'recess-stripped') &&
  screw.facts.form !== 'headless' &&
  liesUnderPlate(screw, room);

/** What a shank can be taken hold of with, or got ready for it. */
export const shankTools: readonly ToolId[] = [
  'head-gripper',
  'locking-pliers',
  'retired-rongeur',
  'extraction-sleeve',
  'hollow-reamer',
];

/** Something that the head holds down comes free with it, or there is something to take hold of the shank with. */
const isHeadWorthIt = (content: Content, { screw, around }: Situation, room: Room): boolean =>
  liesUnderPlate(screw, room) ||
  screw.facts.washer === true ||
  around === true ||
  room.tools.some((tool) => fit(content, tool, { anyOf: [...shankTools] }, screw.facts) !== 'no');

function doesNotFit(move: Move, situation: Situation, room: Room, content: Content): boolean {
  const { screw, lastIn } = situation;
  if (move.id === 'drill-head-off') return !isHeadWorthIt(content, situation, room);
  if (move.id !== 'free-plate') return false;
  return !(isPlateOn(room) && (screw.facts.locking || lastIn));
}

/** What a move rests on besides its tools, as far as anybody has seen it. */
function factOf(move: Move, screw: ScrewContext): { fact: UnknownFact; seen: boolean | null } | null {
  const { found } = screw;
  switch (move.id) {
    case 'grip-head':
      return { fact: 'headProud', seen: found.headProud ?? null };
    case 'grip-shank':
      return isWindowed(move, screw) ? null : { fact: 'shankProud', seen: climbOf(screw).shank };
    case 'far-side':
      return { fact: 'tipProud', seen: found.tipProud ?? null };
    case 'push-through':
      return { fact: 'corridor', seen: found.corridor ?? null };
    case 'extraction-sleeve': {
      const { diameter } = screw.facts;
      const stands = screw.stage === 'head-sheared' ? (found.shankStands ?? 0) : 0;
      if (climbOf(screw).reaming !== null) return null;
      // How far it has to stand is not known of a screw of unknown diameter.
      if (diameter === null) return { fact: 'diameter', seen: stands > 0 ? null : false };
      return { fact: 'shankStands', seen: stands >= diameter };
    }
    default:
      return null;
  }
}

function factAgainst(move: Move, screw: ScrewContext): ClosedReason | null {
  if (factOf(move, screw)?.seen !== false) return null;
  if (move.id === 'extraction-sleeve') return 'needs-reaming';
  const isLocked = screw.facts.locking && !screw.facts.assumed?.includes('locking');
  return move.id === 'grip-head' && isLocked ? 'locked-flush' : 'not-proud';
}

/** Reamed all the way, as far as both are known. */
function isReamedThrough({ climb, found, facts }: ScrewContext): boolean {
  const depth = climb?.reaming?.depth ?? null;
  const length = found.fragmentLength ?? facts.length;
  return depth !== null && length !== null && depth >= length;
}

/** Was the move tried with every tool of the need that counts which is in the room? */
function isUsedUp(content: Content, move: Move, screw: ScrewContext, room: Room): boolean {
  const { tries, reamings, reaming } = climbOf(screw);
  const again = move.id === 'hollow-ream' && isReamedThrough(screw) ? reamings : [];
  const made = [...tries.filter((one) => one.move === move.id), ...again];
  if (made.length === 0) return false;
  const widest = again.length ? (reaming?.diameter ?? 0) : 0;
  const here = counted(content, move, screw.facts, room);
  const wider = here.filter(({ outer }) => (outer ?? Infinity) > widest + 1e-9).map(toolKey);
  const left = leftUntried(among(content, move, screw.facts, room), made);
  return here.length > 0 && !left.some((key) => wider.includes(key));
}

/**
 * Why a move of this stage is closed, the first reason that applies; null when it is open.
 *
 * Order: not used here, a jammed tool in the recess, does not fit, under a plate that is on, locked flush, not proud,
 * needs reaming, slipped, used up, tool missing, hold open (also: reseating before anybody has looked again).
 */
export function closed(move: Move, situation: Situation, room: Room, content: Content): Closed | null {
  const { screw, reassess } = situation;
  if (move.id === 'leave-in') return null;
  const because = (why: ClosedReason): Closed => ({ why, missing: [] });
  if (move.notUsedHere) return because('not-used-here');
  if (screw.toolInRecess && move.needsRecess) return because('tool-jammed');
  if (doesNotFit(move, situation, room, content)) return because('does-not-fit');
  if (!move.underPlate && liesUnderPlate(screw, room)) return because('plate-on');
  const fact = factAgainst(move, screw);
  if (fact) return because(fact);
  if (move.id === 'reseat-driver' && screw.slips >= 2) return because('slipped');
  if (isUsedUp(content, move, screw, room)) return because('used-up');
  const lacks = missing(content, move, screw.facts, room);
  if (lacks.length) return { why: 'tool-missing', missing: lacks };
  if (reassess || (move.id === 'reseat-driver' && !screw.reassessed)) return because('hold-open');
  return null;
}

/** What an open move rests on that nobody knows. */
export function marks(move: Move, screw: ScrewContext, room: Room, content: Content): OfferMarks {
  const fact = factOf(move, screw);
  return {
    ...(move.turnsInRecess && { chanceLeft: chanceLeftOf(content, screw) }),
    ...(fact?.seen === null && { unknown: [fact.fact] }),
    ...(isSizeUnknown(content, move, screw.facts, room) && { sizeUnknown: true as const }),
  };
}

/**
 * The tools by which the bores of a move are foreseen: no reamer that does not go over the screw, and after one that
 * went all the way none that is not wider.
 */
export function foreseen(content: Content, screw: ScrewContext, tools: Room['tools']): Room['tools'] {
  const need = { anyOf: ['hollow-reamer' as const] };
  const done = isReamedThrough(screw) ? (climbOf(screw).reaming?.diameter ?? 0) : 0;
  const serves = (outer: number | undefined) => (outer ?? Infinity) > done + 1e-9;
  const fitting = tools.filter(
    (tool) => tool.tool !== 'hollow-reamer' || (fit(content, tool, need, screw.facts) !== 'no' && serves(tool.outer)),
  );
  return fitting;
}
