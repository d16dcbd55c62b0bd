/** What was asked at a move stands as it was asked, whatever is said later of the entries before it. */
import { describe, expect, it } from 'vitest';
import { askedIn, wordsAfterMoves } from '../../machines/asked.ts';
import { bothWays, table2 } from './build-2.ts';
import type { Log } from './build.ts';

const none = { struck: new Set<number>() };
const words = (log: Log, struck: readonly number[] = []) => wordsAfterMoves(log.entries, { struck: new Set(struck) });
const two = () => table2().screw('2').tries('1', 'turn-out', 'slipped').looksAgain('1');

describe('a word on an earlier entry that a move came after', () => {
  it('is one on whose entry it was, where a move began at it or since', () => {
    const log = two();
    const start = log.n - 2;
    log.write({ type: 'reassigned', entries: [start + 2], screw: '2' });
    // What was told after the last move changes nothing that was asked at one.
    expect(words(log)).toEqual([]);
    log.write({ type: 'reassigned', entries: [start], screw: '2' });
    expect(words(log)).toEqual([log.n]);
    // The earliest of several decides.
    log.write({ type: 'reassigned', entries: [start + 2, start + 1, start - 1], screw: '2' });
    expect(words(log)).toEqual([log.n - 1, log.n]);
  });

  it('is one on two screws that were confused, from the last move or from before it', () => {
    const from = (n: number) => words(two().write({ type: 'reassigned', swap: ['1', '2'], from: n }));
    const last = two().n + 1;
    const start = last - 3;
    expect([from(start - 1), from(start), from(start + 1)]).toEqual([[last], [last], []]);
  });

  it('is an answer to a move that another one followed, not to the last', () => {
    const log = two();
    const of = log.n - 2;
    log.write({ type: 'move-answered', of, recess: 'sound' });
    expect(words(log)).toEqual([]);
    log.begins('1', 'reseat-driver').write({ type: 'move-answered', of, recess: 'damaged' });
    expect(words(log)).toEqual([log.n]);
  });

  it('is none that was struck, nor one after a move that was struck', () => {
    const log = two();
    const start = log.n - 2;
    log.write({ type: 'reassigned', entries: [start], screw: '2' });
    expect(words(log, [log.n])).toEqual([]);
    expect(words(log, [start])).toEqual([]);
    expect(words(log, [start + 1])).toEqual([log.n]);
  });

  it('is nothing else', () => {
    expect(wordsAfterMoves([], none)).toEqual([]);
    expect(words(two().remarks().begins('1', 'reseat-driver').strikes(3))).toEqual([]);
  });
});

it('what was asked is kept of each start, and of starts alone', () => {
  const log = table2().tries('1', 'turn-out', 'slipped');
  const first = log.n - 1;
  log.begins('1', 'pack-recess');
  expect([...askedIn(log.folded.trace)]).toEqual([
    [first, { unoffered: false, unanswered: [] }],
    // Nobody had looked again, and that closed it.
    [log.n, { unoffered: true, unanswered: ['reassess'] }],
  ]);
  expect([...askedIn(null)]).toEqual([]);
});

it('a move that was offered for a stripped recess stays offered when the recess is said to be sound', () => {
  const log = two();
  const of = log.n - 2;
  log.begins('1', 'pack-recess');
  expect(log.view.unoffered).toEqual([]);
  log.write({ type: 'move-answered', of, recess: 'sound' });
  const [lived, whole] = bothWays(log);
  expect(lived).toEqual(whole);
  expect(log.of('1').stage).toBe('seated');
  expect(log.view.unoffered).toEqual([]);
});
