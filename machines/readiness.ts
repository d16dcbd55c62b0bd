/**
 * Readiness as reachability: as the metal sits, and from every failure that can still come, is there a chain of moves to
 * `out` with the tools in the room? Answered by the statechart and the offer themselves, never by a second copy of their
 * rules; and not by what nobody knows, which is neither a way nor a dead end.
 */
import { isLastIn } from './standing.ts';
import { isPlateOn, type Room, type RoomTool } from './case.context.ts';
import { workingStages, type ConsentId, type Stage, type ToolId, type WorkingStage } from '../content/ids.ts';
import type { Content, Move } from '../content/types.ts';
import { boneAt } from './compute/bone-cost.ts';
import { expectedReamer } from './compute/fit.ts';
import { through } from './compute/through.ts';
import { consentOpen } from './consent.ts';
import { smallestCover } from './cover.ts';
import type { Folded } from './folded.ts';
import { noHardMetalDrillFits } from './guards.ts';
import { fit } from './ladder/fit.ts';
import { hangsOnHead, liesUnderPlate } from './ladder/moves.ts';
import { depth, isWorking, listed, metalOf, type ScrewContext } from './screw.context.ts';
import { secondOf } from './second-ladder.ts';
import { firstMoves, joined, open, waysOut, type Ground, type Unknown, type Way } from './ways.ts';

export interface DeadEnd {
  screw: string;
  stage: WorkingStage;
  /** The smallest set of tools that opens the stage. */
  opensWith: ToolId[];
}

/** A stage of which nobody can say whether there is a way on. */
export interface CannotSay {
  screw: string;
  stage: WorkingStage;
  /** What would have to be known, of what the ways from there use. */
  unknown: Unknown[];
}

/** A screw that waits for the plate, and the screws that hold it with no way out of their own. */
export interface HeldBy {
  screw: string;
  by: string[];
}

export interface Readiness {
  doNotStart: { reason: 'no-hard-metal-drill' | 'no-way-past'; missing: ToolId[] }[];
  deadEnds: DeadEnd[];
  cannotSay: CannotSay[];
  heldBy: HeldBy[];
  /** The smallest set of tools that leaves no dead end. */
  bring: ToolId[];
  consentOpen: ConsentId[];
  assumed: string[];
  /** By the second ladder, where the bone broke today: nothing of it is modelled, so nothing of it is assumed. */
  bone?: 'broken';
}

/** The screw as it would stand at a stage, with the facts entered so far and nothing tried there yet. */
function supposedAt(content: Content, screw: ScrewContext, stage: WorkingStage): ScrewContext {
  const { shankProud, reamed, bores } = screw;
  // By the first ladder all that a plate that is off says of a screw is that its shank stands proud.
  const fresh = listed({ facts: { ...screw.facts, stage }, plateOff: shankProud });
  const found = { ...screw.found, headProud: screw.found.headProud ?? false };
  const second = secondOf(content);
  const there = second ? second.listed(fresh, shankProud) : fresh;
  return second ? { ...second.supposed(there, screw), reamed, bores } : { ...fresh, found, reamed, bores };
}

/** A way without anything to bring and anything unknown; else one that lacks knowledge alone. */
const isOpen = ({ bring, unknown }: Way) => bring.length + unknown.length === 0;
const isUnsure = ({ bring }: Way) => bring.length === 0;

export type Answer = 'yes' | 'may' | 'no';
const answerOf = (ways: readonly Way[]): Answer => {
  if (ways.some(isOpen)) return 'yes';
  return ways.some(isUnsure) ? 'may' : 'no';
};

/** What of a screw the ways out of a stage depend on; its length only where it was reamed, to tell how far. */
function kindOf(screw: ScrewContext): string {
  const { facts, found, shankProud, reamed, climb } = screw;
  const shank = climb && { reaming: climb.reaming, windowed: climb.windowed, shank: climb.shank, off: climb.plateOff };
  return JSON.stringify([metalOf(facts), found, shankProud, reamed, shank, climb?.reaming ? facts.length : null]);
}

const hasHeadOn = (stage: Stage | undefined) => stage !== 'head-sheared' && stage !== 'fragment-retained';

/** Does a screw that nobody gets out hold the plate? One under it with its head on, in or left in. */
const holdsPlate = (screw: ScrewContext, room: Room): boolean =>
  hangsOnHead(screw, room) ||
  (screw.stage === 'left-in' &&
    screw.breaks.length === 0 &&
    hasHeadOn(screw.facts.stage) &&
    hangsOnHead({ ...screw, stage: 'seated' }, room));

/** A way of one screw as it is told of another: what is not known of that screw is whether the plate comes off. */
const ofAnother = ({ bring, unknown }: Way): Way => ({
  bring,
  unknown: [...new Set(unknown.map((one): Unknown => (one.startsWith('tool:') ? one : 'plate')))],
});

interface Plight {
  screw: ScrewContext;
  stage: WorkingStage;
  ways: Way[];
}

type Asked = Omit<Ground, 'content' | 'room'>;

/** The ways out of a stage of a screw. Screws of one kind are looked at once. */
function lookingOnce({ content, case: { context } }: Folded) {
  const known = new Map<string, Way[]>();
  return (screw: ScrewContext, stage: WorkingStage, more: Asked): Way[] => {
    const key = JSON.stringify([stage, kindOf(screw), more]);
    let found = known.get(key);
    if (!found) {
      found = waysOut({ content, room: context.room, ...more }, supposedAt(content, screw, stage));
      known.set(key, found);
    }
    return found;
  };
}

interface Holding {
  screw: ScrewContext;
  by: string[];
  off: Way[];
}

/** For each screw that is in, the ways to have the plate off before it, and those that hold it with no way out. */
function* holdings(state: Folded, ways: ReturnType<typeof lookingOnce>): Generator<void, Holding[]> {
  const { room } = state.case.context;
  const screws = [...state.screws.values()].map(({ context }) => context);
  /** How a screw lets the plate go: it comes out with its head on, or its head comes off. */
  const letsGo = (screw: ScrewContext): readonly Way[] =>
    screw.stage === 'left-in'
      ? []
      : ways(screw, 'recess-stripped', { plateOff: [], lastIn: isLastIn(state, screw.id), headOff: true });
  const holding: { screw: ScrewContext; lets: readonly Way[] }[] = [];
  if (isPlateOn(room))
    for (const screw of screws.filter((one) => holdsPlate(one, room))) {
      holding.push({ screw, lets: letsGo(screw) });
      yield;
    }
  return screws
    .filter(({ stage }) => isWorking(stage))
    .map((screw) => {
      const others = liesUnderPlate(screw, room) ? holding.filter((one) => one.screw !== screw) : [];
      const by = others.filter(({ lets }) => answerOf(lets) === 'no').map((one) => one.screw.id);
      return { screw, by, off: others.reduce((all, { lets }) => joined(all, lets.map(ofAnother)), [...open]) };
    });
}

/**
 * The screws that wait for a plate which other screws hold with no way out of their own.
 *
 * @example heldBy(fold([], content)) // []
 */
export const heldBy = (state: Folded): HeldBy[] =>
  through(holdings(state, lookingOnce(state)))
    .filter(({ by }) => by.length > 0)
    .map(({ screw, by }) => ({ screw: screw.id, by }));

/** Every stage that a screw stands in or can still come to, with the ways out of it; pauses after each. */
function* looking(state: Folded): Generator<void, { plights: Plight[]; held: HeldBy[] }> {
  const ways = lookingOnce(state);
  const all = yield* holdings(state, ways);
  const plights: Plight[] = [];
  for (const { screw, off } of all)
    for (const stage of workingStages) {
      if (depth(stage) < depth(screw.stage)) continue;
      plights.push({ screw, stage, ways: ways(screw, stage, { plateOff: off, lastIn: isLastIn(state, screw.id) }) });
      yield;
    }
  const held = all.filter(({ by }) => by.length > 0).map(({ screw, by }) => ({ screw: screw.id, by }));
  return { plights, held };
}

/** What can be said of a stage that a screw stands in or can still come to. */
export interface StageAnswer {
  screw: string;
  stage: WorkingStage;
  /** Is there a way on: yes; only if what nobody knows allows it; no. */
  way: Answer;
  /** What each way lacks; of a dead end that no tool opens, empty. */
  ways: readonly Way[];
}

/**
 * The answers that `readiness` is made of, stage by stage, pausing after each.
 *
 * @param more tools that are supposed to be in the room besides
 * @example through(answering(fold([], content))) // []
 */
export function* answering(state: Folded, more: readonly RoomTool[] = []): Generator<void, StageAnswer[]> {
  const { context } = state.case;
  const room = { ...context.room, tools: [...context.room.tools, ...more] };
  const supposed = { ...state, case: { ...state.case, context: { ...context, room } } } as Folded;
  const { plights } = yield* looking(supposed);
  return plights.map(({ screw, stage, ways }) => ({ screw: screw.id, stage, way: answerOf(ways), ways }));
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

/** The order in which unknowns are named: what is seen on the screw before what is read off a tool. */
const unknownsOf = (content: Content, ways: readonly Way[]): Unknown[] => {
  const order: readonly Unknown[] = [
    ...(['drive', 'drive-size', 'diameter'] as const),
    ...content.ids.tools.map((tool): Unknown => `tool:${tool}`),
    'plate',
  ];
  const named = new Set(ways.filter(isUnsure).flatMap(({ unknown }) => unknown));
  return order.filter((one) => named.has(one));
};

/** What another operation would need for a screw that stays, by the same rules. */
export interface Needed {
  /** Moves that a way out can begin with, in the order of the ladder. */
  moves: Move[];
  /** The smallest set of tools that opens one of the ways; empty where there is none. */
  opensWith: ToolId[];
}

/**
 * What would be needed for a screw that stays, from the stage in which it stays, by all that was entered of it: in a room
 * that has nothing yet, a plate taken to be off by then, nothing tried there.
 *
 * @returns no move where no way is known; it is no advice
 * @example neededFor(state, '3', 'head-sheared')?.opensWith // ['gouge', 'head-gripper']
 */
export function neededFor(state: Folded, id: string, stage: WorkingStage): Needed | null {
  const screw = state.screws.get(id)?.context;
  if (!screw) return null;
  const { content } = state;
  const ground: Ground = {
    content,
    room: { ...state.case.context.room, tools: [] },
    plateOff: open,
    lastIn: true,
  };
  const first = firstMoves(ground, supposedAt(content, screw, stage));
  const ways = first.flatMap((one) => one.ways).map(({ bring }) => bring);
  return {
    moves: first.map(({ move }) => move),
    opensWith: ways.length ? smallestCover([ways], content.ids.tools) : [],
  };
}

/** A plate, a nail or a locking screw: what is known to be hard to get past. */
const isHeldFast = (state: Folded, { facts }: ScrewContext): boolean =>
  state.case.context.room.opened?.construct !== 'screws' || facts.locking;

const ofScrew = (plights: readonly Plight[], id: string) =>
  plights.filter(({ screw, stage }) => screw.id === id && stage !== 'seated');

/**
 * Is the room ready for this plan?
 *
 * Each move counts with its own aim alone; moves that turn in the recess count only while the screw is seated; a proud
 * head, shank or tip counts only when it was entered. A tool or recess whose size nobody told opens nothing and closes
 * nothing. The plate counts as off for a screw when every other one has a way out, or its head drilled off.
 *
 * @returns dead ends by screw and stage with the fewest tools that open them, and the fewest that open all; what cannot
 *   be said, and what to look at; whom the plate waits for
 * @example readiness(fold([], content)).deadEnds // []
 */
export function readiness(state: Folded): Readiness {
  const { content } = state;
  const { room } = state.case.context;
  const { tools } = content.ids;
  const { plights, held } = through(looking(state));
  const dead = plights.filter(({ ways }) => answerOf(ways) === 'no');
  const bringOf = ({ ways }: Plight) => ways.map(({ bring }) => bring);
  const doNotStart: Readiness['doNotStart'] = [];
  const drill = { anyOf: ['hard-metal-drill' as const] };
  const screws = [...state.screws.values()].map(({ context }) => context);
  const mayDrill = ({ facts }: ScrewContext) => room.tools.some((tool) => fit(content, tool, drill, facts) !== 'no');
  if (noHardMetalDrillFits(screws, mayDrill))
    doNotStart.push({ reason: 'no-hard-metal-drill', missing: ['hard-metal-drill'] });
  const stuck = screws.filter((screw) => {
    const ahead = ofScrew(plights, screw.id);
    return isHeldFast(state, screw) && ahead.length > 0 && ahead.every((one) => dead.includes(one));
  });
  if (stuck.length) {
    const either = stuck.map(({ id }) => ofScrew(dead, id).flatMap(bringOf));
    doNotStart.push({ reason: 'no-way-past', missing: smallestCover(either, tools) });
  }
  return {
    doNotStart,
    deadEnds: dead.map((one) => ({
      screw: one.screw.id,
      stage: one.stage,
      opensWith: smallestCover([bringOf(one)], tools),
    })),
    cannotSay: plights
      .filter(({ ways }) => answerOf(ways) === 'may')
      .map(({ screw, stage, ways }) => ({ screw: screw.id, stage, unknown: unknownsOf(content, ways) })),
    heldBy: held,
    bring: smallestCover(dead.map(bringOf), tools),
    consentOpen: consentOpen(state),
    assumed: assumptions(state),
    ...(isBroken(state) && { bone: 'broken' as const }),
  };
}

/** What can be said of a room in a word, the worst first. */
export type Verdict = 'dead-ends' | 'cannot-say' | 'way-on';

/**
 * The word for a room.
 *
 * @example verdictOf(readiness(fold([], content))) // 'way-on'
 */
export function verdictOf({ doNotStart, deadEnds, cannotSay }: Readiness): Verdict {
  if (doNotStart.length + deadEnds.length > 0) return 'dead-ends';
  return cannotSay.length > 0 ? 'cannot-say' : 'way-on';
}

/**
 * Does nothing speak against starting? Against it speak a hold on hard metal, a screw that nothing here turns even as it
 * sits, and a screw of a plate, a nail or one that locks of which no failure is known to have a way on.
 *
 * @example nothingAgainst(fold([], content), readiness(fold([], content))) // true
 */
export function nothingAgainst(state: Folded, ready: Readiness): boolean {
  if (ready.doNotStart.length > 0 || ready.deadEnds.some(({ stage }) => stage === 'seated')) return false;
  const open = (id: string, stage: WorkingStage) =>
    ![...ready.deadEnds, ...ready.cannotSay].some((one) => one.screw === id && one.stage === stage);
  return [...state.screws.values()].every(({ context: screw }) => {
    if (!isWorking(screw.stage) || !isHeldFast(state, screw)) return true;
    const ahead = workingStages.filter((stage) => stage !== 'seated' && depth(stage) >= depth(screw.stage));
    return ahead.some((stage) => open(screw.id, stage));
  });
}
