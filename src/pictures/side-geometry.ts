import type { Stage } from '../../content/ids.ts';

/** Where a screw lies from the side; mm, y = 0 on the near surface of the bone and growing inwards. */
export interface SideGeometry {
  /** Upper face of the head when seated. */
  top: number;
  headHeight: number;
  headRadius: number;
  /** Tip, if the screw stays where it was put. */
  tip: number;
  /** Upper end of what is still in; null when nothing is. */
  from: number | null;
  /** Is the head still on it? */
  headed: boolean;
  /** The length was not known: the tip is drawn where such a screw usually ends, just past its last wall. */
  lengthAssumed: boolean;
}

export interface SideScrew {
  stage: Stage;
  diameter: number;
  /** Listed length, head to tip, or null. */
  length: number | null;
  cortices: 1 | 2;
  outer: number;
  cortex: number;
  /** How far the upper end stood above the near surface when seated; left out, the plate, or the height of the head. */
  nearSurface?: number | undefined;
  plate?: number | undefined;
  /** Length already out, mm. */
  out: number;
  /** Length of the piece still in, when it was measured. */
  pieceLength?: number | undefined;
}

/**
 * Thickness in which a plate is drawn, mm: as high as the head in it. A proportion of the drawing alone, no source; no
 * thickness of a plate is known to the app, so it is drawn as assumed.
 *
 * @param diameter of the screw, mm
 * @example drawnPlate(5) // 3
 */
export const drawnPlate = (diameter: number): number => diameter * 0.6;

/**
 * Lays a screw into its bone for drawing. Head height 0.6 and radius 0.9 of the diameter are proportions of the
 * drawing alone (common practice, no source); no figure is computed from them.
 *
 * @example sideGeometry({ stage: 'seated', diameter: 4.5, length: 36, cortices: 2, outer: 27, cortex: 5, plate: 4, out: 0 })
 * // top -4, tip 32, from -4, headed
 */
export function sideGeometry(screw: SideScrew): SideGeometry {
  const headHeight = drawnPlate(screw.diameter);
  const top = -(screw.nearSurface ?? screw.plate ?? headHeight);
  const usual = screw.cortices === 2 ? screw.outer + 2 : screw.cortex + 6;
  const tip = screw.length === null ? usual : top + screw.length;
  const common = { top, headHeight, headRadius: screw.diameter * 0.9, tip, lengthAssumed: screw.length === null };
  if (screw.stage === 'out') return { ...common, from: null, headed: false };
  if (screw.stage === 'seated' || screw.stage === 'recess-stripped') return { ...common, from: top, headed: true };
  const gone = Math.max(screw.out, headHeight);
  const byPiece = screw.pieceLength === undefined ? undefined : tip - screw.pieceLength;
  // A piece whose length nobody gave is drawn in the wall that holds it.
  const deep = screw.cortices === 2 ? screw.outer - screw.cortex - 1 : screw.cortex * 0.5;
  const from = byPiece ?? (screw.stage === 'fragment-retained' && screw.out === 0 ? deep : top + gone);
  return { ...common, from: Math.min(from, tip - 1), headed: false };
}
