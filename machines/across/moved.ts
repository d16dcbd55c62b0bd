/** What the department's own counts moved: each released row of rates before them and after, with its band. */
import type { MoveId, Outcome } from '../../content/ids.ts';
import type { Content, Rate, SourceStatus } from '../../content/types.ts';
import { betaPoint } from '../compute/beta.ts';
import { updatedRates, type UpdatedRate } from './rates.ts';
import { emptyTally } from './tally.ts';

/** A share with the band that eight of ten such shares lie in. */
export interface Banded {
  value: number;
  p10: number;
  p90: number;
}

export interface MovedRate {
  move: MoveId;
  when: Rate['when'];
  outcome: Outcome;
  /** Published, or from memory. */
  status: SourceStatus;
  /** Own tries that ended so, of so many. */
  count: number;
  of: number;
  /** As released; null for an outcome that no release lists, of which nothing was said before. */
  before: Banded | null;
  after: Banded;
}

/** Widened where the share lies outside, as the forecast's bands are. Without weight on one side it is all on the other. */
function banded({ value, alpha, beta }: UpdatedRate): Banded {
  if (alpha <= 0 || beta <= 0) return { value, p10: value, p90: value };
  const [p10, p90] = [betaPoint(0.1, alpha, beta), betaPoint(0.9, alpha, beta)];
  return { value, p10: Math.min(value, p10), p90: Math.max(value, p90) };
}

/**
 * The rates that own tries bear on, in the order of the released ones.
 *
 * @param rates as `updatedRates` gives them, by this content
 * @returns empty while nothing was counted
 * @example movedRates(updatedRates(emptyTally(), content), content) // []
 */
export function movedRates(rates: readonly UpdatedRate[], content: Content): MovedRate[] {
  const released = updatedRates(emptyTally(), content);
  return rates
    .filter(({ of }) => of > 0)
    .map((after) => {
      const { move, when, outcome, status, count, of } = after;
      const before = released.find((one) => one.move === move && one.when === when && one.outcome === outcome);
      return {
        ...{ move, when, outcome, status, count, of },
        before: before ? banded(before) : null,
        after: banded(after),
      };
    });
}
