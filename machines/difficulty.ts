/**
 * How hard a patient's metal comes, from easy to hard: one place on that line for all screws and all moves of a case, so
 * that what resists one move is likelier to resist the next. On the line the chance that a move brings the screw out falls
 * as a Beta distribution does whose mean is its rate; what was met in the case so far says where on it this patient is.
 */
import { alikeness } from '../content/series.ts';
import type { Content } from '../content/types.ts';
import { betaSlices } from './compute/beta.ts';
import type { Folded } from './folded.ts';
import type { OwnRate } from './own-rates.ts';
import { chancesOf, rowOf, type Row } from './prior.ts';
import { rateFor } from './rate-for.ts';
import { attemptsOf } from './trace.ts';

/** Places on the line, each of one share of all patients, from easy to hard. */
export const patients = 64;

/** The place of coming out among the shares of a row; -1 where it has none. */
export const outOf = (row: Row): number => row.shares.findIndex(({ outcome }) => outcome === 'out');

const tables = new Map<number, readonly number[]>();

/**
 * Chance of coming out for each place on the line, easy first, by its mean.
 *
 * @param mean 0–1
 * @returns `patients` chances that fall; their mean is the mean
 * @example outByPatient(1) // 1 at every place
 */
export function outByPatient(mean: number): readonly number[] {
  let table = tables.get(mean);
  if (!table) {
    table = betaSlices(1 - mean, alikeness.value, patients).map((fails) => 1 - fails);
    if (tables.size > 500) tables.clear();
    tables.set(mean, table);
  }
  return table;
}

/** Shares with another one for coming out, the others scaled to what that leaves. */
export function withOut(values: readonly number[], at: number, out: number): readonly number[] {
  const before = values[at] as number;
  if (before >= 1) return values.map((_, i) => (i === at ? out : (1 - out) / (values.length - 1)));
  return values.map((value, i) => (i === at ? out : (value * (1 - out)) / (1 - before)));
}

/** The shares of a row for a patient, in the order of the row. */
export function sharesFor(row: Row, patient: number): readonly number[] {
  const values = chancesOf(row);
  const at = outOf(row);
  const mean = values[at];
  return mean === undefined || mean <= 0 || mean >= 1
    ? values
    : withOut(values, at, outByPatient(mean)[patient] as number);
}

/** The same of drawn shares: the odds of coming out stand to the drawn ones as those of the patient to the row's. */
export function drawnFor(row: Row, drawn: readonly number[], patient: number): readonly number[] {
  const at = outOf(row);
  const mean = chancesOf(row)[at];
  const now = drawn[at];
  if (mean === undefined || now === undefined || mean <= 0 || mean >= 1 || now <= 0 || now >= 1) return drawn;
  const here = outByPatient(mean)[patient] as number;
  if (here <= 0 || here >= 1) return withOut(drawn, at, here);
  const odds = ((now / (1 - now)) * (here / (1 - here))) / (mean / (1 - mean));
  return withOut(drawn, at, odds / (1 + odds));
}

/** Ends that say nothing of how hard a screw comes: it is on its way, made ready, or nobody told. */
const silent: readonly string[] = ['moving', 'set-up-done', 'turns-free', 'stopped'];

/**
 * How likely each place on the line is for this patient: alike before anything was tried, else by every move that was
 * made in the case and could have brought a screw out.
 *
 * @returns `patients` weights that add up to 1
 */
export function patientWeights({ content, screws, trace }: Folded, own: readonly OwnRate[]): readonly number[] {
  let weights: number[] = new Array<number>(patients).fill(1 / patients);
  for (const { screw, move, outcome } of attemptsOf(trace)) {
    const facts = screws.get(screw)?.context.facts;
    if (!outcome || silent.includes(outcome) || !facts) continue;
    const mean = outShare(content, move, facts, own);
    if (mean <= 0 || mean >= 1) continue;
    const chances = outByPatient(mean);
    weights = weights.map(
      (weight, i) => weight * (outcome === 'out' ? (chances[i] as number) : 1 - (chances[i] as number)),
    );
    const sum = weights.reduce((all, weight) => all + weight, 0);
    // What no patient could have met tells nothing of this one.
    weights = sum > 0 ? weights.map((weight) => weight / sum) : new Array<number>(patients).fill(1 / patients);
  }
  return weights;
}

/**
 * The patient below whom a share of all lies.
 *
 * @param share 0–1
 * @param weights how likely each patient is, adding up to 1
 * @example patientAt(0.5, new Array(patients).fill(1 / patients)) // 31
 */
export function patientAt(share: number, weights: readonly number[]): number {
  let sum = 0;
  const place = weights.findIndex((weight) => (sum += weight) >= share);
  return place < 0 ? patients - 1 : place;
}

function outShare(
  content: Content,
  move: Parameters<typeof rateFor>[1],
  facts: Parameters<typeof rateFor>[2],
  own: readonly OwnRate[],
): number {
  const rate = rateFor(content, move, facts);
  if (!rate) return 0;
  const row = rowOf(content, rate, own);
  return chancesOf(row)[outOf(row)] ?? 0;
}
