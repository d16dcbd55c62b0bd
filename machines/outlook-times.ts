/** Minutes of a whole case: its screws one after the other, with the way in and out, at the pace of the team. */
import type { Content } from '../content/types.ts';
import { tickMinutes } from './chain.ts';
import { convolve, quantile, slices, stretch, triangle } from './compute/absorb.ts';
import { groups, horizon, type Solved } from './solved.ts';

/** Minutes by which so many of a hundred have ended. */
export interface Spread {
  p10: number;
  p50: number;
  p90: number;
}

export const spreadOf = (time: Float64Array): Spread => {
  const at = (share: number) => quantile(time, share) * tickMinutes;
  return { p10: at(0.1), p50: at(0.5), p90: at(0.9) };
};

/** A screw that is in, and what comes of screws like it. */
export interface Counted {
  id: string;
  solved: Solved;
}

export interface Times {
  paces: ReturnType<typeof slices>;
  /** The whole operation, with what was worked so far. */
  whole: Float64Array;
  /**
   * For each screw and each end: the share of it that comes before the agreed time is over. In which order screws of one
   * kind come nobody knows, so they have the same.
   */
  onTime: number[][];
  /** The same of all screws out. */
  allOnTime: number;
}

export const none = (): Float64Array<ArrayBuffer> => new Float64Array(horizon + 1);

/** What is reckoned with of time: minutes worked so far, and the agreed ones that are left; null where there are none. */
export interface Clock {
  worked: number | null;
  left: number | null;
}

/** All ends of a screw together. */
export function summed(parts: readonly Float64Array[]): Float64Array<ArrayBuffer> {
  const sum = none();
  for (const part of parts) part.forEach((share, t) => (sum[t] = (sum[t] as number) + share));
  return sum;
}

/** Several times as one, each with its weight. */
export function blended(times: readonly Float64Array[], weights: readonly number[]): Float64Array<ArrayBuffer> {
  const sum = none();
  times.forEach((time, i) =>
    time.forEach((share, t) => (sum[t] = (sum[t] as number) + share * (weights[i] as number))),
  );
  return sum;
}

/** Share of these that comes by an agreed time, after what comes before. */
function onTimeOf(shares: Float64Array, before: Float64Array, limit: number, paces: Times['paces']): number {
  let on = 0;
  for (const { factor, share } of paces) {
    const last = Math.min(horizon, Math.floor(limit / tickMinutes / factor));
    for (let t = 0; t <= last; t++) on += share * (shares[t] as number) * (before[last - t] as number);
  }
  return on;
}

/** Share that has come by each tick. */
function cumulative(time: Float64Array): Float64Array {
  let sum = 0;
  return time.map((share) => (sum += share));
}

/**
 * The times of a case, pausing on the way.
 *
 * @param weights of the groups of patients, adding up to 1
 */
export function* timesOf(
  content: Content,
  counted: readonly Counted[],
  weights: readonly number[],
  { worked, left }: Clock,
): Generator<void, Times> {
  const { low, mid, high } = content.rates.pace;
  const paces = slices(low, mid, high, 60);
  const before = worked === null ? setUp(content, 0.5) : atOnce();
  const around = setUp(content, worked === null ? 1 : 0.5);
  const whole = none();
  const sums = counted.map(() => [0, 0, 0]);
  const reached = counted.map(() => [0, 0, 0]);
  for (let group = 0; group < groups; group++) {
    const weight = weights[group] as number;
    let so: Float64Array = atOnce();
    for (const [place, { solved }] of counted.entries()) {
      const byEnd = solved.timed[group]?.byEnd ?? [];
      if (left !== null) {
        const sofar = cumulative(convolve(so, before));
        for (const [end, shares] of byEnd.entries()) {
          const [sum, on] = [sums[place] as number[], reached[place] as number[]];
          sum[end] = (sum[end] as number) + weight * shares.reduce((all, share) => all + share, 0);
          on[end] = (on[end] as number) + weight * onTimeOf(shares, sofar, left, paces);
        }
        yield;
      }
      so = convolve(so, summed(byEnd));
      yield;
    }
    stretch(convolve(so, around), paces).forEach((share, t) => (whole[t] = (whole[t] as number) + share * weight));
    yield;
  }
  const byPlace = sums.map((sum, place) =>
    sum.map((all, end) =>
      left === null || all === 0 ? 1 : Math.min(1, ((reached[place] as number[])[end] as number) / all),
    ),
  );
  const onTime = counted.map(({ solved }) => {
    const alike = byPlace.filter((_, place) => counted[place]?.solved === solved);
    return [0, 1, 2].map((end) => alike.reduce((sum, one) => sum + (one[end] as number), 0) / alike.length);
  });
  // The last one out is out when all are.
  const allOnTime = Math.min(1, ...byPlace.map(([out]) => out as number));
  return { paces, whole: later(whole, Math.round((worked ?? 0) / tickMinutes)), onTime, allOnTime };
}

/** No time at all. */
function atOnce(): Float64Array<ArrayBuffer> {
  const time = none();
  time[0] = 1;
  return time;
}

/** To the metal and out again, or half of it: what comes before the first screw, or is still to come in a running case. */
function setUp(content: Content, part: number): Float64Array<ArrayBuffer> {
  const { low, mid, high } = content.rates.setup;
  const time = none();
  triangle((low / tickMinutes) * part, (mid / tickMinutes) * part, (high / tickMinutes) * part).forEach((share, i) => {
    time[i + 1] = share;
  });
  return time;
}

/** The same time so many ticks later; what would come after the horizon is added to its end. */
function later(time: Float64Array, ticks: number): Float64Array<ArrayBuffer> {
  const moved = none();
  time.forEach((share, tick) => {
    const at = Math.min(tick + ticks, horizon);
    moved[at] = (moved[at] as number) + share;
  });
  return moved;
}
