/**
 * The versions of folding and computing. Every case is read by the newest; older ones stay, so that what was signed
 * under them can be said again word for word.
 */
import type { HoldId } from '../content/ids.ts';
import type { Jump } from './clocks.ts';
import type { Entry } from './entry.ts';

/** An entry with what was worked out of it before it is applied. */
export interface Timed<T extends Entry = Entry> {
  entry: T;
  /** Its time in ms with the jumps of the device clock taken out. */
  corrected: number;
  late: boolean;
  /** Number of the format that it stands in. */
  format: number;
  /** Of a start: its end was told with its number, so whatever follows on the screw does not end it. */
  waits?: boolean;
  /** Of a start: what was asked then, before something was said of it or of what it followed on. */
  asked?: { unoffered: boolean; unanswered: readonly HoldId[] };
  /** Of a change of the cuff: it changed nothing. Left out: judged by what was told so far. */
  idle?: boolean;
}

/** One version of the rules. */
export interface Rules<State, Change> {
  number: number;
  /** What it brings, in a few words. */
  name: string;
  /** A longer time than this between an event and its logging makes a late entry, ms. */
  lateAfterMs: number;
  /** The time of an entry, ms, with the jumps that count for it taken out. */
  corrected: (at: number, n: number, jumps: readonly Jump[]) => number;
  /** What an entry does to the state; null when it cannot have happened. */
  apply: (state: State, taken: Timed) => Change | null;
}

/** All versions of the rules, oldest first, without gaps. */
export interface RuleBook<State, Change> {
  /** What cases are read by, unless others are asked for. */
  current: () => Rules<State, Change>;
  /** Undefined when this build lacks them. */
  of: (number: number) => Rules<State, Change> | undefined;
  numbers: () => number[];
  /** Takes in the rules that follow on the newest. Throws when a number is left out. */
  add: (next: Rules<State, Change>) => void;
}

/**
 * A book of rules that begins with these.
 *
 * @example ruleBook({ number: 1, name: 'first', lateAfterMs: 60_000, apply }).current().number // 1
 */
export function ruleBook<State, Change>(first: Rules<State, Change>): RuleBook<State, Change> {
  const all = [first];
  return {
    current: () => all.at(-1) as Rules<State, Change>,
    of: (number) => all.find((rules) => rules.number === number),
    numbers: () => all.map(({ number }) => number),
    add: (next) => {
      const newest = all.length;
      if (next.number !== newest + 1) throw new Error(`rules ${next.number} do not follow on rules ${newest}`);
      all.push(next);
    },
  };
}
