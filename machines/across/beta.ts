/** Intervals from the Beta distribution, 95 %, equal tails. A file of its own: the library is not small. */
import jstat from 'jstat';
import type { Interval } from './intervals.ts';

/**
 * The middle 95 % of a Beta distribution.
 *
 * @param alpha weight of what happened, ≥ 0
 * @param beta weight of what did not, ≥ 0
 * @returns both ends, 0–1; a weight of 0 pins that side: 0 or 1
 * @example betaInterval(7.5, 2.5) // { low: 0.4562, high: 0.9507 } after rounding
 */
export function betaInterval(alpha: number, beta: number): Interval {
  if (alpha <= 0) return { low: 0, high: 0 };
  if (beta <= 0) return { low: 1, high: 1 };
  return { low: jstat.beta.inv(0.025, alpha, beta), high: jstat.beta.inv(0.975, alpha, beta) };
}
