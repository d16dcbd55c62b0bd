/** Every walk of the screw's statechart keeps what is promised of it. */
import { describe, expect, it } from 'vitest';
import { toolIds, workingStages } from '../ids.ts';
import { fold, step } from '../../machines/fold.ts';
import { offer } from '../../machines/offer.ts';
import { isWorking } from '../../machines/screw.context.ts';
import { view } from '../../machines/view.ts';
import { content } from './build.ts';
import { entriesOf, key, room, situation, table, walks, type Snapshot } from './walk.ts';

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
    const depth = (stage: string) => [...workingStages, 'left-in', 'out'].indexOf(stage);
    for (const { steps, state } of paths) {
      const seen = [...steps.map((one) => one.state), state].map(({ context }) => depth(context.stage));
      expect(seen).toEqual([...seen].sort((a, b) => a - b));
    }
  });

  it('comes to the same live, step by step and replayed', () => {
    const base = table(from);
    const before = base.folded;
    // A share of them, evenly: a whole log is folded for each.
    for (const walk of paths.filter((_, i) => i % Math.ceil(paths.length / 150) === 0)) {
      const entries = [...base.entries];
      let live = before;
      for (const next of entriesOf(walk, base.n)) {
        live = step(live, next, entries);
        entries.push(next);
      }
      const replayed = fold(entries, content);
      expect(view(live)).toEqual(view(replayed));
      expect(replayed.outOfOrder).toEqual([]);
      expect(replayed.unoffered).toEqual([]);
      const screw = replayed.screws.get('1') as Snapshot;
      expect(key(screw)).toBe(key(walk.state));
    }
  });
});

it('walks use every tool that there is', () => expect(room.tools).toHaveLength(toolIds.length));
