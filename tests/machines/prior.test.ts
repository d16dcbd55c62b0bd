/** What a row of rates rests on, and how sure that makes it. Weights against the sources' own counts. */
import { describe, expect, it } from 'vitest';
import type { OwnRate } from '../../machines/own-rates.ts';
import { chancesOf, drawnShares, rowOf, weightsOf } from '../../machines/prior.ts';
import { randomFrom } from '../../machines/compute/draws.ts';
import { content } from './build.ts';

const rate = (move: string, locking?: boolean, upTo?: number) =>
  content.rates.moves.find(
    (row) => row.move === move && row.when?.locking === locking && row.when?.upTo === upTo,
  ) as (typeof content.rates.moves)[number];
const spread = (values: readonly number[]) => {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return { mean, variance: values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length };
};
const drawnOut = (row: ReturnType<typeof rowOf>, at = 0) => {
  const random = randomFrom(12);
  return spread(Array.from({ length: 20_000 }, () => drawnShares(random, row)[at] as number));
};

describe('a released row', () => {
  it('weighs the tries of the smallest series that it rests on; a memory weighs four', () => {
    // 15 jammed and 8 broken of 248, slips in 24 of 279 (Bae 2009, seen).
    expect(weightsOf(content, rate('turn-out', true, 3.5))).toEqual({ published: 248, memory: 4 });
    expect(weightsOf(content, rate('turn-out', true))).toEqual({ published: 153, memory: 4 });
    expect(weightsOf(content, rate('conical-extractor'))).toEqual({ published: 45, memory: 4 });
    expect(weightsOf(content, rate('reseat-driver'))).toEqual({ published: 0, memory: 4 });
  });

  it('weighs no more than a memory where no series is named for its source, and as little as a department says', () => {
    const sources = content.sources.map((one) => ({ ...one, status: 'seen' as const }));
    expect(weightsOf({ ...content, sources }, rate('reseat-driver'))).toEqual({ published: 4, memory: 4 });
    const rates = { ...content.rates, priorTries: { value: 2, source: 'x' } };
    expect(weightsOf({ ...content, rates }, rate('reseat-driver')).memory).toBe(2);
  });

  it('tells how much of it was published and how much is from memory', () => {
    expect(rowOf(content, rate('turn-out', true, 3.5), []).knows).toEqual({
      ...{ published: expect.closeTo(0.99, 9) as number, own: 0, memory: expect.closeTo(0.01, 9) as number },
    });
    expect(rowOf(content, rate('reseat-driver'), []).knows).toEqual({ published: 0, own: 0, memory: 1 });
  });

  it('is drawn as widely as a Beta distribution of its weight is', () => {
    const published = drawnOut(rowOf(content, rate('turn-out', true, 3.5), []));
    expect(published.mean).toBeCloseTo(0.811, 2);
    expect(Math.abs(published.variance / ((0.811 * 0.189) / 249) - 1)).toBeLessThan(0.05);
    const memory = drawnOut(rowOf(content, rate('reseat-driver'), []));
    expect(memory.mean).toBeCloseTo(0.35, 1);
    expect(memory.variance).toBeCloseTo((0.35 * 0.65) / 5, 2);
  });

  it('is drawn in shares that add up to 1, what is published apart from what is not', () => {
    const random = randomFrom(4);
    const row = rowOf(content, rate('conical-extractor'), []);
    for (let i = 0; i < 200; i++) expect(drawnShares(random, row).reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
    expect(row.first).toEqual({ at: [0], weight: 45 });
    expect(row.rest).toEqual({ at: [1, 2, 3, 4], weight: 4 });
    // 9 of 45 (Bae 2009, Oh 2006, derived): the cone is known better than the rest of its row.
    expect(drawnOut(row).variance).toBeCloseTo((0.2 * 0.8) / 46, 3);
    expect(drawnOut(row, 2).variance).toBeGreaterThan(0.02);
  });
});

describe('a department', () => {
  const own = (value: number, of?: number): OwnRate[] => [
    { move: 'reseat-driver', outcome: 'out', value, ...(of !== undefined && { of }) },
    { move: 'reseat-driver', outcome: 'slipped', value: 1 - value, ...(of !== undefined && { of }) },
  ];

  it('that counted 36 tries knows 36 of 40 itself, and draws by 40', () => {
    const row = rowOf(content, rate('reseat-driver'), own(0.5, 36));
    expect(row.knows).toEqual({
      published: 0,
      own: expect.closeTo(0.9, 9) as number,
      memory: expect.closeTo(0.1, 9) as number,
    });
    expect(drawnOut(row).variance).toBeCloseTo(0.25 / 41, 3);
  });

  it('that counted 100 turns of which one in a hundred ended in none of the published ways knows hardly more of that one', () => {
    const { outcomes } = rate('turn-out', true, 3.5);
    const counted = outcomes.map(({ outcome, value }): OwnRate => ({ move: 'turn-out', outcome, value, of: 100 }));
    const row = rowOf(content, rate('turn-out', true, 3.5), counted);
    expect(row.first.weight).toBe(348);
    expect(row.rest.weight).toBeCloseTo(4 + 100 * 0.01, 9);
    // Of the published 99 in a hundred 100 of 348 tries are its own, of the rest one of five.
    expect(row.knows.own).toBeCloseTo(0.99 * (100 / 348) + 0.01 * (1 / 5), 9);
  });

  it('that typed a share in knows it itself, and no better than a memory', () => {
    const row = rowOf(content, rate('reseat-driver'), own(0.5));
    expect(row.knows).toEqual({ published: 0, own: 1, memory: 0 });
    expect(drawnOut(row).variance).toBeCloseTo(0.25 / 5, 2);
    const published = rowOf(content, rate('turn-out', true, 3.5), [{ move: 'turn-out', outcome: 'out', value: 0.5 }]);
    expect(published.first.weight).toBe(4);
  });

  it('whose shares leave something over, with nothing to take it, has them made up to 1 as chances', () => {
    const row = rowOf(content, rate('reseat-driver'), [
      { move: 'reseat-driver', outcome: 'out', value: 0.3 },
      { move: 'reseat-driver', outcome: 'slipped', value: 0.3 },
    ]);
    expect(chancesOf(row)).toEqual([0.5, 0.5]);
    expect(row.shares.map(({ value }) => value)).toEqual([0.3, 0.3]);
  });
});
