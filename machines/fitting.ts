/** Which tools in the room a move can be made with, by the ladder that the content is written for. */
import type { ToolId } from '../content/ids.ts';
import type { Content, Move, ToolGroup } from '../content/types.ts';
import type { RoomTool } from './case.context.ts';
import { mainGroup, serves } from './compute/fit.ts';
import type { ScrewFacts } from './screw.context.ts';
import { secondOf } from './second-ladder.ts';

/**
 * Does a tool go with a need of a move, or may it, where a size is not known?
 *
 * @example meets(ladder2, { tool: 'hollow-reamer', inner: 4.6 }, { anyOf: ['hollow-reamer'] }, screw45) // false: no play
 */
export function meets(content: Content, tool: RoomTool, group: ToolGroup, screw: ScrewFacts): boolean {
  const second = secondOf(content);
  return second ? second.fit(content, tool, group, screw) !== 'no' : serves(tool, group, screw);
}

/**
 * The kinds of tools in the room of the need that counts for a move, each once.
 *
 * @example toolsOf(content, gripHead, screw, [{ tool: 'locking-pliers' }]) // ['locking-pliers']
 */
export function toolsOf(content: Content, move: Move, screw: ScrewFacts, tools: readonly RoomTool[]): ToolId[] {
  const group = mainGroup(move);
  return group ? [...new Set(tools.filter((one) => meets(content, one, group, screw)).map(({ tool }) => tool))] : [];
}

/** Every need of a move that no tool in the room meets or may meet. */
export const unmetOf = (content: Content, move: Move, screw: ScrewFacts, tools: readonly RoomTool[]): ToolGroup[] =>
  move.needs.filter((group) => !tools.some((tool) => meets(content, tool, group, screw)));
