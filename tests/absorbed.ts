/** A chain solved at once, with its sums, for the tests. */
import { absorbing, type Absorption, type Chain } from '../machines/compute/absorb.ts';
import { through } from '../machines/compute/through.ts';

export interface Absorbed extends Absorption {
  /** Expected number of steps. */
  steps: number;
  /** Share of absorption at each tick, whatever the end. */
  time: Float64Array;
}

export function absorb(chain: Chain, horizon: number): Absorbed {
  const found = through(absorbing(chain, horizon));
  const time = new Float64Array(horizon + 1);
  for (const one of found.byEnd) one.forEach((share, t) => (time[t] = (time[t] as number) + share));
  return { ...found, steps: found.visits.reduce((sum, visit) => sum + visit, 0), time };
}
