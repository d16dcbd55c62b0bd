/**
 * How much stands behind a published share: the number of screws or tries it was counted in. A share that no series is
 * named for here, and one from memory, weighs as little as a memory does.
 */

/** Screws or tries by the id of the source. Each is the denominator that the source itself names. */
const series: Readonly<Record<string, number>> = {
  // Bae, Oh et al. 2009, Arch Orthop Trauma Surg 129:91: 24 of 279, 0 of 159, 1 of 198 screws. Seen.
  'stripped-locking-35-bae-2009': 279,
  'stripped-locking-50-bae-2009': 159,
  'stripped-conventional-bae-2009': 198,
  // "Difficulties in removal of the titanium locking plate in Japan": 3 of 153 screws. Seen.
  'difficult-titanium-50': 153,
  // 43 difficult screws = 17.34 % of 248: "Removal of locking plates: new implant, new challenges and new solutions". Derived.
  'jammed-locking-series': 248,
  // 29 of 35, pooled from 14 of 20 and 15 of 15 of the same series. Derived.
  'free-plate-series': 35,
  // 9 of 45, pooled from 6 of 24 (Bae et al. 2009) and 3 of 21 (Oh et al. 2006). Derived.
  'cone-clinical-pooled': 45,
};

/** The most that a share from memory weighs, in tries. Common practice, no source: a guess must not outweigh a handful of cases. */
export const mostOfMemory = 4;

/**
 * How many tries a share of this source weighs as much as; null where no series is named for it.
 *
 * @example triesBehind('stripped-locking-50-bae-2009') // 159
 */
export const triesBehind = (source: string): number | null =>
  Object.hasOwn(series, source) ? (series[source] as number) : null;

/**
 * How alike the screws of one patient are: the correlation of "this screw is hard" between two screws of a patient, as of
 * a beta-binomial. Fitted to two series, each to its share of patients with a hard screw: 67 of 1,533 screws in 37 of 308
 * patients (Hou et al. 2015, Injury 46:1161, seen) and 78 of 1,462 screws in 41 of 204 patients (Eur J Trauma Emerg Surg
 * 2013;39:339, seen); what it makes of others stands in `tests/standards/clustering.test.ts`. Derived.
 */
export const alikeness = { value: 0.275, source: 'fitted to Hou 2015 and Eur J Trauma Emerg Surg 2013;39:339' };
