/** Strict JSON: UTF-8, no duplicate keys, bounded size and nesting; every fault with its place. */
import { getLocation, visit } from 'jsonc-parser';
import { fault, type FaultCode } from '../content/fault.ts';
import { pathOf, type Fault } from '../content/shape.ts';

export const maxBytes = 16 * 1024 * 1024;
export const maxDepth = 64;

type Json = { value: unknown } | { faults: Fault[] };

/**
 * Reads JSON text from bytes.
 *
 * @param bytes at most 16 MiB of UTF-8
 * @returns the value, or the first faults: `line:column` for what has no path, otherwise the path
 * @example readJson(new TextEncoder().encode('{"a":1,"a":2}')) // { faults: [fault('a', 'duplicate')] }
 */
export function readJson(bytes: Uint8Array): Json {
  const refused = (path: string, code: FaultCode, values?: Fault['values']): Json => ({
    faults: [fault(path, code, values)],
  });
  if (bytes.length > maxBytes) return refused('file', 'large', { size: 16, bytes: bytes.length });
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return refused('file', 'not-text');
  }
  const deep = tooDeepAt(text);
  if (deep >= 0) return refused(pathAt(text, deep), 'deep', { count: maxDepth });
  try {
    const value: unknown = JSON.parse(text);
    const faults = keyFaults(text);
    return faults.length ? { faults } : { value };
  } catch {
    return refused(placeOfError(text), 'broken');
  }
}

/** Offset of the bracket that opens one level too many, or -1. Runs before any recursive parser sees the text. */
function tooDeepAt(text: string): number {
  let depth = 0;
  let inString = false;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (inString) {
      if (c === 0x5c) i++;
      else if (c === 0x22) inString = false;
    } else if (c === 0x22) inString = true;
    else if (c === 0x5b || c === 0x7b) {
      if (++depth > maxDepth) return i;
    } else if (c === 0x5d || c === 0x7d) depth--;
  }
  return -1;
}

/** The path there when the text can be read so far, else line:column. */
function pathAt(text: string, offset: number): string {
  try {
    return pathOf(getLocation(text, offset).path).slice(0, 120) || lineColumn(text, offset);
  } catch {
    // No path in text that is no JSON: line and column tell the place.
    return lineColumn(text, offset);
  }
}

function lineColumn(text: string, offset: number): string {
  const before = text.slice(0, offset).split('\n');
  return `${before.length}:${(before.at(-1) as string).length + 1}`;
}

/** Where a string ends whose opening quote stands at `start`. */
function endOfString(text: string, start: number): number {
  let i = start + 1;
  while (text.charCodeAt(i) !== 0x22) i += text.charCodeAt(i) === 0x5c ? 2 : 1;
  return i;
}

function isColonAfter(text: string, end: number): boolean {
  let i = end + 1;
  while (text.charCodeAt(i) <= 0x20) i++;
  return text[i] === ':';
}

/**
 * Duplicate keys, and keys that every object inherits: a schema could not tell them from its own.
 *
 * @param text JSON that was parsed already
 */
function keyFaults(text: string): Fault[] {
  const faults: Fault[] = [];
  const open: { keys: Set<string> | null; at: string | number }[] = [];
  for (let i = 0; i < text.length; i++) {
    const c = text[i];
    const inside = open.at(-1);
    if (c === '{') open.push({ keys: new Set(), at: '' });
    else if (c === '[') open.push({ keys: null, at: 0 });
    else if (c === '}' || c === ']') open.pop();
    else if (c === ',' && inside?.keys === null) inside.at = Number(inside.at) + 1;
    else if (c === '"') {
      const end = endOfString(text, i);
      if (inside?.keys && isColonAfter(text, end)) {
        const raw = text.slice(i + 1, end);
        const key = raw.includes('\\') ? (JSON.parse(`"${raw}"`) as string) : raw;
        inside.at = key;
        const path = () => pathOf(open.map(({ at }) => at));
        if (inside.keys.has(key)) faults.push(fault(path(), 'duplicate'));
        else if (key in Object.prototype) faults.push(fault(path(), 'unknown-field'));
        inside.keys.add(key);
      }
      i = end;
    }
  }
  return faults;
}

function placeOfError(text: string): string {
  let place: string | undefined;
  visit(
    text,
    { onError: (_error, _offset, _length, line, character) => void (place ??= `${line + 1}:${character + 1}`) },
    { disallowComments: true },
  );
  return place ?? lineColumn(text, text.length);
}
