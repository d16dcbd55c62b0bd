import { describe, expect, it } from 'vitest';
import { section } from '../../machines/compute/ring.ts';
import type { Bore } from '../../machines/entry.ts';
import { times } from '../lengths.ts';
import { seeded } from '../seeded.ts';
import { byGrid } from './ring.grid.ts';

const bones = times(32);

describe('against a count of points on a fine grid', () => {
  it.each<[Bore[]]>([
    [
      [
        { wall: 'both', diameter: 7, turn: 80 },
        { wall: 'near', diameter: 10, turn: 180 },
      ],
    ],
    [
      [
        { wall: 'near', diameter: 11, turn: 70 },
        { wall: 'both', diameter: 7, turn: 350 },
        { wall: 'far', diameter: 3, turn: 150 },
      ],
    ],
  ])('finds the weakest fibre in the middle of an arc, not at a rim of a bore: %j', (bores) => {
    const [exact, counted] = [section(28, 7, bores), byGrid(28, 7, bores)];
    expect(Math.abs(exact.bendingKept / counted.bendingKept - 1)).toBeLessThan(0.001);
  });

  it(`is within 0.5 % for ${bones} seeded bones with one to four bores`, () => {
    const next = seeded(20_261);
    const worst = { cortexLost: 0, bendingKept: 0, circumferenceLost: 0 };
    const shares = { wall: [0.1, 0.35], bore: [0.03, 0.5] } as const;
    const between = ([low, high]: readonly [number, number]) => low + (high - low) * next();
    for (let i = 0; i < bones; i++) {
      const outer = between([8, 32]);
      const cortex = outer * between(shares.wall);
      const bores = Array.from({ length: 1 + (i % 4) }, (): Bore => {
        const wall = (['near', 'far', 'both'] as const)[Math.floor(3 * next())] ?? 'both';
        return { wall, diameter: outer * between(shares.bore), turn: Math.round(3600 * next()) / 10 };
      });
      const exact = section(outer, cortex, bores);
      const counted = byGrid(outer, cortex, bores);
      for (const key of ['cortexLost', 'bendingKept', 'circumferenceLost'] as const)
        if (counted[key] > 1e-3) worst[key] = Math.max(worst[key], Math.abs(exact[key] / counted[key] - 1));
    }
    console.log('worst relative error against the grid:', worst);
    for (const error of Object.values(worst)) expect(error).toBeLessThan(0.005);
  }, 60_000);
});
