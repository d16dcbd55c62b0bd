/** The bone section by brute force: points on a polar grid, each in or out, nothing shared with the closed forms. */
import type { Bore } from '../../machines/entry.ts';

const rings = 240;
const spokes = 10_800;
const directions = 720;

/** Share of area, of circumference, and least bending strength, by counting; lengths in mm. */
export function byGrid(outer: number, cortex: number, bores: readonly Bore[]) {
  const slabs = bores.map(({ wall, diameter, turn = 0 }) => ({
    wall,
    half: diameter / 2,
    ux: Math.cos((turn * Math.PI) / 180),
    uy: Math.sin((turn * Math.PI) / 180),
  }));
  const removed = (x: number, y: number) =>
    slabs.some(({ wall, half, ux, uy }) => {
      if (Math.abs(ux * y - uy * x) > half) return false;
      const along = ux * x + uy * y;
      return wall === 'both' || (wall === 'near' ? along >= 0 : along <= 0);
    });
  const R = outer / 2;
  const inside = R - cortex;
  const kept = { area: 0, x: 0, y: 0, xx: 0, yy: 0, xy: 0 };
  const whole = { area: 0, xx: 0 };
  const rim: [number, number][] = [];
  for (let s = 0; s < spokes; s++) {
    const angle = ((s + 0.5) * 2 * Math.PI) / spokes;
    const [c, sn] = [Math.cos(angle), Math.sin(angle)];
    if (!removed(R * c, R * sn)) rim.push([R * c, R * sn]);
    for (let i = 0; i < rings; i++) {
      const r = inside + ((i + 0.5) * cortex) / rings;
      const [x, y] = [r * c, r * sn];
      whole.area += r;
      whole.xx += r * x * x;
      if (removed(x, y)) continue;
      kept.area += r;
      kept.x += r * x;
      kept.y += r * y;
      kept.xx += r * x * x;
      kept.yy += r * y * y;
      kept.xy += r * x * y;
    }
  }
  const [cx, cy] = [kept.x / kept.area, kept.y / kept.area];
  const [xx, yy, xy] = [kept.xx - cx * kept.x, kept.yy - cy * kept.y, kept.xy - cx * kept.y];
  let weakest = Infinity;
  for (let d = 0; d < directions; d++) {
    const angle = (d * Math.PI) / directions;
    // Plane stress a·x + b·y that balances a unit moment about the axis at `angle`.
    const [mx, my] = [Math.cos(angle), Math.sin(angle)];
    const det = xx * yy - xy * xy;
    const [a, b] = [(-my * yy - mx * xy) / det, (mx * xx + my * xy) / det];
    let most = 0;
    for (const [x, y] of rim) most = Math.max(most, Math.abs(a * (x - cx) + b * (y - cy)));
    weakest = Math.min(weakest, 1 / most);
  }
  return {
    cortexLost: 1 - kept.area / whole.area,
    bendingKept: rim.length ? weakest / (whole.xx / R) : 0,
    circumferenceLost: 1 - rim.length / spokes,
  };
}
