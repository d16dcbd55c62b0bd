import { describe, expect, it } from 'vitest';
import { ageOf, inYears } from '../../src/format/age.ts';
import { w } from './rooms.harness.tsx';

describe('the age of the metal', () => {
  it('is told in months as entered, and in years from a year on', () => {
    expect([0, 11, 12, 30, 72].map((months) => ageOf(w, months))).toEqual([
      '0 months',
      '11 months',
      '12 months (1 y)',
      '30 months (2 y 6 mo)',
      '72 months (6 y)',
    ]);
  });

  it('loses no month on its way to years', () => {
    for (let all = 0; all < 900; all++) {
      const { years, months } = inYears(all);
      expect([12 * years + months, months < 12]).toEqual([all, true]);
    }
  });
});
