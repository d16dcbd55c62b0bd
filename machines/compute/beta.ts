/** The Beta distribution, the same on every machine: its share below a point, and the point below which a share lies. */
import { exp, ln } from './draws.ts';

/** Lanczos, g = 7, nine terms (from memory; held against a library in the tests). */
const lanczos = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
  12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
];
const halfLn2Pi = 0.9189385332046727;

/**
 * Logarithm of the gamma function.
 *
 * @param x > 0
 * @example lnGamma(5) // ln 24 = 3.178…
 */
export function lnGamma(x: number): number {
  // Γ(x) = Γ(x + 1) / x keeps the argument where the sum is good.
  if (x < 0.5) return lnGamma(x + 1) - ln(x);
  const t = x + 6.5;
  let sum = lanczos[0] as number;
  for (let i = 1; i < lanczos.length; i++) sum += (lanczos[i] as number) / (x + i - 1);
  return halfLn2Pi + (x - 0.5) * ln(t) - t + ln(sum);
}

/** The continued fraction of the incomplete beta function, by Lentz (Numerical Recipes 6.4, from memory). */
function fraction(x: number, a: number, b: number): number {
  const tiny = 1e-300;
  const guard = (value: number) => (Math.abs(value) < tiny ? tiny : value);
  let c = 1;
  let d = 1 / guard(1 - ((a + b) * x) / (a + 1));
  let h = d;
  for (let m = 1; m <= 300; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / guard(1 + even * d);
    c = guard(1 + even / c);
    h *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / guard(1 + odd * d);
    c = guard(1 + odd / c);
    const step = d * c;
    h *= step;
    if (Math.abs(step - 1) < 1e-14) break;
  }
  return h;
}

/**
 * Share of a Beta distribution below x.
 *
 * @param a, b weights > 0
 * @example betaBelow(0.5, 2, 2) // 0.5
 */
export function betaBelow(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  const front = exp(lnGamma(a + b) - lnGamma(a) - lnGamma(b) + a * ln(x) + b * ln(1 - x));
  return x < (a + 1) / (a + b + 2) ? (front * fraction(x, a, b)) / a : 1 - (front * fraction(1 - x, b, a)) / b;
}

/**
 * The point of a Beta distribution below which a share lies, within 10⁻¹⁰ of itself.
 *
 * @param share 0–1
 * @example betaPoint(0.5, 2, 2) // 0.5
 */
export function betaPoint(share: number, a: number, b: number): number {
  let low = 0;
  let high = 1;
  // Halving between exponents finds a point near 0 as well as one in the middle.
  for (let i = 0; i < 200 && high - low > 1e-10 * high; i++) {
    const middle = low === 0 ? high / 8 : (low + high) / 2;
    if (low === 0 && middle < 1e-290) return 0;
    if (betaBelow(middle, a, b) < share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/**
 * Means of the equal slices of a Beta distribution, from low to high: their mean is the mean of the whole.
 *
 * @param mean 0–1, @param alike correlation between two draws from the same point, 0 < alike < 1
 * @param seen what was met already: so many of so many came true
 * @example betaSlices(0.5, 0.2, 2) // [0.3…, 0.6…], mean 0.5
 */
export function betaSlices(mean: number, alike: number, count: number, seen = { hard: 0, of: 0 }): number[] {
  if (mean <= 0 || mean >= 1) return new Array<number>(count).fill(mean);
  const weight = (1 - alike) / alike;
  const a = mean * weight + seen.hard;
  const b = (1 - mean) * weight + seen.of - seen.hard;
  const whole = a / (a + b);
  let below = 0;
  return Array.from({ length: count }, (_, i) => {
    const upTo = i + 1 === count ? 1 : betaBelow(betaPoint((i + 1) / count, a, b), a + 1, b);
    const slice = count * whole * (upTo - below);
    below = upTo;
    return Math.min(1, Math.max(0, slice));
  });
}
