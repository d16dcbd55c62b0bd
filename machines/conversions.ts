/**
 * The formats of the case file by their numbers, and how an entry of one reads as an entry of the next. Apart from what
 * their entries look like (`formats.ts`), which a stored case was checked by before.
 */
import type { Entry } from './entry.ts';

/** What stands at the top of a case file, in its field `format`. */
export const caseFormat = 'counterturn-case';

/** From one format to the next. */
export interface Conversion {
  /** What it brings, in a few words: it is named where a file is converted. */
  name: string;
  /** One entry as the newer format reads it: what it left unsaid gets the default that stood for it. */
  entry: (entry: Entry) => Entry;
}

/** A conversion with where a log goes over to its format. */
export interface Step extends Conversion {
  /** Does a log, from this entry on, stand in the newer format? Asked of entries that are not checked yet. */
  begins: (entry: Readonly<Record<string, unknown>>) => boolean;
}

/** What format 2 asked for the first time and format 1 had constants for: nobody had said it. */
const unsaid = ['calledBy', 'loggedBy', 'onWordOf', 'decidedBy'] as const;

function withoutConstants(entry: Entry): Entry {
  if (!unsaid.some((field) => field in entry)) return entry;
  return Object.fromEntries(
    Object.entries(entry).filter(([field]) => !(unsaid as readonly string[]).includes(field)),
  ) as unknown as Entry;
}

/** To format 2, 3 …, in order: the first has none before it. */
const steps: Step[] = [
  {
    name: 'who said so was not asked: what stands there was said by nobody',
    begins: ({ type, rules, contentVersion }) =>
      type === 'format-raised' || (type === 'case-opened' && (rules ?? contentVersion) !== undefined),
    entry: withoutConstants,
  },
];

/** The format that this build writes. */
export const formatVersion = 2;

/** The step that leads to a format; undefined for the first, and for one that this build lacks. */
export const stepTo = (number: number): Step | undefined => steps[number - 2];

/** Takes in the step to the format that follows on the newest. */
export const addStep = (step: Step): void => void steps.push(step);

/** The newest format that can be read: what is folded is folded as if it stood in that one. */
export const newestFormat = (): number => steps.length + 1;

/**
 * The format in force from an entry on: a case is continued in a newer one by an entry that says so.
 *
 * @param before number of the format in force before it
 * @param most no newer one than this is looked for
 * @example formatFrom({ type: 'case-opened' }, 1) // 1
 */
export function formatFrom(entry: object, before: number, most: number = newestFormat()): number {
  for (let number = most; number > before; number--)
    if (stepTo(number)?.begins(entry as Record<string, unknown>)) return number;
  return before;
}

/**
 * The format that a whole log stands in: the newest that one of its entries begins.
 *
 * @example formatOfLog([]) // 1
 */
export const formatOfLog = (entries: readonly object[]): number =>
  entries.reduce<number>((format, entry) => formatFrom(entry, format), 1);

/** The conversions that lie between two formats, in order. */
export const between = (from: number, to: number): Conversion[] =>
  steps.slice(Math.max(from, 1) - 1, Math.max(from, to, 1) - 1);

/** An entry as the newest format reads it; the same object where nothing is converted. */
export const asNewest = (entry: Entry, format: number): Entry =>
  format === newestFormat()
    ? entry
    : between(format, newestFormat()).reduce((now, { entry: read }) => read(now), entry);
