/**
 * The hold points as predicates: total, pure, one for each hold and notice; the map (`DEVELOPERS.md`) names them by id.
 */
import type { StopReason } from '../content/ids.ts';
import { mayStopLooking } from './stopping.ts';
import type { Limits, Move } from '../content/types.ts';
import type { CaseContext } from './case.context.ts';
import type { ScrewContext } from './screw.context.ts';
import { isWithoutGain, slipKind } from './screw.context.ts';
import type { EntryOf } from './entry.ts';

type End = EntryOf<'move-ended'>;

/** H1: any slip stops the turning until somebody has looked again. */
export const stopTurningAfterOneSlip = (_screw: ScrewContext, end: End): boolean => end.outcome === 'slipped';

/** H2: two moves on one screw ended without gain since the last word on it, or a tool broke. */
export const considerSecondSurgeon = (screw: ScrewContext, end: End, move: Move): boolean =>
  end.outcome === 'tool-broke' || screw.withoutGain + (isWithoutGain(end, move) ? 1 : 0) >= 2;

/** H2 by ladder 2: the same, once a screw; after a word to go on once more, when two further moves brought nothing. */
export const secondSurgeonOnce = (screw: ScrewContext, end: End, move: Move): boolean => {
  if (screw.colleague || screw.secondAsked >= 2) return false;
  return screw.secondAsked === 0
    ? considerSecondSurgeon(screw, end, move)
    : considerSecondSurgeon(screw, { ...end, outcome: end.outcome === 'tool-broke' ? 'no-change' : end.outcome }, move);
};

/** H1 by ladder 2: the first slip with each kind of tool stops the turning; a later one says it in a line. */
export const stopAfterFirstSlip = (screw: ScrewContext, end: End, move: Move): boolean =>
  end.outcome === 'slipped' && !screw.slippedWith.includes(slipKind(move));

/** H13: what was found or happened changes what may be wanted: the bone broke, has not healed, or is infected. */
export const givesPause = ({ kind }: Pick<EntryOf<'event'>, 'kind'>): boolean =>
  kind === 'bone-broke' || kind === 'not-healed' || kind === 'infection-found';

/** H13: the side was changed after work had begun. */
export const sideTurns = (
  before: Pick<EntryOf<'case-opened'>, 'side'>,
  { side }: Pick<EntryOf<'case-corrected'>, 'side'>,
  workStarted: number | null,
): boolean => workStarted !== null && side !== undefined && side !== before.side;

/**
 * H15: something is still in that holds the part, or the screws on the image and those that are out do not agree. A plate
 * is held by screws with their heads; a nail by every bolt that goes through it, its head drilled off or not, and by one
 * that was left in (a forgotten bolt broke a tibia, Boerger 1999).
 *
 * @example partStillFixed([{ stage: 'head-sheared' }], { seen: null, out: null }, 'plate') // false; of a nail: true
 */
export const partStillFixed = (
  screws: readonly Pick<ScrewContext, 'stage'>[],
  counted: { seen: number | null; out: number | null },
  part: string,
): boolean =>
  screws.some(({ stage }) => (part === 'nail' ? stage !== 'out' : stage === 'seated' || stage === 'recess-stripped')) ||
  (counted.seen !== null && counted.out !== null && counted.seen !== counted.out);

/** H16: the tool goes towards what lies beyond the far wall. */
export const goesBeyondFarWall = (move: Pick<Move, 'id'>, { stage, facts }: ScrewContext): boolean =>
  move.id === 'far-side' ||
  move.id === 'push-through' ||
  (stage === 'fragment-retained' &&
    facts.cortices === 2 &&
    (move.id === 'hollow-ream' || move.id === 'burr-out' || move.id === 'window'));

/** The loss of cortex a move leads from and to; null when the bone is unknown or would be gone. */
export interface Loss {
  before: number | null;
  after: number | null;
  /** The projected bore is as wide as the bone. */
  wholeBone: boolean;
}

/** Of a move that makes no bore. */
export const noLoss: Loss = { before: null, after: null, wholeBone: false };

/** Two unions of the same bores may differ by as much. */
const rounding = 1e-9;
const costsBone = ({ before, after }: Loss) => before !== null && after !== null && after > before + rounding;

/** H4: after the move the loss at that level reaches the stop limit: consider abandoning. */
export const considerAbandoning = (loss: Loss, limits: { boneStop: number }): boolean =>
  loss.wholeBone || (costsBone(loss) && (loss.after as number) >= limits.boneStop);

/** H3: after the move the loss at that level reaches the consider limit. H4, when it applies too, speaks for both. */
export const boneLossThresholdReached = (loss: Loss, limits: { boneConsider: number; boneStop: number }): boolean =>
  costsBone(loss) && (loss.after as number) >= limits.boneConsider && !considerAbandoning(loss, limits);

/** H5: taps, hollow reamers and sleeves turn in reverse only. */
export const driveMustRunInReverse = (move: Move): boolean => move.reverse;

/** H6: a locking screw in the plan and no metal-cutting drill of a fitting size in the room. */
export const noHardMetalDrillFits = (
  screws: readonly ScrewContext[],
  fits: (screw: ScrewContext) => boolean,
): boolean =>
  screws.some((screw) => screw.stage !== 'out' && screw.stage !== 'left-in' && screw.facts.locking && !fits(screw));

/** H7: the tourniquet has been up as long as was agreed. */
export const tourniquetLimitReached = (minutes: number, limit: number | null): boolean =>
  limit !== null && minutes >= limit;

/** H7 as a notice: the agreed limit is near. */
export const tourniquetLimitNear = (minutes: number, limit: number | null, limits: Limits): boolean =>
  limit !== null && minutes >= limit - limits.tourniquetNoticeMinutes.value && minutes < limit;

/** H8: the planned theatre time is used up. */
export const theatreTimeUsedUp = (minutes: number | null, planned: number | null): boolean =>
  minutes !== null && planned !== null && minutes >= planned;

/** H9: metal was cut since the field was last washed out, and nobody has answered for it. */
export const shavingsNotWashedOut = ({ shavings, answered }: Pick<CaseContext, 'shavings' | 'answered'>): boolean =>
  shavings && !answered.shavings;

/** H10: a count closes by two different roles, and in words with an image when metal is unaccounted for. */
export const metalNotCounted = (
  answer: EntryOf<'count-answered'>,
  unaccounted: boolean,
  stopped: StopReason | null = null,
): boolean =>
  new Set(answer.by).size < 2 || (unaccounted && !(answer.discrepancy !== undefined && lookedFor(answer, stopped)));

/** An image was taken, or work was stopped for a reason that lets nobody look. */
const lookedFor = ({ image, imageTaken }: EntryOf<'count-answered'>, stopped: StopReason | null): boolean =>
  image === 'not-taken' ? mayStopLooking(stopped) : image !== undefined || imageTaken === true;

/** H11: metal is being cut on bone. */
export const metalCutOnBone = (move: Move): boolean => move.heat;

/** H12: gripping or gouging brought nothing, or only a deep piece is left: think of the hollow reamer. */
export const considerTrephine = (screw: ScrewContext): boolean =>
  screw.stage === 'fragment-retained' || (screw.stage === 'head-sheared' && screw.gripFailed);
