/**
 * What the fields of an entry are made of: each kind with the code of what is wrong with a value that is none.
 * Lengths in mm, durations in minutes, angles in degrees, times RFC 3339.
 */
import * as v from 'valibot';
import { roles } from '../content/ids.ts';
import { says } from '../content/fault.ts';
import { isTime, isZone } from './time.ts';

export const text = v.pipe(v.string('text'), v.minLength(1, 'empty'), v.check(isWellFormed, 'unicode'));
/** Text that may be empty. */
export const anyText = v.pipe(v.string('text'), v.check(isWellFormed, 'unicode'));
export const flag = v.boolean('true-or-false');
export const yes = v.literal(true, 'true');
export const finite = v.pipe(v.number('number'), v.finite('finite'));
export const length = v.pipe(finite, v.minValue(0, 'negative'));
export const diameter = v.pipe(finite, v.gtValue(0, 'above-0'));
export const share = v.pipe(finite, v.minValue(0, 'share'), v.maxValue(1, 'share'));
export const count = v.pipe(finite, v.integer('whole'), v.minValue(0, 'negative'));
/** A number from 1: of an entry, of a piece. */
export const ordinal = v.pipe(count, v.minValue(1, 'from-1'));
export const time = v.pipe(v.string('time'), v.check(isTime, 'time-form'));
export const zone = v.pipe(text, v.check(isZone, 'zone'));
export const seal = v.pipe(v.string('text'), v.regex(/^[0-9a-f]{64}$/, 'digits'));
export const oneOf = <const T extends readonly string[]>(options: T) => v.picklist(options, says('one-of'));

export const role = oneOf(roles);
export const screw = v.pipe(text, v.maxLength(64, 'screw-id'));
/** Id of a part, as of a screw. */
export const part = screw;

/** An object of these fields and no others; a list is none, although the language takes it for one. */
export const object = <const T extends v.ObjectEntries>(entries: T) =>
  v.pipe(
    v.custom<unknown>((value) => !Array.isArray(value), 'object'),
    v.strictObject(entries, 'object'),
  );

export const list = <const T extends v.GenericSchema>(of: T) => v.array(of, 'list');

export const Bore = object({
  wall: oneOf(['near', 'far', 'both']),
  diameter,
  turn: v.optional(finite),
  length: v.optional(length),
});
/** A bore through one or both walls; `turn` in degrees from the screw's own direction, `length` in mm along the bone. */
export type Bore = v.InferOutput<typeof Bore>;

/** No lone surrogates: RFC 8785 has no canonical form for them. */
function isWellFormed(s: string): boolean {
  return !/[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/.test(s);
}
