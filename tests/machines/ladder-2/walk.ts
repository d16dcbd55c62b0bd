/** The screw's statechart under the second ladder, walked along its shortest paths: every open move with every outcome. */
import type { SnapshotFrom } from 'xstate';
import { getShortestPaths } from 'xstate/graph';
import { workingStages, type WorkingStage } from '../../ids.ts';
import type { Entry } from '../../../machines/entry.ts';
import type { ScrewEvent } from '../../../machines/events.ts';
import { among } from '../../../machines/ladder/fit.ts';
import { closedBecause, movesFor } from '../../../machines/offer.ts';
import { isWorking } from '../../../machines/screw.context.ts';
import { screwMachine, type ScrewMachine } from '../../../machines/screw.machine.ts';
import { atTable, second } from './build.ts';

export type Snapshot = SnapshotFrom<ScrewMachine>;

const time = '2026-03-04T10:00:00Z';
const common = { n: 1, at: time, logged: time, screw: '1' };

/** A table in a plate, with one tool of each kind: what a screw is under, it is under. */
export const table = (stage: WorkingStage, plateOff: boolean) => {
  const log = atTable({ facts: { locking: true, ...(stage !== 'seated' && { stage }) } });
  return plateOff ? log.write({ type: 'plate-off' }) : log;
};

export const rooms = [true, false].map((off) => table('seated', off).folded.case.context.room);
const roomOf = (plateOff: boolean) => rooms[plateOff ? 0 : 1] as (typeof rooms)[number];

export const situation = (snapshot: Snapshot) => ({
  screw: snapshot.context,
  reassess: snapshot.matches({ reassess: 'open' }),
  lastIn: true,
});

export type Said = Extract<ScrewEvent, { entry: Entry }>;
const hear = (entry: object) =>
  ({ type: (entry as Entry).type, entry: { ...common, ...entry }, corrected: 0, format: 2 }) as Said;

/** Everything that can be said of the screw in this state; moves that are open alone. */
function events(snapshot: Snapshot, plateOff: boolean): Said[] {
  const { context } = snapshot;
  const room = roomOf(plateOff);
  if (!isWorking(context.stage)) return [];
  if (context.running !== null)
    return second.ids.outcomes.flatMap((outcome) => {
      const end = { type: 'move-ended', outcome, bores: [] };
      if (outcome === 'shank-broke') return [true, false].map((reachable) => hear({ ...end, reachable }));
      if (outcome === 'slipped') return [hear({ ...end, recess: 'sound' }), hear(end)];
      return [hear(end)];
    });
  const starts = movesFor(second, context)
    .filter((move) => move.id !== 'leave-in' && closedBecause(move, situation(snapshot), room, second) === null)
    .map((move) => {
      const tools = among(second, move, context.facts, room);
      return { ...hear({ type: 'move-started', move: move.id }), move, projected: [], among: tools } as Said;
    });
  return [...starts, hear({ type: 'reassessed', checks: {} }), hear({ type: 'found', headCovered: true })];
}

/** What tells one state from another here: which tools a move was tried with does not, but how often does. */
export function key({ value, context }: Snapshot): string {
  const { slips, jammedSeat, turnOutReopened, reassessed, toolInRecess, running, climb } = context;
  const tries = [...new Set(climb?.tries.map(({ move }) => move) ?? [])].filter((id) =>
    ['turn-out', 'reseat-driver', 'hollow-ream'].includes(id),
  );
  const { reaming, windowed, shank, turnedFree, movedThenStuck } = climb ?? {};
  const marks = [jammedSeat, turnOutReopened, reassessed, toolInRecess, reaming, windowed, shank];
  return JSON.stringify([value, Math.min(2, slips), running?.move, tries.sort(), marks, turnedFree, movedThenStuck]);
}

/** The shortest path to every state, by the stage that the screw is met in and whether the plate is off. */
export const walksFrom = (stage: WorkingStage, plateOff: boolean) =>
  getShortestPaths(screwMachine(second), {
    fromState: table(stage, plateOff).folded.screws.get('1') as Snapshot,
    events: (snapshot: Snapshot) => events(snapshot, plateOff),
    filterEvents: (snapshot, event) => snapshot.can(event),
    serializeState: (snapshot) => key(snapshot),
    serializeEvent: (event) => JSON.stringify((event as Said).entry),
    limit: 200_000,
  });

export type Walk = ReturnType<typeof walksFrom>[number];
export { roomOf, workingStages };
