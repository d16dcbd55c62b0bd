/** The plan from the side, as figures of a drawing: the metal along the bone, a row a screw. Pure. */

/** A bone from the side, mm; null: nobody entered one. */
export type PlanBone = { outer: number; cortex: number; assumed: boolean } | null;

/** What the drawing is laid out with where no bone was entered, mm. Of the drawing alone, no figure rests on it. */
const unknownBone = { outer: 24, cortex: 5 };

/** Room before the bone, mm of the drawing: a head on its plate. */
export const beforeBone = 9;
const behindBone = 3;
/** No row lower than a line of the least type, none higher than a drawing needs; mm. */
const rowMm = { least: 5.6, most: 20 };

/** Measures that a row is drawn with. */
export const drawnBone = (bone: PlanBone) => ({ ...(bone ?? unknownBone), known: bone !== null });

/**
 * Where a screw's tip lies behind the near surface, mm: its own length, or, where nobody knows it, as far as the walls
 * that it holds in.
 *
 * @param head how far its head stands before the surface
 * @example tipOf({ length: 36, cortices: 2 }, { outer: 24, cortex: 5 }, 4) // 32
 */
export function tipOf(
  { length, cortices }: { length: number | null; cortices: 1 | 2 | null },
  { outer, cortex }: { outer: number; cortex: number },
  head: number,
): number {
  if (length !== null) return length - head;
  return cortices === 1 ? Math.min(outer / 2, cortex + 4) : outer + 2;
}

/**
 * Width of the whole drawing, mm of the bone: room for the head, the bone and the longest tip.
 *
 * @example planWidth([32], [24]) // 44
 */
export const planWidth = (tips: readonly number[], outers: readonly number[]): number =>
  beforeBone + Math.max(unknownBone.outer, ...outers, ...tips) + behindBone;

/**
 * Height of each row, mm on the screen: the room shared out, within the least that can be read and the most that helps.
 *
 * @param room height that the rows have, mm
 * @example planRow(8, 88) // 11
 */
export const planRow = (count: number, room: number): number =>
  Math.min(rowMm.most, Math.max(rowMm.least, room / Math.max(1, count)));

/** From this height on a row has its size and its tag one under the other, mm: two lines of the least type. */
export const twoLinesMm = 11;
