/** The tools in the order in which a room is gone through, and what of a plan each one opens. Pure. */
import type { ToolId, WorkingStage } from '../../../content/ids.ts';
import { moveOf } from '../../../content/moves.ts';
import type { Content, Tool } from '../../../content/types.ts';
import type { RoomTool } from '../../../machines/case.context.ts';
import { missingOf } from '../../../machines/fitting.ts';
import type { Folded } from '../../../machines/folded.ts';
import type { Readiness } from '../../../machines/readiness.ts';

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

/**
 * Screws still seated that no driver in the room turns, by the driver they want. No dead end, since nothing has failed
 * yet, but the work begins with it.
 */
export function undriven({ content, screws, case: { context } }: Folded): { tool: ToolId; screws: string[] }[] {
  const found = new Map<ToolId, string[]>();
  for (const [id, screw] of screws)
    if (screw.context.stage === 'seated')
      for (const tool of missingOf(content, moveOf(content, 'turn-out'), screw.context.facts, context.room.tools))
        found.set(tool, [...(found.get(tool) ?? []), id]);
  return [...found].map(([tool, of]) => ({ tool, screws: of }));
}
