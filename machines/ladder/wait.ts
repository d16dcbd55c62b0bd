/**
 * What would open for a screw if it waited: the same statecharts taken one tactic forward, and the same offer asked
 * there. Pure reachability: whether a tactic comes off nobody knows.
 */
import type { MoveId, ToolId } from '../../content/ids.ts';
import type { Content, Move } from '../../content/types.ts';
import { caseMachine } from '../case.machine.ts';
import { withTool as toolsWith, type Room, type RoomTool } from '../case.context.ts';
import { boneCost } from '../compute/bone-cost.ts';
import { candidates } from '../compute/fit.ts';
import type { CaseEvent } from '../events.ts';
import type { CaseSnapshot, Folded, ScrewSnapshot } from '../folded.ts';
import { closedBecause, movesFor } from '../offer.ts';
import { isWorking, type ScrewContext } from '../screw.context.ts';
import { screwMachine } from '../screw.machine.ts';
import type { Stood } from '../second-ladder.ts';
import { hasPartsUnderHeads } from '../standing.ts';
import { transition } from '../transition.ts';
import type { IfYouWait, Tactic } from '../view.types.ts';
import { fit } from './fit.ts';
import { hangsOnHead, liesUnderPlate, marks, shankTools } from './moves.ts';

/** The other screws and the case, as far as an offer for one screw depends on them. */
interface Scene {
  case: CaseSnapshot;
  /** As it would be: that of the case, or with one tool more. */
  room: Room;
  screw: ScrewSnapshot;
  others: readonly ScrewSnapshot[];
  /** Of the others, those that are out by then. */
  gone: ReadonlySet<ScrewSnapshot>;
  around: boolean;
}

const time = '2000-01-01T00:00:00Z';
const common = { n: 1, at: time, logged: time };
const isLastIn = ({ others, gone }: Scene) => others.every((other) => gone.has(other) || other.context.stage === 'out');

/** As it is, with the others out, with the plate off as well. */
const mostKept = 4;

/**
 * Keeps what depends on a screw, the room, whether it is the last one in and what lies under heads, and on nothing else:
 * a touch on one screw leaves the rest as it was.
 */
function keptFor<T>(make: (content: Content, scene: Scene) => T): (content: Content, scene: Scene) => T {
  const kept = new WeakMap<ScrewSnapshot, { key: readonly unknown[]; value: T }[]>();
  return (content, scene) => {
    const key = [content, scene.room, isLastIn(scene), scene.around];
    const all = kept.get(scene.screw) ?? [];
    const known = all.find((one) => one.key.every((part, i) => part === key[i]));
    if (known) return known.value;
    const value = make(content, scene);
    kept.set(scene.screw, [{ key, value }, ...all].slice(0, mostKept));
    return value;
  };
}

/** Moves of a screw that are open, with no look waited for: leaving it in is none. */
const openIn = keptFor((content, scene): Move[] => {
  const { screw, around } = scene;
  const lastIn = isLastIn(scene);
  const situation = { screw: screw.context, reassess: false, lastIn, around };
  return movesFor(content, screw.context).filter(
    (move) => move.aim !== 'left-in' && closedBecause(move, situation, scene.room, content) === null,
  );
});

/** What another screw could do now: it has an open move, and comes out by its first one. */
interface Exit {
  isSure: boolean;
}

const isSure = (content: Content, move: Move, screw: ScrewContext, room: Room): boolean => {
  const { unknown, sizeUnknown } = marks(move, screw, room, content);
  return unknown === undefined && sizeUnknown === undefined;
};

const exitOf = keptFor((content, scene): Exit | null => {
  const { screw } = scene;
  if (!isWorking(screw.context.stage)) return null;
  const [first] = openIn(content, scene);
  return first ? { isSure: isSure(content, first, screw.context, scene.room) } : null;
});

interface Step {
  tactic: Tactic;
  screws: string[];
  after: Scene | null;
  /** Nothing that the tactic itself rests on is unknown. */
  isSure: boolean;
}

function heardByCase(scene: Scene, event: CaseEvent): Scene | null {
  const next = transition(caseMachine, scene.case, event);
  return next && { ...scene, case: next, room: next.context.room };
}

/** The case and the screw once the plate is off; null where the case does not hear of it. */
const plateOff = keptFor((content, scene): Pick<Scene, 'case' | 'room' | 'screw'> | null => {
  const entry = { ...common, type: 'plate-off' as const };
  const off = { type: 'plate-off', entry, corrected: 0, format: 2 } as const;
  const after = heardByCase(scene, off);
  const screw = after && transition(screwMachine(content), after.screw, off);
  return screw && { case: after.case, room: after.room, screw };
});

function withPlateOff(content: Content, scene: Scene): Scene | null {
  const after = plateOff(content, scene);
  return after && { ...scene, ...after };
}

/** A tool of a kind as one would ask for it: of the size that fits, as far as that is known. */
function fitting(content: Content, tool: ToolId, { diameter, drive, driveSize }: ScrewContext['facts']): RoomTool {
  const isOwn = tool === `driver-${drive}`;
  const measures = content.tools.find(({ id }) => id === tool)?.measures ?? [];
  return {
    tool,
    ...(diameter !== null && measures.includes('fits') && { fits: [diameter] }),
    ...(isOwn && driveSize !== undefined && measures.includes('size') && { size: driveSize }),
  };
}

/** One tool more in the room, as the case would note it. Not told to its chart: there are many. */
function withTool(content: Content, scene: Scene, tool: ToolId): Scene {
  const { facts } = scene.screw.context;
  const brought = { ...common, type: 'tool-in-room' as const, present: true, ...fitting(content, tool, facts) };
  return { ...scene, room: { ...scene.room, tools: toolsWith(scene.room.tools, brought) } };
}

const levers: readonly ToolId[] = ['elevator', 'osteotome'];

/** Is anything in the room that the plate can be cut with? */
function canCut(content: Content, scene: Scene): boolean {
  const need = content.moves.find(({ id }) => id === 'free-plate')?.needs ?? [];
  return need.every((group) =>
    scene.room.tools.some((tool) => fit(content, tool, group, scene.screw.context.facts) !== 'no'),
  );
}

/** The tactics that can be taken from here, in the order in which they are thought of. */
function* stepsFrom(content: Content, now: Scene, exits: ReadonlyMap<string, Exit>): Generator<Step> {
  const { screw, others } = now;
  const room = now.room;
  const leave = (going: readonly ScrewSnapshot[]): Scene => ({ ...now, gone: new Set(going) });
  const ids = (of: readonly ScrewSnapshot[]) => of.map(({ context }) => context.id);
  const sure = (of: readonly ScrewSnapshot[]) => of.every(({ context }) => exits.get(context.id)?.isSure === true);
  const going = others.filter(({ context }) => exits.has(context.id));
  if (going.length) yield { tactic: 'others-out', screws: ids(going), after: leave(going), isSure: sure(going) };
  const under = (one: ScrewSnapshot) => hangsOnHead(one.context, room);
  const plateOn = [screw, ...others].some(({ context }) => liesUnderPlate(context, room));
  if (plateOn && !under(screw)) {
    const holders = others.filter(under);
    if (holders.every((one) => going.includes(one)))
      yield {
        ...{ tactic: 'plate-off', screws: ids(holders), isSure: sure(holders) },
        after: withPlateOff(content, leave(holders)),
      };
    // What hangs on a screw that has no way out itself comes off by force alone.
    const lever = room.tools.some(({ tool }) => levers.includes(tool));
    const off = { screws: ids(holders), after: withPlateOff(content, now), isSure: true };
    if (lever) yield { tactic: 'lever-plate', ...off };
    if (canCut(content, now)) yield { tactic: 'cut-plate', ...off };
  }
}

/** The tool that opens the move that stands first in the ladder; ties by the list. */
const bestTool = keptFor((content, now): Step | null => {
  const before = openIn(content, now);
  let best: { step: Step; place: number } | null = null;
  const places = movesFor(content, now.screw.context);
  const { facts } = now.screw.context;
  const named = new Set(places.flatMap(({ needs }) => needs.flatMap((group) => candidates(group, facts))));
  // Another tool changes nothing here; these decide whether a head is worth drilling off.
  const asked = content.ids.tools.filter((tool) => named.has(tool) || shankTools.includes(tool));
  for (const tool of asked) {
    const after = withTool(content, now, tool);
    const first = openIn(content, after).find((move) => !before.includes(move));
    const place = first ? places.findIndex((move) => move === first) : -1;
    if (place < 0 || (best && best.place <= place)) continue;
    best = { place, step: { tactic: `tool:${tool}`, screws: [], after, isSure: true } };
  }
  return best?.step ?? null;
});

const known = new WeakMap<
  object,
  { case: unknown; rows: Map<string, IfYouWait[]>; exits: ReadonlyMap<string, Exit> }
>();

function sceneOf(state: Folded, id: string): Scene {
  const others = [...state.screws].filter(([other]) => other !== id).map(([, screw]) => screw);
  const screw = state.screws.get(id) as ScrewSnapshot;
  return {
    ...{ case: state.case, room: state.case.context.room, screw, others },
    ...{ gone: new Set<ScrewSnapshot>(), around: hasPartsUnderHeads(state) },
  };
}

function exitsIn(state: Folded): ReadonlyMap<string, Exit> {
  const exits = new Map<string, Exit>();
  for (const id of state.screws.keys()) {
    const exit = exitOf(state.content, sceneOf(state, id));
    if (exit) exits.set(id, exit);
  }
  return exits;
}

function worked(state: Folded, id: string, exits: ReadonlyMap<string, Exit>): IfYouWait[] {
  const { content } = state;
  const now = sceneOf(state, id);
  if (!isWorking(now.screw.context.stage)) return [];
  const before = openIn(content, now);
  const row = ({ tactic, screws, after, isSure: sure }: Step): IfYouWait | null => {
    if (!after) return null;
    const opened = openIn(content, after).find((move) => !before.includes(move));
    if (!opened) return null;
    const room = after.room;
    return {
      tactic,
      ...(screws.length && { screws }),
      opens: opened.id as MoveId,
      cortexLost: boneCost(content, room, after.screw.context, opened).figures.cortexLost,
      sure: sure && isSure(content, opened, after.screw.context, room),
    };
  };
  for (const step of stepsFrom(content, now, exits)) {
    const found = row(step);
    if (found) return [found];
  }
  const tool = bestTool(content, now);
  const found = tool && row(tool);
  return found ? [found] : [];
}

/**
 * The first tactic that opens a move which is not offered now; none for a screw that has ended.
 *
 * @returns at most one row; `screws` come out first, or hold the plate that is levered or cut
 */
export function ifYouWait(stood: Stood, id: string): IfYouWait[] {
  const state = stood as Folded;
  let kept = known.get(state.screws);
  if (kept?.case !== state.case)
    known.set(state.screws, (kept = { case: state.case, rows: new Map(), exits: exitsIn(state) }));
  let rows = kept.rows.get(id);
  if (!rows) kept.rows.set(id, (rows = worked(state, id, kept.exits)));
  return rows;
}
