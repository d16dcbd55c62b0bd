/** In which stage a screw was at a time, and what was done to it last: what a move told late is judged by. */
import { describe, expect, it } from 'vitest';
import type { Stage } from '../../content/ids.ts';
import { done, levelAt, reached, type Pasts } from '../../machines/past.ts';

const nothing: Pasts = new Map();
/** Screw "1" after it reached these stages, each told by an entry of its own and at its time. */
const through = (...levels: [from: number, stage: Stage][]) =>
  levels.reduce((pasts, [from, stage], i) => reached(pasts, '1', { n: i + 1, from, stage }), nothing).get('1');

describe('the stage at a time', () => {
  it('is seated while nothing was told of the screw', () => {
    expect(levelAt(undefined, 1000)).toBe('seated');
    expect(levelAt(done(nothing, '1', { n: 1, corrected: 0 }).get('1'), 1000)).toBe('seated');
  });

  it('counts from the very moment on, and not before', () => {
    const past = through([60, 'recess-stripped']);
    expect([59, 60, 61].map((time) => levelAt(past, time))).toEqual(['seated', 'recess-stripped', 'recess-stripped']);
  });

  it.each([
    [[10, 'recess-stripped'] as const, [20, 'head-sheared'] as const],
    [[20, 'head-sheared'] as const, [10, 'recess-stripped'] as const],
  ])('is the deepest by then, whichever was told first: %j, %j', (first, second) => {
    const past = through([...first], [...second]);
    expect([5, 15, 25].map((time) => levelAt(past, time))).toEqual(['seated', 'recess-stripped', 'head-sheared']);
  });

  it('never goes up again when a shallower stage is told of a later time', () => {
    expect(levelAt(through([10, 'fragment-retained'], [20, 'recess-stripped']), 30)).toBe('fragment-retained');
  });

  it.each(['out', 'left-in'] as const)('is the one before, of a screw that is %s by then', (end) => {
    expect(levelAt(through([10, 'head-sheared'], [20, end]), 30)).toBe('head-sheared');
    expect(levelAt(through([20, end]), 30)).toBe('seated');
  });
});

describe('what was done last', () => {
  const worked = (...told: [n: number, corrected: number][]) =>
    told.reduce((pasts, [n, corrected]) => done(pasts, '1', { n, corrected }), nothing).get('1');

  it('is the latest by time, not the one told last', () => {
    expect(worked([4, 500], [5, 200])).toEqual({ levels: [], last: 500, lastEntry: 4 });
  });

  it('is of two at the same time the one told last', () => {
    expect(worked([4, 500], [5, 500])).toEqual({ levels: [], last: 500, lastEntry: 5 });
  });

  it('leaves the stages as they are, and stages leave it', () => {
    const level = { n: 3, from: 10, stage: 'recess-stripped' } as const;
    const past = { levels: [level], last: 500, lastEntry: 4 };
    const work = { n: 4, corrected: 500 };
    expect(done(reached(nothing, '1', level), '1', work).get('1')).toEqual(past);
    expect(reached(done(nothing, '1', work), '1', level).get('1')).toEqual(past);
  });

  it('is told of one screw and says nothing of another', () => {
    const one = done(nothing, '1', { n: 4, corrected: 500 });
    const two = done(one, '2', { n: 5, corrected: 100 });
    expect(two.get('1')).toEqual({ levels: [], last: 500, lastEntry: 4 });
    expect(two.get('2')).toEqual({ levels: [], last: 100, lastEntry: 5 });
    expect([...one.keys(), ...nothing.keys()]).toEqual(['1']);
  });

  it('is nothing, and before every time, of a screw of which only the stage is known', () => {
    expect(through([10, 'recess-stripped'])).toMatchObject({ last: -Infinity, lastEntry: 0 });
  });
});
