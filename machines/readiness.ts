/**
 * Readiness as reachability: from every failure that can still come, is there a chain of moves to `out` with the tools
 * in the room? Answered by the statechart and the offer themselves, never by a second copy of their rules.
 */
import { everyId } from '../content/catalog.ts';
import { workingStages, type ConsentId, type ToolId, type WorkingStage } from '../content/ids.ts';
import type { Content, Move } from '../content/types.ts';
import type { Room } from './case.context.ts';
import { expectedReamer, candidates, serves } from './compute/fit.ts';
import { boneAt } from './compute/bone-cost.ts';
import { meets } from './fitting.ts';
import type { Folded } from './folded.ts';
import { noHardMetalDrillFits } from './guards.ts';
import { initialState } from './transition.ts';
import { played } from './play.ts';
import { belongs, closedBecause, type Situation } from './offer.ts';
import { isWorking, listed, depth, type ScrewContext } from './screw.context.ts';
import { screwMachine, type ScrewMachine } from './screw.machine.ts';
import { secondOf } from './second-ladder.ts';

export interface DeadEnd {
  screw: string;
  stage: WorkingStage;
  /** The smallest set of tools that opens the stage. */
  opensWith: ToolId[];
}

export interface Readiness {
  doNotStart: { reason: 'no-hard-metal-drill' | 'no-way-past'; missing: ToolId[] }[];
  deadEnds: DeadEnd[];
  /** The smallest set of tools that leaves no dead end. */
  bring: ToolId[];
  consentOpen: ConsentId[];
  assumed: string[];
  /** By the second ladder, where the bone broke today: nothing of it is modelled, so nothing of it is assumed. */
  bone?: 'broken';
}

const failures = workingStages.filter((stage) => stage !== 'seated');

/** The screw as it would stand at a failure stage, with the facts entered so far and nothing tried there yet. */
function supposedAt(content: Content, screw: ScrewContext, stage: WorkingStage): ScrewContext {
  const { shankProud, reamed, bores } = screw;
  // All that a plate that is off says of a screw is that its shank stands proud.
  const fresh = listed({ facts: { ...screw.facts, stage }, plateOff: shankProud });
  const found = { ...screw.found, headProud: screw.found.headProud ?? false };
  const second = secondOf(content);
  const there = second ? second.listed(fresh, shankProud) : fresh;
  return second ? { ...second.supposed(there, screw), reamed, bores } : { ...fresh, found, reamed, bores };
}

/** The screw after one move that did what it is made for; as it was where the statechart takes that for impossible. */
function afterAim(content: Content, machine: ScrewMachine, screw: ScrewContext, move: Move): ScrewContext {
  const second = secondOf(content);
  if (second && move.prepares) return second.prepared(screw, move);
  const start = initialState(machine, {
    facts: { ...screw.facts, stage: screw.stage as WorkingStage },
    plateOff: screw.shankProud,
  });
  const end = played(machine, start, move, { outcome: move.aim === 'out' ? 'out' : 'set-up-done' });
  return { ...screw, stage: (end ?? start).context.stage };
}

/** The place of a tool in the list of a release. */
type Order = (tool: ToolId) => number;
const orderOf =
  (tools: readonly ToolId[]): Order =>
  (tool) =>
    tools.indexOf(tool);

/** Every way to pick one from each list. */
const product = (lists: readonly (readonly ToolId[])[]): ToolId[][] =>
  lists.reduce<ToolId[][]>((sets, list) => sets.flatMap((set) => list.map((tool) => [...set, tool])), [[]]);

const union = (order: Order, ...sets: (readonly ToolId[])[]): ToolId[] =>
  [...new Set(sets.flat())].sort((a, b) => order(a) - order(b));

/** Sets of which no other one is a part, fewest tools first. */
function minimal(order: Order, sets: readonly ToolId[][]): ToolId[][] {
  const kept: ToolId[][] = [];
  for (const set of [...sets].sort((a, b) => compareSets(order, a, b)))
    if (!kept.some((way) => way.every((tool) => set.includes(tool)))) kept.push(set);
  return kept;
}

/**
 * Every set of tools that leads from a stage to `out` and of which no part would do: what each move lacks, and what
 * lies beyond the stage it is made for. `[[]]` when the way is open as the room stands.
 */
function waysOut(
  content: Content,
  room: Room,
  screw: ScrewContext,
  lastIn: boolean,
  seen: readonly string[] = [],
): ToolId[][] {
  if (screw.stage === 'out') return [[]];
  const here = JSON.stringify([screw.stage, screw.reamed, screw.climb?.windowed]);
  if (seen.includes(here)) return [];
  const situation: Situation = { screw, reassess: false, lastIn };
  const order = orderOf(content.ids.tools);
  const ways = content.moves.flatMap((move) => {
    if (!belongs(move, screw, content) || move.aim === 'left-in' || move.turnsInRecess) return [];
    const closed = closedBecause(move, situation, room, content);
    if (closed && closed.why !== 'tool-missing') return [];
    const unmet = move.needs.filter((group) => !room.tools.some((tool) => meets(content, tool, group, screw.facts)));
    const beyond = waysOut(content, room, afterAim(content, screwMachine(content), screw, move), lastIn, [
      ...seen,
      here,
    ]);
    const needed = product(unmet.map((group) => candidates(group, screw.facts)));
    return beyond.flatMap((way) => needed.map((set) => union(order, way, set)));
  });
  return minimal(order, ways);
}

/** Fewer tools first; among equals the first in the order of the tool ids. */
function compareSets(order: Order, a: readonly ToolId[], b: readonly ToolId[]): number {
  const steps = a.map((tool, i) => order(tool) - order(b[i] as ToolId));
  return a.length - b.length || (steps.find((step) => step !== 0) ?? 0);
}

/**
 * The smallest union that holds one way of every list.
 *
 * @param tools whose order decides among equals
 * @example smallestCover([[['gouge'], ['mallet']], [['mallet']]]) // ['mallet']
 */
export function smallestCover(
  lists: readonly (readonly ToolId[][])[],
  tools: readonly ToolId[] = everyId().tools,
): ToolId[] {
  const order = orderOf(tools);
  let best: ToolId[] | null = null;
  const search = (chosen: readonly ToolId[], rest: readonly (readonly ToolId[][])[]): void => {
    if (best && chosen.length > best.length) return;
    const open = rest.filter((ways) => !ways.some((way) => way.every((tool) => chosen.includes(tool))));
    if (open.length === 0) {
      const sorted = [...chosen].sort((a, b) => order(a) - order(b));
      if (!best || compareSets(order, sorted, best) < 0) best = sorted;
      return;
    }
    const [first, ...others] = [...open].sort((a, b) => a.length - b.length);
    for (const way of first as readonly ToolId[][]) search([...new Set([...chosen, ...way])], others);
  };
  search([], lists);
  return best ?? [];
}

interface Plight {
  screw: ScrewContext;
  stage: WorkingStage;
  ways: ToolId[][];
}

/** Every dead end of a plan, each with all the smallest ways out of it. Screws of one kind are looked at once. */
function plights(state: Folded): { dead: Plight[]; looked: Map<string, number> } {
  const { content } = state;
  const { room } = state.case.context;
  const known = new Map<string, ToolId[][] | null>();
  const dead: Plight[] = [];
  const looked = new Map<string, number>();
  for (const [id, { context: screw }] of state.screws) {
    const lastIn = [...state.screws].every(([other, s]) => other === id || s.context.stage === 'out');
    // None of a screw that has ended: an end is deeper than every failure.
    const ahead = failures.filter((stage) => depth(stage) >= depth(screw.stage));
    looked.set(id, ahead.length);
    for (const stage of ahead) {
      const { diameter, drive, driveSize, locking } = screw.facts;
      const kind = JSON.stringify([
        stage,
        diameter,
        drive,
        driveSize,
        locking,
        screw.found,
        screw.shankProud,
        screw.reamed,
        lastIn,
        ...(secondOf(content) ? [screw.climb, screw.facts] : []),
      ]);
      if (!known.has(kind)) {
        // By the second ladder a screw under a plate waits until that is off.
        const rooms = secondOf(content) && !room.plateOff ? [room, { ...room, plateOff: true }] : [room];
        const from = supposedAt(content, screw, stage);
        const ways = minimal(
          orderOf(content.ids.tools),
          rooms.flatMap((one) => waysOut(content, one, from, lastIn)),
        );
        known.set(kind, ways.some((way) => way.length === 0) ? null : ways);
      }
      const ways = known.get(kind);
      if (ways) dead.push({ screw, stage, ways });
    }
  }
  return { dead, looked };
}

/** Consent points that apply to this removal and are not confirmed. */
export function consentOpen(state: Folded): ConsentId[] {
  const { room, consent } = state.case.context;
  const twoCortices = [...state.screws.values()].some(({ context }) => context.facts.cortices === 2);
  // Unknown is never no: by the second ladder a point that rests on what nobody said is open.
  const unsaid = secondOf(state.content) !== null;
  const { placedBy = 'unknown', placedMonthsAgo } = room.opened ?? {};
  const applies: Partial<Record<ConsentId, boolean>> = {
    'at-patients-request': false,
    'second-approach': twoCortices,
    'placed-elsewhere': placedBy === 'other-team' || (unsaid && placedBy === 'unknown'),
    'over-18-months': placedMonthsAgo === undefined ? unsaid : placedMonthsAgo > 18,
  };
  return state.content.ids.consent.filter((point) => (applies[point] ?? true) && consent[point] !== true);
}

/** By the second ladder a bone that broke is modelled no more. */
const isBroken = ({ content, case: { context } }: Folded): boolean =>
  secondOf(content) !== null && context.room.said.broke;

function assumptions(state: Folded): string[] {
  const { content } = state;
  const { room } = state.case.context;
  const working = [...state.screws.values()].map(({ context }) => context).filter(({ stage }) => isWorking(stage));
  const broken = isBroken(state);
  const whole = broken ? null : boneAt(content, room, '');
  const reamer = working.some(
    ({ facts }) => facts.diameter === null || expectedReamer(room.tools, facts.diameter, content.limits).assumed,
  );
  return [
    ...(whole?.source === 'assumed' ? ['bone'] : []),
    ...Object.entries(broken ? {} : room.boneAt).flatMap(([screw, bone]) =>
      bone.source === 'assumed' ? [`bone:${screw}`] : [],
    ),
    ...(reamer ? ['reamer'] : []),
    ...[...state.screws.values()].flatMap(({ context }) =>
      context.facts.length === null ? [`length:${context.id}`] : [],
    ),
  ];
}

/**
 * Is the room ready for this plan?
 *
 * Each move counts with its own aim alone; moves that turn in the recess do not count once it is stripped; a proud
 * head, shank or tip counts only when it was entered.
 *
 * @returns dead ends by screw and stage with the fewest tools that open them, and the fewest that open all
 * @example readiness(fold([], content)).deadEnds // []
 */
export function readiness(state: Folded): Readiness {
  const { room } = state.case.context;
  const { tools } = state.content.ids;
  const { dead, looked } = plights(state);
  const doNotStart: Readiness['doNotStart'] = [];
  const drill = { anyOf: ['hard-metal-drill' as const] };
  const screws = [...state.screws.values()].map(({ context }) => context);
  if (noHardMetalDrillFits(screws, ({ facts }) => room.tools.some((tool) => serves(tool, drill, facts))))
    doNotStart.push({ reason: 'no-hard-metal-drill', missing: ['hard-metal-drill'] });
  const stuck = screws.filter(
    ({ id }) => dead.some((d) => d.screw.id === id) && dead.filter((d) => d.screw.id === id).length === looked.get(id),
  );
  if (stuck.length) {
    const either = stuck.map(({ id }) => dead.filter((d) => d.screw.id === id).flatMap(({ ways }) => ways));
    doNotStart.push({ reason: 'no-way-past', missing: smallestCover(either, tools) });
  }
  return {
    doNotStart,
    deadEnds: dead.map(({ screw, stage, ways }) => ({
      screw: screw.id,
      stage,
      opensWith: smallestCover([ways], tools),
    })),
    bring: smallestCover(
      dead.map(({ ways }) => ways),
      tools,
    ),
    consentOpen: consentOpen(state),
    assumed: assumptions(state),
    ...(isBroken(state) && { bone: 'broken' as const }),
  };
}
