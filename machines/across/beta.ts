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

/**
 * Jeffreys interval of a share, 95 %: Beta(count + ½, rest + ½), with 0 for no event and 1 for all of them. Brown, Cai
 * & DasGupta 2001, Stat Sci 16:101.
 *
 * @param count how often, 0 … of
 * @param of out of how many
 * @returns both ends, 0–1; null when nothing was counted
 * @example jeffreys(0, 10) // { low: 0, high: 0.2172 } after rounding
 */
export function jeffreys(count: number, of: number): Interval | null {
  if (of <= 0) return null;
  const { low, high } = betaInterval(count + 0.5, of - count + 0.5);
  return { low: count === 0 ? 0 : low, high: count === of ? 1 : high };
}
