/**
 * Sizes of type in real millimetres, from the viewing distance and the visual angle of a capital letter.
 *
 * Capital height, not font size, is what legibility standards speak of. Figures: at least 16 arc minutes, 20–22
 * preferred (ISO 9241-3, as quoted by a display maker's ergonomics page: seen second-hand; ISO 9241-303 keeps them:
 * from memory). The floor of 16 also stands in NUREG-0700 rev 2, section 1.3.1-4 (seen).
 */

/**
 * Height of a capital as a share of the font size: `OS/2.sCapHeight` 668 over `head.unitsPerEm` 1000, the same in
 * weights 400 and 700, read from the font files that the app ships (a test reads them again).
 */
export const capHeight = 0.668;

/** Smallest, preferred and default visual angle of a capital, in arc minutes. */
export const angles = { floor: 16, preferred: 20, start: 22 } as const;

/**
 * Height of a capital that shows under a visual angle: 2 · D · tan(θ / 2).
 *
 * @param distanceM viewing distance in metres, > 0
 * @param arcminutes visual angle, > 0
 * @returns mm
 * @throws RangeError when either is not a positive finite number
 * @example capHeightMm(2, 22) // 12.80
 */
export function capHeightMm(distanceM: number, arcminutes: number): number {
  if (!(distanceM > 0 && Number.isFinite(distanceM))) throw new RangeError('distance must be greater than 0 m');
  if (!(arcminutes > 0 && Number.isFinite(arcminutes)))
    throw new RangeError('angle must be greater than 0 arc minutes');
  return 2 * distanceM * 1000 * Math.tan((arcminutes * Math.PI) / 10_800 / 2);
}

/**
 * Font size in CSS px for a height of capitals.
 *
 * @param capMm height of a capital, mm
 * @param pxPerMm CSS px per mm, from the calibration
 * @example fontPx(12.8, 5.2) // 99.6
 */
export const fontPx = (capMm: number, pxPerMm: number): number => (capMm / capHeight) * pxPerMm;

export interface GlancePage {
  /** Lines of type: one of state and the options. */
  lines?: number;
  /** Width of the widest line in em; see `widthEm`. Left out, only the height is asked. */
  em?: number;
  /** Distance from line to line as a share of the font size. */
  pitch?: number;
  /** Height kept for the way back and the clocks, mm: one touch. */
  footMm?: number;
}

export type GlanceSize =
  { fits: true; arcminutes: number; capMm: number; fontMm: number } | { fits: false; arcminutes: typeof angles.floor };

/**
 * The largest type, from 22 arc minutes downwards in whole minutes, in which a page of few lines fits on the screen.
 * Never under 16: then it does not fit, and the line is read aloud instead of being shrunk.
 *
 * @param distanceM viewing distance in metres
 * @param screenMm usable width and height in mm
 * @example glanceSize(3, { width: 227, height: 158 }) // { fits: true, arcminutes: 20, capMm: 17.45, fontMm: 26.1 }
 */
export function glanceSize(
  distanceM: number,
  screenMm: { width: number; height: number },
  page: GlancePage = {},
): GlanceSize {
  const { lines = 5, em = 0, pitch = 1.05, footMm = 20 } = page;
  for (let arcminutes: number = angles.start; arcminutes >= angles.floor; arcminutes--) {
    const capMm = capHeightMm(distanceM, arcminutes);
    const fontMm = capMm / capHeight;
    if (lines * pitch * fontMm + footMm <= screenMm.height && em * fontMm <= screenMm.width)
      return { fits: true, arcminutes, capMm, fontMm };
  }
  return { fits: false, arcminutes: angles.floor };
}

/** Advance widths of U+0020 to U+007E in weight 700, thousandths of an em, from `hmtx` of the font file shipped. */
const advances = [
  312, 303, 390, 765, 610, 969, 725, 210, 335, 335, 485, 595, 271, 373, 272, 440, 659, 440, 579, 600, 624, 607, 626,
  537, 624, 571, 272, 272, 569, 612, 569, 547, 781, 678, 643, 658, 688, 597, 566, 718, 701, 424, 561, 663, 552, 858,
  717, 746, 629, 756, 650, 610, 607, 686, 644, 886, 685, 650, 618, 340, 440, 344, 582, 400, 288, 552, 596, 510, 596,
  563, 365, 593, 571, 300, 259, 555, 318, 882, 571, 576, 596, 599, 376, 508, 376, 567, 530, 740, 539, 521, 505, 381,
  254, 381, 537,
];

/**
 * Width of a line in bold type, in em, without kerning. Signs beyond ASCII count as a full em, which is never less.
 *
 * @example widthEm('Hollow ream') // 5.914
 */
export const widthEm = (text: string): number =>
  [...text].reduce((sum, letter) => sum + (advances[(letter.codePointAt(0) ?? 0) - 32] ?? 1000), 0) / 1000;
