/** The tools in the order in which a room is gone through, and what of a plan each one opens. Pure. */
import type { MoveId, ToolId, WorkingStage } from '../../../content/ids.ts';
import type { Content, Tool } from '../../../content/types.ts';
import type { RoomTool } from '../../../machines/case.context.ts';
import { candidates } from '../../../machines/compute/fit.ts';
import { unmetOf } from '../../../machines/fitting.ts';
import type { Folded } from '../../../machines/folded.ts';
import type { Readiness } from '../../../machines/readiness.ts';
import { depth, isWorking, metalOf } from '../../../machines/screw.context.ts';
import type { Unknown } from '../../../machines/ways.ts';

export const toolGroups = {
  drivers: ['driver-hexagonal', 'driver-hexalobular', 'driver-cruciform', 'driver-slotted', 'pick', 'mallet'],
  recess: ['metal-foil', 'conical-extractor', 't-handle', 'hard-metal-drill', 'reverse-tap'],
  grip: ['head-gripper', 'locking-pliers', 'retired-rongeur', 'gouge'],
  cut: ['metal-cutting-burr', 'metal-cutting-saw', 'bolt-cutter', 'irrigation', 'fine-suction'],
  deep: ['hollow-reamer', 'extraction-sleeve', 'reversing-drive', 'punch', 'image-intensifier', 'narrow-forceps'],
} as const satisfies Record<string, readonly ToolId[]>;

/** The group of a tool; one that no group knows stands last, with those that are seldom needed. */
const groupOf = (id: ToolId): ToolGroupName =>
  (Object.keys(toolGroups) as ToolGroupName[]).find((name) => (toolGroups[name] as readonly ToolId[]).includes(id)) ??
  'deep';
export type ToolGroupName = keyof typeof toolGroups;

/** The tools of a content that stand in a group, in its order. */
export const inGroup = (content: Content, name: ToolGroupName): readonly Tool[] =>
  content.tools.filter(({ id }) => groupOf(id) === name);

/** Everything of one kind that stands in the room. */
export const ofKind = (tools: readonly RoomTool[], id: ToolId): readonly RoomTool[] =>
  tools.filter(({ tool }) => tool === id);

/** Dead ends that a tool helps to open, by stage, with the screws they are of. */
export function opensOf(ready: Readiness | null, tool: ToolId): { stage: WorkingStage; screws: string[] }[] {
  const found = new Map<WorkingStage, string[]>();
  for (const { screw, stage, opensWith } of ready?.deadEnds ?? [])
    if (opensWith.includes(tool)) found.set(stage, [...(found.get(stage) ?? []), screw]);
  return [...found].map(([stage, screws]) => ({ stage, screws }));
}

export interface DeadEndGroup {
  stage: WorkingStage;
  opensWith: ToolId[];
  screws: string[];
}

/** Dead ends told once for all screws that share stage and way out. */
export function deadEndGroups(ready: Readiness | null): DeadEndGroup[] {
  const groups = new Map<string, DeadEndGroup>();
  for (const { screw, stage, opensWith } of ready?.deadEnds ?? []) {
    const key = `${stage} ${opensWith.join()}`;
    const group = groups.get(key);
    if (group) group.screws.push(screw);
    else groups.set(key, { stage, opensWith, screws: [screw] });
  }
  return [...groups.values()];
}

/** Screws of which the same is not known at the same stage. */
export interface UnsaidGroup {
  stage: WorkingStage;
  unknown: readonly Unknown[];
  screws: string[];
}

/** What cannot be said, told once for all screws of which the same would have to be known. */
export function unsaidGroups(ready: Readiness | null): UnsaidGroup[] {
  const groups = new Map<string, UnsaidGroup>();
  for (const { screw, stage, unknown } of ready?.cannotSay ?? []) {
    const key = `${stage} ${unknown.join()}`;
    const group = groups.get(key);
    if (group) group.screws.push(screw);
    else groups.set(key, { stage, unknown, screws: [screw] });
  }
  return [...groups.values()];
}

/** What would have to be looked at or read off, each once, with the screws it would say something of. */
export function toMeasure(ready: Readiness | null): { unknown: Unknown; screws: string[] }[] {
  const found = new Map<Unknown, Set<string>>();
  for (const { screw, unknown } of ready?.cannotSay ?? [])
    for (const one of unknown) found.set(one, (found.get(one) ?? new Set()).add(screw));
  return [...found].map(([unknown, screws]) => ({ unknown, screws: [...screws] }));
}

/**
 * Moves that one tool which is not in the room keeps closed, though the plan may come to their stage, by that tool: what
 * its absence costs, even where another way is open. A move that lacks several tools is named at none.
 */
export function closedByAbsence({
  content,
  screws,
  case: { context },
}: Folded): ReadonlyMap<ToolId, readonly MoveId[]> {
  const { tools } = context.room;
  const working = [...screws.values()].map((screw) => screw.context).filter(({ stage }) => isWorking(stage));
  // Screws that are alike lack alike.
  const kinds = [
    ...new Map(working.map((screw) => [JSON.stringify([screw.stage, metalOf(screw.facts)]), screw])).values(),
  ];
  const found = new Map<ToolId, MoveId[]>();
  for (const move of content.moves) {
    if (move.aim === 'left-in') continue;
    const lacked = new Set(
      kinds.flatMap((screw): readonly ToolId[] => {
        if (!move.fits.some((stage) => depth(stage) >= depth(screw.stage))) return [];
        const [only, ...others] = unmetOf(content, move, screw.facts, tools);
        return only && others.length === 0 ? candidates(only, screw.facts) : [];
      }),
    );
    for (const tool of lacked)
      if (tools.every((one) => one.tool !== tool)) found.set(tool, [...(found.get(tool) ?? []), move.id]);
  }
  return found;
}
