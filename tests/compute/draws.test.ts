/** Draws and the Beta distribution against a general-purpose library, and the same digits whatever the engine. */
import jstat from 'jstat';
import { describe, expect, it } from 'vitest';
import { betaBelow, betaPoint, betaSlices, lnGamma } from '../../machines/compute/beta.ts';
import { dirichlet, exp, gamma, ln, normal, randomFrom } from '../../machines/compute/draws.ts';

const points = [1e-12, 1e-5, 0.01, 0.1, 0.3, 0.5, 0.749, 0.75, 0.9, 1, 1.4999, 1.5, 2, 7, 100, 1e6, 1e20];
const relative = (a: number, b: number) => Math.abs(a - b) / Math.max(Math.abs(b), 1e-300);

describe('logarithm and exponential', () => {
  it('are those of the engine within 10⁻¹³', () => {
    for (const x of points) expect(Math.abs(ln(x) - Math.log(x))).toBeLessThan(1e-13 * Math.max(1, Math.abs(ln(x))));
    for (const x of [-700, -50, -1, -1e-9, 0, 1e-9, 0.3, 1, 20, 300])
      expect(relative(exp(x), Math.exp(x))).toBeLessThan(1e-13);
    expect(exp(-800)).toBe(0);
  });
});

describe('random numbers', () => {
  it('are the same for the same seed, and lie between 0 and 1', () => {
    const [one, two, other] = [randomFrom(5), randomFrom(5), randomFrom(6)];
    const drawn = Array.from({ length: 1000 }, () => one());
    expect(Array.from({ length: 1000 }, () => two())).toEqual(drawn);
    expect(Array.from({ length: 1000 }, () => other())).not.toEqual(drawn);
    expect(drawn.every((x) => x > 0 && x < 1)).toBe(true);
  });

  it('fall evenly: chi-square of 100,000 in 100 boxes within 99.9 % of what chance gives', () => {
    const random = randomFrom(77);
    const boxes = new Array<number>(100).fill(0);
    for (let i = 0; i < 100_000; i++) {
      const box = Math.floor(random() * 100);
      boxes[box] = (boxes[box] as number) + 1;
    }
    const chi = boxes.reduce((sum, count) => sum + (count - 1000) ** 2 / 1000, 0);
    expect(chi).toBeLessThan(148.2);
    expect(chi).toBeGreaterThan(60.0);
  });

  it('have the mean and the variance that they are named for', () => {
    const random = randomFrom(9);
    const n = 60_000;
    const moments = (draw: () => number) => {
      const all = Array.from({ length: n }, draw);
      const mean = all.reduce((a, b) => a + b, 0) / n;
      return { mean, variance: all.reduce((sum, x) => sum + (x - mean) ** 2, 0) / n };
    };
    const bell = moments(() => normal(random));
    expect(bell.mean).toBeCloseTo(0, 1);
    expect(bell.variance).toBeCloseTo(1, 1);
    for (const shape of [0.05, 0.4, 1, 4, 279]) {
      const { mean, variance } = moments(() => gamma(random, shape));
      expect(Math.abs(mean - shape)).toBeLessThan(5 * Math.sqrt(shape / n));
      expect(relative(variance, shape)).toBeLessThan(0.12);
    }
  });

  it('make shares that add up to 1, of a weight of 0 none, with the variance of their distribution', () => {
    const random = randomFrom(3);
    const weights = [3, 0, 1];
    const all = Array.from({ length: 40_000 }, () => dirichlet(random, weights));
    for (const shares of all.slice(0, 100)) expect(shares[0]! + shares[1]! + shares[2]!).toBeCloseTo(1, 12);
    expect(all.every(([, none]) => none === 0)).toBe(true);
    const mean = all.reduce((sum, [first]) => sum + first!, 0) / all.length;
    const variance = all.reduce((sum, [first]) => sum + (first! - mean) ** 2, 0) / all.length;
    expect(mean).toBeCloseTo(0.75, 2);
    expect(variance).toBeCloseTo((0.75 * 0.25) / 5, 3);
    expect(dirichlet(random, [1e-320, 0])).toEqual([1, 0]);
  });
});

describe('the Beta distribution', () => {
  const shapes = [
    [2, 2],
    [0.135, 2.57],
    [0.5, 0.5],
    [24, 255],
    [8, 1],
    [0.02, 4],
  ] as const;

  it('agrees with the library (jstat) below a point and at a share', () => {
    for (const x of [0.1, 0.4, 0.5, 3, 7.5, 60]) expect(lnGamma(x)).toBeCloseTo(jstat.gammaln(x), 9);
    for (const [a, b] of shapes) {
      for (const x of [1e-6, 0.01, 0.1, 0.3, 0.5, 0.8, 0.99])
        expect(betaBelow(x, a, b)).toBeCloseTo(jstat.beta.cdf(x, a, b), 7);
      for (const share of [0.1, 0.5, 0.9]) expect(betaBelow(betaPoint(share, a, b), a, b)).toBeCloseTo(share, 8);
    }
    expect([betaBelow(0, 2, 2), betaBelow(1, 2, 2)]).toEqual([0, 1]);
  });

  it('in slices has the mean of the whole, and rises', () => {
    for (const mean of [0.005, 0.053, 0.19, 0.7])
      for (const alike of [0.2, 0.29, 0.35]) {
        const slices = betaSlices(mean, alike, 64);
        expect(slices.reduce((a, b) => a + b, 0) / 64).toBeCloseTo(mean, 9);
        expect([...slices].sort((a, b) => a - b)).toEqual(slices);
      }
    expect(betaSlices(0, 0.3, 3)).toEqual([0, 0, 0]);
    expect(betaSlices(1, 0.3, 2)).toEqual([1, 1]);
  });

  it('after one hard screw of one has the mean p + (1 - p) × correlation', () => {
    const slices = betaSlices(0.053, 0.24, 64, { hard: 1, of: 1 });
    expect(slices.reduce((a, b) => a + b, 0) / 64).toBeCloseTo(0.053 + 0.947 * 0.24, 6);
  });
});
