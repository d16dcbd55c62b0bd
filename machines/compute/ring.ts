/**
 * The bone at one level as a hollow circular cylinder with slabs bored out of its walls.
 *
 * At radius r a bore of half-width h takes away the directions within asin(h / r) of its own (a quarter turn either
 * way where r < h). Which bore bounds the next gap changes only at radii known in closed form; between them every
 * integral over r is elementary, so the figures are exact to rounding. Derived here; no publication.
 */
import type { Bore } from '../entry.ts';
import { torsionFit, torsionKept, type TorsionRules } from './torsion.ts';

export interface BoneSection {
  /** Area of the intact cortical ring, mm². */
  intactArea: number;
  /** Share of that area removed, 0–1; bores that overlap count once. */
  cortexLost: number;
  /** Elastic bending strength kept in the weakest direction, relative to the intact ring. */
  bendingKept: number;
  /** Torsional strength kept, from hole tests, 0–1; a scale of its own. */
  torsionKept: number;
  torsionBand: [number, number];
  /** Whether the largest bore lies within the range of those tests. */
  torsionTested: boolean;
  /** Share of the outer circumference removed, 0–1. */
  circumferenceLost: number;
  /** A slot longer than the outer diameter: the section behaves as open in torsion. */
  openSection: boolean;
}

/** One wall bored through: the direction of the bore in radians 0–2π, and half its width in mm. */
interface Cut {
  at: number;
  half: number;
}

/** A limit of the bone left: the angle `base + side · asin(half / r)`. */
interface Edge {
  base: number;
  side: 1 | -1;
  half: number;
}

/** Bone left at one radius, anticlockwise from one edge to the next; `start` and `end` in radians. */
interface Arc {
  from: Edge;
  to: Edge;
  start: number;
  end: number;
}

const turn = 2 * Math.PI;
/** Narrower gaps, in radians, are rounding, not bone. */
const sliver = 1e-12;

/**
 * What a set of bores at one level costs the bone.
 *
 * Cortex and bending: plane geometry and unsymmetric bending about the remaining section's own centroid, over the
 * remaining outer fibres only. Torsion: see `torsionKept`. Open section: slots up to one outer diameter long had
 * little effect on torsional stiffness (Elias, Frassica, Chao 2000, J Biomech 33:1517).
 *
 * @param outer outer diameter, mm, > 0
 * @param cortex wall thickness, mm, > 0 and < outer / 2
 * @param bores each with diameter > 0 mm; `near` is the half-plane its `turn` (degrees) points into, `far` the other;
 *   `length` mm along the bone, left out = round. A bore wider than the bone takes all of its wall
 * @param rules the constants of the torsion curve
 * @returns the figures, unrounded; a ring with nothing left keeps no bending strength; never throws, never NaN
 * @example section(27, 5, [{ wall: 'both', diameter: 4.5 }])
 * // { intactArea: 345.58, cortexLost: 0.1312, bendingKept: 0.7544, torsionKept: 0.693, torsionBand: [0.623, 0.763],
 * //   torsionTested: true, circumferenceLost: 0.1066, openSection: false }
 */
export function section(
  outer: number,
  cortex: number,
  bores: readonly Bore[],
  rules: TorsionRules = torsionFit,
): BoneSection {
  const outside = outer / 2;
  const inside = outside - cortex;
  const intactArea = Math.PI * (outside ** 2 - inside ** 2);
  const cuts = cutsOf(bores);
  const rim = arcsLeft(cuts, outside);
  const figures = { lost: 0, bending: 1 };
  if (cuts.length) {
    const left = integrate(cuts, inside, outside);
    figures.lost = Math.min(1, Math.max(0, 1 - left.area / intactArea));
    figures.bending = modulusLeft(left, rim, outside) / ringModulus(outer, cortex);
  }
  const torsion = torsionKept(
    bores.reduce((widest, { diameter }) => Math.max(widest, diameter), 0),
    outer,
    rules,
  );
  return {
    intactArea,
    cortexLost: figures.lost,
    bendingKept: figures.bending,
    torsionKept: torsion.kept,
    torsionBand: torsion.band,
    torsionTested: torsion.tested,
    circumferenceLost: cuts.length
      ? Math.max(0, 1 - rim.reduce((sum, { start, end }) => sum + end - start, 0) / turn)
      : 0,
    openSection: bores.some(({ diameter, length = diameter }) => length > outer),
  };
}

/**
 * Elastic section modulus of an intact hollow circular cylinder in bending, π (R⁴ − r⁴) / 4R: the moment that it bears
 * at unit stress in its outermost fibre. Textbook formula.
 *
 * @param outer outer diameter, mm, > 0
 * @param cortex wall thickness, mm, > 0 and < outer / 2
 * @returns mm³
 * @example ringModulus(24, 5) // 1200.02
 */
export function ringModulus(outer: number, cortex: number): number {
  const outside = outer / 2;
  const inside = outside - cortex;
  return (Math.PI * (outside ** 4 - inside ** 4)) / 4 / outside;
}

/** One cut for each wall bored. */
const cutsOf = (bores: readonly Bore[]): Cut[] =>
  bores.flatMap(({ wall, diameter, turn: degrees = 0 }) => {
    const sides = [...(wall === 'far' ? [] : [degrees]), ...(wall === 'near' ? [] : [degrees + 180])];
    return sides.map((side) => ({ at: (modulo(side, 360) / 360) * turn, half: diameter / 2 }));
  });

/** The bone left at radius `r`: the gaps between the united cuts, in order; none when all is cut away. */
function arcsLeft(cuts: readonly Cut[], r: number): Arc[] {
  const spans = cuts.map(({ at, half }) => {
    const wide = half < r ? Math.asin(half / r) : turn / 4;
    const start = at < wide ? at - wide + turn : at - wide;
    return { base: start + wide, half, start, end: start + 2 * wide };
  });
  spans.sort((a, b) => a.start - b.start);
  // Last round's farthest end reaches into this round: without it a cut across the zero direction would be missed.
  let reach = spans.reduce((a, b) => (b.end > a.end ? b : a), { base: 0, half: 0, start: 0, end: 0 });
  let lap = turn;
  const arcs: Arc[] = [];
  for (const span of spans) {
    const start = reach.end - lap;
    if (span.start - start > sliver) {
      const from: Edge = { base: reach.base - lap, side: 1, half: reach.half };
      arcs.push({ from, to: { base: span.base, side: -1, half: span.half }, start, end: span.start });
    }
    if (span.end > start) [reach, lap] = [span, 0];
  }
  return arcs;
}

/** Area, first and second moments of the bone left, about the middle of the bone; mm², mm³, mm⁴. */
interface Moments {
  area: number;
  x: number;
  y: number;
  xx: number;
  yy: number;
  xy: number;
}

function integrate(cuts: readonly Cut[], inside: number, outside: number): Moments {
  const sum: Moments = { area: 0, x: 0, y: 0, xx: 0, yy: 0, xy: 0 };
  let low = inside;
  for (const high of radiiOfChange(cuts, inside, outside)) {
    for (const { from, to } of arcsLeft(cuts, (low + high) / 2)) {
      addEdge(sum, to, low, high, 1);
      addEdge(sum, from, low, high, -1);
    }
    low = high;
  }
  return sum;
}

/**
 * Radii at which the order of the edges changes, ascending, `outside` last: where a cut stops filling its half-plane
 * (r = h), and where the edges of two cuts meet, sin²Δ r² = h₁² + h₂² ± 2 h₁ h₂ cos Δ for cuts Δ apart.
 */
function radiiOfChange(cuts: readonly Cut[], inside: number, outside: number): number[] {
  const radii: number[] = [outside];
  cuts.forEach((a, i) => {
    if (a.half > inside && a.half < outside) radii.push(a.half);
    for (const b of cuts.slice(i + 1)) {
      const sine = Math.abs(Math.sin(a.at - b.at));
      const cosine = Math.cos(a.at - b.at);
      const apart = (a.half - b.half) ** 2;
      const product = 2 * a.half * b.half;
      const add = (r: number) => r > inside && r < outside && meets(a, b, r, cosine) && radii.push(r);
      // Written as a sum of squares: the plain form cancels for cuts that are nearly parallel.
      add(Math.sqrt(apart + product * (1 + cosine)) / sine);
      add(Math.sqrt(apart + product * (1 - cosine)) / sine);
      // Where one of the two still fills its half-plane.
      add(a.half / Math.abs(cosine));
      add(b.half / Math.abs(cosine));
    }
  });
  return radii.sort((a, b) => a - b);
}

/** Whether edges of two cuts lie in one direction at `r`: squaring let in radii where they do not. */
function meets(a: Cut, b: Cut, r: number, cosine: number): boolean {
  const sa = Math.min(1, a.half / r);
  const sb = Math.min(1, b.half / r);
  const both = Math.sqrt((1 - sa * sa) * (1 - sb * sb));
  return Math.min(Math.abs(both - sa * sb - cosine), Math.abs(both + sa * sb - cosine)) < 1e-6;
}

/** Adds `sign` times the integral, over r from `low` to `high`, of the sector from the zero direction to the edge. */
function addEdge(sum: Moments, edge: Edge, low: number, high: number, sign: 1 | -1): void {
  const { base, side, half } = edge;
  const h2 = half * half;
  const full = low + high < 2 * half;
  const r2 = high * high - low * low;
  const r4 = r2 * (high * high + low * low);
  // Integrals of r·a, r³·a, r² cos a, r² sin a, r³ cos 2a, r³ sin 2a, where a = asin(half / r), or π/2 below r = half.
  let a1 = (Math.PI * r2) / 4;
  let a3 = (Math.PI * r4) / 8;
  let cos1 = 0;
  let sin1 = (high * high * high - low * low * low) / 3;
  let cos2 = -r4 / 4;
  let sin2 = 0;
  if (!full) {
    const aLow = Math.asin(Math.min(1, half / low));
    const aHigh = Math.asin(Math.min(1, half / high));
    const wLow = Math.sqrt(Math.max(0, low * low - h2));
    const wHigh = Math.sqrt(Math.max(0, high * high - h2));
    cos1 = (wHigh * wHigh * wHigh - wLow * wLow * wLow) / 3;
    sin1 = (half * r2) / 2;
    a1 = (high * high * aHigh - low * low * aLow + half * (wHigh - wLow)) / 2;
    a3 = (high ** 4 * aHigh - low ** 4 * aLow + half * (cos1 + h2 * (wHigh - wLow))) / 4;
    cos2 = r4 / 4 - h2 * r2;
    sin2 = 2 * half * cos1;
  }
  const s = Math.sin(base);
  const c = Math.cos(base);
  const ss = 2 * s * c;
  const cc = c * c - s * s;
  const polar = (base * r4) / 4 + side * a3;
  const spread = (ss * cos2 + side * cc * sin2) / 2;
  sum.area += sign * ((base * r2) / 2 + side * a1);
  sum.x += sign * (s * cos1 + side * c * sin1);
  sum.y -= sign * (c * cos1 - side * s * sin1);
  sum.xx += (sign * (polar + spread)) / 2;
  sum.yy += (sign * (polar - spread)) / 2;
  sum.xy -= (sign * (cc * cos2 - side * ss * sin2)) / 4;
}

/**
 * Least bending moment that brings an outer fibre to unit stress, over all directions of the moment vector; mm³.
 * With K the second moments about the centroid, a unit moment stresses the fibre at p by at most |K⁻¹ p|.
 */
function modulusLeft(left: Moments, rim: readonly Arc[], outside: number): number {
  if (!(left.area > sliver * outside * outside)) return 0;
  const [x, y] = [left.x / left.area, left.y / left.area];
  const [xx, yy, xy] = [left.xx - x * left.x, left.yy - y * left.y, left.xy - x * left.y];
  // Principal axes u, v: there |K⁻¹ p|² = (u / larger)² + (v / smaller)².
  const tilt = Math.atan2(2 * xy, xx - yy) / 2;
  const larger = (xx + yy) / 2 + Math.hypot((xx - yy) / 2, xy);
  const smaller = (xx * yy - xy * xy) / larger;
  if (!(smaller > 0)) return 0;
  const [u0, v0] = [x * Math.cos(tilt) + y * Math.sin(tilt), y * Math.cos(tilt) - x * Math.sin(tilt)];
  const strain = (angle: number) =>
    Math.hypot((outside * Math.cos(angle) - u0) / larger, (outside * Math.sin(angle) - v0) / smaller);
  let most = 0;
  for (const { start, end } of rim) most = Math.max(most, strain(start - tilt), strain(end - tilt));
  for (const angle of stationary(larger, smaller, u0, v0, outside))
    if (rim.some(({ start, end }) => modulo(angle + tilt - start, turn) < end - start))
      most = Math.max(most, strain(angle));
  return 1 / most;
}

/**
 * Angles on the outer circle among which lie all stationary points of the strain, in principal axes. Its slope,
 * k sin cos + α sin − β cos, has at most one root between neighbours of the axes and the two angles where
 * tan³ = −β / α. Halved down to 10⁻⁸ rad; the strain is flat there, so its own error is the square of that.
 */
function stationary(larger: number, smaller: number, u0: number, v0: number, outside: number): number[] {
  const ratio = (smaller / larger) ** 2;
  const k = (1 - ratio) * outside;
  const [alpha, beta] = [ratio * u0, v0];
  const slope = (angle: number) => {
    const s = Math.sin(angle);
    const c = Math.cos(angle);
    return k * s * c + alpha * s - beta * c;
  };
  const bend = modulo(Math.atan2(Math.cbrt(-beta), Math.cbrt(alpha)), turn / 2);
  const knots = [0, turn / 4, turn / 2, (3 * turn) / 4, bend, bend + turn / 2].sort((a, b) => a - b);
  const found = [...knots];
  knots.forEach((knot, i) => {
    let [low, high] = [knot, knots[i + 1] ?? turn];
    const rising = slope(low) < 0;
    if (slope(high) < 0 === rising) return;
    while (high - low > 1e-8) {
      const middle = (low + high) / 2;
      if (slope(middle) < 0 === rising) low = middle;
      else high = middle;
    }
    found.push((low + high) / 2);
  });
  return found;
}

function modulo(a: number, n: number): number {
  return ((a % n) + n) % n;
}
