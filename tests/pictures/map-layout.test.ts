/** Which screws are touches where a long plate leaves room for some of them only. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mapLayout, tilesBeside, tilesShown } from '../../src/pictures/map-layout.ts';
import { stages, type Stage } from '../../content/ids.ts';

/** Screws "1" to "n", all seated but those named. */
const plate = (count: number, others: Readonly<Record<string, Stage>> = {}) =>
  Array.from({ length: count }, (_, i) => ({
    id: String(i + 1),
    stage: others[String(i + 1)] ?? ('seated' as const),
  }));

describe('the touches beside a long plate', () => {
  it('are the called screw, the next still in on either side, then those in trouble', () => {
    expect(tilesShown(plate(14, { '11': 'recess-stripped' }), '7', 4)).toEqual(['6', '7', '8', '11']);
    expect(tilesShown(plate(14, { '6': 'out', '8': 'left-in', '2': 'head-sheared' }), '7', 4)).toEqual([
      ...['2', '5', '7', '9'],
    ]);
  });

  it('are those in trouble and the first still in while none is called', () => {
    expect(tilesShown(plate(14, { '1': 'out', '9': 'fragment-retained' }), null, 3)).toEqual(['2', '3', '9']);
  });

  it('are the called one alone where there is room for one', () => {
    expect(tilesShown(plate(14, { '1': 'recess-stripped' }), '12', 1)).toEqual(['12']);
  });

  it('are filled with screws that have ended where no others are left', () => {
    expect(tilesShown(plate(9, Object.fromEntries(plate(9).map(({ id }) => [id, 'out']))), null, 3)).toHaveLength(3);
  });

  it('name the called screw, each once, in its order, and as many as have room', () => {
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom(...stages), { minLength: 1, maxLength: 24 }),
        fc.nat(),
        fc.integer({ min: 1, max: 8 }),
        (all, pick, places) => {
          const screws = all.map((stage, i) => ({ id: String(i + 1), stage }));
          const called = String((pick % all.length) + 1);
          const shown = tilesShown(screws, called, places).map(Number);
          expect(shown).toContain(Number(called));
          expect(shown).toEqual([...new Set(shown)].sort((a, b) => a - b));
          expect(shown).toHaveLength(Math.min(places, all.length));
        },
      ),
    );
  });

  it('have their room: four down a tablet on its side, three in a row below one upright, never none', () => {
    expect(mapLayout(14, { width: 55, height: 111 }, 'column')).toBe('folded');
    expect(tilesBeside(14, { width: 55, height: 111 }, 'column')).toBe(4);
    expect(tilesBeside(14, { width: 154, height: 50 }, 'row')).toBe(3);
    expect(tilesBeside(30, { width: 60, height: 10 }, 'column')).toBe(1);
  });
});
