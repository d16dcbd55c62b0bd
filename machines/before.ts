/** Holds that stand before a move starts. */
import type { HoldId, ToolId } from '../content/ids.ts';
import type { Content, Move } from '../content/types.ts';
import type { Room } from './case.context.ts';
import { boneLossThresholdReached, considerAbandoning, driveMustRunInReverse } from './guards.ts';
import type { ScrewContext } from './screw.context.ts';
import { secondOf, type Ahead } from './second-ladder.ts';

/**
 * Holds that would stand before this move starts, whatever was answered ahead.
 *
 * @param tool named for the move
 * @example holdsBefore(content, room, screw, tap, { loss: noLoss, costsBone: false }) // ['reverse']
 */
export function holdsBefore(
  content: Content,
  room: Room,
  screw: ScrewContext,
  move: Move,
  ahead: Ahead,
  tool: ToolId | null = null,
): HoldId[] {
  const second = secondOf(content);
  if (second) return second.before(content, room, screw, move, ahead, tool);
  const holds: HoldId[] = driveMustRunInReverse(move) ? ['reverse'] : [];
  if (considerAbandoning(ahead.loss, room.limits)) return [...holds, 'bone-stop'];
  return boneLossThresholdReached(ahead.loss, room.limits) ? [...holds, 'bone-consider'] : holds;
}
