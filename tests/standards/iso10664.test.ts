/** The hexalobular recess against ISO 10664, as two public fastener tables quote it; what is from memory says so. */
import { describe, expect, it } from 'vitest';
import { content } from '../machines/build.ts';

const rows: [size: number, a: number, b: number, statusOfB: string][] = [
  [6, 1.75, 1.27, 'from memory'],
  [8, 2.4, 1.75, 'from memory'],
  [10, 2.8, 2.05, 'seen'],
  [15, 3.35, 2.4, 'seen'],
  [20, 3.95, 2.85, 'seen'],
  [25, 4.5, 3.25, 'seen'],
  [27, 5.1, 3.68, 'seen'],
  [30, 5.6, 4.05, 'seen'],
  [40, 6.75, 4.85, 'seen'],
  [45, 7.93, 5.64, 'seen'],
  [50, 8.95, 6.45, 'seen'],
];
const hexalobular = content.recesses.filter(({ drive }) => drive === 'hexalobular');

describe('ISO 10664, hexalobular recess', () => {
  it('has these sizes and no other', () =>
    expect(hexalobular.map(({ size }) => size)).toEqual(rows.map(([size]) => size)));

  it.each(rows)('size %d: A %d mm (seen), B %d mm (%s; the tables differ by up to 0.1 mm)', (size, a, b, status) => {
    const row = hexalobular.find((one) => one.size === size);
    expect(row?.a).toBe(a);
    expect(Math.abs((row?.b ?? NaN) - b)).toBeLessThanOrEqual(0.1);
    const source = content.sources.find(({ id }) => id === row?.source);
    expect(source?.cite).toContain('10664');
    if (status === 'from memory') expect(`${source?.what} ${source?.cite}`).toMatch(/from memory/);
    else expect(source?.status).toMatch(/^seen/);
  });

  it('grows with its size, and B is between 0.69 and 0.75 of A (derived)', () => {
    hexalobular.forEach(({ a, b }, i) => {
      expect(a).toBeGreaterThan(hexalobular[i - 1]?.a ?? 0);
      expect((b ?? 0) / a).toBeGreaterThan(0.69);
      expect((b ?? 0) / a).toBeLessThan(0.75);
    });
  });
});
