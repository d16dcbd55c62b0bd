/** Properties, tried on cases that are the same at every run and on fresh ones, which a failure names. */
import fc, { type IRawProperty, type Parameters } from 'fast-check';
import { times } from './lengths.ts';

const standing = 20260304;

/** Set for a whole run by `vitest.config.ts`, which prints it; `SEED=… npm test` draws the same cases again. */
const fresh = Number(process.env.SEED ?? Math.floor(Math.random() * 2 ** 31));
if (!Number.isInteger(fresh)) throw new Error(`SEED is a whole number, not ${process.env.SEED}`);

/**
 * Asserts a property: two thirds of the cases are drawn from a seed that stands, so that the same cases are tried at
 * every run, one third from the fresh seed of this run.
 *
 * @param options as of `fc.assert`; `numRuns` (100) in the short form, ten times as many in the long one; `seed` the one
 *   that stands
 * @throws what `fc.assert` throws; after a fresh case, with the words that bring it back
 * @example explore(fc.property(fc.nat(), (n) => n >= 0), { numRuns: 30 }) // 20 cases that stand, 10 fresh ones
 */
export function explore<T>(property: IRawProperty<T, false>, options: Parameters<T> = {}): void {
  const all = times(options.numRuns ?? 100);
  const ours = Math.ceil((all * 2) / 3);
  fc.assert(property, { ...options, seed: options.seed ?? standing, numRuns: ours });
  if (all === ours) return;
  try {
    fc.assert(property, { ...options, seed: fresh, numRuns: all - ours });
  } catch (error) {
    if (error instanceof Error) error.message = `Again: SEED=${fresh} npx vitest …\n${error.message}`;
    throw error;
  }
}
