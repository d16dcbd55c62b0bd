/** The cuff in order of time, whatever the order in which it was told. */
import { describe, expect, it } from 'vitest';
import { cuffChanges, inflationsOf, type CuffChange, type Inflation } from '../../machines/cuff.ts';

const minute = 60_000;
/** Changes as they were entered, 1, 2, 3 …; minutes. */
const told = (...changes: ['up' | 'down', number][]): CuffChange[] =>
  changes.map(([to, minutes], i) => ({ n: i + 1, to, corrected: minutes * minute }));
const changing = (...changes: ['up' | 'down', number][]) => cuffChanges(told(...changes)).map(({ n }) => n);

describe('the changes of the cuff', () => {
  it('stand in order of their time', () => {
    expect(changing(['up', 5], ['up', 60], ['down', 45])).toEqual([1, 3, 2]);
  });

  it('do not begin with a deflation: the cuff was down', () => {
    expect(changing(['down', 0])).toEqual([]);
    expect(changing(['down', 0], ['up', 5])).toEqual([2]);
  });

  it('are none of what set the cuff to what it was', () => {
    expect(changing(['up', 5], ['up', 10], ['down', 20], ['down', 30])).toEqual([1, 3]);
  });

  it('come at the same time in the order in which they were entered', () => {
    expect(changing(['up', 5], ['down', 5], ['up', 5])).toEqual([1, 2, 3]);
    expect(changing(['down', 5], ['up', 5])).toEqual([2]);
  });

  it('leave what was told as it stands', () => {
    const entered = told(['up', 60], ['down', 45]);
    cuffChanges(entered);
    expect(entered.map(({ n }) => n)).toEqual([1, 2]);
  });
});

describe('the inflations', () => {
  const inflations = (before: readonly Inflation[], ...changes: ['up' | 'down', number][]) =>
    inflationsOf(cuffChanges(told(...changes)), before);
  const span = (n: number, up: number, down: number | null, answered = false): Inflation => ({
    ...{ n, up: up * minute, down: down === null ? null : down * minute, answered },
  });

  it('go from up to down, the last one on while the cuff is up', () => {
    expect(inflations([], ['up', 5], ['down', 45], ['up', 60])).toEqual([span(1, 5, 45), span(3, 60, null)]);
  });

  it('are none while the cuff was never up', () => {
    expect(inflations([])).toEqual([]);
    expect(inflations([span(1, 5, null, true)], ['down', 5])).toEqual([]);
  });

  it('stay answered by the entry that told of them, however long they now were', () => {
    const before = [span(1, 5, 60, true), span(3, 70, null)];
    expect(inflations(before, ['up', 5], ['down', 45], ['up', 70])).toEqual([span(1, 5, 45, true), span(3, 70, null)]);
  });

  it('are not answered because another one is', () => {
    const before = [span(1, 5, 45), span(3, 60, null, true)];
    const now = inflations(before, ['up', 5], ['down', 45], ['up', 60], ['down', 70], ['up', 80]);
    expect(now.map(({ n, answered }) => [n, answered])).toEqual([
      [1, false],
      [3, true],
      [5, false],
    ]);
  });

  it('of a list that begins with a deflation, as no one makes it, are none', () => {
    expect(inflationsOf([{ n: 1, to: 'down', corrected: 0 }], [])).toEqual([]);
  });
});
