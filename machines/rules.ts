/**
 * The versions of folding and computing. Every case is read by the newest; older ones stay, so that what was signed
 * under them can be said again word for word.
 */
import type { Entry } from './entry.ts';

/** One version of the rules. */
export interface Rules<State, Change> {
  number: number;
  /** What it brings, in a few words. */
  name: string;
  /** A longer time than this between an event and its logging makes a late entry, ms. */
  lateAfterMs: number;
  /** What an entry does to the state, with its time in ms less the jumps of the clock; null when it cannot have happened. */
  apply: (state: State, entry: Entry, corrected: number) => Change | null;
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
