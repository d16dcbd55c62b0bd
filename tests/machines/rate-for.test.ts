/** Which of the released rates stands for a move on one kind of screw. */
import { describe, expect, it } from 'vitest';
import type { MoveId } from '../../content/ids.ts';
import type { Content, Rate } from '../../content/types.ts';
import { rateFor } from '../../machines/rate-for.ts';
import { content } from './build.ts';

const [released] = content.rates.moves as [Rate];
const row = (move: MoveId, when?: Rate['when']): Rate => ({ ...released, move, when });
const rows = {
  small: row('turn-out', { locking: true, upTo: 3.5 }),
  locking: row('turn-out', { locking: true }),
  plain: row('turn-out', { locking: false }),
  other: row('turn-out'),
  grip: row('grip-head', { locking: true, upTo: 3.5 }),
};
const rated: Content = { ...content, rates: { ...content.rates, moves: Object.values(rows) } };
const found = (move: MoveId, locking: boolean, diameter: number) => {
  const rate = rateFor(rated, move, { locking, diameter });
  return Object.entries(rows).find(([, one]) => one === rate)?.[0];
};

describe('the rates of a move', () => {
  it.each([
    ['a small locking screw', true, 2.7, 'small'],
    ['a locking screw of the largest of the small diameters', true, 3.5, 'small'],
    ['one that is larger by rounding alone', true, 3.5 + 1e-9, 'small'],
    ['a larger locking screw', true, 3.6, 'locking'],
    ['a plain screw, however small', false, 2, 'plain'],
  ] as const)('are for %s those of the first row that fits', (_, locking, diameter, name) =>
    expect(found('turn-out', locking, diameter)).toBe(name),
  );

  it('are those of every other screw where no row names its kind', () => {
    const rates = { ...content.rates, moves: [rows.small, rows.other] };
    expect(rateFor({ ...content, rates }, 'turn-out', { locking: false, diameter: 3.5 })).toBe(rows.other);
    expect(rateFor({ ...content, rates }, 'turn-out', { locking: true, diameter: 4.5 })).toBe(rows.other);
  });

  it('are none where no row of that move fits', () => {
    expect(found('grip-head', true, 3.5)).toBe('grip');
    expect(found('grip-head', true, 4.5)).toBeUndefined();
    expect(found('grip-head', false, 3.5)).toBeUndefined();
    expect(found('burr-out', true, 3.5)).toBeUndefined();
  });

  it('are released for every move that can be started', () => {
    for (const { id } of content.moves)
      for (const locking of [true, false])
        expect([id, rateFor(content, id, { locking, diameter: 4.5 })?.move]).toEqual([
          id,
          id === 'leave-in' ? undefined : id,
        ]);
  });
});
