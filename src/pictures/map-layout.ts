import type { Stage } from '../../content/ids.ts';

/** Sizes in mm: one touch, the gap between two, and the strip in which the plate or nail is drawn. */
export const touchMm = 20;
export const gapMm = 3;
export const barMm = 7;

/** Cells of the folded map, mm. */
export const smallMm = 9;
export const smallGapMm = 1;

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

/**
 * How many screws have a touch of their own beside the folded metal, at least one.
 *
 * @param count how many screws
 * @param box room in mm
 * @example tilesBeside(14, { width: 55, height: 111 }, 'column') // 4
 */
export function tilesBeside(count: number, box: { width: number; height: number }, flow: 'row' | 'column'): number {
  const room = flow === 'row' ? box.width - lengthAlong(count, 'two', smallMm, smallGapMm) - gapMm : box.height;
  return Math.max(1, Math.floor((room + gapMm) / (touchMm + gapMm)));
}

/**
 * The screws that have a touch of their own beside the folded metal: the called one, the next still in on either side of
 * it, those in trouble, then those nearest. In their order along the metal.
 *
 * @param room how many there may be
 * @example tilesShown(fourteen, '7', 4) // ['6', '7', '8', '11'] where 11 is stripped
 */
export function tilesShown(
  screws: readonly { id: string; stage: Stage }[],
  called: string | null,
  room: number,
): string[] {
  const at = screws.findIndex(({ id }) => id === called);
  const order = new Map(screws.map(({ id }, index) => [id, index]));
  const away = ({ id }: { id: string }) => Math.abs((order.get(id) ?? 0) - Math.max(0, at));
  const still = screws
    .filter(({ id, stage }) => id !== called && stage !== 'out' && stage !== 'left-in')
    .sort((a, b) => away(a) - away(b));
  const beside = [
    still.find(({ id }) => (order.get(id) ?? 0) > at),
    still.find(({ id }) => (order.get(id) ?? 0) < at),
  ].filter((screw) => screw !== undefined && at >= 0);
  const ranked = [
    ...(at < 0 ? [] : [screws[at]]),
    ...beside,
    ...still.filter(({ stage }) => stage !== 'seated'),
    ...still,
    ...screws,
  ].flatMap((screw) => (screw ? [screw.id] : []));
  return [...new Set(ranked)].slice(0, room).sort((a, b) => (order.get(a) ?? 0) - (order.get(b) ?? 0));
}
