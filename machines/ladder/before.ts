/** What stands before a move by the second ladder: what lies beyond the far wall, and the bone as far as it is known. */
import type { HoldId, ToolId } from '../../content/ids.ts';
import type { Content, Move } from '../../content/types.ts';
import type { BoneMeasure, Room } from '../case.context.ts';
import { boneEntered, isShaft } from '../compute/bone-cost.ts';
import { boneLossThresholdReached, considerAbandoning, driveMustRunInReverse, goesBeyondFarWall } from '../guards.ts';
import type { ScrewContext } from '../screw.context.ts';
import type { Ahead } from '../second-ladder.ts';
import { counted } from './fit.ts';

/** Wall over outer diameter is under the published cut-off; of the humerus alone, and only where it was measured. */
function isThinHumerus(content: Content, room: Room, bone: BoneMeasure | null): boolean {
  const limit = content.limits.thinHumerus?.value;
  if (limit === undefined || bone === null || bone.source === 'assumed') return false;
  return room.opened?.bone.trim().toLowerCase() === 'humerus' && bone.cortex / bone.outer < limit;
}

/**
 * Is somebody to be asked whether the bone is thin? Its measured wall is, by a figure from memory that stops nothing by
 * itself, and nothing else has made it a bone to be careful of.
 */
export function asksThin(content: Content, room: Room, screw: ScrewContext): boolean {
  const limit = content.limits.thinAsked?.value;
  const bone = boneEntered(room, screw.id);
  if (limit === undefined || bone === null || bone.source === 'assumed' || isCareful(content, room, screw))
    return false;
  return bone.cortex / bone.outer < limit;
}

/** A child's bone, one said to be fragile or thin, or a humerus thin by measure: each bore more is a matter of its own. */
function isCareful(content: Content, room: Room, screw: ScrewContext): boolean {
  const { opened, said } = room;
  return (
    opened?.fragile === true ||
    opened?.patient === 'child' ||
    said.thin ||
    isThinHumerus(content, room, boneEntered(room, screw.id))
  );
}

/** Of ladder 2: limits go by measured shaft bone alone. */
function boneHolds(content: Content, room: Room, screw: ScrewContext, { loss, costsBone }: Ahead): HoldId[] {
  const bone = boneEntered(room, screw.id);
  if (!costsBone || room.said.broke) return [];
  const measured = bone !== null && bone.source !== 'assumed';
  const modelled = measured && isShaft(bone, screw);
  const holds: HoldId[] = [];
  if (modelled && considerAbandoning(loss, room.limits)) holds.push('bone-stop');
  else if (isCareful(content, room, screw) || (modelled && boneLossThresholdReached(loss, room.limits)))
    holds.push('bone-consider');
  if (!measured && !room.said.unmeasured) holds.push('bone-unmeasured');
  return holds;
}

/**
 * What going beyond the far wall was answered for: a changed finding or tool makes it a matter of its own.
 *
 * @returns a text that is the same for the same move, tools in the room and findings
 */
export function farWallKey(content: Content, move: Move, screw: ScrewContext, room: Room): string {
  const { corridor, tipProud, fragmentLength, nearSurface } = screw.found;
  const tools = counted(content, move, screw.facts, room);
  return JSON.stringify([move.id, tools, corridor, tipProud, fragmentLength, nearSurface]);
}

/** Was it answered for this very thing? `tool`: the one named; null: any. */
const isPassed = (screw: ScrewContext, key: string, tool: ToolId | null): boolean =>
  screw.farWalls.some(
    (passed) => passed.key === key && (tool === null || passed.tool === null || passed.tool === tool),
  );

/** Holds that stand before a move by the second ladder, in the order in which one sheet asks them. */
export function before(
  content: Content,
  room: Room,
  screw: ScrewContext,
  move: Move,
  ahead: Ahead,
  tool: ToolId | null,
): HoldId[] {
  const beyond = goesBeyondFarWall(move, screw) && !isPassed(screw, farWallKey(content, move, screw, room), tool);
  const reverse: HoldId[] = driveMustRunInReverse(move) ? ['reverse'] : [];
  return [...(beyond ? (['far-wall'] as const) : []), ...boneHolds(content, room, screw, ahead), ...reverse];
}
