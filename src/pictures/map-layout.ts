/** Sizes in mm: one touch, the gap between two, and the strip in which the plate or nail is drawn. */
export const touchMm = 20;
export const gapMm = 3;
export const barMm = 7;

/** `one` line of touches beside the metal, `two` staggered on either side of it, or `folded`: no room for a touch each. */
export type Fold = 'one' | 'two' | 'folded';

/**
 * Length that cells take along the metal, mm. In two lines neighbours stand half a cell apart on opposite sides.
 *
 * @example lengthAlong(14, 'two', 20, 3) // 169.5
 */
export const lengthAlong = (count: number, fold: 'one' | 'two', cell: number, gap: number): number =>
  fold === 'one' ? count * cell + (count - 1) * gap : (count + 1) * ((cell - gap) / 2) + count * gap;

/**
 * Where along the metal the middle of a cell lies, mm.
 *
 * @param index from 0
 * @example middleAlong(1, 'one', 20, 3) // 33
 */
export const middleAlong = (index: number, fold: 'one' | 'two', cell: number, gap: number): number =>
  fold === 'one' ? index * (cell + gap) + cell / 2 : (index * (cell + gap)) / 2 + cell / 2;

/**
 * How the screws find room as touches.
 *
 * @param count how many screws
 * @param box room in mm
 * @param flow the metal runs along a `row` or down a `column`
 * @example mapLayout(14, { width: 227, height: 50 }, 'row') // 'two'
 */
export function mapLayout(count: number, box: { width: number; height: number }, flow: 'row' | 'column'): Fold {
  const [length, depth] = flow === 'row' ? [box.width, box.height] : [box.height, box.width];
  const fits = (fold: 'one' | 'two', lines: number) =>
    lengthAlong(count, fold, touchMm, gapMm) <= length && lines * (touchMm + gapMm) + barMm <= depth;
  return fits('one', 1) ? 'one' : fits('two', 2) ? 'two' : 'folded';
}
