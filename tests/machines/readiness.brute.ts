/**
 * Readiness by trying every set of tools and every set of unknowns, on rules written down anew: nothing shared with the
 * machines. A way is yes, may or no; the best of several counts, and of what a way needs the worst.
 */
import type { ToolId, WorkingStage } from '../../content/ids.ts';

export interface PlannedScrew {
  id: string;
  /** mm; null: nobody knows. */
  diameter: number | null;
  drive: 'hexagonal' | 'hexalobular' | 'cruciform' | 'unknown';
  driveSize?: number;
  locking: boolean;
  stage: WorkingStage;
  headless?: true;
  beside?: true;
  headProud?: boolean;
  shankProud?: boolean;
  tipProud?: boolean;
  corridor?: boolean;
}

export interface PlannedTool {
  tool: ToolId;
  fits?: number[];
  size?: number;
  inner?: number;
}

export interface Plan {
  ladder: 1 | 2;
  construct: 'plate' | 'nail' | 'screws';
  plateOff: boolean;
  screws: PlannedScrew[];
  tools: PlannedTool[];
}

/** Every tool that a plan can hold, in the order of its release. */
export type Ids = readonly ToolId[];

const failures: WorkingStage[] = ['recess-stripped', 'head-sheared', 'fragment-retained'];
const order: WorkingStage[] = ['seated', ...failures];

const no = 0;
const may = 1;
const yes = 2;
type Sure = typeof no | typeof may | typeof yes;
const all = (...parts: Sure[]): Sure => Math.min(yes, ...parts) as Sure;
const any = (...parts: Sure[]): Sure => Math.max(no, ...parts) as Sure;
const if_ = (fact: boolean | undefined): Sure => (fact === true ? yes : no);

/** What is put to the plan: tools brought in, each of the right size, and unknowns that turned out well. */
interface Supposed {
  added: readonly ToolId[];
  clear: readonly string[];
}

/** Recess that is usual for these diameters (first and second release alike; from memory). */
const usual: Record<string, readonly [PlannedScrew['drive'], number][]> = {
  '3.5': [
    ['hexagonal', 2.5],
    ['hexalobular', 15],
  ],
  '4.5': [['hexagonal', 3.5]],
};

const holdsSize = (list: readonly number[] | undefined, diameter: number) => list?.includes(diameter) === true;

function goes(tool: PlannedTool, { diameter }: PlannedScrew, { clear }: Supposed): Sure {
  const isKnown = clear.includes(`tool:${tool.tool}`);
  switch (tool.tool) {
    case 'hard-metal-drill':
    case 'reverse-tap':
      if (diameter === null) return clear.includes('diameter') && (tool.fits || isKnown) ? yes : may;
      if (tool.fits) return holdsSize(tool.fits, diameter) ? yes : no;
      return isKnown ? yes : may;
    case 'extraction-sleeve':
      if (diameter === null) return clear.includes('diameter') && (tool.fits || isKnown) ? yes : may;
      if (tool.fits) return holdsSize(tool.fits, diameter) ? yes : no;
      if (tool.inner !== undefined && tool.inner < diameter) return no;
      return isKnown ? yes : may;
    case 'hollow-reamer':
      if (diameter === null)
        return clear.includes('diameter') && (tool.inner !== undefined || tool.fits || isKnown) ? yes : may;
      if (tool.inner === undefined && !tool.fits) return isKnown ? yes : may;
      return holdsSize(tool.fits, diameter) || (tool.inner ?? 0) >= diameter + 0.2 - 1e-9 ? yes : no;
    default:
      return yes;
  }
}

/** Is a driver there that turns it as it sits? */
function turns(plan: Plan, screw: PlannedScrew, supposed: Supposed): Sure {
  const { drive, driveSize, diameter } = screw;
  const forms = ['hexagonal', 'hexalobular', 'cruciform', 'slotted'] as const;
  const wanted = drive === 'unknown' ? forms : [drive];
  if (wanted.some((form) => supposed.added.includes(`driver-${form}`))) return yes;
  const drivers = plan.tools.filter(({ tool }) => wanted.some((form) => tool === `driver-${form}`));
  const ofForm = (usual[String(diameter)] ?? []).filter(([form]) => drive === 'unknown' || form === drive);
  const every =
    ofForm.length > 0 && ofForm.every(([f, s]) => drivers.some((d) => d.tool === `driver-${f}` && d.size === s));
  if (every && (drive === 'unknown' || driveSize === undefined)) return yes;
  if (drive === 'unknown') return drivers.length === 0 ? no : supposed.clear.includes('drive') ? yes : may;
  return any(
    ...drivers.map(({ tool, size }): Sure => {
      if (drive === 'cruciform') return yes;
      const seen = driveSize !== undefined || supposed.clear.includes('drive-size');
      const read = size !== undefined || supposed.clear.includes(`tool:${tool}`);
      if (driveSize !== undefined && size !== undefined) return size === driveSize ? yes : no;
      return seen && read ? yes : may;
    }),
  );
}

const rooms = new WeakMap<PlannedScrew, Map<string, Map<ToolId, Sure>>>();

/** How well each kind of tool in the room goes with a screw: looked up once, since thousands of sets are tried with it. */
function inRoom({ tools }: Plan, screw: PlannedScrew, supposed: Supposed): Map<ToolId, Sure> {
  const known = rooms.get(screw) ?? new Map<string, Map<ToolId, Sure>>();
  rooms.set(screw, known);
  const key = supposed.clear.join();
  let here = known.get(key);
  if (!here) {
    here = new Map();
    for (const tool of tools) here.set(tool.tool, any(here.get(tool.tool) ?? no, goes(tool, screw, supposed)));
    known.set(key, here);
  }
  return here;
}

/** From each stage: is there a chain of moves to `out`, each doing what it is made for? */
function ways(plan: Plan, screw: PlannedScrew, supposed: Supposed, off: Sure, headOff: boolean) {
  const here = inRoom(plan, screw, supposed);
  const has = (...ids: ToolId[]): Sure => {
    let best: Sure = no;
    for (const id of ids) {
      if (supposed.added.includes(id)) return yes;
      best = Math.max(best, here.get(id) ?? no) as Sure;
    }
    return best;
  };
  const second = plan.ladder === 2;
  const isOn = plan.construct === 'plate' && !plan.plateOff;
  const under = isOn && !screw.beside;
  /** Nothing lies over the shank. The first ladder never asks. */
  const bare: Sure = second && under ? off : yes;
  const grip = has('head-gripper', 'locking-pliers', 'retired-rongeur');
  const drive = has('reversing-drive');
  const reamed = all(has('hollow-reamer'), drive, second ? all(has('extraction-sleeve'), drive) : yes, bare);
  const burr = all(has('metal-cutting-burr'), has('irrigation'), bare);
  const windowed = second ? all(has('metal-cutting-burr', 'bone-saw', 'osteotome'), grip, bare) : no;
  const deep = any(
    all(if_(screw.tipProud), grip),
    all(if_(screw.corridor), has('punch'), has('image-intensifier')),
    ...[reamed, burr, windowed],
  );
  /** Once the plate was taken off the first ladder takes a shank for proud, and the second for unseen. */
  const proud: Sure = if_(
    second ? screw.shankProud === true && !plan.plateOff : screw.shankProud === true || plan.plateOff,
  );
  const sheared = any(all(proud, grip, bare), all(has('gouge'), grip, bare), reamed, burr);
  const others = plan.screws.filter(({ id }) => id !== screw.id).length;
  const shank = has('head-gripper', 'locking-pliers', 'retired-rongeur', 'extraction-sleeve', 'hollow-reamer');
  const worth: Sure = !second || under || headOff ? yes : shank;
  const stripped = any(
    all(if_(screw.headProud), grip),
    all(has('conical-extractor'), has('t-handle')),
    all(has('hard-metal-drill'), has('reverse-tap'), has('t-handle', 'reversing-drive')),
    all(if_(isOn && (screw.locking || others === 0)), has('metal-cutting-saw', 'metal-cutting-burr', 'bolt-cutter')),
    all(has('metal-cutting-burr'), any(has('driver-slotted'), grip)),
    all(has('hard-metal-drill'), headOff ? yes : sheared, worth),
  );
  const seated = turns(plan, screw, supposed);
  return { seated, 'recess-stripped': stripped, 'head-sheared': sheared, 'fragment-retained': deep };
}

/** Screws with their heads on, under the plate, and whether each lets it go. */
function letting(plan: Plan, supposed: Supposed): { id: string; lets: Sure }[] {
  if (plan.construct !== 'plate' || plan.plateOff) return [];
  return plan.screws
    .filter(
      ({ headless, beside, stage }) => !headless && !beside && (stage === 'seated' || stage === 'recess-stripped'),
    )
    .map((screw) => ({ id: screw.id, lets: ways(plan, screw, supposed, no, true)['recess-stripped'] }));
}

const nothing: Supposed = { added: [], clear: [] };
const ofScrews = ['drive', 'drive-size', 'diameter'];

function opens(plan: Plan, screw: PlannedScrew, stage: WorkingStage, supposed: Supposed = nothing): Sure {
  const { added, clear } = supposed;
  // A seated screw is turned with the plate on, and the first ladder never asks for the plate.
  if (stage === 'seated' || plan.ladder === 1) return ways(plan, screw, supposed, yes, false)[stage];
  // What is cleared of this screw is not cleared of the others: of them all that is asked is whether the plate comes off.
  const tools = clear.filter((token) => token.startsWith('tool:'));
  const elsewhere = { added, clear: [...tools, ...(clear.includes('plate') ? ofScrews : [])] };
  const others = screw.beside ? [] : letting(plan, elsewhere).filter(({ id }) => id !== screw.id);
  const off = all(...others.map(({ lets }) => lets));
  return ways(plan, screw, supposed, off, false)[stage];
}

function* sets<T>(ids: readonly T[], size: number, from = 0): Generator<T[]> {
  if (size === 0) return yield [];
  for (let i = from; i + size <= ids.length; i++)
    for (const rest of sets(ids, size - 1, i + 1)) yield [ids[i] as T, ...rest];
}

/** The first of the smallest sets that pass, in the order of the ids. */
function smallest(ids: Ids, test: (tools: readonly ToolId[]) => boolean): ToolId[] {
  for (let size = 0; size <= ids.length; size++) for (const set of sets(ids, size)) if (test(set)) return set;
  throw new Error('no set of tools passes');
}

/** Everything that is in one of the smallest sets of unknowns that, once cleared, make the way sure. */
function unknowns(ids: Ids, plan: Plan, screw: PlannedScrew, stage: WorkingStage): string[] {
  const tokens = ['drive', 'drive-size', 'diameter', ...ids.map((id) => `tool:${id}`), 'plate'].filter(
    (token) => !token.startsWith('tool:') || plan.tools.some(({ tool }) => token === `tool:${tool}`),
  );
  const clearing: string[][] = [];
  for (let size = 1; size <= 6; size++)
    for (const set of sets(tokens, size))
      if (!clearing.some((other) => other.every((one) => set.includes(one))))
        if (opens(plan, screw, stage, { added: [], clear: set }) === yes) clearing.push(set);
  return tokens.filter((token) => clearing.some((set) => set.includes(token)));
}

/** Adding a tool that is there already, and that goes with everything, changes nothing: no set that holds it is smallest. */
const worthTrying = ({ tools }: Plan, ids: Ids): Ids => {
  const asked = ['hard-metal-drill', 'reverse-tap', 'extraction-sleeve', 'hollow-reamer'];
  return ids.filter((id) => asked.includes(id) || id.startsWith('driver-') || !tools.some(({ tool }) => tool === id));
};

export function byBruteForce(plan: Plan, all: Ids) {
  const ids = worthTrying(plan, all);
  const ahead = (screw: PlannedScrew) => order.filter((stage) => order.indexOf(stage) >= order.indexOf(screw.stage));
  const looked = plan.screws.flatMap((screw) =>
    ahead(screw).map((stage) => ({ screw, stage, sure: opens(plan, screw, stage) })),
  );
  const dead = looked.filter(({ sure }) => sure === no);
  const unsure = looked.filter(({ sure }) => sure === may);
  const failing = (screw: PlannedScrew) => ahead(screw).filter((stage) => stage !== 'seated');
  const isHard = ({ locking }: PlannedScrew) => plan.construct !== 'screws' || locking;
  const stuck = plan.screws.filter(
    (screw) =>
      isHard(screw) && failing(screw).every((stage) => dead.some((end) => end.screw === screw && end.stage === stage)),
  );
  const drills = (screw: PlannedScrew) =>
    plan.tools.some((tool) => tool.tool === 'hard-metal-drill' && goes(tool, screw, nothing) !== no);
  const by = (screw: PlannedScrew) =>
    screw.beside ? [] : letting(plan, nothing).filter(({ id, lets }) => id !== screw.id && lets === no);
  const passes = (screw: PlannedScrew, stage: WorkingStage) => (added: readonly ToolId[]) =>
    opens(plan, screw, stage, { added, clear: [] }) !== no;
  return {
    deadEnds: dead.map(({ screw, stage }) => ({
      screw: screw.id,
      stage,
      opensWith: smallest(ids, passes(screw, stage)),
    })),
    cannotSay: unsure.map(({ screw, stage }) => ({
      screw: screw.id,
      stage,
      unknown: unknowns(all, plan, screw, stage),
    })),
    heldBy: plan.screws
      .filter((screw) => by(screw).length > 0)
      .map((screw) => ({ screw: screw.id, by: by(screw).map(({ id }) => id) })),
    bring: smallest(ids, (tools) => dead.every(({ screw, stage }) => passes(screw, stage)(tools))),
    doNotStart: [
      ...(plan.screws.some((screw) => screw.locking && !drills(screw))
        ? [{ reason: 'no-hard-metal-drill', missing: ['hard-metal-drill'] }]
        : []),
      ...(stuck.length
        ? [
            {
              reason: 'no-way-past',
              missing: smallest(ids, (tools) =>
                stuck.every((screw) => failing(screw).some((stage) => passes(screw, stage)(tools))),
              ),
            },
          ]
        : []),
    ],
  };
}
