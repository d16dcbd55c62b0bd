/** Which tools in the room serve which screw. */
import type { ToolId } from '../../content/ids.ts';
import type { Limits, Move, ToolGroup } from '../../content/types.ts';
import type { RoomTool } from '../case.context.ts';
import type { ScrewFacts } from '../screw.context.ts';

const same = (a: number, b: number) => Math.abs(a - b) < 1e-9;
const drivers: readonly ToolId[] = ['driver-hexagonal', 'driver-hexalobular', 'driver-cruciform', 'driver-slotted'];

/** A hollow reamer no wider than the screw cannot go over it, whatever its other measures say. */
const isNarrower = ({ tool, outer }: RoomTool, diameter: number) =>
  tool === 'hollow-reamer' && (outer ?? Infinity) <= diameter + 1e-9;

/**
 * Does this tool go with a screw of this diameter? By its list, or by its inner diameter, or when it has neither.
 *
 * @param diameter mm; null when nobody knows
 * @example fitsDiameter({ tool: 'hollow-reamer', inner: 4.8 }, 4.5) // true
 */
export function fitsDiameter(tool: RoomTool, diameter: number | null): boolean {
  // Nobody can say that it does not go with a screw of unknown diameter.
  if (diameter === null) return true;
  if (isNarrower(tool, diameter)) return false;
  if (tool.fits === undefined && tool.inner === undefined) return true;
  const listed = tool.fits?.some((fit) => same(fit, diameter)) ?? false;
  return listed || (tool.inner ?? 0) >= diameter - 1e-9;
}

/** Of a driver of the recess's own form, sizes are compared when both are known. An unknown recess takes any driver. */
const matches = (tool: RoomTool, screw: ScrewFacts): boolean =>
  screw.drive === 'unknown' ||
  tool.size === undefined ||
  screw.driveSize === undefined ||
  same(tool.size, screw.driveSize);

/** Driver of another form, as every one is to an unknown recess, or of the same form and known to be larger. */
const oversizes = (tool: RoomTool, screw: ScrewFacts): boolean =>
  tool.tool !== `driver-${screw.drive}` || (tool.size ?? 0) > (screw.driveSize ?? Infinity);

/** Ids that could serve a need, in the order in which the first stands for all: what serves beside a driver comes first. */
export function candidates(group: ToolGroup, screw: ScrewFacts): readonly ToolId[] {
  if ('anyOf' in group) return group.anyOf;
  if (group.or) return [...group.or, ...candidates({ driver: group.driver }, screw)];
  const own = drivers.filter((id) => screw.drive === 'unknown' || id === `driver-${screw.drive}`);
  if (group.driver === 'matched') return own;
  return [...drivers.filter((id) => !own.includes(id)), ...own];
}

/** Does a tool that stands in the room meet this need for this screw? */
export function serves(tool: RoomTool, group: ToolGroup, screw: ScrewFacts): boolean {
  if (!candidates(group, screw).includes(tool.tool) || !fitsDiameter(tool, screw.diameter)) return false;
  if ('anyOf' in group) return true;
  return group.driver === 'matched' ? matches(tool, screw) : oversizes(tool, screw);
}

/**
 * What is missing for a move on a screw: the first id of every need that no fitting tool in the room meets.
 *
 * @example missingFor(reverseTap, screw, []) // ['hard-metal-drill', 'reverse-tap', 't-handle']
 */
export const missingFor = (move: Move, screw: ScrewFacts, tools: readonly RoomTool[]): ToolId[] =>
  move.needs
    .filter((group) => !tools.some((tool) => serves(tool, group, screw)))
    .map((group) => candidates(group, screw)[0] as ToolId);

/** The need that stands for a move where it has several; else its first. */
const mainGroups: Partial<Record<string, (group: ToolGroup) => boolean>> = {
  'reverse-tap': (group) => 'anyOf' in group && group.anyOf.includes('reverse-tap'),
  'pack-recess': (group) => 'driver' in group,
  'drive-oversize': (group) => 'driver' in group,
  'gouge-and-grip': (group) => 'anyOf' in group && group.anyOf.includes('head-gripper'),
  'slot-head': (group) => 'anyOf' in group && group.anyOf.includes('head-gripper'),
};

/** The need of a move whose tools are the ones it is tried with; undefined when it needs nothing. */
export const mainGroup = (move: Move): ToolGroup | undefined =>
  move.needs.find(mainGroups[move.id] ?? (() => true)) ?? move.needs[0];

/**
 * The kinds of tools in the room that a move could be made with on a screw, each once.
 *
 * @example toolsFor(gripHead, screw, [{ tool: 'locking-pliers' }]) // ['locking-pliers']
 */
export function toolsFor(move: Move, screw: ScrewFacts, tools: readonly RoomTool[]): ToolId[] {
  const group = mainGroup(move);
  if (!group) return [];
  return [...new Set(tools.filter((tool) => serves(tool, group, screw)).map(({ tool }) => tool))];
}

/** The tool a move works with when nobody named it: the driver where one turns, else the first that it needs. */
export function workingTool(move: Move, screw: ScrewFacts): ToolId {
  const group = move.needs.find((need) => 'driver' in need) ?? move.needs[0];
  return (group && candidates(group, screw)[0]) ?? 'narrow-forceps';
}

export interface Reamer {
  /** Outer diameter, mm. */
  outer: number;
  assumed: boolean;
}

/**
 * Outer diameter of the hollow reamer to be expected: the narrowest in the room that fits; `inner` plus two walls when
 * the outer is not given; without any measure a pre-fill, from memory. A reamer named for the move counts even when
 * none fits.
 *
 * @param diameter the screw's, mm
 * @example expectedReamer([], 4.5, limits) // { outer: 6.5, assumed: true }
 */
export function expectedReamer(tools: readonly RoomTool[], diameter: number, limits: Limits, named?: ToolId): Reamer {
  const { small, smallUpTo, large } = limits.reamerPrefill;
  const prefill = { outer: diameter + (diameter <= smallUpTo + 1e-9 ? small : large), assumed: true };
  const reamers = tools.filter((tool) => tool.tool === 'hollow-reamer');
  const wider = reamers.filter((tool) => !isNarrower(tool, diameter));
  const fitting = reamers.filter((tool) => fitsDiameter(tool, diameter));
  const present = (fitting.length === 0 && named === 'hollow-reamer' ? wider : fitting).map(
    ({ outer, inner }): Reamer => {
      if (outer !== undefined) return { outer, assumed: false };
      return inner !== undefined ? { outer: inner + 2 * limits.reamerWall.value, assumed: true } : prefill;
    },
  );
  return present.sort((a, b) => a.outer - b.outer)[0] ?? prefill;
}
