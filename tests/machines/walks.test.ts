/** The screw's statechart walked along its shortest paths, every move that is offered with every outcome. */
import { describe, expect, it } from 'vitest';
import type { SnapshotFrom } from 'xstate';
import { getShortestPaths } from 'xstate/graph';
import { outcomes, toolIds, workingStages, type WorkingStage } from '../../content/ids.ts';
import { projected } from '../../machines/compute/bone-cost.ts';
import type { Entry } from '../../machines/entry.ts';
import type { ScrewEvent } from '../../machines/events.ts';
import { fold, step } from '../../machines/fold.ts';
import { belongs, closedBecause, offer } from '../../machines/offer.ts';
import { isWorking } from '../../machines/screw.context.ts';
import { screwMachine, type ScrewMachine } from '../../machines/screw.machine.ts';
import { view } from '../../machines/view.ts';
import { content, inTheRoom } from './build.ts';

type Snapshot = SnapshotFrom<ScrewMachine>;
const table = (stage: WorkingStage) =>
  inTheRoom({ locking: true, ...(stage !== 'seated' && { stage }) })
    .start()
    .finds('1', { headProud: true });

const time = '2026-03-04T10:00:00Z';
const common = { n: 1, at: time, logged: time, screw: '1' };
const room = table('seated').folded.case.context.room;
const situation = (snapshot: Snapshot) => ({
  screw: snapshot.context,
  reassess: snapshot.matches({ reassess: 'open' }),
  lastIn: true,
});

/** Everything that can be said of the screw in this state; moves that are open alone. */
function events(snapshot: Snapshot): ScrewEvent[] {
  const { context } = snapshot;
  if (!isWorking(context.stage)) return [];
  const hear = (entry: object) =>
    ({ type: (entry as Entry).type, entry: { ...common, ...entry }, steady: 0 }) as ScrewEvent;
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
    .filter((move) => move.id !== 'leave-in' && belongs(move, context))
    .filter((move) => closedBecause(move, situation(snapshot), room) === null)
    .map((move) => {
      const bores = projected(content, move, stage, context.facts, room.tools).bores;
      return { ...hear({ type: 'move-started', move: move.id }), move, projected: bores } as ScrewEvent;
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
function key({ value, context }: Snapshot): string {
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

const walks = new Map(
  workingStages.map((stage) => {
    const start = table(stage).folded.screws.get('1') as Snapshot;
    const paths = getShortestPaths(screwMachine(content), {
      fromState: start,
      events,
      filterEvents: (snapshot, event) => snapshot.can(event),
      serializeState: (snapshot) => key(snapshot),
      serializeEvent: (event) => JSON.stringify(event.entry),
      limit: 200_000,
    });
    return [stage, paths] as const;
  }),
);

describe.each(workingStages)('every shortest path from a screw that is %s', (from) => {
  const paths = walks.get(from) ?? [];

  it('is one of many, and every lower stage and both ends are reached', () => {
    const reached = new Set(paths.map(({ state }) => state.context.stage));
    const below = workingStages.slice(workingStages.indexOf(from));
    expect(reached).toEqual(new Set([...below, 'out', 'left-in']));
    expect(paths.length).toBeGreaterThan(from === 'fragment-retained' ? 50 : 300);
  });

  it('offers a way to stop, and closes no move without a reason', () => {
    for (const { state } of paths) {
      const { stage } = state.context;
      const { offered, withdrawn } = offer(content, room, situation(state));
      if (!isWorking(stage)) {
        expect([offered, withdrawn]).toEqual([[], []]);
        continue;
      }
      expect(offered.map(({ move }) => move)).toContain('leave-in');
      expect(offered.length + withdrawn.length).toBeGreaterThan(1);
      expect(withdrawn.every(({ why }) => why.length > 0)).toBe(true);
      if (state.matches({ reassess: 'open' })) expect(offered).toHaveLength(1);
    }
  });

  it('never goes up a stage, and after an end nothing more is heard', () => {
    const depth = (stage: string) => [...workingStages, 'left-in', 'out'].indexOf(stage as WorkingStage);
    for (const { steps, state } of paths) {
      const seen = [...steps.map((one) => one.state), state].map(({ context }) => depth(context.stage));
      expect(seen).toEqual([...seen].sort((a, b) => a - b));
    }
  });

  it('comes to the same live, step by step and replayed', () => {
    const base = table(from);
    const before = base.folded;
    // A share of them, evenly: a whole log is folded for each.
    for (const { steps, state } of paths.filter((_, i) => i % Math.ceil(paths.length / 150) === 0)) {
      const entries = [...base.entries];
      let live = before;
      for (const { event } of steps) {
        if ((event.type as string) === 'xstate.init') continue;
        const { screw, ...entry } = event.entry as Entry & { screw?: string };
        const next = { ...entry, ...(screw !== undefined && { screw }), n: entries.length + 1 } as Entry;
        live = step(live, next, entries);
        entries.push(next);
      }
      const replayed = fold(entries, content);
      expect(view(live)).toEqual(view(replayed));
      expect(replayed.outOfOrder).toEqual([]);
      expect(replayed.unoffered).toEqual([]);
      const screw = replayed.screws.get('1') as Snapshot;
      expect(key(screw)).toBe(key(state));
    }
  });
});

it('walks use every tool that there is', () => expect(room.tools).toHaveLength(toolIds.length));
