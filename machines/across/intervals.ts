/** How sure a share is that was counted: Wilson's interval, and the quartiles of what was timed. */

/** Standard normal quantile for 95 %, two-sided. */
const z = 1.959963984540054;

export interface Interval {
  low: number;
  high: number;
}

/**
 * Wilson score interval of a share, 95 %, without continuity correction: Wilson 1927, J Am Stat Assoc 22:209; method 3
 * in Newcombe 1998, Stat Med 17:857.
 *
 * @param count how often, 0 … of
 * @param of out of how many, > 0
 * @returns both ends, 0–1; null when nothing was counted
 * @example wilson(81, 263) // { low: 0.2553…, high: 0.3662… }, Newcombe 1998, table I
 */
export function wilson(count: number, of: number): Interval | null {
  if (of <= 0) return null;
  const p = count / of;
  const middle = p + (z * z) / (2 * of);
  const half = z * Math.sqrt((p * (1 - p)) / of + (z * z) / (4 * of * of));
  const whole = 1 + (z * z) / of;
  return { low: count === 0 ? 0 : (middle - half) / whole, high: count === of ? 1 : (middle + half) / whole };
}

/** Whole tenths of a minute → how often. Bounded by the longest move, not by the number of cases. */
export type Minutes = Map<number, number>;

export interface Spread {
  n: number;
  q1: number;
  median: number;
  q3: number;
}

/**
 * Quartiles by linear interpolation between order statistics: type 7 in Hyndman & Fan 1996, Am Stat 50:361.
 *
 * @returns minutes; null when nothing was timed
 * @example quartiles(new Map([[10, 1], [20, 1], [40, 1]])) // { n: 3, q1: 1.5, median: 2, q3: 3 }
 */
export function quartiles(minutes: Minutes): Spread | null {
  const sorted = [...minutes].sort(([a], [b]) => a - b);
  const n = sorted.reduce((sum, [, count]) => sum + count, 0);
  if (n === 0) return null;
  /** The order statistic number `k`, from 0. */
  const at = (k: number): number => {
    let passed = 0;
    for (const [tenths, count] of sorted) if ((passed += count) > k) return tenths;
    return NaN;
  };
  const quantile = (share: number) => {
    const place = (n - 1) * share;
    const [low, high] = [at(Math.floor(place)), at(Math.ceil(place))];
    return (low + (high - low) * (place - Math.floor(place))) / 10;
  };
  return { n, q1: quantile(0.25), median: quantile(0.5), q3: quantile(0.75) };
}
