/** What slips leave of a driver's chance, by the rule of thumb of the release. */
import type { Content } from '../content/types.ts';
import type { ScrewContext } from './screw.context.ts';

/**
 * Rule of thumb: each slip halves the chance of getting the screw out. Common practice, no source.
 *
 * @example chanceLeft(2, 0.5) // 0.25
 */
export const chanceLeft = (slips: number, keeps: number): number => keeps ** slips;

/** The same of a screw; null of one that was broken from the start, for which no slips can be counted. */
export const chanceLeftOf = (
  { limits }: Content,
  { brokenFromStart, slips }: Pick<ScrewContext, 'brokenFromStart' | 'slips'>,
): number | null => (brokenFromStart ? null : chanceLeft(slips, limits.slipKeeps.value));
