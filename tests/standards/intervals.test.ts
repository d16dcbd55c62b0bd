/** Intervals and quartiles against published worked examples and against other ways to compute them. */
import { describe, expect, it } from 'vitest';
import { betaInterval } from '../../machines/across/beta.ts';
import { quartiles, wilson } from '../../machines/across/intervals.ts';

describe('Wilson score interval, 95 %, without continuity correction', () => {
  it.each([
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])('%i of %i: the worked examples of Newcombe 1998, Stat Med 17:857, table I, method 3', (count, of, low, high) => {
    const interval = wilson(count, of);
    expect(interval?.low).toBeCloseTo(low, 4);
    expect(interval?.high).toBeCloseTo(high, 4);
  });

  it('is where the score test just rejects: (p̂ − p)² = z² p (1 − p) / n at both ends', () => {
    for (let of = 1; of <= 60; of += 7)
      for (let count = 0; count <= of; count++) {
        const { low, high } = wilson(count, of) as { low: number; high: number };
        for (const p of [low, high].filter((end) => end > 0 && end < 1))
          expect((count / of - p) ** 2 / ((p * (1 - p)) / of)).toBeCloseTo(1.959963984540054 ** 2, 6);
        expect(low).toBeLessThanOrEqual(count / of);
        expect(high).toBeGreaterThanOrEqual(count / of);
      }
  });

  it('is nothing when nothing was counted', () => expect(wilson(0, 0)).toBeNull());
});

/** Distribution function of Beta(a, b), a and b > 1, by Simpson's rule. */
function betaShare(x: number, a: number, b: number): number {
  const density = (t: number) => (t <= 0 || t >= 1 ? 0 : t ** (a - 1) * (1 - t) ** (b - 1));
  const integral = (to: number) => {
    const steps = 20_000;
    const h = to / steps;
    let sum = density(0) + density(to);
    for (let i = 1; i < steps; i++) sum += density(i * h) * (i % 2 ? 4 : 2);
    return (sum * h) / 3;
  };
  return integral(x) / integral(1);
}

describe('the middle 95 % of a Beta distribution', () => {
  it.each([
    [7.5, 2.5],
    [12.5, 31],
    [3, 3],
    [81.5, 182.5],
  ])('of (%f, %f) leaves 2.5 %% on either side, by numerical integration', (alpha, beta) => {
    const { low, high } = betaInterval(alpha, beta);
    expect(betaShare(low, alpha, beta)).toBeCloseTo(0.025, 6);
    expect(betaShare(high, alpha, beta)).toBeCloseTo(0.975, 6);
  });

  it('agrees with another library (@stdlib/stats-base-dists-beta-quantile 0.2.3)', () => {
    expect(betaInterval(7.5, 2.5).low).toBeCloseTo(0.4561755668806525, 7);
    expect(betaInterval(0.5, 9.5).low).toBeCloseTo(0.00005306405341849287, 9);
    expect(betaInterval(0.5, 9.5).high).toBeCloseTo(0.23761009863290306, 7);
    expect(betaInterval(81.5, 182.5).high).toBeCloseTo(0.36564749917408246, 7);
  });

  it('has a closed form when one weight is 1: p ^ (1 / weight)', () => {
    expect(betaInterval(4, 1).low).toBeCloseTo(0.025 ** (1 / 4), 9);
    expect(betaInterval(1, 9).high).toBeCloseTo(1 - 0.025 ** (1 / 9), 9);
  });

  it('is pinned where a side has no weight at all', () => {
    expect(betaInterval(0, 10)).toEqual({ low: 0, high: 0 });
    expect(betaInterval(10, 0)).toEqual({ low: 1, high: 1 });
  });
});

describe('quartiles, type 7 of Hyndman & Fan 1996, Am Stat 50:361', () => {
  const of = (...tenths: number[]) => {
    const counts = new Map<number, number>();
    for (const one of tenths) counts.set(one, (counts.get(one) ?? 0) + 1);
    return quartiles(counts);
  };

  it('interpolates between neighbours', () => {
    expect(of(10, 20, 30, 40)).toEqual({ n: 4, q1: 1.75, median: 2.5, q3: 3.25 });
    expect(of(40, 10, 20)).toEqual({ n: 3, q1: 1.5, median: 2, q3: 3 });
  });

  it('counts repeats', () => expect(of(10, 10, 10, 10, 90)).toEqual({ n: 5, q1: 1, median: 1, q3: 1 }));

  it('is nothing when nothing was timed', () => expect(of()).toBeNull());
});
