/**
 * The formats of the case file, by number, without gaps. A case is kept as it was written, for its seals stand over
 * every entry; what a newer format asks for besides is given by named conversions when it is folded.
 */
import type * as v from 'valibot';
import type { Ids } from '../content/ids.ts';
import { shapesOf, type EntryShapes, type Ties } from './entry.ts';
import { common1, fields1 } from './fields-1.ts';
import { common2, fields2 } from './fields-2.ts';
import { addStep, formatVersion, stepTo, type Step } from './conversions.ts';
import { ties1, ties2 } from './ties.ts';

export {
  between,
  asNewest,
  formatFrom,
  formatOfLog,
  formatVersion,
  newestFormat,
  type Conversion,
} from './conversions.ts';

export interface Format {
  number: number;
  /** Fields at the top besides `format` and `formatVersion`. */
  header: readonly string[];
  /** Types of entries with their fields, with the ids of one content. */
  entries: (ids: Ids) => Readonly<Record<string, v.ObjectEntries>>;
  /** What every entry has besides its own fields. */
  common: v.ObjectEntries;
  /** Rules that tie two fields of one entry together. */
  ties: Ties;
  /** From the format before; the first has none. */
  from?: Step;
}

const header = ['contentVersion', 'entries', 'head'] as const;
const formats: Format[] = [
  { number: 1, header, entries: fields1, common: common1, ties: ties1 },
  {
    ...{ number: 2, header: [...header, 'rules'], entries: fields2, common: common2, ties: ties2 },
    ...{ from: stepTo(2) },
  },
];

/** Numbers of the formats that can be read, oldest first. */
export const formatVersions = (): number[] => formats.map(({ number }) => number);

/** A format by its number, undefined when this build lacks it. */
export const formatOf = (number: unknown): Format | undefined => formats.find((one) => one.number === number);

/**
 * Takes in the format that follows on the newest.
 *
 * @throws Error when a number is left out, or the conversion from the format before is missing
 */
export function addFormat(format: Format): void {
  const expected = formats.length + 1;
  if (format.number !== expected) throw new Error(`format ${format.number} does not follow on format ${expected - 1}`);
  if (!format.from) throw new Error(`format ${format.number} has no conversion from format ${expected - 1}`);
  formats.push(format);
  addStep(format.from);
}

const shapes = new WeakMap<Ids, Map<number, EntryShapes>>();

/**
 * The entries that a case may hold.
 *
 * @param ids of the content it was written with
 * @param number its format
 * @throws Error when this build lacks that format
 */
export function entryShapes(ids: Ids, number: number = formatVersion): EntryShapes {
  let known = shapes.get(ids);
  if (!known) shapes.set(ids, (known = new Map()));
  let found = known.get(number);
  if (!found) {
    const format = formatOf(number);
    if (!format) throw new Error(`this build has no format ${number}`);
    known.set(number, (found = shapesOf(format.entries(ids), format.common, format.ties)));
  }
  return found;
}
