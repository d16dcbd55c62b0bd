/** Outlines of a screw from the side, as SVG path data. y grows downwards, from the head to the tip. */

/** Radius of the core under a thread of that radius, as it is drawn. */
export const coreRadius = (radius: number): number => radius * 0.68;
/** Crest to crest of a thread of that diameter, mm, as it is drawn. */
export const drawnPitch = (diameter: number): number => Math.max(1.2, diameter * 0.4);

/**
 * A threaded piece: saw teeth on both sides, half a pitch apart as on a real helix.
 *
 * @param x middle axis
 * @param radius to the crests
 * @param top upper end
 * @param bottom lower end, > top
 * @param pitch crest to crest
 * @param broken jagged upper end, where something broke off
 * @returns a closed path
 */
export function threaded(
  x: number,
  radius: number,
  top: number,
  bottom: number,
  pitch: number,
  broken = false,
): string {
  const core = coreRadius(radius);
  const teeth = (side: 1 | -1, shift: number) => {
    const points: [number, number][] = [];
    for (let y = top + shift; y + pitch / 2 <= bottom; y += pitch)
      points.push([x + side * core, y], [x + side * radius, y + pitch / 2]);
    return points;
  };
  const right = teeth(1, 0);
  const left = teeth(-1, pitch / 2).reverse();
  const head: [number, number][] = broken
    ? [
        [x - core, top + radius * 0.5],
        [x - core * 0.2, top - radius * 0.15],
        [x + core * 0.25, top + radius * 0.45],
        [x + core, top],
      ]
    : [
        [x - core, top],
        [x + core, top],
      ];
  const tip: [number, number][] = [
    [x + core, bottom - radius * 0.3],
    [x, bottom],
    [x - core, bottom - radius * 0.3],
  ];
  return closed([...head, ...right, ...tip, ...left]);
}

/**
 * A head: flat above, tapered towards the shank.
 *
 * @param y its upper face
 * @param emptied its middle gone: what is left of a stripped recess
 */
export function head(x: number, radius: number, y: number, height: number, shank: number, emptied = false): string {
  const side = y + height * 0.62;
  const middle: [number, number][] = emptied
    ? [
        [x - radius * 0.56, y],
        [x - radius * 0.46, y + height * 0.66],
        [x + radius * 0.46, y + height * 0.66],
        [x + radius * 0.56, y],
      ]
    : [];
  return closed([
    [x - radius, y],
    ...middle,
    [x + radius, y],
    [x + radius, side],
    [x + shank, y + height],
    [x - shank, y + height],
    [x - radius, side],
  ]);
}

const round = (n: number) => Math.round(n * 100) / 100;
const closed = (points: [number, number][]) => `M${points.map(([x, y]) => `${round(x)} ${round(y)}`).join('L')}Z`;

/** Thickness that a screw of unknown diameter is drawn with, mm: of the drawing alone, no figure rests on it. */
const unknownDiameter = 3.5;

/** Diameter that a screw is drawn with, mm. */
export const drawnDiameter = ({ diameter }: { diameter: number | null }): number => diameter ?? unknownDiameter;
