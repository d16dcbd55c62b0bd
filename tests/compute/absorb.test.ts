/** The chain behind the forecast, and the arithmetic of its times, against worked examples and closed forms. */
import { describe, expect, it } from 'vitest';
import { absorb } from '../absorbed.ts';
import { absorbing, convolve, quantile, slices, stretch, triangle, type Chain } from '../../machines/compute/absorb.ts';

const times = (...shares: number[]) => Float64Array.of(...shares);
const close = (...figures: number[]) => figures.map((figure) => expect.closeTo(figure, 12) as number);

describe('an absorbing chain', () => {
  it('gives the geometric number of tries: 1 / p steps, and p (1 - p)^(k - 1) of them at try k', () => {
    const p = 0.25;
    const chain = {
      ends: 1,
      states: [
        {
          steps: [
            { to: -1, share: p },
            { to: 0, share: 1 - p },
          ],
          ticks: [1],
        },
      ],
    };
    const { ends, steps, time } = absorb(chain, 200);
    expect(ends[0]).toBeCloseTo(1, 12);
    expect(steps).toBeCloseTo(4, 12);
    for (const k of [1, 2, 5, 20]) expect(time[k]).toBeCloseTo(p * (1 - p) ** (k - 1), 12);
  });

  it("gives the gambler's ruin: from 1 of 3 with even odds, one third reach the top after 2 steps on average", () => {
    const even = (down: number, up: number) => ({
      steps: [
        { to: down, share: 0.5 },
        { to: up, share: 0.5 },
      ],
      ticks: [1],
    });
    const { ends, steps } = absorb({ ends: 2, states: [even(-1, 1), even(0, -2)] }, 10);
    expect(ends[0]).toBeCloseTo(2 / 3, 12);
    expect(ends[1]).toBeCloseTo(1 / 3, 12);
    expect(steps).toBeCloseTo(2, 12);
  });

  it('gives the ruin of a longer game: from 1 of n, one in n reaches the top, after n - 1 steps on average', () => {
    for (const n of [3, 5, 8]) {
      const states = Array.from({ length: n - 1 }, (_, i) => ({
        steps: [
          { to: i === 0 ? -1 : i - 1, share: 0.5 },
          { to: i === n - 2 ? -2 : i + 1, share: 0.5 },
        ],
        ticks: [1],
      }));
      const { ends, steps } = absorb({ ends: 2, states }, 10);
      expect(ends).toEqual(close(1 - 1 / n, 1 / n));
      expect(steps).toBeCloseTo(n - 1, 12);
    }
  });

  it('adds up steps that lead to the same place', () => {
    const twice: Chain = {
      ends: 3,
      states: [
        {
          steps: [
            { to: 1, share: 0.25 },
            { to: 1, share: 0.25 },
            { to: -3, share: 0.5 },
          ],
          ticks: [1],
        },
        {
          steps: [
            { to: -1, share: 0.75 },
            { to: -1, share: 0.25 },
          ],
          ticks: [1],
        },
      ],
    };
    const { ends, steps, time } = absorb(twice, 4);
    expect(ends).toEqual(close(0.5, 0, 0.5));
    expect(steps).toBeCloseTo(1.5, 12);
    expect([...time]).toEqual(close(0, 0.5, 0.5, 0, 0));
  });

  it('adds the durations of the steps on the way, each spread over its own ticks', () => {
    const inARow: Chain = {
      ends: 1,
      states: [
        { steps: [{ to: 1, share: 1 }], ticks: [0.5, 0, 0.5] },
        { steps: [{ to: -1, share: 1 }], ticks: [0, 0.75, 0.25] },
      ],
    };
    expect([...absorb(inARow, 8).time]).toEqual(close(0, 0, 0, 0.375, 0.125, 0.375, 0.125, 0, 0));
    expect([...absorb(inARow, 4).time]).toEqual(close(0, 0, 0, 0.375, 0.125));
  });

  it('without a state has no step to make, no end and no time', () => {
    expect(absorb({ ends: 2, states: [] }, 3)).toMatchObject({ ends: [0, 0], steps: 0, time: times(0, 0, 0, 0) });
  });

  it('is refused where a state never leads to an end', () => {
    const round: Chain = { ends: 1, states: [{ steps: [{ to: 0, share: 1 }], ticks: [1] }] };
    expect(() => absorb(round, 10)).toThrow();
  });

  const halves: Chain = {
    ends: 1,
    states: [
      {
        steps: [
          { to: -1, share: 0.5 },
          { to: 0, share: 0.5 },
        ],
        ticks: [1],
      },
    ],
  };

  it('leaves out the last of the time once no more than a millionth is to come', () => {
    const { time } = absorb(halves, 40);
    expect(time).toHaveLength(41);
    expect(time[19]).toBe(2 ** -19);
    expect(time[20]).toBe(2 ** -20);
    expect([...time.slice(21)]).toEqual(new Array(20).fill(0));
  });

  it('pauses once for the chances, and every sixteen ticks for the time', () => {
    const pauses = (chain: Chain, horizon: number) => [...absorbing(chain, horizon)].length;
    const slow: Chain = { ends: 1, states: [{ steps: [{ to: -1, share: 1 }], ticks: [...new Array(99).fill(0), 1] }] };
    expect(pauses(slow, 15)).toBe(1);
    expect(pauses(slow, 16)).toBe(2);
    expect(pauses(slow, 96)).toBe(7);
    expect(pauses(slow, 1000)).toBe(7);
    expect(pauses(halves, 1000)).toBe(2);
  });
});

describe('times of a chain', () => {
  it('adds two times by convolution, and reads quantiles off the sum', () => {
    const die = new Float64Array(20);
    for (let face = 1; face <= 6; face++) die[face] = 1 / 6;
    const two = convolve(die, die);
    expect(two[7]).toBeCloseTo(6 / 36, 12);
    expect(two[12]).toBeCloseTo(1 / 36, 12);
    expect(quantile(two, 0.5)).toBe(7);
  });

  it('adds two times within the shorter of the two', () => {
    expect([...convolve(times(0, 0.25, 0.75, 0, 0), times(0, 0.5, 0.5, 0, 0))]).toEqual(close(0, 0, 0.125, 0.5, 0.375));
    expect([...convolve(times(0, 1), times(0, 0, 1, 0))]).toEqual([0, 0]);
    expect([...convolve(times(0, 0, 1, 0), times(0.5, 0.5))]).toEqual([0, 0]);
    expect([...convolve(times(0, 1, 0), times(0, 0, 0))]).toEqual([0, 0, 0]);
  });

  it('reads the first tick by which a share is reached, the last one where it never is', () => {
    const time = times(0, 0.5, 0.5);
    expect([0, 0.4, 0.5, 0.6, 1].map((share) => quantile(time, share))).toEqual([0, 1, 1, 2, 2]);
    expect(quantile(times(0, 0.3, 0, 0), 0.9)).toBe(3);
    // As machines add, 0.1 and 0.7 are a little less than 0.8.
    expect(quantile(times(0, 0.1, 0.7, 0.2), 0.8)).toBe(2);
  });

  it('stretches a time by each pace, splitting what falls between two ticks', () => {
    expect([...stretch(Float64Array.of(0, 1, 0, 0), [{ factor: 2, share: 1 }])]).toEqual([0, 0, 1, 0]);
    expect([...stretch(Float64Array.of(0, 1, 0, 0), [{ factor: 1.25, share: 1 }])]).toEqual([0, 0.75, 0.25, 0]);
    const factors = slices(0.4, 0.9, 2.5, 2000);
    const mean = factors.reduce((sum, { factor, share }) => sum + factor * share, 0);
    expect(Math.abs(mean - (0.4 + 0.9 + 2.5) / 3)).toBeLessThan(0.001);
  });

  it('stretches by several paces at once, and keeps at the last tick what would come later', () => {
    expect([...stretch(times(0, 1, 0), [{ factor: 2, share: 1 }])]).toEqual([0, 0, 1]);
    expect([...stretch(times(0, 1, 0), [{ factor: 5, share: 1 }])]).toEqual([0, 0, 1]);
    expect([...stretch(times(0, 1, 0), [{ factor: 1.75, share: 1 }])]).toEqual([0, 0.25, 0.75]);
    const two = [
      { factor: 0.5, share: 0.25 },
      { factor: 2.5, share: 0.75 },
    ];
    expect([...stretch(times(0.5, 0.25, 0.25, 0, 0, 0), two)]).toEqual(
      close(0.53125, 0.09375, 0.09375, 0.09375, 0, 0.1875),
    );
  });

  it('cuts a triangle into slices of equal share, each at its middle', () => {
    expect(slices(0, 1, 2, 2)).toEqual([
      { factor: expect.closeTo(Math.SQRT1_2, 12), share: 0.5 },
      { factor: expect.closeTo(2 - Math.SQRT1_2, 12), share: 0.5 },
    ]);
    // By hand: the corner 3 is reached at a quarter; before it 2 + √(4q), after it 6 − √(12(1 − q)).
    const factors = slices(2, 3, 6, 4).map(({ factor }) => factor);
    expect(factors).toEqual(close(2 + Math.sqrt(0.5), 6 - Math.sqrt(7.5), 6 - Math.sqrt(4.5), 6 - Math.sqrt(1.5)));
    expect(slices(0, 2, 2, 1)).toEqual([{ factor: expect.closeTo(Math.SQRT2, 12), share: 1 }]);
    expect(slices(0, 0, 2, 1)).toEqual([{ factor: expect.closeTo(2 - Math.SQRT2, 12), share: 1 }]);
  });

  it('spreads a triangle over the ticks without losing a share, its mean at a third of its corners', () => {
    const shares = triangle(10, 20, 60);
    expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12);
    const mean = shares.reduce((sum, share, i) => sum + share * (i + 1), 0);
    expect(Math.abs(mean - (10 + 20 + 60) / 3)).toBeLessThan(0.05);
  });

  it('gives each tick what lies within half a tick of it, and to the first what is shorter', () => {
    // By hand, from the area of the triangle up to 1.5, 2.5, 3.5 … ticks.
    expect(triangle(2, 3, 6)).toEqual(close(0, 3 / 48, 20 / 48, 16 / 48, 8 / 48, 1 / 48, 0));
    expect(triangle(0, 0, 2)).toEqual(close(0.9375, 0.0625, 0));
    expect(triangle(1, 1, 3)).toEqual(close(0.4375, 0.5, 0.0625, 0));
    expect(triangle(1, 3, 3)).toEqual(close(0.0625, 0.5, 0.4375, 0));
    expect(triangle(0.1, 0.2, 0.4)).toEqual([1]);
  });

  it('gives one tick to a time that is always the same', () => {
    expect(triangle(2, 2, 2)).toEqual([0, 1, 0]);
    expect(triangle(1.5, 1.5, 1.5)).toEqual([0, 1]);
    expect(triangle(0, 0, 0)).toEqual([1]);
  });
});
