/** The department's own rates as they stood at a time: counted from the cases that had been closed by then, and no others. */
import type { Content } from '../../content/types.ts';
import type { OwnRate } from '../own-rates.ts';
import { ownRates, updatedRates } from './rates.ts';
import type { CaseOutcome } from './outcome.ts';
import { addOutcome, emptyTally, type Tally } from './tally.ts';

/**
 * The rates that stood before a case's first move. Its own tries are in none of them.
 *
 * @param outcomes of all cases that count here
 * @returns asked for one case after the other; in the order of their first moves it costs least
 * @example ratesBefore([])(outcome, content) // []
 */
export function ratesBefore(
  outcomes: readonly CaseOutcome[],
): (of: Pick<CaseOutcome, 'id' | 'course'>, content: Content) => OwnRate[] {
  const closings = outcomes
    .filter(({ phase, course }) => phase === 'closed' && course.closedAt !== null)
    .sort((a, b) => (a.course.closedAt as number) - (b.course.closedAt as number));
  let tally: Tally = emptyTally();
  let counted = 0;
  return ({ id, course: { begunAt } }, content) => {
    const at = begunAt ?? Infinity;
    const upTo = closings.filter(({ course }) => (course.closedAt as number) < at).length;
    const isAmong = closings.slice(0, upTo).some((one) => one.id === id);
    const fresh = upTo < counted || isAmong ? emptyTally() : null;
    const into = fresh ?? tally;
    for (const one of closings.slice(fresh ? 0 : counted, upTo)) if (one.id !== id) addOutcome(into, one);
    // A tally that lacks this case is this case's alone.
    if (!isAmong) [tally, counted] = [into, upTo];
    return ownRates(updatedRates(into, content), content);
  };
}
