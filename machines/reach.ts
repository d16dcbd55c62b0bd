/** How likely a screw is to stand in a stage at some time, whatever comes of it there: read off the chain of a forecast. */
import { workingStages, type WorkingStage } from '../content/ids.ts';
import { weighted, type Ladder } from './chain.ts';
import { sharesFor } from './difficulty.ts';

/** More rounds than any chain needs: what moves less than this moves no figure. */
const rounds = 500;
const still = 1e-9;

/**
 * The chance of each stage, for the patients of a case together, pausing after some of them. The stage that a screw
 * stands in is certain; one that it has behind it is not come to.
 *
 * @param weights how likely each patient is, adding up to 1
 * @returns 0–1 for each stage
 * @example through(comingTo(ladder, 'seated', weights)).seated // 1
 */
export function* comingTo(
  { states }: Ladder,
  from: WorkingStage,
  weights: readonly number[],
): Generator<void, Record<WorkingStage, number>> {
  const sums = workingStages.map(() => 0);
  for (const [patient, weight] of weights.entries()) {
    const steps = states.map((state) => weighted(state, sharesFor(state.row, patient)));
    const chances = states.map(() => new Float64Array(workingStages.length));
    let moved = 1;
    for (let round = 0; round < rounds && moved > still; round++) {
      moved = 0;
      for (let i = steps.length - 1; i >= 0; i--)
        for (const [s, stage] of workingStages.entries()) {
          const now = (steps[i] ?? []).reduce((sum, step) => {
            const there =
              step.stage === stage ? 1 : step.to < 0 ? 0 : ((chances[step.to] as Float64Array)[s] as number);
            return sum + step.share * there;
          }, 0);
          const row = chances[i] as Float64Array;
          moved = Math.max(moved, Math.abs(now - (row[s] as number)));
          row[s] = now;
        }
    }
    const first = chances[0];
    for (const [s, stage] of workingStages.entries())
      sums[s] = (sums[s] as number) + weight * (stage === from ? 1 : (first?.[s] ?? 0));
    if (patient % 8 === 7) yield;
  }
  return Object.fromEntries(workingStages.map((stage, s) => [stage, sums[s] as number])) as Record<
    WorkingStage,
    number
  >;
}
