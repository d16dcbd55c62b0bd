/** What differs between two contents, found by walking both: nothing that an overlay does can stay unseen. */
import { isObject } from './shape.ts';
import type { Content } from './types.ts';

export interface Difference {
  /** Path by ids, such as `limits.boneConsider.value` or `moves.grip-head.notUsedHere`; `moves` alone for the order. */
  path: string;
  /** Undefined for what was added. */
  before: unknown;
  after: unknown;
}

type Row = Record<string, unknown>;
/** What has parts to go into: an object or a list. */
const isBranch = (value: unknown): value is Row => isObject(value) || Array.isArray(value);
const isKeyed = (value: unknown): value is Row[] =>
  Array.isArray(value) && value.length > 0 && value.every((row) => isObject(row) && typeof row.id === 'string');
/** A list without rows is keyed as well as the other one is: what was added to it is added row by row. */
const mayBeKeyed = (value: unknown): value is Row[] => isKeyed(value) || (Array.isArray(value) && value.length === 0);
const keyed = (rows: Row[]): Row => Object.fromEntries(rows.map((row) => [row.id as string, row]));

/**
 * Every difference between a release and a content over it, in the order of the release; what was added comes last.
 *
 * @example differences(release, release) // []
 */
export function differences(before: Content, after: Content): Difference[] {
  const found: Difference[] = [];
  const walk = (a: unknown, b: unknown, path: string): void => {
    if ((isKeyed(a) || isKeyed(b)) && mayBeKeyed(a) && mayBeKeyed(b)) {
      const ids = (rows: Row[]) => rows.map(({ id }) => id);
      const [left, right] = [ids(a), ids(b).filter((id) => ids(a).includes(id))];
      if (left.some((id, i) => id !== right[i])) found.push({ path, before: left, after: right });
      return walk(keyed(a), keyed(b), path);
    }
    if (!isBranch(a) || !isBranch(b) || Array.isArray(a) !== Array.isArray(b)) {
      if (!Object.is(a, b)) found.push({ path, before: a, after: b });
      return;
    }
    for (const key of new Set([...Object.keys(a), ...Object.keys(b)]))
      walk(a[key], b[key], path === '' ? key : `${path}.${key}`);
  };
  walk(before, after, '');
  return found;
}
