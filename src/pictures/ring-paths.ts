import type { Bore } from '../../machines/entry.ts';

/** A rectangle in mm, before it is turned about the middle of the bone; y grows downwards, the screw enters from above. */
export interface Slab {
  x: number;
  y: number;
  width: number;
  height: number;
  turn: number;
}

/**
 * The slabs that bores take out of a ring seen end on. The near wall is the half on the screw's side.
 *
 * @param outer outer diameter of the bone, mm
 * @example slabs(24, [{ wall: 'near', diameter: 6 }]) // [{ x: -3, y: -13, width: 6, height: 13, turn: 0 }]
 */
export function slabs(outer: number, bores: readonly Bore[]): Slab[] {
  const reach = outer / 2 + 1;
  return bores.map(({ wall, diameter, turn = 0 }) => ({
    x: -diameter / 2,
    y: wall === 'far' ? 0 : -reach,
    width: diameter,
    height: wall === 'both' ? 2 * reach : reach,
    turn,
  }));
}

/** The ring between two circles about the origin as one even-odd path. */
export const ring = (outer: number, cortex: number): string =>
  [outer / 2, outer / 2 - cortex].map((r) => `M${-r} 0A${r} ${r} 0 1 0 ${r} 0A${r} ${r} 0 1 0 ${-r} 0Z`).join('');
