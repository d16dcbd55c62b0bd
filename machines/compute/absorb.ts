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
    /** Share of each duration, by number of ticks from 1. */
    ticks: readonly number[];
  }[];
  ends: number;
}

export interface Absorption {
  /** Chance of each end, from state 0. */
  ends: number[];
  /** Expected number of times in each state. */
  visits: number[];
  /** Share that comes to each end at each tick, up to the horizon. */
  byEnd: Float64Array[];
}

/**
 * Solves a chain from its state 0, pausing every few ticks so that whoever runs it can let others go first: chances and
 * visits by (I − Q)⁻¹, times by walking forward over the ticks.
 *
 * @param horizon ticks; what comes later, and the last 10⁻⁶, is left out of `byEnd`
 * @throws when some state never leads to an end
 * @example through(absorbing({ ends: 1, states: [{ steps: [{ to: -1, share: 1 }], ticks: [1] }] }, 9)).visits // [1]
 */
export function* absorbing(chain: Chain, horizon: number): Generator<void, Absorption> {
  const n = chain.states.length;
  if (n === 0)
    return {
      ...{ ends: new Array<number>(chain.ends).fill(0), visits: [] },
      byEnd: Array.from({ length: chain.ends }, () => new Float64Array(horizon + 1)),
    };
  // Visits v of a start in state 0: v = e₀ + Qᵀ v.
  const a = Matrix.eye(n, n);
  chain.states.forEach(({ steps }, from) => {
    for (const { to, share } of steps) if (to >= 0) a.set(to, from, a.get(to, from) - share);
  });
  const e = Matrix.zeros(n, 1);
  e.set(0, 0, 1);
  const visits = solve(a, e).getColumn(0);
  const ends = new Array<number>(chain.ends).fill(0);
  chain.states.forEach(({ steps }, from) => {
    for (const { to, share } of steps)
      if (to < 0) ends[-1 - to] = (ends[-1 - to] as number) + share * (visits[from] as number);
  });
  yield;
  return { ends, visits, byEnd: yield* timesToEnds(chain, horizon) };
}

/** Share of the paths, the longest ones, whose time is not worked out; so little that arrives at once is let go, too. */
const negligible = 1e-6;
const speck = 1e-9;

/**
 * The chance of each end at each tick, walked forward: what arrives in a state leaves it after each of its durations.
 * Every step takes a tick at least, so what leaves at a tick arrived before it.
 */
function* timesToEnds(chain: Chain, horizon: number): Generator<void, Float64Array[]> {
  const byEnd = Array.from({ length: chain.ends }, () => new Float64Array(horizon + 1));
  const leaving = chain.states.map(() => new Float64Array(horizon + 1));
  let ended = 0;
  const arrive = (state: number, t: number, mass: number) => {
    const { ticks } = chain.states[state] as Chain['states'][number];
    const leave = leaving[state] as Float64Array;
    const last = Math.min(ticks.length, horizon - t);
    for (let d = 1; d <= last; d++) leave[t + d] = (leave[t + d] as number) + mass * (ticks[d - 1] as number);
  };
  arrive(0, 0, 1);
  const come = new Float64Array(chain.states.length);
  for (let t = 1; t <= horizon; t++) {
    come.fill(0);
    for (let state = 0; state < chain.states.length; state++) {
      const mass = (leaving[state] as Float64Array)[t] as number;
      if (mass < speck) continue;
      for (const { to, share } of (chain.states[state] as Chain['states'][number]).steps) {
        if (to >= 0) come[to] = (come[to] as number) + mass * share;
        else {
          const end = byEnd[-1 - to] as Float64Array;
          end[t] = (end[t] as number) + mass * share;
          ended += mass * share;
        }
      }
    }
    for (let state = 0; state < come.length; state++)
      if ((come[state] as number) > 0) arrive(state, t, come[state] as number);
    if (ended > 1 - negligible) break;
    if (t % 16 === 0) yield;
  }
  return byEnd;
}

/**
 * A time that goes faster or slower as a whole, by one of several factors.
 *
 * @param paces each factor > 0 with its share, the shares adding up to 1
 * @returns mass beyond the last tick is added to the last tick
 * @example stretch(Float64Array.of(0, 1, 0), [{ factor: 2, share: 1 }]) // [0, 0, 1]
 */
export function stretch(time: Float64Array, paces: readonly { factor: number; share: number }[]): Float64Array {
  const result = new Float64Array(time.length);
  const last = time.length - 1;
  const put = (tick: number, mass: number) => {
    const at = Math.min(tick, last);
    result[at] = (result[at] as number) + mass;
  };
  time.forEach((mass, tick) => {
    if (mass === 0) return;
    for (const { factor, share } of paces) {
      const at = tick * factor;
      const below = Math.floor(at);
      put(below, mass * share * (below + 1 - at));
      put(below + 1, mass * share * (at - below));
    }
  });
  return result;
}

/**
 * A triangular distribution in so many slices of equal share, each at its middle.
 *
 * @param low smallest, @param mid most frequent, @param high largest, low ≤ mid ≤ high, low < high
 * @example slices(0, 1, 2, 2) // two factors, 0.707 and 1.293, each with half the share
 */
export function slices(low: number, mid: number, high: number, count: number): { factor: number; share: number }[] {
  const turn = (mid - low) / (high - low);
  const at = (q: number) =>
    q < turn
      ? low + Math.sqrt(q * (high - low) * (mid - low))
      : high - Math.sqrt((1 - q) * (high - low) * (high - mid));
  return Array.from({ length: count }, (_, i) => ({ factor: at((i + 0.5) / count), share: 1 / count }));
}

/** Distribution of the sum of two independent times. */
export function convolve(a: Float64Array, b: Float64Array): Float64Array {
  const sum = new Float64Array(Math.min(a.length, b.length));
  const last = b.findLastIndex((share) => share > 0);
  a.forEach((share, i) => {
    if (share > 0)
      for (let j = 0; j <= last && i + j < sum.length; j++)
        sum[i + j] = (sum[i + j] as number) + share * (b[j] as number);
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
      ? (x - low) ** 2 / ((high - low) * (mid - low))
      : 1 - (high - x) ** 2 / ((high - low) * (high - mid));
  };
  const last = Math.max(1, Math.ceil(high + 0.5));
  return Array.from({ length: last }, (_, i) => below(i + 1.5) - (i === 0 ? 0 : below(i + 0.5)));
}
