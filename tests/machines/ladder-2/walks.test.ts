/** Every walk of the screw's statechart keeps what is promised of it, under the second ladder. */
import { describe, expect, it } from 'vitest';
import { offer } from '../../../machines/offer.ts';
import { depth, isWorking } from '../../../machines/screw.context.ts';
import { second } from './build.ts';
import { roomOf, situation, walksFrom, workingStages } from './walk.ts';

const cases = workingStages.flatMap((stage) => [[stage, true] as const, [stage, false] as const]);

describe.each(cases)('every shortest path from a screw that is %s, the plate off: %s', (stage, plateOff) => {
  const paths = walksFrom(stage, plateOff);

  it('is one of many', () => expect(paths.length).toBeGreaterThan(plateOff || depth(stage) < 2 ? 40 : 1));

  it('has no dead end without a reason: a way to stop, and a reason for each closed move of the stage', () => {
    let stuck = 0;
    for (const { state } of paths) {
      const { offered, withdrawn } = offer(second, roomOf(plateOff), situation(state));
      if (!isWorking(state.context.stage)) {
        expect([offered, withdrawn]).toEqual([[], []]);
        continue;
      }
      expect(offered.at(-1)?.move).toBe('leave-in');
      expect(offered.length + withdrawn.length).toBeGreaterThan(1);
      for (const { why } of withdrawn) expect(second.ids.closed).toContain(why);
      if (offered.length === 1) stuck++;
      if (state.matches({ reassess: 'open' })) expect(offered).toHaveLength(1);
    }
    expect(stuck).toBeGreaterThan(0);
  });

  it('stands in the order of its stage, with what was made ready first', () => {
    for (const { state } of paths) {
      const { offered } = offer(second, roomOf(plateOff), situation(state));
      const at = state.context.stage;
      if (!isWorking(at)) continue;
      const ready = offered.filter(({ move }) =>
        at === 'fragment-retained' && state.context.climb?.windowed
          ? move === 'grip-shank' || (move === 'extraction-sleeve' && state.context.reamed)
          : move === 'extraction-sleeve' && state.context.reamed,
      );
      expect(offered.slice(0, ready.length)).toEqual(ready);
      const places = offered.slice(ready.length).map(({ move }) => {
        const row = second.moves.find(({ id }) => id === move);
        return row?.order[at] ?? second.moves.findIndex(({ id }) => id === move);
      });
      expect(places).toEqual([...places].sort((a, b) => a - b));
    }
  });

  it('never goes up a stage, nor opens a plain driver move again after two slips', () => {
    for (const { steps, state } of paths) {
      const stages = [...steps.map((one) => one.state), state].map(({ context }) => depth(context.stage));
      expect(stages).toEqual([...stages].sort((a, b) => a - b));
      const { offered } = offer(second, roomOf(plateOff), situation(state));
      if (state.context.slips >= 2) {
        expect(state.context.stage).not.toBe('seated');
        expect(offered.map(({ move }) => move)).not.toContain('reseat-driver');
      }
    }
  });
});
