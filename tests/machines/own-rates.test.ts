/** A department's own rates: every fault with its place, and a long list read once. */
import { describe, expect, it } from 'vitest';
import { readRates, sameWhen } from '../../machines/own-rates.ts';
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
    [[null], ['[0]: expected an object']],
    [
      [{}],
      ['[0].move: not a move that has rates', '[0].outcome: unknown outcome', '[0].value: must lie between 0 and 1'],
    ],
    [[{ ...row, value: -0.01 }], ['[0].value: must lie between 0 and 1']],
    [[{ ...row, value: 1.01 }], ['[0].value: must lie between 0 and 1']],
    [[{ ...row, value: NaN }], ['[0].value: must lie between 0 and 1']],
    [[{ ...row, value: '0.5' }], ['[0].value: must lie between 0 and 1']],
    [[{ ...row, move: 'leave-in' }], ['[0].move: not a move that has rates']],
    [[{ ...row, when: null }], ['[0].when: not one of the kinds of screw that this move has rates for']],
    [[{ ...row, when: [] }], ['[0].when: not one of the kinds of screw that this move has rates for']],
    [
      [{ ...row, when: { locking: true, upTo: 4.5 } }],
      ['[0].when: not one of the kinds of screw that this move has rates for'],
    ],
    [[{ ...row, when: { upTo: 3.5 } }], ['[0].when: not one of the kinds of screw that this move has rates for']],
    [
      [{ ...row, move: 'grip-head', when: { locking: true } }],
      ['[0].when: not one of the kinds of screw that this move has rates for'],
    ],
    // A row whose kind or share is wrong is not taken for one given before.
    [[{ ...row, value: 2 }, row], ['[0].value: must lie between 0 and 1']],
    [
      [{ ...row, when: { locking: 'perhaps' } }, row],
      [
        '[0].when: not one of the kinds of screw that this move has rates for',
        '[1].when: given for some rows of this move and left out in others',
      ],
    ],
    [
      [row, { ...row, outcome: 'slipped', value: 0.500000002 }],
      ['[1].value: the shares of this move add up to more than 1'],
    ],
    [
      [row, { ...row, outcome: 'slipped' }, { ...row, outcome: 'no-change', value: 0.2 }, { ...row, value: 0.1 }],
      [
        '[2].value: the shares of this move add up to more than 1',
        '[3]: given twice',
        '[3].value: the shares of this move add up to more than 1',
      ],
    ],
  ])('of %j name %j', (rows, named) => expect(faults(rows)).toEqual(named));

  it.each([
    [[]],
    [[{ ...row, value: 0 }]],
    [[{ ...row, value: 1, status: 'our count of 2026' }]],
    [[row, { ...row, outcome: 'slipped', value: 0.5 + 1e-10 }]],
    [[row, { ...row, move: 'grip-head', value: 0.9 }]],
    [
      [
        { ...row, when: { locking: true, upTo: 3.5 }, value: 0.9 },
        { ...row, when: { locking: true }, value: 0.9 },
        { ...row, when: {}, value: 0.9 },
        { ...row, when: {}, outcome: 'slipped', value: 0.1 },
      ],
    ],
  ])('without a fault are taken as they were given: %j', (rows) =>
    expect(readRates(rows, content)).toEqual({ rates: rows }),
  );

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

describe('two rows of rates', () => {
  it('speak of the same screws when both name the same kind, or neither names one', () => {
    const small = { locking: true, upTo: 3.5 };
    expect(sameWhen(small, { ...small })).toBe(true);
    expect(sameWhen(undefined, undefined)).toBe(true);
    expect(sameWhen({}, undefined)).toBe(true);
    expect(sameWhen(undefined, {})).toBe(true);
    expect(sameWhen(small, { locking: true })).toBe(false);
    expect(sameWhen(small, { ...small, upTo: 2.7 })).toBe(false);
    expect(sameWhen(small, { ...small, locking: false })).toBe(false);
    expect(sameWhen(small, undefined)).toBe(false);
    expect(sameWhen(undefined, small)).toBe(false);
  });
});
