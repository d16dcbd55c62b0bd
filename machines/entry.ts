/**
 * The log entries of a case: every type with its fields, checked with a path for each fault. Types are those of the
 * newest format; what an older one lacks may be left out in them.
 * Lengths in mm, durations in minutes, angles in degrees, times RFC 3339.
 */
import * as v from 'valibot';
import { ruleIds } from '../content/ids.ts';
import { fault, type FaultCode } from '../content/fault.ts';
import { faultsOf, isObject, type Fault } from '../content/shape.ts';
import { common2, fields2 } from './fields-2.ts';

export type { Bore } from './kinds.ts';

type Fields = ReturnType<typeof fields2>;
export type EntryType = keyof Fields;
/** The types of the newest format, which no release changes. */
export const entryTypes = Object.keys(fields2(ruleIds)) as EntryType[];

type OutputOf<E extends v.ObjectEntries> = v.InferOutput<v.StrictObjectSchema<E, undefined>>;
type Common = OutputOf<typeof common2>;
type Own<T extends EntryType> = Fields[T] extends infer E extends v.ObjectEntries ? OutputOf<E> : never;

/** One entry of type `T`. */
export type EntryOf<T extends EntryType> = { [K in T]: Common & { type: K } & Own<K> }[T];
/** Any entry of the log. */
export type Entry = EntryOf<EntryType>;
/** What a screen hands over: an entry before it has a number, a time of logging and a seal. */
export type EntryDraft = {
  [T in EntryType]: Pick<Common, 'calledBy' | 'loggedBy' | 'typed'> & { type: T } & Own<T>;
}[EntryType];

/** What is wrong with a field because of what another one says; '' names the entry itself. */
export type Tie = [field: string, code: FaultCode];
/** Faults of one entry whose fields are right each on its own. */
export type Ties = (entry: Entry) => Tie[];

/** What each type of entry looks like: the entries of one format, with the ids of one content. */
export interface EntryShapes {
  of: ReadonlyMap<string, v.GenericSchema<unknown, Entry>>;
  ties: Ties;
}

/** The shapes of these types with these fields, each with what all entries have. */
export const shapesOf = (
  fields: Readonly<Record<string, v.ObjectEntries>>,
  common: v.ObjectEntries,
  ties: Ties,
): EntryShapes => ({
  of: new Map(
    Object.entries(fields).map(([type, own]) => [
      type,
      v.strictObject({ ...common, type: v.literal(type), ...own }) as unknown as v.GenericSchema<unknown, Entry>,
    ]),
  ),
  ties,
});

export type { Fault };

/** Longest message of one fault: a schema would name every value of a long list. */
const longestMessage = 300;

/**
 * Checks one entry on its own: its fields, values and ranges.
 *
 * @param value anything
 * @param path where it stands, for the faults
 * @param shapes the entries that its case may hold: of its format, with the ids of its content
 * @returns the entry, or every fault with its path; never throws
 * @example checkEntry({ n: 1, at: t, logged: t, type: 'plate-off' }, 'entries[0]', shapes) // { entry: {…} }
 */
export function checkEntry(value: unknown, path: string, shapes: EntryShapes): { entry: Entry } | { faults: Fault[] } {
  if (!isObject(value)) return { faults: [fault(path, 'object')] };
  const { type } = value;
  if (type === undefined) return { faults: [fault(`${path}.type`, 'missing')] };
  const schema = shapes.of.get(type as string);
  if (!schema) return { faults: [fault(`${path}.type`, 'entry-type', { type: show(type) })] };
  const result = v.safeParse(schema, value);
  if (!result.success)
    return {
      faults: faultsOf(result.issues, path).map((found) => ({
        ...found,
        message: found.message.slice(0, longestMessage),
      })),
    };
  const faults = shapes.ties(result.output).map(([key, code]) => fault(key ? `${path}.${key}` : path, code));
  return faults.length ? { faults } : { entry: result.output };
}

/** A short printable form of a value, for a message. */
export function show(value: unknown): string {
  const shown = JSON.stringify(value) ?? String(value);
  return shown.length > 60 ? `${shown.slice(0, 57)}…` : shown;
}
