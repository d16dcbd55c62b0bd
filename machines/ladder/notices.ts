/** What the second ladder says without stopping anybody. */
import type { NoticeId } from '../../content/ids.ts';
import { currentInflation, minutesBetween } from '../clocks.ts';
import { metalCutOnBone, tourniquetLimitNear } from '../guards.ts';
import type { ScrewContext } from '../screw.context.ts';
import type { Standing } from '../second-ladder.ts';
import type { OfferedMove } from '../view.types.ts';

/** The first time that a driver of this form and size is turned in the case, and nobody has said that it was looked at. */
function isFirstTurn({ screws, case: { context } }: Standing, screw: ScrewContext): boolean {
  const { drive, driveSize } = screw.facts;
  if (context.checked.includes(driveSize === undefined ? 'first-turn' : `first-turn ${driveSize}`)) return false;
  return ![...screws.values()].some(
    ({ context: { facts, turned } }) => turned && facts.drive === drive && facts.driveSize === driveSize,
  );
}

/**
 * Notices on one screw: before the first turn with its driver; with a deep piece, which may well stay, as long as a bore
 * would not stop the work and reaming has not failed; while metal is cut on bone.
 */
export function screwNotices(state: Standing, screw: ScrewContext, offered: readonly OfferedMove[]): NoticeId[] {
  const notices: NoticeId[] = [];
  if (screw.stage === 'seated' && offered.some(({ move }) => move === 'turn-out') && isFirstTurn(state, screw))
    notices.push('first-turn');
  const deep = screw.stage === 'fragment-retained' || (screw.stage === 'head-sheared' && screw.gripFailed);
  const stops = offered.some(({ move, holds }) => move === 'hollow-ream' && holds.includes('bone-stop'));
  const reamed = screw.reamed || screw.usedUp.includes('hollow-ream');
  if (deep && !stops && !reamed) notices.push('consider-trephine');
  const running = state.content.moves.find(({ id }) => id === screw.running?.move);
  if (running && metalCutOnBone(running)) notices.push('heat');
  return notices;
}

/** Notices on the case: the first metal-cutting move, and the cuff, by its limit or, without one, from an hour on. */
export function caseNotices({ content, screws, case: { context } }: Standing, now: number): NoticeId[] {
  const notices: NoticeId[] = [];
  const cuts = [...screws.values()].some(({ context: { running } }) =>
    content.moves.some(({ id, shavings }) => id === running?.move && shavings),
  );
  if (cuts && context.cutAt === null && !context.checked.includes('eyes-and-swabs')) notices.push('eyes-and-swabs');
  const inflation = currentInflation(context);
  if (inflation === null) return notices;
  const minutes = minutesBetween(inflation.up, now);
  const { tourniquetReminder } = content.limits;
  const reminds = context.tourniquetLimit === null && minutes >= (tourniquetReminder?.from ?? Infinity);
  if (reminds || tourniquetLimitNear(minutes, context.tourniquetLimit, content.limits)) notices.push('tourniquet');
  return notices;
}
