/** Readiness by trying every set of tools, on rules written down anew: nothing shared with the machines. */
import { toolIds, type ToolId, type WorkingStage } from '../ids.ts';

export interface PlannedScrew {
  id: string;
  diameter: number;
  locking: boolean;
  stage: WorkingStage;
  headProud?: boolean;
  shankProud?: boolean;
  tipProud?: boolean;
  corridor?: boolean;
}

export interface PlannedTool {
  tool: ToolId;
  fits?: number[];
  inner?: number;
}

export interface Plan {
  construct: 'plate' | 'nail' | 'screws';
  plateOff: boolean;
  screws: PlannedScrew[];
  tools: PlannedTool[];
}

const failures: WorkingStage[] = ['recess-stripped', 'head-sheared', 'fragment-retained'];
const order: WorkingStage[] = ['seated', ...failures];

const fits = ({ fits, inner }: PlannedTool, diameter: number) =>
  (fits === undefined && inner === undefined) ||
  fits?.includes(diameter) === true ||
  (inner !== undefined && inner >= diameter);

/** Is there a chain of moves from the stage to `out`, each doing what it is made for? */
function opens(plan: Plan, screw: PlannedScrew, stage: WorkingStage, added: readonly ToolId[]): boolean {
  const has = (...ids: ToolId[]) =>
    ids.some((id) => added.includes(id) || plan.tools.some((tool) => tool.tool === id && fits(tool, screw.diameter)));
  const gripper = has('head-gripper', 'locking-pliers', 'retired-rongeur');
  const ream = has('hollow-reamer') && has('reversing-drive');
  const burr = has('metal-cutting-burr') && has('irrigation');
  const deep =
    (screw.tipProud && gripper) || (screw.corridor && has('punch') && has('image-intensifier')) || ream || burr;
  if (stage === 'fragment-retained') return deep === true;
  const sheared = ((screw.shankProud || plan.plateOff) && gripper) || (has('gouge') && gripper) || ream || burr;
  if (stage === 'head-sheared') return sheared === true;
  const others = plan.screws.filter(({ id }) => id !== screw.id).length;
  return (
    (screw.headProud === true && gripper) ||
    (has('conical-extractor') && has('t-handle')) ||
    (has('hard-metal-drill') && has('reverse-tap') && has('t-handle', 'reversing-drive')) ||
    (plan.construct === 'plate' &&
      !plan.plateOff &&
      (screw.locking || others === 0) &&
      has('metal-cutting-saw', 'metal-cutting-burr', 'bolt-cutter')) ||
    (has('metal-cutting-burr') && (has('driver-slotted') || gripper)) ||
    (has('hard-metal-drill') && sheared === true)
  );
}

function* sets(from: number, size: number): Generator<ToolId[]> {
  if (size === 0) return yield [];
  for (let i = from; i + size <= toolIds.length; i++)
    for (const rest of sets(i + 1, size - 1)) yield [toolIds[i] as ToolId, ...rest];
}

/** The first of the smallest sets that pass, in the order of the tool ids. */
function smallest(test: (tools: readonly ToolId[]) => boolean): ToolId[] {
  for (let size = 0; size <= toolIds.length; size++) for (const set of sets(0, size)) if (test(set)) return set;
  throw new Error('no set of tools passes');
}

export function byBruteForce(plan: Plan) {
  const ahead = (screw: PlannedScrew) => failures.filter((stage) => order.indexOf(stage) >= order.indexOf(screw.stage));
  const dead = plan.screws.flatMap((screw) =>
    ahead(screw)
      .filter((stage) => !opens(plan, screw, stage, []))
      .map((stage) => ({ screw, stage })),
  );
  const stuck = plan.screws.filter((screw) => dead.filter((end) => end.screw === screw).length === ahead(screw).length);
  const noDrill = plan.screws.some(
    ({ locking, diameter }) =>
      locking && !plan.tools.some((tool) => tool.tool === 'hard-metal-drill' && fits(tool, diameter)),
  );
  return {
    deadEnds: dead.map(({ screw, stage }) => ({
      screw: screw.id,
      stage,
      opensWith: smallest((tools) => opens(plan, screw, stage, tools)),
    })),
    bring: smallest((tools) => dead.every(({ screw, stage }) => opens(plan, screw, stage, tools))),
    doNotStart: [
      ...(noDrill ? [{ reason: 'no-hard-metal-drill', missing: ['hard-metal-drill'] }] : []),
      ...(stuck.length
        ? [
            {
              reason: 'no-way-past',
              missing: smallest((tools) =>
                stuck.every((screw) => ahead(screw).some((stage) => opens(plan, screw, stage, tools))),
              ),
            },
          ]
        : []),
    ],
  };
}
