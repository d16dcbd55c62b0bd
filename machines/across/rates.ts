/**
 * The released rates brought up to date by the department's own counts: each row of rates a Dirichlet prior that weighs as
 * many tries as its source counted, memory four at most, so that each outcome is Beta-binomial. Gelman et al., Bayesian
 * Data Analysis, chapters 2.4 and 3.4 (from memory).
 */
import type { MoveId, Outcome } from '../../content/ids.ts';
import type { Content, Rate, SourceStatus } from '../../content/types.ts';
import type { OwnRate } from '../own-rates.ts';
import { isPublished, statusOf, weightsOf } from '../prior.ts';
import { rateFor } from '../rate-for.ts';
import { inOrder } from './order.ts';
import type { Tally } from './tally.ts';

/** One outcome of one row of rates: what was released, what was counted here, and both together. */
export interface UpdatedRate {
  move: MoveId;
  when: Rate['when'];
  outcome: Outcome;
  /** Released share, 0–1, and its status. */
  released: number;
  status: SourceStatus;
  /** Counted here: so often, of so many. */
  count: number;
  of: number;
  /** Tries that the released share weighs as much as. */
  prior: number;
  /** Weights of the Beta distribution of both together: what happened, what did not. */
  alpha: number;
  beta: number;
  /** Its mean, 0–1. */
  value: number;
}

/** A Beta distribution of this mean and variance; of a mean of 0 or 1, all the weight on that side. */
function betaOf(mean: number, variance: number, otherwise: number): { alpha: number; beta: number } {
  const weight = variance > 0 ? (mean * (1 - mean)) / variance - 1 : otherwise;
  return { alpha: mean * weight, beta: (1 - mean) * weight };
}

/** Mean and variance of one share of a Dirichlet distribution: its weight, of the weight of all. */
const shareOf = (weight: number, all: number) => ({
  mean: all > 0 ? weight / all : 0,
  variance: all > 0 ? (weight * (all - weight)) / (all * all * (all + 1)) : 0,
});

/**
 * Brings the released rates up to date. What was published and what is from memory weigh apart: first the published
 * outcomes against all others, then the others among themselves. A try that only came thread by thread, or that nobody
 * said the end of, is no evidence for a rate.
 *
 * @param tally the department's counts; with none, what was released comes back as it is
 * @returns rows in the order of the released rates; the values of one row add up to 1
 * @example updatedRates(emptyTally(), content)[0]?.value // as released
 */
export function updatedRates(tally: Tally, content: Content): UpdatedRate[] {
  return content.rates.moves.flatMap((rate) => {
    const cells = [...tally.cells.values()].filter((cell) => rateFor(content, cell.move, cell) === rate);
    const count = (outcome: Outcome) => cells.reduce((sum, { ends }) => sum + (ends.get(outcome) ?? 0), 0);
    const ended = cells.flatMap(({ ends }) => [...ends.keys()].filter((end) => end !== 'stopped'));
    const counted = inOrder(content.ids.outcomes, [...content.ids.outcomes, ...ended]).filter(
      (outcome) => outcome !== 'moving',
    );
    const of = counted.reduce((sum, outcome) => sum + count(outcome), 0);
    const row = (outcome: Outcome) => rate.outcomes.find((other) => other.outcome === outcome);
    const released = (outcome: Outcome) => row(outcome)?.value ?? 0;
    const published = (outcome: Outcome) => isPublished(content, row(outcome)?.source ?? '');
    const weights = weightsOf(content, rate);
    const others = counted.filter((outcome) => !published(outcome));
    const othersReleased = others.reduce((sum, outcome) => sum + released(outcome), 0);
    const othersCounted = others.reduce((sum, outcome) => sum + count(outcome), 0);
    /** All that is not published, as one share. */
    const rest =
      weights.published > 0
        ? shareOf(weights.published * othersReleased + othersCounted, weights.published + of)
        : { mean: 1, variance: 0 };
    return counted.flatMap((outcome): UpdatedRate[] => {
      const times = count(outcome);
      if (!row(outcome) && times === 0) return [];
      const isOf = published(outcome);
      const prior = isOf ? weights.published : weights.memory;
      const value = released(outcome);
      const own = isOf
        ? shareOf(prior * value + times, prior + of)
        : shareOf((othersReleased > 0 ? (prior * value) / othersReleased : 0) + times, prior + othersCounted);
      const mean = isOf ? own.mean : own.mean * rest.mean;
      const variance = isOf
        ? own.variance
        : own.variance * rest.variance + own.variance * rest.mean ** 2 + rest.variance * own.mean ** 2;
      const source = row(outcome)?.source;
      return [
        {
          ...{ move: rate.move, when: rate.when, outcome, released: value },
          ...{ status: source === undefined ? 'from-memory' : statusOf(content, source), count: times, of, prior },
          ...betaOf(mean, variance, prior + of),
          value: of === 0 ? value : mean,
        },
      ];
    });
  });
}

const kindOf = (when: Rate['when']): string => {
  if (!when) return '';
  return ` (${when.locking ? 'locking' : 'not locking'}${when.upTo === undefined ? '' : `, to ${when.upTo} mm`})`;
};

/**
 * The rows that `forecast --rates` reads, for the rates that the department has tries of its own for.
 *
 * @example ownRates(updatedRates(emptyTally(), content), content) // []
 */
export function ownRates(rates: readonly UpdatedRate[], content: Content): OwnRate[] {
  return rates
    .filter(({ of }) => of > 0)
    .map(({ move, when, outcome, released, status, count, of, prior, value }) => ({
      move,
      // A move with rows for several kinds of screw names the kind, the row for all others too.
      ...(content.rates.moves.filter((rate) => rate.move === move).length > 1 && { when: when ?? {} }),
      outcome,
      value,
      of,
      status: `here ${count} of ${of}${kindOf(when)}, with the released ${released} (${status}) as ${prior} tries`,
    }));
}
