/** Figures of a forecast with their bands: of one screw's ends, and of what lies just ahead of it. */
import type { MoveId } from '../content/ids.ts';
import { tickMinutes, type Climb } from './chain.ts';
import { stretch } from './compute/absorb.ts';
import { blended, none, spreadOf, summed, type Spread, type Times } from './outlook-times.ts';
import type { Chances, Solved } from './solved.ts';

/** A chance, 0–1: its mean, and the band that eight of ten draws of rates and patients lie in. */
export interface Estimate {
  mean: number;
  p10: number;
  p90: number;
}

/** Ends of a screw. One that cannot be reckoned is null, and said in `ignores`. */
export interface Ends {
  out: Estimate;
  leftByChoice: Estimate;
  stoppedAtBone: Estimate | null;
  stoppedAtTime: Estimate | null;
}

/** One look ahead for one screw. */
export interface Ahead {
  out: Estimate;
  /** Null where the bone was never measured. */
  pastBone: Estimate | null;
  /** Minutes of this screw's own moves. */
  minutes: Spread;
}

/** A screw's next move, its next half hour, and all that is still to come of it. */
export interface Looks {
  move: MoveId | null;
  next: Ahead;
  soon: Ahead;
  end: Ahead;
}

/** The nearer of the two looks ahead, minutes. */
export const soonMinutes = 30;

/** Mean by weights that add up to 1. */
export const mean = (values: readonly number[], weights: readonly number[]) =>
  values.reduce((sum, value, i) => sum + value * (weights[i] as number), 0);

/** The band of a chance: the middle of its draws, widened where the mean lies outside. */
export function estimate(middle: number, drawn: readonly number[]): Estimate {
  const sorted = [...drawn].sort((a, b) => a - b);
  const at = (share: number) => {
    const place = share * (sorted.length - 1);
    const below = Math.floor(place);
    const [low, high] = [sorted[below] as number, sorted[Math.min(below + 1, sorted.length - 1)] as number];
    return low + (high - low) * (place - below);
  };
  return { mean: middle, p10: Math.min(middle, at(0.1)), p90: Math.max(middle, at(0.9)) };
}

/** One draw of rates and patient: the chances of the ends, and at the next move. */
export interface Draw {
  chances: Chances;
  next: Chances;
}

/** What the figures of one screw are read from. */
export interface Seen {
  solved: Solved;
  weights: readonly number[];
  byGroup: readonly number[];
  draws: readonly Draw[];
  paces: Times['paces'];
  boneKnown: boolean;
}

/** The ends of one screw, as far as they can be reckoned. */
export function endsOf(
  { solved, weights, draws, boneKnown }: Seen,
  onTime: readonly number[],
  limit: number | null,
): Ends {
  const share = (chances: Chances, end: number) => (chances[end] as number) * (onTime[end] as number);
  const stopped = (chances: Chances) => Math.max(0, 1 - chances.reduce((sum, _, end) => sum + share(chances, end), 0));
  const of = (read: (chances: Chances) => number): Estimate =>
    estimate(
      mean(solved.chances.map(read), weights),
      draws.map(({ chances }) => read(chances)),
    );
  return {
    out: of((chances) => share(chances, 0)),
    leftByChoice: of((chances) => share(chances, 1)),
    stoppedAtBone: boneKnown ? of((chances) => share(chances, 2)) : null,
    stoppedAtTime: limit === null ? null : of(stopped),
  };
}

/** The looks ahead for one screw. */
export function lookAhead({ solved, weights, byGroup, draws, paces, boneKnown }: Seen): Looks {
  const first = solved.ladder.states[0] as Climb;
  const times = [0, 1, 2].map((end) =>
    stretch(
      blended(
        solved.timed.map(({ byEnd }) => byEnd[end] as Float64Array),
        byGroup,
      ),
      paces,
    ),
  );
  const until = (time: Float64Array) =>
    time.reduce((sum, share, t) => (t * tickMinutes <= soonMinutes ? sum + share : sum), 0);
  const of = (end: number, read: 'chances' | 'next') =>
    estimate(
      mean(
        solved[read].map((chances) => chances[end] as number),
        weights,
      ),
      draws.map((draw) => draw[read][end] as number),
    );
  /** What has come within the half hour: of the whole, and of its band, the same share. */
  const within = (end: number): Estimate => {
    const whole = of(end, 'chances');
    const part = whole.mean > 0 ? Math.min(1, until(times[end] as Float64Array) / whole.mean) : 0;
    return { mean: whole.mean * part, p10: whole.p10 * part, p90: whole.p90 * part };
  };
  const ticks = none();
  first.ticks.forEach((share, i) => (ticks[i + 1] = share));
  const minutes = spreadOf(summed(times));
  const upTo = (of: number) => Math.min(of, soonMinutes);
  const look = (read: (end: number) => Estimate, minutes: Spread): Ahead => ({
    ...{ out: read(0), pastBone: boneKnown ? read(2) : null, minutes },
  });
  return {
    move: first.row.minutes.high > 0 ? first.row.move : null,
    next: look((end) => of(end, 'next'), spreadOf(stretch(ticks, paces))),
    soon: look(within, { p10: upTo(minutes.p10), p50: upTo(minutes.p50), p90: upTo(minutes.p90) }),
    end: look((end) => of(end, 'chances'), minutes),
  };
}
