/** Time in the body as it is read: months as they were entered, and the same in years. */
import type { Messages } from './messages.ts';

/**
 * Whole years and what is left of the months.
 *
 * @param months whole, ≥ 0
 * @example inYears(30) // { years: 2, months: 6 }
 */
export const inYears = (months: number): { years: number; months: number } => ({
  years: Math.floor(months / 12),
  months: months % 12,
});

/**
 * An age of the metal in months and, from a year on, in years.
 *
 * @param months whole, ≥ 0
 * @example ageOf(w, 72) // '72 months (6 years)'
 */
export function ageOf(w: Messages, months: number): string {
  const { years, months: rest } = inYears(months);
  if (years === 0) return w('age.months', { months });
  return rest === 0 ? w('age.years', { months, years }) : w('age.both', { months, years, rest });
}
