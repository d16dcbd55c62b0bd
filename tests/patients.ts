/**
 * How hard metal comes, reckoned apart from the machines: a patient's chance at a move lies on a Beta distribution whose
 * mean is the rate, at the same place for every move (jstat).
 */
import jstat from 'jstat';
import { alikeness } from '../content/series.ts';

const places = 2000;
const known = new Map<number, Float64Array>();

/** Chance at a move by its mean, for `places` patients from easy to hard. */
export function chanceOf(mean: number): Float64Array {
  let table = known.get(mean);
  if (!table) {
    const weight = (1 - alikeness.value) / alikeness.value;
    table = Float64Array.from({ length: places }, (_, i) =>
      mean <= 0 || mean >= 1 ? mean : 1 - jstat.beta.inv((i + 0.5) / places, (1 - mean) * weight, mean * weight),
    );
    known.set(mean, table);
  }
  return table;
}

/** A patient drawn at random: what the chance of a move of this mean is. */
export const patientAt = (u: number): ((mean: number) => number) => {
  const place = Math.min(places - 1, Math.floor(u * places));
  return (mean) => chanceOf(mean)[place] as number;
};

/** The mean over all patients of something that depends on their chances. */
export function overPatients(of: (chance: (mean: number) => number) => number): number {
  let sum = 0;
  for (let i = 0; i < places; i++) sum += of((mean) => chanceOf(mean)[i] as number);
  return sum / places;
}
