/**
 * The released rates brought up to date by the department's own counts: for each row of rates a Dirichlet prior of a
 * stated weight, so that each outcome is Beta-binomial. Gelman et al., Bayesian Data Analysis, chapters 2.4 and 3.4
 * (from memory).
 */
import type { MoveId, Outcome } from '../../content/ids.ts';
import type { Content, Rate, SourceStatus } from '../../content/types.ts';
import type { OwnRate } from '../own-rates.ts';
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
  /** Weights of the Beta distribution of both together: what happened, what did not. */
  alpha: number;
  beta: number;
  /** Its mean, 0–1. */
  value: number;
}

/**
 * Brings the released rates up to date. Each released share counts as `priorTries` tries; a try that only came thread by
 * thread, or that nobody said the end of, is no evidence for a rate.
 *
 * @param tally the department's counts; with none, what was released comes back as it is
 * @returns rows in the order of the released rates; the values of one row add up to 1
 * @example updatedRates(emptyTally(), content)[0]?.value // as released
 */
export function updatedRates(tally: Tally, content: Content): UpdatedRate[] {
  const weight = content.rates.priorTries.value;
  const status = (id: string): SourceStatus => content.sources.find((row) => row.id === id)?.status ?? 'from-memory';
  return content.rates.moves.flatMap((rate) => {
    const cells = [...tally.cells.values()].filter((cell) => rateFor(content, cell.move, cell) === rate);
    const count = (outcome: Outcome) => cells.reduce((sum, { ends }) => sum + (ends.get(outcome) ?? 0), 0);
    const ended = cells.flatMap(({ ends }) => [...ends.keys()].filter((end) => end !== 'stopped'));
    const counted = inOrder(content.ids.outcomes, [...content.ids.outcomes, ...ended]).filter(
      (outcome) => outcome !== 'moving',
    );
    const of = counted.reduce((sum, outcome) => sum + count(outcome), 0);
    return counted.flatMap((outcome): UpdatedRate[] => {
      const row = rate.outcomes.find((other) => other.outcome === outcome);
      const times = count(outcome);
      if (!row && times === 0) return [];
      const released = row?.value ?? 0;
      const alpha = weight * released + times;
      const value = of === 0 ? released : alpha / (weight + of);
      return [
        {
          ...{ move: rate.move, when: rate.when, outcome, released, status: row ? status(row.source) : 'from-memory' },
          ...{ count: times, of, alpha, beta: weight + of - alpha, value },
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
  const weight = content.rates.priorTries.value;
  return rates
    .filter(({ of }) => of > 0)
    .map(({ move, when, outcome, released, status, count, of, value }) => ({
      move,
      // A move with rows for several kinds of screw names the kind, the row for all others too.
      ...(content.rates.moves.filter((rate) => rate.move === move).length > 1 && { when: when ?? {} }),
      outcome,
      value,
      status: `here ${count} of ${of}${kindOf(when)}, with the released ${released} (${status}) as ${weight} tries`,
    }));
}
