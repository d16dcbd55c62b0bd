/**
 * What a row of rates rests on, as weights in tries: a share that was counted weighs as many tries as it was counted in, a
 * share from memory four at most, and a department's own counts come on top. The row is a Dirichlet distribution in two
 * steps: what was published against all the rest, and the rest among itself.
 */
import type { Outcome } from '../content/ids.ts';
import { mostOfMemory, triesBehind } from '../content/series.ts';
import type { Content, Rate, SourceStatus } from '../content/types.ts';
import { dirichlet, type Random } from './compute/draws.ts';
import { sameWhen, type OwnRate } from './own-rates.ts';

/** Where a share comes from. */
export type Kind = 'published' | 'own' | 'memory';

export interface Share {
  outcome: Outcome;
  /** 0–1. */
  value: number;
  status: SourceStatus | string;
}

export interface Row extends Pick<Rate, 'move' | 'minutes'> {
  shares: readonly Share[];
  /** Of what the row says, 0–1 each, adding up to 1: how much was published, is the department's own, or is from memory. */
  knows: Readonly<Record<Kind, number>>;
  /** Outcomes by their place in `shares`: those drawn first, and those that share what the first leave. */
  first: { at: readonly number[]; weight: number };
  rest: { at: readonly number[]; weight: number };
}

/** Weights of the shares of a released row, in tries. */
export interface Weights {
  /** Of the published shares against all others; 0 where none was published. */
  published: number;
  /** Of the others among themselves. */
  memory: number;
}

export const statusOf = (content: Content, source: string): SourceStatus =>
  content.sources.find(({ id }) => id === source)?.status ?? 'from-memory';

export const isPublished = (content: Content, source: string): boolean => statusOf(content, source) !== 'from-memory';

/**
 * What a released row weighs. Of several series the smallest counts.
 *
 * @example weightsOf(content, turnOutOfLocking35) // { published: 248, memory: 4 }
 */
export function weightsOf(content: Content, rate: Pick<Rate, 'outcomes'>): Weights {
  const memory = Math.min(mostOfMemory, content.rates.priorTries.value);
  const published = rate.outcomes.filter(({ source }) => isPublished(content, source));
  const tries = published.map(({ source }) => triesBehind(source) ?? memory);
  return { published: tries.length ? Math.min(...tries) : 0, memory };
}

/** What one share of a department's own weighs: what was counted here, on top of what was released. */
const ownWeight = (given: readonly OwnRate[]): number => Math.max(0, ...given.map(({ of }) => of ?? 0));

/**
 * A row of rates for one kind of screw, with a department's own in the place of the released ones and the rest scaled to
 * make up 1.
 *
 * @example rowOf(content, rate, []).knows // { published: 0.99, own: 0, memory: 0.01 }
 */
export function rowOf(content: Content, rate: Rate, own: readonly OwnRate[]): Row {
  const given = own.filter(({ move, when }) => move === rate.move && (!when || sameWhen(when, rate.when)));
  const others = rate.outcomes.filter(({ outcome }) => !given.some((row) => row.outcome === outcome));
  const left = 1 - given.reduce((sum, { value }) => sum + value, 0);
  const mass = others.reduce((sum, { value }) => sum + value, 0);
  const scaled = (value: number): number => {
    if (given.length === 0) return value;
    return mass > 0 ? (value / mass) * left : 0;
  };
  const weights = weightsOf(content, rate);
  const counted = ownWeight(given);
  const shares: Share[] = [
    ...given.map(({ outcome, value, status }) => ({ outcome, value, status: status ?? 'own' })),
    ...others.map(({ outcome, value, source }) => ({
      outcome,
      value: scaled(value),
      status: statusOf(content, source),
    })),
  ];
  const knows = { published: 0, own: 0, memory: 0 };
  const kindOf = (outcome: Outcome): Exclude<Kind, 'own'> => {
    const row = rate.outcomes.find((one) => one.outcome === outcome);
    return row && isPublished(content, row.source) ? 'published' : 'memory';
  };
  const behind = { published: weights.published || weights.memory, memory: weights.memory };
  // Of what was counted here the shares that nobody published had no more than their own part to be told apart by.
  const unpublished = shares.reduce((sum, { outcome, value }) => (kindOf(outcome) === 'memory' ? sum + value : sum), 0);
  const tries = { published: counted, memory: counted * unpublished };
  shares.forEach(({ outcome, value }, i) => {
    const kind = kindOf(outcome);
    // A share that somebody typed in, with no count behind it, is all the department's word.
    const ours = i >= given.length ? 0 : counted === 0 ? 1 : tries[kind] / (tries[kind] + behind[kind]);
    knows.own += value * ours;
    knows[kind] += value * (1 - ours);
  });
  // What somebody typed in without a count is one more memory, whatever it stands in the place of.
  const published = given.length > 0 && counted === 0 ? weights.memory : weights.published;
  const first = shares.flatMap(({ outcome }, i) => (kindOf(outcome) === 'published' ? [i] : []));
  const rest = shares.flatMap((_, i) => (first.includes(i) ? [] : [i]));
  return {
    ...{ move: rate.move, minutes: rate.minutes, shares, knows },
    first: { at: first, weight: published + counted },
    rest: { at: rest, weight: weights.memory + tries.memory },
  };
}

/** The shares of a row as chances: own ones that leave something over, and nothing to take it, make up for it. */
export function chancesOf({ shares }: Pick<Row, 'shares'>): readonly number[] {
  const sum = shares.reduce((all, { value }) => all + value, 0);
  return shares.map(({ value }) => (sum > 0 ? value / sum : 0));
}

/**
 * The shares of a row as they may be, drawn by what the row rests on.
 *
 * @returns in the order of `row.shares`, adding up to 1
 */
export function drawnShares(random: Random, row: Row): number[] {
  const value = (i: number) => (row.shares[i] as Share).value;
  const drawn = new Array<number>(row.shares.length).fill(0);
  const { first, rest } = row;
  const restMass = rest.at.reduce((sum, i) => sum + value(i), 0);
  let left = 1;
  if (first.at.length > 0) {
    const upper = dirichlet(random, [...first.at.map((i) => value(i) * first.weight), restMass * first.weight]);
    first.at.forEach((at, i) => (drawn[at] = upper[i] as number));
    left = upper.at(-1) as number;
  }
  if (restMass > 0) {
    const lower = dirichlet(
      random,
      rest.at.map((i) => (value(i) / restMass) * rest.weight),
    );
    rest.at.forEach((at, i) => (drawn[at] = left * (lower[i] as number)));
  }
  return drawn;
}
