import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const theme = readFileSync(new URL('../../src/theme.css', import.meta.url), 'utf8');

/** The inks of one scheme, by name. */
function inks(scheme: 'dark' | 'light'): (name: string) => string {
  const block = new RegExp(`data-theme='${scheme}'\\] \\{([^}]*)\\}`).exec(theme)?.[1] ?? '';
  const all = new Map([...block.matchAll(/--([\w-]+): (#[0-9a-f]{6})/g)].map(([, name, value]) => [name, value]));
  return (name) => all.get(name) ?? expect.fail(`${scheme} has no --${name}`);
}

/** Relative luminance and contrast ratio as WCAG 2.2 defines them; the threshold 0.04045 is that of IEC 61966-2-1. */
function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const c = parseInt(hex.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
function contrast(a: string, b: string): number {
  const [dark, light] = [luminance(a), luminance(b)].sort((x, y) => x - y) as [number, number];
  return (light + 0.05) / (dark + 0.05);
}

it('is 21 between black and white', () => expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6));

describe.each(['dark', 'light'] as const)('the %s scheme', (scheme) => {
  const ink = inks(scheme);

  // WCAG 2.2 SC 1.4.6 asks 7:1 of text.
  it.each([
    ['ink', 'ground'],
    ['ink', 'surface'],
    ['ink', 'raised'],
    ['ink-soft', 'ground'],
    ['ink-soft', 'surface'],
    ['ink-soft', 'raised'],
    ['ground', 'ink'],
  ])('shows text in %s on %s at 7:1 or more [Z8]', (text, ground) => {
    expect(contrast(ink(text), ink(ground))).toBeGreaterThanOrEqual(7);
  });

  // WCAG 2.2 SC 1.4.11 asks 3:1 of what shows an edge or a state.
  it.each([
    ['edge', 'ground'],
    ['edge', 'raised'],
    ['ink', 'edge'],
    ['bone', 'ground'],
    ['bone', 'surface'],
    ['bone', 'raised'],
    ['bone', 'marrow'],
    ['ink', 'bone'],
    ['bone-line', 'ground'],
    ['bone-line', 'marrow'],
    ['metal', 'surface'],
    ['metal', 'bone'],
    ['metal', 'marrow'],
    ['tool', 'surface'],
  ])('shows %s on %s at 3:1 or more [Z28]', (mark, ground) => {
    expect(contrast(ink(mark), ink(ground))).toBeGreaterThanOrEqual(3);
  });
});

it('gives no ink the name of a state, and both schemes the same inks [Z28]', () => {
  const names = (scheme: string) =>
    [...(new RegExp(`data-theme='${scheme}'\\] \\{([^}]*)\\}`).exec(theme)?.[1] ?? '').matchAll(/--([\w-]+):/g)].map(
      ([, name]) => name,
    );
  const touched = ['ground', 'surface', 'raised', 'ink', 'ink-soft', 'edge'];
  expect(names('dark')).toEqual([...touched, 'bone', 'bone-line', 'marrow', 'metal', 'tool']);
  expect(names('light')).toEqual(names('dark'));
});
