/** What every check of a shape shares: a fault with its path, an object that is no list, one object laid over another. */
import type * as v from 'valibot';
import { fault, type Fault } from './fault.ts';
import { issueFault } from './issue.ts';

export type { Fault };

/** An object with keys: neither null nor a list. */
export const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/**
 * A path with one step more: a list's index in brackets, a key behind a dot.
 *
 * @example pathTo(pathTo('entries', 6), 'outcome') // 'entries[6].outcome'
 */
export const pathTo = (at: string, key: unknown): string =>
  typeof key === 'number' ? `${at}[${key}]` : at === '' ? String(key) : `${at}.${String(key)}`;

/** Where something stands in a file, from its keys and indexes. `pathOf(['tools', 2, 'size'])` is `'tools[2].size'`. */
export const pathOf = (keys: readonly unknown[], base = ''): string => keys.reduce<string>(pathTo, base);

/** Where a schema found an issue; the base alone, or nothing, for the value as a whole. */
export const pathOfIssue = ({ path }: v.BaseIssue<unknown>, base = ''): string =>
  pathOf(
    (path ?? []).map(({ key }) => key),
    base,
  );

/**
 * An issue of a schema as the fault that people read: a field too many is an `unknown field`, one that is not there is
 * `missing`. Of the alternatives of a union, the issue deepest in the value is the one that is reported.
 *
 * @param base path of the value that was checked
 */
export function faultOf(issue: v.BaseIssue<unknown>, base = ''): Fault {
  const path = pathOfIssue(issue, base);
  const inner = (issue.issues ?? []).reduce<v.BaseIssue<unknown> | undefined>(
    (deepest, next) => ((next.path?.length ?? 0) > (deepest?.path?.length ?? 0) ? next : deepest),
    undefined,
  );
  if (issue.type === 'union' && inner) return faultOf(inner, path);
  if (issue.type === 'strict_object' && issue.expected === 'never') return fault(path, 'unknown-field');
  return issue.received === 'undefined' ? fault(path, 'missing') : issueFault(path, issue);
}

/** Everything that a schema found, each with its path. */
export const faultsOf = (issues: readonly v.BaseIssue<unknown>[], base = ''): Fault[] =>
  issues.map((issue) => faultOf(issue, base));

/**
 * The fields of an object that a format does not know, every one of them (a schema names the first alone).
 *
 * @param base path of the object; nothing for the file itself
 * @example unknownFields({ name: 'x', colour: 1 }, ['name']) // [fault('colour', 'unknown-field')]
 */
export const unknownFields = (value: object, known: readonly string[], base = ''): Fault[] =>
  Object.keys(value)
    .filter((key) => !known.includes(key))
    .map((key) => fault(base === '' ? key : `${base}.${key}`, 'unknown-field'));

/**
 * One value laid over another: objects key by key, as deep as both go; anything else above replaces what is
 * beneath, and where there is nothing above (undefined or null) what is beneath stays.
 *
 * @example laidOver({ a: 1, b: { c: 2, d: 3 } }, { b: { c: 4 } }) // { a: 1, b: { c: 4, d: 3 } }
 */
export const laidOver = (beneath: unknown, above: unknown): unknown =>
  isObject(beneath) && isObject(above)
    ? Object.fromEntries(
        [...new Set([...Object.keys(beneath), ...Object.keys(above)])].map((key) => [
          key,
          laidOver(beneath[key], above[key]),
        ]),
      )
    : (above ?? beneath);
