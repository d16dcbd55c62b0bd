import { describe, expect, it } from 'vitest';
import { axisHours, endsIn, labelPlaces, labelShare } from '../../src/pictures/spread-shape.ts';
import { ofHundred, told } from '../../src/screens/forecast/outlook.ts';

describe('the hill of a forecast', () => {
  it('gathers half minutes into bars, each share once', () => {
    const shares = Float64Array.from({ length: 121 }, () => 1 / 121);
    const bars = endsIn({ shares, tick: 0.5 }, 5, 65);
    expect(bars).toHaveLength(13);
    expect(bars[0]).toBeCloseTo(10 / 121, 12);
    expect(bars.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12);
  });

  it('leaves out what ends beyond the axis', () => {
    expect(endsIn({ shares: Float64Array.of(0, 0.5, 0.5), tick: 60 }, 30, 60)).toEqual([0, 0]);
  });

  it('has whole hours with room behind the last mark, two at least and twelve at most', () => {
    expect([0, 90, 150, 2000].map(axisHours)).toEqual([2, 2, 4, 12]);
  });
});

describe('the words over the marks', () => {
  const shares = [0, 0.02, 0.1, 0.3, 0.5, 0.52, 0.77, 0.95, 1];
  const threes = shares.flatMap((a) => shares.flatMap((b) => shares.map((c) => [a, b, c].sort((x, y) => x - y))));

  it('never lie on one another nor stand beyond the edge, wherever the marks stand', () => {
    for (const marks of threes) {
      const [first = NaN, middle = NaN, last = NaN] = labelPlaces(marks);
      const tight = [first - labelShare / 2, middle - first - labelShare, last - middle - labelShare];
      expect(Math.min(...tight, 1 - labelShare / 2 - last), marks.join()).toBeGreaterThanOrEqual(-1e-9);
    }
  });

  it('stand over their marks where these leave room', () => {
    expect(labelPlaces([0.17, 0.5, 0.83])).toEqual([0.17, 0.5, 0.83]);
    expect(labelPlaces([0.1, 0.2, 0.9])).toEqual([0.16, 0.48, 0.84]);
  });
});

describe('figures of a forecast as they are told', () => {
  it('are rounded to five minutes from twenty on', () => {
    expect([3.4, 19.6, 22, 72.5, 143].map(told)).toEqual([3, 20, 20, 75, 145]);
  });

  it('are never nought or all of a hundred unless they are [Z42]', () => {
    expect([0, 0.001, 0.5, 0.999, 1].map(ofHundred)).toEqual([0, 1, 50, 99, 100]);
  });
});
