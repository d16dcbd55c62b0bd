/**
 * The log entries of a case: every type with its fields, checked with a path for each fault.
 * Lengths in mm, durations in minutes, angles in degrees, times RFC 3339.
 */
import * as v from 'valibot';
import {
  answers,
  constructs,
  materials,
  roles,
  sides,
  ruleIds,
  threads,
  toldPoints,
  workingStages,
  type Ids,
} from '../content/ids.ts';
import { fault, says, type FaultCode } from '../content/fault.ts';
import { faultsOf, isObject, type Fault } from '../content/shape.ts';
import { isTime, isZone } from './time.ts';

const text = v.pipe(v.string('text'), v.minLength(1, 'empty'), v.check(isWellFormed, 'unicode'));
const flag = v.boolean('true-or-false');
const finite = v.pipe(v.number('number'), v.finite('finite'));
const length = v.pipe(finite, v.minValue(0, 'negative'));
const diameter = v.pipe(finite, v.gtValue(0, 'above-0'));
const share = v.pipe(finite, v.minValue(0, 'share'), v.maxValue(1, 'share'));
const count = v.pipe(finite, v.integer('whole'), v.minValue(0, 'negative'));
const time = v.pipe(v.string('time'), v.check(isTime, 'time-form'));
const seal = v.pipe(v.string('text'), v.regex(/^[0-9a-f]{64}$/, 'digits'));
const oneOf = <const T extends readonly string[]>(options: T) => v.picklist(options, says('one-of'));

const role = oneOf(roles);
const screw = v.pipe(text, v.maxLength(64, 'screw-id'));

/** An object of these fields and no others; a list is none, although the language takes it for one. */
const object = <const T extends v.ObjectEntries>(entries: T) =>
  v.pipe(
    v.custom<unknown>((value) => !Array.isArray(value), 'object'),
    v.strictObject(entries, 'object'),
  );

export const Bore = object({
  wall: oneOf(['near', 'far', 'both']),
  diameter,
  turn: v.optional(finite),
  length: v.optional(length),
});
/** A bore through one or both walls; `turn` in degrees from the screw's own direction, `length` in mm along the bone. */
export type Bore = v.InferOutput<typeof Bore>;

/** The entries of format 1, with the ids of one content: every type with its own fields. */
export const fieldsOf = (ids: Ids) =>
  ({
    'case-opened': {
      label: text,
      zone: v.pipe(text, v.check(isZone, 'zone')),
      side: oneOf(sides),
      bone: text,
      construct: oneOf(constructs),
      planned: v.pipe(v.string('text'), v.check(isWellFormed, 'unicode')),
      urgency: v.optional(text),
      placedBy: v.optional(oneOf(['same-team', 'other-team', 'unknown'])),
      placedMonthsAgo: v.optional(length),
      theatreMinutes: v.optional(length),
    },
    'person-listed': { role, who: text },
    'bone-measured': {
      screw: v.optional(screw),
      outer: diameter,
      cortex: diameter,
      source: oneOf(['measured', 'assumed']),
    },
    'screw-listed': {
      screw,
      diameter,
      thread: oneOf(threads),
      locking: flag,
      drive: oneOf(ids.drives),
      driveSize: v.optional(diameter),
      material: oneOf(materials),
      length: v.nullable(length),
      cortices: v.picklist([1, 2], 'one-or-two'),
      stage: v.optional(oneOf(workingStages)),
    },
    'tool-in-room': {
      tool: oneOf(ids.tools),
      present: flag,
      fits: v.optional(v.array(diameter, 'list')),
      size: v.optional(diameter),
      outer: v.optional(diameter),
      inner: v.optional(diameter),
    },
    'consent-point': { point: oneOf(ids.consent), confirmed: flag },
    'limits-set': {
      boneConsider: v.optional(share),
      boneStop: v.optional(share),
      tourniquetMinutes: v.optional(length),
      theatreMinutes: v.optional(length),
    },
    'work-started': {},
    'screw-called': { screw },
    'move-started': {
      screw,
      move: v.pipe(
        oneOf(ids.moves),
        v.check((id) => id !== 'leave-in', 'left-in-move'),
      ),
      tool: v.optional(oneOf(ids.tools)),
      reverseConfirmed: v.optional(flag),
      bores: v.optional(v.array(Bore, 'list')),
    },
    'move-ended': {
      screw,
      outcome: oneOf(ids.outcomes),
      bores: v.optional(v.array(Bore, 'list')),
      recovered: v.optional(length),
      reachable: v.optional(flag),
      toolJammed: v.optional(flag),
    },
    reassessed: {
      screw,
      checks: object({
        recessCleared: v.optional(flag),
        fullySeated: v.optional(flag),
        inLine: v.optional(flag),
        freshDriver: v.optional(flag),
      }),
    },
    'hold-answered': {
      hold: oneOf(ids.holds),
      screw: v.optional(screw),
      answer: oneOf(answers),
      reason: v.optional(text),
      onWordOf: v.optional(text),
    },
    found: {
      screw,
      headProud: v.optional(flag),
      shankProud: v.optional(flag),
      tipProud: v.optional(flag),
      corridor: v.optional(flag),
      fragmentLength: v.optional(length),
      nearSurface: v.optional(finite),
    },
    'plate-off': {},
    'colleague-called': { who: v.optional(text) },
    'left-in': {
      screw: v.optional(screw),
      tool: v.optional(oneOf(ids.tools)),
      length: v.nullable(length),
      where: text,
      reason: text,
      toldTo: v.optional(text),
      imageTaken: v.optional(flag),
      decidedBy: v.optional(text),
    },
    'piece-recovered': { screw: v.optional(screw), tool: v.optional(oneOf(ids.tools)), length },
    'tool-damaged': {
      tool: oneOf(ids.tools),
      how: text,
      tipMissing: flag,
      length: v.optional(length),
      kept: v.optional(flag),
    },
    tourniquet: { to: oneOf(['up', 'down']), pressure: v.optional(diameter) },
    images: { shots: count, dose: v.optional(length), doseUnit: v.optional(text) },
    antibiotic: { drug: text, dose: v.optional(text) },
    'blood-loss': { ml: length },
    'washed-out': {},
    'clock-compared': { theatreClock: time },
    'clock-jumped': { seconds: finite },
    'note-field': {
      field: oneOf(ids.noteFields),
      text: v.optional(text),
      notApplicable: v.optional(v.literal(true, 'true')),
    },
    'patient-told': {
      state: oneOf(['told', 'to-be-told']),
      by: text,
      points: v.array(oneOf(toldPoints), 'list'),
    },
    signed: { who: text, role, meaning: text },
    remark: { text, kind: v.optional(oneOf(['addendum', 'correction'])) },
    struck: { entry: v.pipe(count, v.minValue(1, 'from-1')), reason: text },
    'count-answered': {
      by: v.array(role, 'list'),
      discrepancy: v.optional(text),
      imageTaken: v.optional(flag),
    },
    'work-ended': {},
    'case-closed': {},
  }) as const;

const common = {
  n: v.pipe(finite, v.integer('whole'), v.minValue(1, 'from-1')),
  at: time,
  logged: time,
  calledBy: v.optional(role),
  loggedBy: v.optional(role),
  seal: v.optional(seal),
};

type Fields = ReturnType<typeof fieldsOf>;
export type EntryType = keyof Fields;
/** The types of format 1, which no release changes. */
export const entryTypes = Object.keys(fieldsOf(ruleIds)) as EntryType[];

type OutputOf<E extends v.ObjectEntries> = v.InferOutput<v.StrictObjectSchema<E, undefined>>;
type Common = OutputOf<typeof common>;
type Own<T extends EntryType> = Fields[T] extends infer E extends v.ObjectEntries ? OutputOf<E> : never;

/** One entry of type `T`. */
export type EntryOf<T extends EntryType> = { [K in T]: Common & { type: K } & Own<K> }[T];
/** Any entry of the log. */
export type Entry = EntryOf<EntryType>;
/** What a screen hands over: an entry before it has a number, a time of logging and a seal. */
export type EntryDraft = { [T in EntryType]: Pick<Common, 'calledBy' | 'loggedBy'> & { type: T } & Own<T> }[EntryType];

/** What each type of entry looks like: the entries of one format, with the ids of one content. */
export type EntryShapes = ReadonlyMap<string, v.GenericSchema<unknown, Entry>>;

/** The shapes of these types with these fields, each with what all entries have. */
export const shapesOf = (fields: Readonly<Record<string, v.ObjectEntries>>): EntryShapes =>
  new Map(
    Object.entries(fields).map(([type, own]) => [
      type,
      v.strictObject({ ...common, type: v.literal(type), ...own }) as unknown as v.GenericSchema<unknown, Entry>,
    ]),
  );

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
  const schema = shapes.get(type as string);
  if (!schema) return { faults: [fault(`${path}.type`, 'entry-type', { type: show(type) })] };
  const result = v.safeParse(schema, value);
  if (!result.success)
    return {
      faults: faultsOf(result.issues, path).map((found) => ({
        ...found,
        message: found.message.slice(0, longestMessage),
      })),
    };
  const faults = rules(result.output).map(([key, code]) => fault(key ? `${path}.${key}` : path, code));
  return faults.length ? { faults } : { entry: result.output };
}

/** Rules that tie two fields of one entry together. */
function rules(entry: Entry): [string, FaultCode][] {
  const faults: [string, FaultCode][] = [];
  switch (entry.type) {
    case 'bone-measured':
      if (entry.cortex >= entry.outer / 2) faults.push(['cortex', 'half-outer']);
      break;
    case 'move-ended':
      if (entry.outcome === 'shank-broke' && entry.reachable === undefined) faults.push(['reachable', 'reachable']);
      if (entry.outcome !== 'shank-broke' && entry.reachable !== undefined)
        faults.push(['reachable', 'only-shank-broke']);
      if (entry.toolJammed !== undefined && entry.outcome !== 'out') faults.push(['toolJammed', 'only-out']);
      break;
    case 'left-in':
    case 'piece-recovered':
      if ((entry.screw === undefined) === (entry.tool === undefined)) faults.push(['', 'screw-or-tool']);
      break;
    case 'note-field':
      if ((entry.text === undefined) === (entry.notApplicable === undefined)) faults.push(['', 'text-or-not']);
      break;
    case 'count-answered':
      if (entry.by.length === 0) faults.push(['by', 'nobody']);
      break;
    case 'limits-set':
      // What is not set crosses nothing: undefined is greater than no number, nor is a number greater than it.
      if ((entry.boneConsider as number) > (entry.boneStop as number)) faults.push(['boneConsider', 'above-stop']);
      break;
    default:
  }
  return faults;
}

/** A short printable form of a value, for a message. */
export function show(value: unknown): string {
  const shown = JSON.stringify(value) ?? String(value);
  return shown.length > 60 ? `${shown.slice(0, 57)}…` : shown;
}

/** No lone surrogates: RFC 8785 has no canonical form for them. */
function isWellFormed(s: string): boolean {
  return !/[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/.test(s);
}
