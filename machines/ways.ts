/**
 * The ways from a stage to `out`: what each lacks, and what of it nobody knows. Moves and their order are those of the
 * statechart and the offer; whether a tool goes with a screw is asked in three words, since a size that nobody told is
 * neither a yes nor a no.
 */
import type { ToolId, WorkingStage } from '../content/ids.ts';
import type { Content, Move, ToolGroup } from '../content/types.ts';
import { isPlateOn, type Room, type RoomTool } from './case.context.ts';
import { candidates } from './compute/fit.ts';
import { fit } from './ladder/fit.ts';
import { liesUnderPlate, shankTools } from './ladder/moves.ts';
import { belongs, closedBecause, type Situation } from './offer.ts';
import { played } from './play.ts';
import type { ScrewContext, ScrewFacts } from './screw.context.ts';
import { screwMachine } from './screw.machine.ts';
import { secondOf } from './second-ladder.ts';
import { initialState } from './transition.ts';

/**
 * What a way rests on and nobody knows: the recess or its size, the diameter of the screw, the size of a tool, or whether
 * the plate can come off first.
 */
export type Unknown = 'drive' | 'drive-size' | 'diameter' | 'plate' | `tool:${ToolId}`;

/** One way out. */
export interface Way {
  /** Tools that are not in the room. */
  bring: readonly ToolId[];
  unknown: readonly Unknown[];
}

/** A way as the room stands. */
export const open: readonly Way[] = [{ bring: [], unknown: [] }];

/** Where a way is looked for. */
export interface Ground {
  content: Content;
  room: Room;
  /** The ways to have the plate off by then: none where it cannot come off, `open` where nothing stands against it. */
  plateOff: readonly Way[];
  lastIn: boolean;
  /** A head that is drilled off is enough: the screw no longer holds the plate. */
  headOff?: boolean;
}

/** How a need of a move can be met: by what is there, if this is so, or by what would have to be brought. */
type Met = readonly Way[];

const formOf = (tool: ToolId) => tool.slice('driver-'.length);

/** Recess forms and sizes that are usual for a diameter, of one form or of all. */
const usual = (content: Content, { diameter, drive }: ScrewFacts): readonly { drive: string; size?: number }[] =>
  content.screws
    .filter((row) => diameter !== null && Math.abs(row.diameter - diameter) < 1e-9)
    .flatMap(({ drives }) => drives)
    .filter((one) => drive === 'unknown' || one.drive === drive);

/**
 * Is there a driver for each recess that is usual for the diameter? Then whichever it turns out to be can be turned, though
 * nobody has seen it.
 */
function hasEveryUsual(content: Content, tools: readonly RoomTool[], facts: ScrewFacts): boolean {
  const rows = usual(content, facts);
  const has = (row: { drive: string; size?: number }) =>
    tools.some(({ tool, size }) => formOf(tool) === row.drive && (row.size === undefined || size === row.size));
  return rows.length > 0 && rows.every(has);
}

const isMatched = (group: ToolGroup) => 'driver' in group && group.driver === 'matched';

/** What is not known of a tool that may go with a screw. */
function unknownOf(tool: RoomTool, group: ToolGroup, facts: ScrewFacts): Unknown[] {
  if (isMatched(group) && tool.tool.startsWith('driver-')) {
    if (facts.drive === 'unknown') return ['drive'];
    return [
      ...(facts.driveSize === undefined ? (['drive-size'] as const) : []),
      ...(tool.size === undefined ? [`tool:${tool.tool}` as const] : []),
    ];
  }
  // By its inner diameter a sleeve goes over a screw; what its thread grips it does not say.
  const isSized = tool.fits !== undefined || (tool.tool === 'hollow-reamer' && tool.inner !== undefined);
  return [
    ...(facts.diameter === null ? (['diameter'] as const) : []),
    ...(isSized ? [] : [`tool:${tool.tool}` as const]),
  ];
}

function met({ content, room }: Ground, group: ToolGroup, facts: ScrewFacts): Met {
  const goes = room.tools.map((tool) => ({ tool, how: fit(content, tool, group, facts) }));
  if (goes.some(({ how }) => how === 'fits')) return open;
  const isUnseen = facts.drive === 'unknown' || facts.driveSize === undefined;
  if (isMatched(group) && isUnseen && hasEveryUsual(content, room.tools, facts)) return open;
  const may = goes.filter(({ how }) => how === 'may');
  if (may.length === 0) return candidates(group, facts).map((tool) => ({ bring: [tool], unknown: [] }));
  return least(may.map(({ tool }) => ({ bring: [], unknown: unknownOf(tool, group, facts) })));
}

const isSubset = <T>(a: readonly T[], b: readonly T[]) => a.every((one) => b.includes(one));

/** Ways of which no other one lacks less. */
function least(ways: readonly Way[]): Way[] {
  const size = ({ bring, unknown }: Way) => bring.length + unknown.length;
  const kept: Way[] = [];
  for (const way of [...ways].sort((a, b) => size(a) - size(b)))
    if (!kept.some(({ bring, unknown }) => isSubset(bring, way.bring) && isSubset(unknown, way.unknown)))
      kept.push(way);
  return kept;
}

/** Every way to go one of the first and then one of the second. */
export const joined = (firsts: readonly Way[], seconds: readonly Way[]): Way[] =>
  least(
    firsts.flatMap((a) =>
      seconds.map((b) => ({
        bring: [...new Set([...a.bring, ...b.bring])],
        unknown: [...new Set([...a.unknown, ...b.unknown])],
      })),
    ),
  );

/** What the tools of a move ask for on a screw. */
function toolWays(ground: Ground, groups: readonly ToolGroup[], facts: ScrewFacts): readonly Way[] {
  return groups.reduce<readonly Way[]>((ways, group) => joined(ways, met(ground, group, facts)), open);
}

/** A room that lacks nothing: what closes a move in it is no tool. */
const wellStocked = (content: Content, room: Room): Room => ({
  ...room,
  tools: content.ids.tools.map((tool) => ({ tool })),
});

/** What else a move asks for: a head is drilled off where it holds something, or where the shank can then be held. */
function needsOf(ground: Ground, move: Move, screw: ScrewContext, room: Room): readonly ToolGroup[] {
  const isHeadOff = move.id === 'drill-head-off' && secondOf(ground.content) !== null && !ground.headOff;
  const holdsSomething = liesUnderPlate(screw, room) || screw.facts.washer === true;
  return isHeadOff && !holdsSomething ? [...move.needs, { anyOf: [...shankTools] }] : move.needs;
}

/** What opens a move, whether its tools are there or not; null where something else than a tool closes it. */
function openings(ground: Ground, move: Move, screw: ScrewContext): readonly Way[] | null {
  const { content, room, plateOff, lastIn } = ground;
  const situation: Situation = { screw, reassess: false, lastIn };
  const inRoom = (one: Room): readonly Way[] | null => {
    const why = closedBecause(move, situation, wellStocked(content, one), content)?.why;
    // What a release leaves without a tool can be missing all the same: it is asked for below.
    if (why !== undefined && why !== 'tool-missing') return null;
    return toolWays(ground, needsOf(ground, move, screw, one), screw.facts);
  };
  const now = inRoom(room);
  if (!isPlateOn(room) || plateOff.length === 0) return now;
  const later = inRoom({ ...room, plateOff: true });
  return later ? least([...(now ?? []), ...joined(later, plateOff)]) : now;
}

/** The screw after one move that did what it is made for; as it was where the statechart takes that for impossible. */
function afterAim(content: Content, screw: ScrewContext, move: Move): ScrewContext {
  const second = secondOf(content);
  if (second && move.prepares) return second.prepared(screw, move);
  const machine = screwMachine(content);
  const facts = { ...screw.facts, stage: screw.stage as WorkingStage };
  const start = initialState(machine, { facts, plateOff: screw.shankProud });
  const end = played(machine, start, move, { outcome: move.aim === 'out' ? 'out' : 'set-up-done' });
  return { ...screw, stage: (end ?? start).context.stage };
}

/** A move that can be made where a screw stands, and the ways to `out` that begin with it. */
export interface FirstMove {
  move: Move;
  ways: Way[];
}

/**
 * The moves that a way from where a screw stands to `out` can begin with, each with its ways.
 *
 * @param seen where the way has been already
 * @returns in the order of the ladder; none that leads nowhere
 */
export function firstMoves(ground: Ground, screw: ScrewContext, seen: readonly string[] = []): FirstMove[] {
  const { content } = ground;
  const here = JSON.stringify([screw.stage, screw.reamed, screw.climb?.windowed]);
  if (seen.includes(here)) return [];
  return content.moves.flatMap((move): FirstMove[] => {
    if (!belongs(move, screw, content) || move.aim === 'left-in') return [];
    if (screw.stage === 'seated' ? move.id !== 'turn-out' : move.turnsInRecess) return [];
    const opening = openings(ground, move, screw);
    if (!opening) return [];
    const ways = joined(opening, waysOut(ground, afterAim(content, screw, move), [...seen, here]));
    return ways.length ? [{ move, ways }] : [];
  });
}

/**
 * Every way from where a screw stands to `out`, none of which asks for less than another. Moves that turn in the recess
 * count for a seated screw alone, and there only the plain one; what only stops the work (come back later, something
 * else, let it stay) counts nowhere.
 *
 * @returns empty where there is none; `{ bring: [], unknown: [] }` alone where a way is open as the room stands
 */
export function waysOut(ground: Ground, screw: ScrewContext, seen: readonly string[] = []): Way[] {
  if (screw.stage === 'out' || (ground.headOff && screw.stage === 'head-sheared')) return [...open];
  return least(firstMoves(ground, screw, seen).flatMap(({ ways }) => ways));
}
