/** Which tools go with which screw, by the second ladder: unknown is neither yes nor no. */
import type { ToolId } from '../../content/ids.ts';
import type { Content, Move, RecessSize, ToolGroup } from '../../content/types.ts';
import type { Room, RoomTool } from '../case.context.ts';
import { candidates, mainGroup } from '../compute/fit.ts';
import type { ScrewFacts } from '../screw.context.ts';
import type { Fit } from '../second-ladder.ts';
import { toolKey } from './climb.ts';

const near = 1e-9;
/** Play that a hollow reamer needs round a thread, mm. */
const reamerPlay = 0.2;
const holds = (list: readonly number[] | undefined, diameter: number) =>
  list?.some((one) => Math.abs(one - diameter) < near) ?? false;

const sized: readonly ToolId[] = ['hard-metal-drill', 'reverse-tap', 'extraction-sleeve', 'hollow-reamer'];

/** Does a tool go with a diameter, as far as anybody knows? */
function goesWith(tool: RoomTool, diameter: number | null): Fit {
  if (!sized.includes(tool.tool)) return diameter === null || !tool.fits || holds(tool.fits, diameter) ? 'fits' : 'no';
  const { fits, inner, outer } = tool;
  if (diameter === null) return 'may';
  if (tool.tool === 'hollow-reamer') {
    if (outer !== undefined && outer <= diameter + near) return 'no';
    if (holds(fits, diameter) || (inner ?? 0) >= diameter + reamerPlay - near) return 'fits';
    return fits === undefined && inner === undefined ? 'may' : 'no';
  }
  if (fits !== undefined) return holds(fits, diameter) ? 'fits' : 'no';
  // By its inner diameter alone a sleeve may go over a screw: what its thread grips is not known.
  return (inner ?? Infinity) >= diameter - near ? 'may' : 'no';
}

/** Width of a recess or of the driver for it, mm: across flats, or point to point; null where no table says. */
export function widthOf(recesses: readonly RecessSize[], form: string, size: number | undefined): number | null {
  if (size === undefined) return null;
  const row = recesses.find((one) => one.drive === form && Math.abs(one.size - size) < near);
  return row?.a ?? (form === 'hexagonal' ? size : null);
}

/** Is a driver wider than the recess? */
function oversize({ recesses }: Content, { tool, size }: RoomTool, { drive, driveSize }: ScrewFacts): Fit {
  const form = tool.slice('driver-'.length);
  if (form === drive && size !== undefined && driveSize !== undefined) return size > driveSize ? 'fits' : 'no';
  const [driver, recess] = [widthOf(recesses, form, size), widthOf(recesses, drive, driveSize)];
  if (driver === null || recess === null) return 'may';
  return driver > recess + near ? 'fits' : 'no';
}

const hasSizes: readonly string[] = ['driver-hexagonal', 'driver-hexalobular'];

function matched({ tool, size }: RoomTool, { drive, driveSize }: ScrewFacts): Fit {
  if (drive === 'unknown') return 'may';
  if (!hasSizes.includes(tool)) return 'fits';
  if (size === undefined || driveSize === undefined) return 'may';
  return Math.abs(size - driveSize) < near ? 'fits' : 'no';
}

/**
 * How well a tool in the room meets a need of a move.
 *
 * @example fit(content, { tool: 'hollow-reamer', inner: 4.6 }, { anyOf: ['hollow-reamer'] }, screw45) // 'no': 0.2 mm of play
 */
export function fit(content: Content, tool: RoomTool, group: ToolGroup, screw: ScrewFacts): Fit {
  if (!candidates(group, screw).includes(tool.tool)) return 'no';
  const isDriver = tool.tool.startsWith('driver-');
  if ('anyOf' in group || !isDriver) return goesWith(tool, screw.diameter);
  return group.driver === 'matched' ? matched(tool, screw) : oversize(content, tool, screw);
}

/** What is missing for a move: the first id of every need that no tool in the room meets or may meet. */
export const missing = (content: Content, move: Move, screw: ScrewFacts, { tools }: Room): ToolId[] =>
  move.needs
    .filter((group) => tools.every((tool) => fit(content, tool, group, screw) === 'no'))
    .map((group) => candidates(group, screw)[0] as ToolId);

/** Is a need of a move met only by tools whose size nobody told, or whose screw's? */
export const isSizeUnknown = (content: Content, move: Move, screw: ScrewFacts, { tools }: Room): boolean =>
  move.needs.some((group) => {
    const found = tools.map((tool) => fit(content, tool, group, screw));
    return found.includes('may') && !found.includes('fits');
  });

/** The tools in the room of the need that counts for a move. */
export function counted(content: Content, move: Move, screw: ScrewFacts, { tools }: Room): RoomTool[] {
  const group = mainGroup(move);
  return group ? tools.filter((tool) => fit(content, tool, group, screw) !== 'no') : [];
}

/** The same by what tells them apart. */
export const among = (content: Content, move: Move, screw: ScrewFacts, room: Room): string[] => [
  ...new Set(counted(content, move, screw, room).map(toolKey)),
];
