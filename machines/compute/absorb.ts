/** An absorbing Markov chain whose steps take time: the chances of its ends, the steps, and the time to an end. */
import { Matrix, solve } from 'ml-matrix';

/** From one state: where each step leads, with its share. A negative `to` is the end −1 − to. */
export interface Step {
  to: number;
  share: number;
}

export interface Chain {
  states: {
    steps: readonly Step[];
    /** Share of each duration, by number of ticks from 1. */ ticks: readonly number[];
  }[];
  ends: number;
}

export interface Absorption {
  /** Chance of each end, from state 0. */
  ends: number[];
  /** Expected number of steps. */
  steps: number;
  /** Share of absorption at each tick, up to the horizon. */
  time: Float64Array;
}

/**
 * Solves a chain from its state 0: chances and steps by (I − Q)⁻¹, time by its recurrence over the ticks.
 *
 * @param horizon ticks; mass beyond it is left out of `time`
 * @throws when some state never leads to an end
 * @example absorb({ ends: 1, states: [{ steps: [{ to: -1, share: 0.5 }, { to: 0, share: 0.5 }], ticks: [1] }] }, 9).steps // 2
 */
export function absorb(chain: Chain, horizon: number): Absorption {
  const n = chain.states.length;
  if (n === 0) return { ends: new Array<number>(chain.ends).fill(0), steps: 0, time: new Float64Array(horizon + 1) };
  const a = Matrix.eye(n, n);
  const b = Matrix.zeros(n, chain.ends + 1);
  chain.states.forEach(({ steps }, from) => {
    b.set(from, chain.ends, 1);
    for (const { to, share } of steps) {
      if (to < 0) b.set(from, -1 - to, b.get(from, -1 - to) + share);
      else a.set(from, to, a.get(from, to) - share);
    }
  });
  const row = solve(a, b).getRow(0);
  return { ends: row.slice(0, chain.ends), steps: row[chain.ends] as number, time: timeToEnd(chain, horizon) };
}

/** f(state, t) = Σ over durations d, Σ over steps: share · [ended at t] or f(next, t − d). Every step takes a tick at least. */
function timeToEnd(chain: Chain, horizon: number): Float64Array {
  const f = chain.states.map(() => new Float64Array(horizon + 1));
  for (let t = 1; t <= horizon; t++)
    chain.states.forEach(({ steps, ticks }, state) => {
      let sum = 0;
      for (let d = 1; d <= Math.min(t, ticks.length); d++) {
        const weight = ticks[d - 1] as number;
        if (weight === 0) continue;
        for (const { to, share } of steps)
          sum += weight * share * (to < 0 ? (d === t ? 1 : 0) : (f[to]?.[t - d] as number));
      }
      (f[state] as Float64Array)[t] = sum;
    });
  return f[0] as Float64Array;
}

/** Distribution of the sum of two independent times. */
export function convolve(a: Float64Array, b: Float64Array): Float64Array {
  const sum = new Float64Array(Math.min(a.length, b.length));
  a.forEach((share, i) => {
    if (share > 0)
      for (let j = 0; i + j < sum.length; j++) sum[i + j] = (sum[i + j] as number) + share * (b[j] as number);
  });
  return sum;
}

/**
 * The first tick by which a share of all is reached; the last one when the mass ends before.
 *
 * @example quantile(Float64Array.of(0, 0.5, 0.5), 0.6) // 2
 */
export function quantile(time: Float64Array, share: number): number {
  let sum = 0;
  for (let t = 0; t < time.length; t++) {
    sum += time[t] as number;
    if (sum >= share - 1e-12) return t;
  }
  return time.length - 1;
}

/**
 * Shares of a triangular distribution over ticks, each tick taking what lies within half a tick of it.
 *
 * @param low shortest, @param mid usual, @param high longest, all in ticks, low ≤ mid ≤ high
 * @returns by number of ticks from 1; what would be shorter counts as one tick
 */
export function triangle(low: number, mid: number, high: number): number[] {
  const below = (x: number): number => {
    if (x <= low) return 0;
    if (x >= high) return 1;
    return x <= mid
      ? (x - low) ** 2 / ((high - low) * (mid - low) || 1)
      : 1 - (high - x) ** 2 / ((high - low) * (high - mid) || 1);
  };
  const last = Math.max(1, Math.ceil(high + 0.5));
  return Array.from({ length: last }, (_, i) => below(i + 1.5) - (i === 0 ? 0 : below(i + 0.5)));
}
