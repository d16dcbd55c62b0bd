/** How much of a length a head that is gone may explain: by its diameter under the second content, 8 mm under the first. */
import { describe, expect, it } from 'vitest';
import type { Content } from '../../../content/types.ts';
import { atTable, first, loose, second } from './build.ts';

/** A screw of 40 mm of which a piece came out and the head went to shavings. */
const headless = (diameter: number | null, piece: number, content: Content = second) => {
  const facts = { diameter, length: 40, stage: 'recess-stripped' } as const;
  const log = atTable({ ...loose, facts, content }).tries('1', 'drill-head-off', 'set-up-done', { head: 'shavings' });
  log.tries('1', 'grip-shank', 'out', { recovered: piece, lengthHow: 'measured' });
  return log.of('1').metal;
};

describe('a head in shavings', () => {
  it.each([
    [2, 2],
    [2.7, 2.5],
    [3.5, 3.5],
    [4.5, 5],
    [6.5, 6],
    [7.3, 6],
  ])('of a screw of %d mm explains %d mm and the tolerance of a piece, and no more', (diameter, height) => {
    expect(headless(diameter, 40 - height - 1)).toMatchObject({ closes: 'difference', unaccounted: 0 });
    expect(headless(diameter, 40 - height - 1.5)).toMatchObject({ closes: 'open', unaccounted: 1.5 });
  });

  it('of a screw thicker than any listed, or of unknown diameter, explains 8 mm', () => {
    for (const diameter of [11, null]) {
      expect(headless(diameter, 31)).toMatchObject({ closes: 'difference' });
      expect(headless(diameter, 30.5)).toMatchObject({ closes: 'open' });
    }
  });

  it('explains 8 mm of any screw under the first release', () => {
    expect(first.headHeights).toEqual([]);
    expect(headless(2.7, 31, first)).toMatchObject({ closes: 'difference' });
    expect(headless(2.7, 30.5, first)).toMatchObject({ closes: 'open' });
  });

  it('has heights that rise with the diameter, each from memory and marked so', () => {
    const { headHeights, sources } = second;
    const rising = [...headHeights].sort((a, b) => a.upTo - b.upTo || a.height - b.height);
    expect(headHeights).toEqual(rising);
    expect(new Set(headHeights.map(({ source }) => sources.find(({ id }) => id === source)?.status))).toEqual(
      new Set(['from-memory']),
    );
  });
});
