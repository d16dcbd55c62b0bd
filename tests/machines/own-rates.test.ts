/** A department's own rates: every fault with its place, and a long list read once. */
import { describe, expect, it } from 'vitest';
import { readRates } from '../../machines/own-rates.ts';
import { content } from './build.ts';

const faults = (rows: unknown) => {
  const read = readRates(rows, content);
  return 'faults' in read ? read.faults.map(({ path, message }) => `${path}: ${message}`) : [];
};
const row = { move: 'turn-out', outcome: 'out', value: 0.5 };

describe('own rates', () => {
  it.each([
    [{}, ['file: expected a list']],
    [[3], ['[0]: expected an object']],
    [[[]], ['[0]: expected an object']],
    [
      [{ ...row, colour: 1, size: 2, move: 'hit-it', outcome: 'gone', value: 2, status: 3 }],
      [
        '[0].colour: unknown field',
        '[0].size: unknown field',
        '[0].move: not a move that has rates',
        '[0].outcome: unknown outcome',
        '[0].value: must lie between 0 and 1',
      ],
    ],
    [[{ ...row, status: 3 }], ['[0].status: expected text']],
    [
      [{ ...row, when: { locking: 'perhaps' } }],
      ['[0].when: not one of the kinds of screw that this move has rates for'],
    ],
    [[row, row], ['[1]: given twice']],
    [[row, { ...row, outcome: 'slipped', value: 0.6 }], ['[1].value: the shares of this move add up to more than 1']],
    [[row, { ...row, outcome: 'slipped' }], []],
  ])('of %j name %j', (rows, named) => expect(faults(rows)).toEqual(named));

  it('of one move are given by kind of screw or without, wherever in the list', () => {
    const kinds = content.rates.moves.filter(({ move, when }) => when && move === 'turn-out');
    const { move, when } = kinds[0] as (typeof kinds)[number];
    const mixed = [
      { move, when, outcome: 'out', value: 0.1 },
      { move, outcome: 'slipped', value: 0.1 },
    ];
    expect(faults(mixed)).toEqual([
      '[0].when: given for some rows of this move and left out in others',
      '[1].when: given for some rows of this move and left out in others',
    ]);
  });

  it('are asked for their move so many times a row, however long the list', () => {
    let asked = 0;
    const rows = Array.from({ length: 500 }, () => ({
      ...row,
      get move() {
        asked += 1;
        return 'turn-out';
      },
    }));
    expect(faults(rows).length).toBeGreaterThan(0);
    expect(asked).toBeLessThan(20 * rows.length);
  });
});
