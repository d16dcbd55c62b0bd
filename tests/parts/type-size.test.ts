import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { capHeight, capHeightMm, fontPx, glanceSize, widthEm } from '../../src/parts/type-size.ts';
import { uncalibratedPxPerMm } from '../../src/parts/px-per-mm.ts';

const family = '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin';
const theme = readFileSync(new URL('../../src/theme.css', import.meta.url), 'utf8');

/** The tables of a WOFF 1.0 file (W3C Recommendation, section 4): entries of 20 bytes after a header of 44. */
function tables(weight: 400 | 700): Map<string, Buffer> {
  const file = readFileSync(createRequire(import.meta.url).resolve(`${family}-${weight}-normal.woff`));
  const read = (at: number): [string, Buffer] => {
    const [offset, packed, length] = [4, 8, 12].map((by) => file.readUInt32BE(at + by)) as [number, number, number];
    const raw = file.subarray(offset, offset + packed);
    return [file.toString('latin1', at, at + 4), packed < length ? inflateSync(raw) : raw];
  };
  return new Map(Array.from({ length: file.readUInt16BE(12) }, (_, i) => read(44 + 20 * i)));
}
const table = (weight: 400 | 700, tag: string): Buffer => tables(weight).get(tag) ?? expect.fail(`no table ${tag}`);

describe('height of a capital', () => {
  it('is the one that stands in the font files shipped [Z8]', () => {
    for (const weight of [400, 700] as const) {
      const unitsPerEm = table(weight, 'head').readUInt16BE(18);
      expect(table(weight, 'OS/2').readInt16BE(88) / unitsPerEm).toBe(capHeight);
    }
  });

  // Heights at 16, 20, 22 arc minutes by 2 · D · tan(θ / 2); ISO 9241-3 asks at least 16, prefers 20–22 (second-hand).
  it.each([
    [0.5, 16, 2.3],
    [1, 16, 4.65],
    [2, 22, 12.8],
    [3, 16, 14.0],
    [3, 20, 17.5],
    [3, 22, 19.2],
  ])('at %s m under %s arc minutes is %s mm [Z8]', (distance, angle, mm) => {
    expect(Math.abs(capHeightMm(distance, angle) - mm)).toBeLessThanOrEqual(0.051);
  });

  it('agrees with H = 6.283 · D · MA / 21600 of NUREG-0700 rev 2, section 1.3.1-4 [Z8]', () => {
    for (const [d, ma] of [
      [0.7, 20],
      [2, 16],
      [3, 22],
    ] as const)
      expect(capHeightMm(d, ma) / ((6.283 * d * 1000 * ma) / 21_600)).toBeCloseTo(1, 4);
  });

  it('refuses a distance or an angle that is none', () => {
    for (const bad of [0, -1, NaN, Infinity]) {
      expect(() => capHeightMm(bad, 20)).toThrow(RangeError);
      expect(() => capHeightMm(2, bad)).toThrow(RangeError);
    }
  });

  it('is smaller than the font size: 12.8 mm of capital need 19.2 mm of type', () => {
    expect(fontPx(12.8, 1)).toBeCloseTo(19.16, 2);
    expect(fontPx(12.8, 132 / 25.4)).toBeCloseTo(99.58, 2);
  });
});

describe('the page that is read from the table', () => {
  const tablet = { width: 227, height: 158 };

  it('stands at 22 arc minutes at 2 m [Z8]', () => {
    expect(glanceSize(2, tablet)).toMatchObject({ fits: true, arcminutes: 22 });
  });

  it('stands at 20 arc minutes at 3 m on a screen 158 mm high, where 22 do not fit [Z8]', () => {
    const size = glanceSize(3, tablet);
    expect(size).toMatchObject({ fits: true, arcminutes: 20 });
    if (size.fits) expect(size.fontMm * 1.05 * 5).toBeLessThanOrEqual(138);
  });

  it('says that it does not fit instead of going under 16 arc minutes [Z8]', () => {
    for (let distance = 0.5; distance < 12; distance += 0.25)
      for (const em of [0, 8, 12]) {
        const size = glanceSize(distance, tablet, { em });
        if (size.fits) {
          expect(size.arcminutes).toBeGreaterThanOrEqual(16);
          expect(size.capMm).toBeGreaterThanOrEqual(capHeightMm(distance, 16) - 1e-9);
          expect(size.fontMm * em).toBeLessThanOrEqual(tablet.width);
        } else expect(Math.max(em / 227, 5.25 / 138) * (capHeightMm(distance, 16) / capHeight)).toBeGreaterThan(1);
      }
    expect(glanceSize(5, tablet)).toEqual({ fits: false, arcminutes: 16 });
  });

  it('measures a line by the advance widths of the bold font [Z8]', () => {
    expect(widthEm('Hollow ream')).toBeCloseTo(5.914, 3);
    const metrics = table(700, 'hmtx');
    const widths = new Set(
      Array.from({ length: table(700, 'hhea').readUInt16BE(34) }, (_, i) => metrics.readUInt16BE(4 * i)),
    );
    for (let code = 0x20; code < 0x7f; code++)
      expect(widths, String.fromCharCode(code)).toContain(Math.round(widthEm(String.fromCharCode(code)) * 1000));
    expect(widthEm('↺')).toBe(1);
  });
});

describe('sizes in the theme', () => {
  const inMm = (name: string) =>
    Number(new RegExp(`--${name}: calc\\(([\\d.]+) \\* var\\(--mm\\)\\)`).exec(theme)?.[1]);

  it.each([
    ['text', 0.7, 20],
    ['text-small', 0.7, 16],
    ['text-card', 1, 16],
    ['text-stage', 2, 16],
  ])('--%s reads at %s m under %s arc minutes [Z8]', (name, distance, angle) => {
    expect(inMm(name)).toBeCloseTo(capHeightMm(distance, angle) / capHeight, 1);
  });

  it('makes a touch 20 mm and never less than 44 px, with 3 mm between and 13 mm to a consequential one [Z5]', () => {
    expect(theme).toContain('--touch: max(44px, calc(20 * var(--mm)))');
    expect(inMm('gap')).toBeGreaterThanOrEqual(3);
    expect(inMm('apart')).toBeGreaterThanOrEqual(13);
    expect(theme).toContain('--mm: calc(96px / 25.4)');
    expect(uncalibratedPxPerMm).toBeCloseTo(3.78, 2);
  });
});
