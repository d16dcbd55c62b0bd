/**
 * What the dead ends of a plan need: for each the sets of tools, each by id and size, that would open it. Whether they do
 * is asked of readiness itself where screws of more than one size hold one plate.
 */
import type { ToolId, WorkingStage } from '../../content/ids.ts';
import { isPlateOn, type RoomTool } from '../case.context.ts';
import type { Folded } from '../folded.ts';
import { answering, type StageAnswer } from '../readiness.ts';
import { isWorking, type ScrewFacts } from '../screw.context.ts';
import type { Unknown } from '../ways.ts';

/** A tool as it would be bought. `size`: of a driver its own, of what goes with a screw the diameter of the screw, mm; null where it has none. */
export interface Item {
  tool: ToolId;
  size: number | null;
}

/** What of a screw would have to be known to say which size. */
type SizeUnknown = 'drive' | 'drive-size' | 'diameter';

/** A dead end: the stage of a screw, and the sets of which any one opens it. */
export interface Need {
  screw: string;
  stage: WorkingStage;
  sets: readonly (readonly Item[])[];
}

/** A stage of which nobody can say whether it is a dead end, or which size would open it. */
export interface Unsaid {
  screw: string;
  stage: WorkingStage;
  /** What would have to be known. */
  unknown: readonly Unknown[];
}

export interface Needs {
  /** Dead ends that tools of known sizes open. */
  open: Need[];
  cannotSay: Unsaid[];
  /** Dead ends that no tool is known to open. */
  closed: Pick<Need, 'screw' | 'stage'>[];
}

const drivers: readonly ToolId[] = ['driver-hexagonal', 'driver-hexalobular'];
const byDiameter: readonly ToolId[] = ['hard-metal-drill', 'reverse-tap', 'hollow-reamer', 'extraction-sleeve'];

/**
 * A tool in the size that goes with a screw, or what would have to be known of the screw.
 *
 * @example sizedFor('hollow-reamer', screw35) // { tool: 'hollow-reamer', size: 3.5 }
 */
export function sizedFor(tool: ToolId, { drive, driveSize, diameter }: ScrewFacts): Item | SizeUnknown {
  if (tool.startsWith('driver-') && drive === 'unknown') return 'drive';
  // To another form than the screw's no size is told by the screw.
  if (drivers.includes(tool))
    return tool === `driver-${drive}` && driveSize !== undefined ? { tool, size: driveSize } : 'drive-size';
  if (byDiameter.includes(tool)) return diameter === null ? 'diameter' : { tool, size: diameter };
  return { tool, size: null };
}

/** An item as it would stand in the room. */
export const inRoom = ({ tool, size }: Item): RoomTool => ({
  tool,
  ...(size !== null && (drivers.includes(tool) ? { size } : { fits: [size] })),
});

export const itemKey = ({ tool, size }: Item): string => (size === null ? tool : `${tool} ${size}`);
const setKey = (set: readonly Item[]) => set.map(itemKey).sort().join(', ');

const isItem = (one: Item | SizeUnknown): one is Item => typeof one === 'object';

/** The working screws of a plan by their facts, as far as tools are sized by them. */
function kindsOf({ screws }: Folded): ScrewFacts[] {
  const kinds = new Map<string, ScrewFacts>();
  for (const { context } of screws.values()) {
    const { facts } = context;
    if (isWorking(context.stage)) kinds.set(JSON.stringify([facts.drive, facts.driveSize, facts.diameter]), facts);
  }
  return [...kinds.values()];
}

/** Every choice of tools for a way: sized for its own screw; where that may not do, for all screws of the plate. */
function choicesFor(way: readonly ToolId[], own: ScrewFacts, kinds: readonly ScrewFacts[]): (Item | SizeUnknown)[][] {
  const forOwn = way.map((tool) => sizedFor(tool, own));
  if (kinds.length < 2) return [forOwn];
  const all = new Map<string, Item | SizeUnknown>();
  for (const tool of way)
    for (const facts of kinds) {
      // A driver of one form turns the screws of that form alone.
      const one = sizedFor(tool, facts);
      if (isItem(one)) all.set(itemKey(one), one);
    }
  for (const one of forOwn) all.set(isItem(one) ? itemKey(one) : one, one);
  const forAll = [...all.values()];
  return forAll.length > forOwn.length ? [forOwn, forAll] : [forOwn];
}

/**
 * What a plan needs, pausing on the way.
 *
 * @example through(needsOf(fold([], content))).open // []
 */
export function* needsOf(state: Folded): Generator<void, Needs> {
  const answers = yield* answering(state);
  const kinds = kindsOf(state);
  const isMixed = isPlateOn(state.case.context.room) && kinds.length > 1;
  const known = new Map<string, StageAnswer[]>();
  function* opens(set: readonly Item[], { screw, stage }: StageAnswer): Generator<void, boolean> {
    // With screws of one size each way is as readiness reckoned it.
    if (!isMixed) return true;
    const key = setKey(set);
    let after = known.get(key);
    if (!after) known.set(key, (after = yield* answering(state, set.map(inRoom))));
    return after.find((one) => one.screw === screw && one.stage === stage)?.way === 'yes';
  }
  const needs: Needs = { open: [], cannotSay: [], closed: [] };
  for (const answer of answers) {
    const { screw, stage, way, ways } = answer;
    if (way === 'yes') continue;
    const unknown = new Set<Unknown>();
    if (way === 'may') {
      for (const one of ways) if (one.bring.length === 0) for (const what of one.unknown) unknown.add(what);
      needs.cannotSay.push({ screw, stage, unknown: [...unknown] });
      continue;
    }
    const { facts } = (state.screws.get(screw) as { context: { facts: ScrewFacts } }).context;
    const sets = new Map<string, readonly Item[]>();
    /** Sized for all screws of the plate, some of it may not be wanted. */
    function* lessened(set: readonly Item[]): Generator<void, readonly Item[]> {
      let kept = set;
      for (const one of set) {
        const without = kept.filter((other) => other !== one);
        if (without.length > 0 && (yield* opens(without, answer))) kept = without;
      }
      return kept;
    }
    for (const one of ways) {
      for (const what of one.unknown) unknown.add(what);
      if (one.unknown.length > 0) continue;
      for (const choice of choicesFor(one.bring, facts, isMixed ? kinds : [])) {
        const items = choice.filter(isItem);
        for (const what of choice) if (!isItem(what)) unknown.add(what);
        if (items.length < choice.length || !(yield* opens(items, answer))) continue;
        const least = items.length > one.bring.length ? yield* lessened(items) : items;
        sets.set(setKey(least), least);
        break;
      }
    }
    if (sets.size > 0) needs.open.push({ screw, stage, sets: [...sets.values()] });
    else if (unknown.size > 0) needs.cannotSay.push({ screw, stage, unknown: [...unknown] });
    else needs.closed.push({ screw, stage });
    yield;
  }
  return needs;
}
