/**
 * How long the suites run, as a multiple of what `npm test` takes: `LENGTH` is `short` (1), `long` (10), `least` (a
 * tenth, where every test runs some hundred times over) or a number of its own.
 */
const named: Record<string, number> = { least: 0.1, short: 1, long: 10 };
const asked = process.env.LENGTH ?? 'short';
export const length = named[asked] ?? Number(asked);
if (!(length > 0)) throw new Error(`LENGTH is least, short, long or a number above 0, not ${asked}`);

/**
 * How many of something a suite takes at the length asked for.
 *
 * @param short in `npm test`, ≥ 1
 * @returns a whole number ≥ 1
 * @example times(60) // 60 without LENGTH, 6 with LENGTH=least, 600 with LENGTH=long
 */
export const times = (short: number): number => Math.max(1, Math.round(short * length));
