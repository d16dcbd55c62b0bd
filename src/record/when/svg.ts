/** The picture of time as SVG. Ink on paper alone: it reads without colour, and holds no style that a page would refuse. */
import type { Look, Shape, Sign, TimePicture } from './shapes.ts';

const ink = '#14181c';
const grey = '#9aa3ab';
const faint = '#e4e2d8';

export const escapeXml = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');

const fills: Record<Look, string> = {
  cuff: `fill="${grey}" stroke="none"`,
  out: `fill="${ink}" stroke="${ink}"`,
  gain: `fill="url(#gain)" stroke="${ink}"`,
  'no-gain': `fill="#ffffff" stroke="${ink}"`,
  'open-end': `fill="#ffffff" stroke="${ink}" stroke-dasharray="3 2"`,
  stays: `fill="#ffffff" stroke="${ink}" stroke-width="2"`,
};

/** Paths of the signs in a box of 10 by 12. */
export const signPaths: Record<Sign, string> = {
  slip: 'M1 1 L8 6 L1 11',
  broke: 'M1 1 L9 11 M9 1 L1 11',
  off: 'M1 8 L5 2 L9 8 M1 11 H9',
  stopped: 'M2 1 V11 M7 1 V11',
};

const n = (value: number): string => String(Math.round(value * 100) / 100);

function shape(one: Shape): string {
  switch (one.kind) {
    case 'line':
      return `<line x1="${n(one.x1)}" y1="${n(one.y1)}" x2="${n(one.x2)}" y2="${n(one.y2)}" stroke="${faint}"/>`;
    case 'text':
      return `<text x="${n(one.x)}" y="${n(one.y + one.height * 0.85)}"${one.bold ? ' font-weight="bold"' : ''}>${escapeXml(one.text)}</text>`;
    case 'bar':
      return `<rect x="${n(one.x)}" y="${n(one.y)}" width="${n(one.width)}" height="${n(one.height)}" ${fills[one.look]}/>`;
    case 'sign':
      return `<path d="${signPaths[one.sign]}" transform="translate(${n(one.x)} ${n(one.y)}) scale(${n(one.height / 12)})" fill="none" stroke="#ffffff" stroke-width="4"/><path d="${signPaths[one.sign]}" transform="translate(${n(one.x)} ${n(one.y)}) scale(${n(one.height / 12)})" fill="none" stroke="${ink}" stroke-width="2"/>`;
  }
}

/**
 * The picture as a string: an SVG that stands by itself, 0.25 mm a unit.
 *
 * @example svgOf(picture).startsWith('<svg xmlns="http://www.w3.org/2000/svg"') // true
 */
export const svgOf = ({ width, height, text, shapes, alt }: TimePicture): string =>
  [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${n(width)} ${n(height)}" width="${n(width / 4)}mm" height="${n(height / 4)}mm" role="img" font-family="sans-serif" font-size="${n(text)}" fill="${ink}">`,
    `<title>${escapeXml(alt)}</title>`,
    `<defs><pattern id="gain" width="4" height="4" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="4" height="4" fill="#ffffff"/><rect width="2" height="4" fill="${ink}"/></pattern></defs>`,
    ...shapes.map(shape),
    '</svg>',
  ].join('\n');
