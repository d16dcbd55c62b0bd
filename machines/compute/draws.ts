/**
 * Random draws that are the same on every machine: whole-number arithmetic for the numbers, and logarithm and exponential
 * by sums and products alone. What an engine calls `Math.log` may differ in the last digit from what another calls so,
 * and a forecast that is signed and said again must not.
 */

const ln2 = 0.6931471805599453;

/**
 * Natural logarithm, within 10⁻¹⁴ of itself.
 *
 * @param x > 0, finite
 * @example ln(1) // 0
 */
export function ln(x: number): number {
  let power = 0;
  let m = x;
  while (m >= 1.5) {
    m /= 2;
    power++;
  }
  while (m < 0.75) {
    m *= 2;
    power--;
  }
  // ln m = 2 artanh((m - 1) / (m + 1)), |argument| ≤ 0.2.
  const z = (m - 1) / (m + 1);
  const square = z * z;
  let sum = 0;
  for (let k = 25; k >= 1; k -= 2) sum = sum * square + 1 / k;
  return power * ln2 + 2 * z * sum;
}

/**
 * Exponential, within 10⁻¹⁴ of itself; 0 where it is smaller than any number.
 *
 * @param x at most 700
 * @example exp(0) // 1
 */
export function exp(x: number): number {
  if (x < -745) return 0;
  const halvings = Math.round(x / ln2);
  const rest = x - halvings * ln2;
  let sum = 1;
  for (let k = 18; k >= 1; k--) sum = 1 + (sum * rest) / k;
  let result = sum;
  for (let k = 0; k < halvings; k++) result *= 2;
  for (let k = 0; k > halvings; k--) result /= 2;
  return result;
}

/** Numbers between 0 and 1, without either. */
export type Random = () => number;

/**
 * Random numbers from a seed, by four 32-bit words (small fast counting generator, Doty-Humphrey, public domain; from
 * memory).
 *
 * @example randomFrom(1)() === randomFrom(1)() // true
 */
export function randomFrom(seed: number): Random {
  let [a, b, c, counter] = [seed | 0, 0x9e3779b9 | 0, 0x243f6a88 | 0, 1];
  const next = () => {
    const sum = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (c << 21) | (c >>> 11);
    c = (c + sum) | 0;
    return ((sum >>> 0) + 0.5) / 4294967296;
  };
  for (let warming = 0; warming < 15; warming++) next();
  return next;
}

/** A draw from the normal distribution of mean 0 and variance 1, by the polar method (Marsaglia & Bray 1964, from memory). */
export function normal(random: Random): number {
  for (;;) {
    const x = 2 * random() - 1;
    const y = 2 * random() - 1;
    const s = x * x + y * y;
    if (s > 0 && s < 1) return x * Math.sqrt((-2 * ln(s)) / s);
  }
}

/**
 * A draw from the gamma distribution of scale 1 (Marsaglia & Tsang 2000, ACM Trans Math Softw 26:363, from memory).
 *
 * @param shape ≥ 0; 0 gives 0
 */
export function gamma(random: Random, shape: number): number {
  if (shape <= 0) return 0;
  if (shape < 1) return gamma(random, shape + 1) * exp(ln(random()) / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = normal(random);
    const v = (1 + c * x) ** 3;
    if (v <= 0) continue;
    const u = random();
    if (ln(u) < 0.5 * x * x + d - d * v + d * ln(v)) return d * v;
  }
}

/**
 * A draw of shares from a Dirichlet distribution.
 *
 * @param weights each ≥ 0, one > 0 at least
 * @returns shares that add up to 1; of a weight of 0, 0
 */
export function dirichlet(random: Random, weights: readonly number[]): number[] {
  const draws = weights.map((weight) => gamma(random, weight));
  const sum = draws.reduce((all, draw) => all + draw, 0);
  // All so small that none is left of them: the largest weight takes it.
  if (sum === 0) return weights.map((weight, i) => (i === weights.indexOf(Math.max(...weights)) && weight > 0 ? 1 : 0));
  return draws.map((draw) => draw / sum);
}
