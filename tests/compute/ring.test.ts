import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { section } from '../../machines/compute/ring.ts';
import type { Bore } from '../../machines/entry.ts';
import { explore } from '../explore.ts';

const own: Bore = { wall: 'both', diameter: 4.5 };

function simpson(from: number, to: number, f: (y: number) => number, n = 20_000): number {
  const step = (to - from) / n;
  let sum = f(from) + f(to);
  for (let i = 1; i < n; i++) sum += f(from + i * step) * (i % 2 ? 4 : 2);
  return (sum * step) / 3;
}

describe('the bone with one screw hole through both walls', () => {
  const bone = section(27, 5, [own]);

  it('gives the figures of a 4.5 mm hole in a 27 mm bone with a 5 mm cortex', () => {
    expect(bone.intactArea).toBeCloseTo(345.58, 2);
    expect(bone.cortexLost).toBeCloseTo(0.1312, 4);
    expect(bone.torsionKept).toBeCloseTo(0.693, 3);
    expect(bone.torsionBand.map((end) => end.toFixed(3))).toEqual(['0.623', '0.763']);
    expect(bone.circumferenceLost).toBeCloseTo(0.1066, 4);
    expect(bone.torsionTested).toBe(true);
    expect(bone.openSection).toBe(false);
    expect(Math.abs(bone.bendingKept / 0.7546 - 1)).toBeLessThan(0.005);
  });

  it('agrees with the second moments worked by hand for a symmetric pair of slabs', () => {
    const [R, r, h] = [13.5, 8.5, 2.25];
    // Along the bore: 4/3 ∫₀ʰ ((R²−y²)^1.5 − (r²−y²)^1.5) dy; across it: 4 ∫₀ʰ y² (√(R²−y²) − √(r²−y²)) dy.
    const intact = (Math.PI / 4) * (R ** 4 - r ** 4);
    const along = intact - (4 / 3) * simpson(0, h, (y) => (R * R - y * y) ** 1.5 - (r * r - y * y) ** 1.5);
    const across = intact - 4 * simpson(0, h, (y) => y * y * (Math.sqrt(R * R - y * y) - Math.sqrt(r * r - y * y)));
    const most = Math.hypot(Math.sqrt(R * R - h * h) / along, h / across);
    expect(bone.bendingKept).toBeCloseTo(R / intact / most, 10);
  });

  it('prints its figures in one fixed order', () => {
    expect(Object.keys(bone)).toEqual([
      'intactArea',
      'cortexLost',
      'bendingKept',
      'torsionKept',
      'torsionBand',
      'torsionTested',
      'circumferenceLost',
      'openSection',
    ]);
  });
});

describe('closed forms', () => {
  it('leaves an intact ring whole', () => {
    expect(section(28, 7, [])).toEqual({
      intactArea: Math.PI * (14 ** 2 - 7 ** 2),
      cortexLost: 0,
      bendingKept: 1,
      torsionKept: 1,
      torsionBand: [expect.closeTo(0.93, 12), 1],
      torsionTested: true,
      circumferenceLost: 0,
      openSection: false,
    });
  });

  it('comes back to area, second moment and section modulus of the intact ring as the hole narrows to a hair', () => {
    const hair = section(28, 7, [{ wall: 'near', diameter: 1e-7, turn: 33 }]);
    expect(hair.cortexLost).toBeGreaterThan(0);
    expect(hair.cortexLost).toBeCloseTo((7 * 1e-7) / hair.intactArea, 12);
    expect(hair.bendingKept).toBeCloseTo(1, 7);
    expect(hair.bendingKept).toBeLessThan(1);
    expect(hair.torsionKept).toBeCloseTo(1, 7);
    expect(hair.circumferenceLost).toBeCloseTo(1e-7 / (28 * Math.PI), 12);
  });

  it('takes half of everything with a bore as wide as the bone through one wall', () => {
    const [R, r] = [13.5, 8.5];
    const half = section(27, 5, [{ wall: 'near', diameter: 27 }]);
    expect(half.cortexLost).toBeCloseTo(0.5, 12);
    expect(half.circumferenceLost).toBeCloseTo(0.5, 12);
    // Half ring: centroid at 4 (R³−r³) / 3π (R²−r²); about its own centroid in one direction, half the ring in the other.
    const centroid = (4 * (R ** 3 - r ** 3)) / (3 * Math.PI * (R ** 2 - r ** 2));
    const across = (Math.PI / 8) * (R ** 4 - r ** 4);
    const along = across - (Math.PI / 2) * (R ** 2 - r ** 2) * centroid ** 2;
    let most = 0;
    for (let i = 0; i <= 100_000; i++) {
      const angle = (Math.PI * i) / 100_000 - Math.PI / 2;
      most = Math.max(most, Math.hypot((R * Math.cos(angle) - centroid) / along, (R * Math.sin(angle)) / across));
    }
    expect(half.bendingKept).toBeCloseTo(R / (2 * across) / most, 8);
  });

  it('takes from one wall what a hole wider than the canal takes of it', () => {
    // One wall, h > r: the slab from the canal's middle out, less the half of the canal that lies in it.
    const [R, r, h] = [10, 2, 7];
    const slab = h * Math.sqrt(R * R - h * h) + R * R * Math.asin(h / R);
    const bone = section(20, 8, [{ wall: 'near', diameter: 14, turn: 200 }]);
    expect(bone.cortexLost).toBeCloseTo((slab - (Math.PI * r * r) / 2) / bone.intactArea, 12);
    expect(bone.circumferenceLost).toBeCloseTo((2 * Math.asin(h / R)) / (2 * Math.PI), 12);
  });

  it('takes no less than nothing and no more than all, where rounding alone would', () => {
    const both = (diameter: number, turn: number): Bore[] => [{ wall: 'both', diameter, turn }];
    expect(section(36, 4.1, both(1e-17, 236)).cortexLost).toBe(0);
    expect(section(18, 2.9, both(1e-17, 42)).circumferenceLost).toBe(0);
    expect(section(8, 1.2, both(8 - 1e-11, 122)).cortexLost).toBe(1);
  });

  it.each([27, 30, 400])('leaves nothing of a 27 mm bone bored %s mm wide through both walls', (diameter) => {
    const gone = section(27, 5, [{ wall: 'both', diameter, turn: 17 }]);
    expect(gone).toMatchObject({ cortexLost: 1, bendingKept: 0, circumferenceLost: 1 });
  });

  it('takes the cut through the middle of a hole wider than the canal', () => {
    // Both walls, h > r: what is left is two circular segments beyond the slab.
    const [R, h] = [10, 6];
    const segments = 2 * (R * R * Math.acos(h / R) - h * Math.sqrt(R * R - h * h));
    const bone = section(20, 8, [{ wall: 'both', diameter: 12, turn: 80 }]);
    expect(bone.cortexLost).toBeCloseTo(1 - segments / bone.intactArea, 12);
    const along = (4 / 3) * simpson(h, R, (y) => (R * R - y * y) ** 1.5);
    const across = 4 * simpson(h, R, (y) => y * y * Math.sqrt(R * R - y * y));
    const fibre = (y: number) => Math.hypot(Math.sqrt(R * R - y * y) / along, y / across);
    const most = Math.max(fibre(h), fibre(R));
    expect(bone.bendingKept).toBeCloseTo(R / ((Math.PI / 4) * (R ** 4 - 2 ** 4)) / most, 6);
  });
});

describe('bores through one wall, alike on both sides of a line', () => {
  /**
   * Bending strength kept, by summing over thin rings: at radius ρ a bore of half-width h in direction θ takes the
   * directions within asin(h / ρ) of it, a quarter turn where it is wider. The bores do not touch; or each is two that
   * run into each other, `apart` to both sides of θ.
   */
  function bySumming(R: number, r: number, h: number, directions: readonly number[], apart: number): number {
    const within = (rho: number) => (h < rho ? Math.asin(h / rho) : Math.PI / 2) + apart;
    const over = (f: (rho: number) => number) =>
      h > r ? simpson(r, h, f) + simpson(h, R, f, 200_000) : simpson(r, R, f);
    const taken = (f: (theta: number, a: number) => number) => (rho: number) =>
      directions.reduce((sum, theta) => sum + f(theta, within(rho)), 0);
    const area = over((rho) => rho * (2 * Math.PI - taken((_, a) => 2 * a)(rho)));
    const x = -over((rho) => rho ** 2 * taken((theta, a) => 2 * Math.cos(theta) * Math.sin(a))(rho)) / area;
    const half = (theta: number, a: number) => (Math.cos(2 * theta) * Math.sin(2 * a)) / 2;
    const xx = over((rho) => rho ** 3 * (Math.PI - taken((theta, a) => a + half(theta, a))(rho))) - area * x * x;
    const yy = over((rho) => rho ** 3 * (Math.PI - taken((theta, a) => a - half(theta, a))(rho)));
    const edge = within(R);
    let most = 0;
    const look = (angle: number) =>
      (most = Math.max(most, Math.hypot((R * Math.cos(angle) - x) / xx, (R * Math.sin(angle)) / yy)));
    for (let i = 0; i < 100_000; i++) {
      const angle = (2 * Math.PI * i) / 100_000;
      if (directions.every((theta) => Math.cos(angle - theta) < Math.cos(edge))) look(angle);
    }
    for (const theta of directions) [theta - edge, theta + edge].forEach(look);
    return R / ((Math.PI / 4) * (R ** 4 - r ** 4)) / most;
  }

  it.each([
    [20, 8, 14, [0], 0],
    [20, 8, 14, [0], 20],
    [27, 5, 4.5, [0], 0],
    [27, 5, 5, [60, -60], 0],
    [27, 5, 5, [30, -30], 0],
    [27, 5, 8, [75, -75], 0],
    [24, 6, 3, [0, 100, -100], 0],
    [24, 6, 3, [0, 100, -100], 5],
  ])('%s mm wide, wall %s mm, bored %s mm wide at %j degrees ± %s', (outer, cortex, diameter, turns, apart) => {
    const bores = turns
      .flatMap((turn) => [turn - apart, turn + apart])
      .map((turn): Bore => ({ wall: 'near', diameter, turn: turn + 11 }));
    const [directions, aside] = [turns.map((turn) => (turn * Math.PI) / 180), (apart * Math.PI) / 180];
    const summed = bySumming(outer / 2, outer / 2 - cortex, diameter / 2, directions, aside);
    expect(section(outer, cortex, bores).bendingKept).toBeCloseTo(summed, 6);
  });
});

describe('several bores at one level', () => {
  it('counts identical bores once', () => {
    expect(section(24, 5, [own, own, { ...own, turn: 360 }, { ...own, turn: 180 }])).toEqual(section(24, 5, [own]));
  });

  it('counts a narrow bore inside a wider one once', () => {
    const wide: Bore = { wall: 'near', diameter: 7, turn: 10 };
    expect(section(24, 5, [wide, { wall: 'near', diameter: 3, turn: 10 }])).toEqual(section(24, 5, [wide]));
    const beside = section(24, 5, [wide, { wall: 'near', diameter: 1, turn: 12 }]);
    expect(beside.cortexLost).toBeCloseTo(section(24, 5, [wide]).cortexLost, 12);
  });

  it('is the same for near and far together as for both', () => {
    const apart = section(24, 5, [
      { ...own, wall: 'far' },
      { ...own, wall: 'near' },
    ]);
    const both = section(24, 5, [own]);
    expect(apart.cortexLost).toBeCloseTo(both.cortexLost, 13);
    expect(apart.bendingKept).toBeCloseTo(both.bendingKept, 12);
  });

  it('adds bores that do not touch', () => {
    const two = section(27, 5, [
      { wall: 'near', diameter: 4 },
      { wall: 'near', diameter: 3, turn: 90 },
    ]);
    const one = (diameter: number) => section(27, 5, [{ wall: 'near', diameter }]).cortexLost;
    expect(two.cortexLost).toBeCloseTo(one(4) + one(3), 12);
  });

  it('marks a slot longer than the bone is wide', () => {
    const slot = (length: number) => section(27, 5, [own, { wall: 'near', diameter: 6, length }]).openSection;
    expect([slot(27), slot(27.1)]).toEqual([false, true]);
  });
});

const bone = fc.record({
  outer: fc.double({ min: 6, max: 40, noNaN: true }),
  wall: fc.double({ min: 0.05, max: 0.48, noNaN: true }),
});
const bore = fc.record({
  wall: fc.constantFrom('near' as const, 'far' as const, 'both' as const),
  share: fc.double({ min: 1e-3, max: 1.2, noNaN: true }),
  turn: fc.oneof(fc.integer({ min: -360, max: 720 }), fc.double({ min: -360, max: 720, noNaN: true })),
});
type Drawn = { wall: Bore['wall']; share: number; turn: number };
const bored = (outer: number, drawn: readonly Drawn[]): Bore[] =>
  drawn.map(({ wall, share, turn }) => ({ wall, diameter: share * outer, turn }));

describe('for any bone and any bores', () => {
  const check = (name: string, holds: (outer: number, cortex: number, drawn: Drawn[], one: Drawn) => void) =>
    it(name, () => {
      const property = fc.property(bone, fc.array(bore, { maxLength: 5 }), bore, (b, drawn, one) =>
        holds(b.outer, b.outer * b.wall, drawn, one),
      );
      explore(property, { numRuns: 500 });
    });

  check('one more bore never lowers what is lost', (outer, cortex, drawn, one) => {
    const before = section(outer, cortex, bored(outer, drawn));
    const after = section(outer, cortex, bored(outer, [...drawn, one]));
    expect(after.cortexLost).toBeGreaterThanOrEqual(before.cortexLost - 1e-11);
    expect(after.circumferenceLost).toBeGreaterThanOrEqual(before.circumferenceLost - 1e-11);
    expect(after.torsionKept).toBeLessThanOrEqual(before.torsionKept);
  });

  check('every share lies between nothing and all', (outer, cortex, drawn, one) => {
    const figures = section(outer, cortex, bored(outer, [...drawn, one]));
    const shares = [figures.cortexLost, figures.bendingKept, figures.torsionKept, figures.circumferenceLost];
    for (const share of [...shares, ...figures.torsionBand]) {
      expect(share).toBeGreaterThanOrEqual(0);
      expect(share).toBeLessThanOrEqual(1);
    }
  });

  check('turning or mirroring the whole changes nothing', (outer, cortex, drawn, one) => {
    const all = bored(outer, [...drawn, one]);
    const still = section(outer, cortex, all);
    const images = [
      all.map((b) => ({ ...b, turn: (b.turn ?? 0) + 77.7 })),
      all.map((b) => ({ ...b, turn: -(b.turn ?? 0) })),
      all.map((b) => ({
        ...b,
        wall: b.wall === 'both' ? b.wall : 'far',
        turn: (b.turn ?? 0) + (b.wall === 'near' ? 180 : 0),
      })),
    ] as Bore[][];
    for (const image of images) {
      const moved = section(outer, cortex, image);
      expect(Math.abs(moved.cortexLost - still.cortexLost)).toBeLessThan(1e-9);
      expect(Math.abs(moved.bendingKept - still.bendingKept)).toBeLessThan(1e-7);
      expect(Math.abs(moved.circumferenceLost - still.circumferenceLost)).toBeLessThan(1e-9);
    }
  });

  check('the size of the bone does not matter, only its proportions', (outer, cortex, drawn, one) => {
    const small = section(outer, cortex, bored(outer, [...drawn, one]));
    const large = section(outer * 3, cortex * 3, bored(outer * 3, [...drawn, one]));
    expect(Math.abs(large.cortexLost - small.cortexLost)).toBeLessThan(1e-9);
    expect(Math.abs(large.bendingKept - small.bendingKept)).toBeLessThan(1e-7);
  });
});

describe('bores that meet within the wall', () => {
  it.each<[string, number, number, Bore[]]>([
    [
      'touch part of the way through',
      28,
      9,
      [
        { wall: 'near', diameter: 7 },
        { wall: 'near', diameter: 6, turn: 40 },
      ],
    ],
    [
      'are swallowed near the canal only',
      24,
      5,
      [
        { wall: 'near', diameter: 7 },
        { wall: 'near', diameter: 2, turn: 17 },
      ],
    ],
    [
      'touch one that still fills its half',
      20,
      8,
      [
        { wall: 'near', diameter: 12 },
        { wall: 'near', diameter: 2, turn: 110 },
      ],
    ],
    [
      'touch one that fills its half, listed first',
      20,
      8,
      [
        { wall: 'far', diameter: 2 },
        { wall: 'far', diameter: 12, turn: -110 },
      ],
    ],
    [
      'cross the zero direction',
      27,
      6,
      [
        { wall: 'both', diameter: 6, turn: 350 },
        { wall: 'near', diameter: 5, turn: 25 },
      ],
    ],
  ])('%s: the area lost is what every circle through the wall loses', (_, outer, cortex, bores) => {
    const [R, r, steps] = [outer / 2, outer / 2 - cortex, 4000];
    let lost = 0;
    for (let i = 0; i < steps; i++) {
      const at = r + ((i + 0.5) * cortex) / steps;
      lost += 2 * Math.PI * at * section(2 * at, at / 2, bores).circumferenceLost;
    }
    const share = (lost * cortex) / steps / (Math.PI * (R * R - r * r));
    expect(Math.abs(section(outer, cortex, bores).cortexLost - share)).toBeLessThan(3e-6);
  });
});
