/** What the picture of time is made of. */

/** How a bar looks: told apart by fill, outline and hatch, never by hue. */
export const looks = ['cuff', 'out', 'gain', 'no-gain', 'open-end', 'stays'] as const;
export type Look = (typeof looks)[number];
export const signs = ['slip', 'broke', 'off', 'stopped'] as const;
export type Sign = (typeof signs)[number];

export interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}
export type Shape =
  | (Box & { kind: 'bar'; look: Look; from: number[] })
  | (Box & { kind: 'sign'; sign: Sign; from: number[] })
  | (Box & { kind: 'text'; text: string; bold: boolean })
  | { kind: 'line'; x1: number; y1: number; x2: number; y2: number };

export interface TimePicture {
  /** A quarter of a millimetre each. */
  width: number;
  height: number;
  /** Height of a line of text. */
  text: number;
  shapes: Shape[];
  /** The same in words, for a reader who does not see it. */
  alt: string;
}
