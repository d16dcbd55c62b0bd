/** What is known of a broken screw and the bone along its path; all mm, null = not known. */
export interface BrokenScrew {
  /** Listed length of the whole screw. */
  length: number | null;
  /** How far its upper end stood above the near cortex when seated; negative when sunk below it. */
  nearSurface: number | null;
  /** Length of what has been taken out so far, from the upper end. */
  recovered: number | null;
  /** Outer diameter of the bone along the path. */
  outer: number | null;
  /** Thickness of either wall. */
  cortex: number | null;
}

/** Where the rest of the screw is, in mm of its length; the five places add up to `left`. */
export interface FragmentPlace {
  left: number;
  /** Standing above the near cortex. */
  proudNear: number;
  inNearWall: number;
  inCanal: number;
  inFarWall: number;
  /** Standing beyond the far cortex. */
  proudBeyond: number;
}

/**
 * Estimates where the rest of a broken screw is. An estimate only: it takes the path as straight through the middle
 * of the bone, both walls as equally thick, and the distal piece as still where it was when the screw was whole.
 * What was seen on an image or by hand goes before it. Source: plain geometry, no publication.
 *
 * @param screw lengths in mm ≥ 0 (`nearSurface` any), 0 < cortex < outer / 2
 * @returns lengths in mm ≥ 0, or null when any figure is missing; never throws
 * @example fragmentPlace({ length: 36, nearSurface: 4, recovered: 20, outer: 27, cortex: 5 })
 * // { left: 16, proudNear: 0, inNearWall: 0, inCanal: 6, inFarWall: 5, proudBeyond: 5 }
 */
export function fragmentPlace({ length, nearSurface, recovered, outer, cortex }: BrokenScrew): FragmentPlace | null {
  if (length === null || nearSurface === null || recovered === null || outer === null || cortex === null) return null;
  const tip = length - nearSurface;
  const top = Math.min(tip, recovered - nearSurface);
  const between = (from: number, to: number) => Math.max(0, Math.min(tip, to) - Math.max(top, from));
  return {
    left: tip - top,
    proudNear: between(-Infinity, 0),
    inNearWall: between(0, cortex),
    inCanal: between(cortex, outer - cortex),
    inFarWall: between(outer - cortex, outer),
    proudBeyond: between(outer, Infinity),
  };
}
