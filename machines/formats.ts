/**
 * The formats of the case file, by number, without gaps. A case is kept as it was written, for its seals stand over
 * every entry; what a newer format asks for besides is given by named conversions when it is folded.
 */
import type * as v from 'valibot';
import type { Ids } from '../content/ids.ts';
import { shapesOf, type Entry, type EntryShapes, type Ties } from './entry.ts';
import { common1, fields1 } from './fields-1.ts';
import { common2, fields2 } from './fields-2.ts';
import { ties1, ties2 } from './ties.ts';

/** From one format to the next. */
export interface Conversion {
  /** What it brings, in a few words: it is named where a file is converted. */
  name: string;
  /** One entry as the newer format reads it: what it left unsaid gets the default that stood for it. */
  entry: (entry: Entry) => Entry;
}

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
  from?: Conversion & {
    /** Does a log, from this entry on, stand in the newer format? Asked of entries that are not checked yet. */
    begins: (entry: Readonly<Record<string, unknown>>) => boolean;
  };
}

/** What format 2 asked for the first time and format 1 had constants for: nobody had said it. */
const unsaid = ['calledBy', 'loggedBy', 'onWordOf', 'decidedBy'] as const;

const header = ['contentVersion', 'entries', 'head'] as const;
const formats: Format[] = [
  { number: 1, header, entries: fields1, common: common1, ties: ties1 },
  {
    ...{ number: 2, header: [...header, 'rules'], entries: fields2, common: common2, ties: ties2 },
    from: {
      name: 'who said so was not asked: what stands there was said by nobody',
      begins: ({ type, rules, contentVersion }) =>
        type === 'format-raised' || (type === 'case-opened' && (rules ?? contentVersion) !== undefined),
      entry: withoutConstants,
    },
  },
];

/** The format that this build writes. */
export const formatVersion = 2;

function withoutConstants(entry: Entry): Entry {
  if (!unsaid.some((field) => field in entry)) return entry;
  return Object.fromEntries(
    Object.entries(entry).filter(([field]) => !(unsaid as readonly string[]).includes(field)),
  ) as unknown as Entry;
}

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

/** The newest format that can be read: what is folded is folded as if it stood in that one. */
export const newestFormat = (): number => formats.length;

/**
 * The format in force from an entry on: a case is continued in a newer one by an entry that says so.
 *
 * @param before number of the format in force before it
 * @param most no newer one than this is looked for
 * @example formatFrom({ type: 'case-opened' }, 1) // 1
 */
export function formatFrom(entry: object, before: number, most: number = newestFormat()): number {
  for (let number = most; number > before; number--)
    if (formatOf(number)?.from?.begins(entry as Record<string, unknown>)) return number;
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
  formats.flatMap(({ number, from: conversion }) => (number > from && number <= to && conversion ? [conversion] : []));

/** An entry as the newest format reads it; the same object where nothing is converted. */
export const asNewest = (entry: Entry, format: number): Entry =>
  format === newestFormat()
    ? entry
    : between(format, newestFormat()).reduce((now, { entry: read }) => read(now), entry);
