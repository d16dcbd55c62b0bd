/** The hill of a forecast: shares of operations by when they end. */

export interface Ends {
  /** Share that ends within each tick, from 0. */
  shares: Float64Array;
  /** Minutes of a tick, > 0. */
  tick: number;
}

/**
 * Shares gathered into bars of so many minutes.
 *
 * @param upTo minutes; what ends later is left out
 * @example endsIn({ shares: Float64Array.of(0, 0.5, 0.25, 0.25), tick: 1 }, 2, 4) // [0.5, 0.5]
 */
export function endsIn({ shares, tick }: Ends, bar: number, upTo: number): number[] {
  const bars = new Array<number>(Math.ceil(upTo / bar)).fill(0);
  shares.forEach((share, i) => {
    const at = Math.floor((i * tick) / bar);
    if (at < bars.length) bars[at] = (bars[at] as number) + share;
  });
  return bars;
}

/**
 * Whole hours of the axis, with room beyond the last mark.
 *
 * @param minutes the last mark, ≥ 0
 * @example axisHours(150) // 4
 */
export const axisHours = (minutes: number): number => Math.min(12, Math.max(2, Math.ceil((minutes * 1.25) / 60)));

/** Share of the width that a mark's words have. */
export const labelShare = 0.32;

/**
 * Where the words of marks stand: each over its own mark where it can, none beyond the edge, none on another.
 *
 * @param marks where the marks stand, shares of the width in rising order, at most three
 * @returns middles of their words, shares of the width, `labelShare` apart or more
 * @example labelPlaces([0.1, 0.2, 0.9]) // [0.16, 0.48, 0.84]
 */
export function labelPlaces(marks: readonly number[]): number[] {
  const half = labelShare / 2;
  const last = marks.length - 1;
  const found: number[] = [];
  for (const [i, mark] of marks.entries()) {
    const least = Math.max(half + i * labelShare, (found[i - 1] ?? -labelShare) + labelShare);
    const most = 1 - half - (last - i) * labelShare;
    found.push(Math.min(Math.max(mark, least), most));
  }
  return found;
}
