/** The screw's statechart walked along its shortest paths, every move that is offered with every outcome. */
import type { SnapshotFrom } from 'xstate';
import { getShortestPaths } from 'xstate/graph';
import { outcomes, workingStages, type WorkingStage } from '../ids.ts';
import { projected } from '../../machines/compute/bone-cost.ts';
import type { Entry } from '../../machines/entry.ts';
import type { ScrewEvent } from '../../machines/events.ts';
import { belongs, closedBecause } from '../../machines/offer.ts';
import { isWorking } from '../../machines/screw.context.ts';
import { screwMachine, type ScrewMachine } from '../../machines/screw.machine.ts';
import { content, inTheRoom } from './build.ts';

export type Snapshot = SnapshotFrom<ScrewMachine>;
/** A case at the table with the screw at its stage, its head proud, every tool in the room. */
export const table = (stage: WorkingStage) =>
  inTheRoom({ locking: true, ...(stage !== 'seated' && { stage }) })
    .start()
    .finds('1', { headProud: true });

const time = '2026-03-04T10:00:00Z';
const common = { n: 1, at: time, logged: time, screw: '1' };
export const room = table('seated').folded.case.context.room;
export const situation = (snapshot: Snapshot) => ({
  screw: snapshot.context,
  reassess: snapshot.matches({ reassess: 'open' }),
  lastIn: true,
});

/** What an entry says of the screw. */
type Said = Extract<ScrewEvent, { entry: Entry }>;

/** Everything that can be said of the screw in this state; moves that are open alone. */
function events(snapshot: Snapshot): Said[] {
  const { context } = snapshot;
  if (!isWorking(context.stage)) return [];
  const hear = (entry: object) =>
    ({ type: (entry as Entry).type, entry: { ...common, ...entry }, corrected: 0 }) as Said;
  const left = hear({ type: 'left-in', length: null, where: 'canal', reason: 'deep' });
  if (context.running !== null)
    return [
      ...outcomes
        .filter((outcome) => outcome !== 'shank-broke')
        .map((outcome) => hear({ type: 'move-ended', outcome, bores: [] })),
      ...[true, false].map((reachable) => hear({ type: 'move-ended', outcome: 'shank-broke', reachable, bores: [] })),
      left,
    ];
  const stage = context.stage;
  const starts = content.moves
    .filter((move) => move.id !== 'leave-in' && belongs(move, context, content))
    .filter((move) => closedBecause(move, situation(snapshot), room, content) === null)
    .map((move) => {
      const bores = projected(content, move, stage, context.facts, room.tools).bores;
      return { ...hear({ type: 'move-started', move: move.id }), move, projected: bores } as Said;
    });
  return [
    ...starts,
    left,
    hear({ type: 'reassessed', checks: {} }),
    hear({ type: 'colleague-called', screw: undefined }),
    hear({ type: 'hold-answered', hold: 'reassess', answer: 'go-on' }),
  ];
}

/** What tells one state from another here: slips beyond two, counts and lengths do not. */
export function key({ value, context }: Snapshot): string {
  const { slips, usedUp, jammedSeat, turnOutReopened, reassessed, toolInRecess, reamed, shankProud, running } = context;
  const spent = usedUp.filter((move) => ['turn-out', 'reseat-driver', 'grip-shank'].includes(move)).sort();
  const marks = { jammedSeat, turnOutReopened, reassessed, toolInRecess, reamed, shankProud };
  return JSON.stringify({
    value,
    slips: Math.min(2, slips),
    spent,
    marks,
    running: running?.move,
  });
}

/** The shortest path to every state, by the stage the screw is met in. */
export const walks = new Map(
  workingStages.map((stage) => {
    const start = table(stage).folded.screws.get('1') as Snapshot;
    const paths = getShortestPaths(screwMachine(content), {
      fromState: start,
      events,
      filterEvents: (snapshot, event) => snapshot.can(event),
      serializeState: (snapshot) => key(snapshot),
      serializeEvent: (event) => JSON.stringify((event as Said).entry),
      limit: 200_000,
    });
    return [stage, paths] as const;
  }),
);

export type Walk = NonNullable<ReturnType<typeof walks.get>>[number];

/** What a walk adds to the log of `table`, numbered on from its last entry. */
export function entriesOf({ steps }: Walk, from: number): Entry[] {
  return steps
    .filter(({ event }) => (event.type as string) !== 'xstate.init')
    .map(({ event }, index) => {
      const { screw, ...entry } = (event as Said).entry as Entry & { screw?: string };
      return { ...entry, ...(screw !== undefined && { screw }), n: from + index + 1 } as Entry;
    });
}
