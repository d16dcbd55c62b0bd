/** A ladder with its rates put in: the chances of its ends for each patient, how long each takes, and by drawn rates. */
import { absorbing, type Chain } from './compute/absorb.ts';
import type { Random } from './compute/draws.ts';
import { ends, tickMinutes, weighted, type Ladder } from './chain.ts';
import { drawnFor, patients, sharesFor } from './difficulty.ts';
import { drawnShares, type Row } from './prior.ts';

/** Twelve hours, in ticks. */
export const horizon = (12 * 60) / tickMinutes;

/** Chances of the ends but the last, which is left out. */
export type Chances = readonly number[];

/** What comes of a screw for some patients together. */
export interface Timed {
  /** Of each state, how often it is come to. */
  visits: number[];
  /** Share that comes to each end at each tick. */
  byEnd: Float64Array[];
}

export interface Solved {
  ladder: Ladder;
  /** For each patient from easy to hard. */
  chances: Chances[];
  /** Moves to be expected, for each patient. */
  moves: number[];
  /** The chances at the next move alone. */
  next: Chances[];
  /** For each group of patients from easy to hard. */
  timed: Timed[];
}

/**
 * Groups of patients that times are reckoned for, by where each ends: the harder the metal comes, the more one differs
 * from the next.
 */
export const groupEnds = [30, 42, 48, 51, 53, 55, 57, 58, 59, 60, 61, 62, 63, patients] as const;
export const groups = groupEnds.length;
const groupStart = (group: number) => (group === 0 ? 0 : (groupEnds[group - 1] as number));

/** Weights of the groups by those of the patients. */
export const grouped = (weights: readonly number[]): number[] =>
  groupEnds.map((end, group) => weights.slice(groupStart(group), end).reduce((sum, weight) => sum + weight, 0));

type Values = (row: Row) => readonly number[];

/** What those that were followed stand for, as the others were not: the last of the ends is what is not told. */
function standFor(all: readonly number[]): number {
  const untold = all.at(-1) as number;
  return untold < 1 ? 1 / (1 - untold) : 0;
}

/** Without the paths that were not followed: the others stand for them. */
const told = (all: readonly number[]): Chances => all.slice(0, -1).map((chance) => chance * standFor(all));

const stepsBy = ({ states }: Ladder, values: Values) => states.map((state) => weighted(state, values(state.row)));

/**
 * Chances of the ends and the moves to them, by walking back over the states until nothing moves any more. Most lead only
 * to states that come later, so few rounds do.
 */
function chancesBy(ladder: Ladder, values: Values): { chances: Chances; moves: number } {
  const steps = stepsBy(ladder, values);
  // The last place holds the moves.
  const chance = steps.map(() => new Float64Array(ends.length + 1));
  const now = new Float64Array(ends.length + 1);
  for (let round = 0; round < 500; round++) {
    let moved = 0;
    for (let state = steps.length - 1; state >= 0; state--) {
      now.fill(0);
      now[ends.length] = 1;
      for (const { to, share } of steps[state] as { to: number; share: number }[]) {
        if (to < 0) now[-1 - to] = (now[-1 - to] as number) + share;
        else {
          const there = chance[to] as Float64Array;
          for (let end = 0; end < now.length; end++) now[end] = (now[end] as number) + share * (there[end] as number);
        }
      }
      const before = chance[state] as Float64Array;
      for (let end = 0; end < now.length; end++) {
        moved = Math.max(moved, Math.abs((now[end] as number) - (before[end] as number)));
        before[end] = now[end] as number;
      }
    }
    if (moved < 1e-8) break;
  }
  const first = [...(chance[0] as Float64Array)];
  return { chances: told(first.slice(0, -1)), moves: first.at(-1) as number };
}

/** Chances of the ends at the very next move. */
function nextBy({ states }: Ladder, values: Values): Chances {
  const [first] = states;
  const chances = new Array<number>(ends.length).fill(0);
  if (!first) return chances.slice(0, -1);
  for (const { to, share } of weighted(first, values(first.row)))
    if (to < 0) chances[-1 - to] = (chances[-1 - to] as number) + share;
  return chances.slice(0, -1);
}

/** Shares of a row for several patients as one. */
function meanShares(row: Row, from: number, to: number): readonly number[] {
  const sum = row.shares.map(() => 0);
  for (let patient = from; patient < to; patient++)
    sharesFor(row, patient).forEach((share, i) => (sum[i] = (sum[i] as number) + share / (to - from)));
  return sum;
}

/** Keeps what was worked out for a row. */
function once(make: Values): Values {
  const known = new Map<Row, readonly number[]>();
  return (row) => {
    let values = known.get(row);
    if (!values) known.set(row, (values = make(row)));
    return values;
  };
}

function* timing(ladder: Ladder, values: Values): Generator<void, Timed> {
  const steps = stepsBy(ladder, values);
  const chain: Chain = {
    ends: ends.length,
    states: ladder.states.map(({ ticks }, i) => ({ steps: steps[i] as { to: number; share: number }[], ticks })),
  };
  const { visits, byEnd, ends: all } = yield* absorbing(chain, horizon);
  const scale = standFor(all);
  return { visits, byEnd: byEnd.slice(0, -1).map((shares) => shares.map((share) => share * scale)) };
}

/** Solves a ladder for every patient, pausing on the way. */
export function* solving(ladder: Ladder): Generator<void, Solved> {
  const chances: Chances[] = [];
  const moves: number[] = [];
  const next: Chances[] = [];
  for (let patient = 0; patient < patients; patient++) {
    const values = once((row) => sharesFor(row, patient));
    const found = chancesBy(ladder, values);
    chances.push(found.chances);
    moves.push(found.moves);
    next.push(nextBy(ladder, values));
    if (patient % 8 === 7) yield;
  }
  const timed: Timed[] = [];
  for (let group = 0; group < groups; group++)
    timed.push(
      yield* timing(
        ladder,
        once((row) => meanShares(row, groupStart(group), groupEnds[group] as number)),
      ),
    );
  return { ladder, chances, moves, next, timed };
}

const names = new WeakMap<Row, string>();

/** What tells one row from another, whichever ladder it stands in. */
function nameOf(row: Row): string {
  let name = names.get(row);
  if (name === undefined) names.set(row, (name = JSON.stringify([row.move, row.shares, row.first, row.rest])));
  return name;
}

/** Draws the shares of every row of these ladders once, so that screws of one case share what is not known. */
export function drawnRows(random: Random, solved: readonly Solved[]): Values {
  const byName = new Map<string, readonly number[]>();
  const rows = new Map<Row, readonly number[]>();
  for (const { ladder } of solved)
    for (const { row } of ladder.states) {
      if (rows.has(row)) continue;
      const name = nameOf(row);
      let values = byName.get(name);
      if (!values) byName.set(name, (values = drawnShares(random, row)));
      rows.set(row, values);
    }
  return (row) => rows.get(row) as readonly number[];
}

/** What comes of a screw of a patient by drawn shares: at the end, and at the next move. */
export function drawn({ ladder }: Solved, rows: Values, patient: number): { chances: Chances; next: Chances } {
  const values = once((row) => drawnFor(row, rows(row), patient));
  return { chances: chancesBy(ladder, values).chances, next: nextBy(ladder, values) };
}
