/**
 * How long the suites run. `npm test` takes the short forms, `npm run endure` the long ones, and the mutants the least:
 * there every test runs some hundred times over. Set by `LENGTH`.
 */
export type Length = 'least' | 'short' | 'long';

const asked = process.env.LENGTH ?? 'short';
if (asked !== 'least' && asked !== 'short' && asked !== 'long')
  throw new Error(`LENGTH is least, short or long, not ${asked}`);
export const length: Length = asked;

/**
 * How many of something a suite takes at the length asked for.
 *
 * @param short of `npm test`, ≥ 1
 * @param long of `npm run endure`; ten times the short when left out
 * @returns a whole number ≥ 1; the least is a tenth of the short
 * @example times(60, 10_000) // 60 without LENGTH, 6 with LENGTH=least, 10000 with LENGTH=long
 */
export const times = (short: number, long = short * 10): number =>
  length === 'long' ? long : length === 'short' ? short : Math.max(1, Math.round(short / 10));
