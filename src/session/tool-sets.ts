/** Sets of tools that a department owns: saved once with their real sizes, brought into a case by one touch. */
import type { ToolId } from '../../content/ids.ts';
import type { RoomTool } from '../../machines/case.context.ts';
import { checkEntry, type Draft, type Fault } from '../../machines/entry.ts';
import { createKept, type Kept } from '../device/kept.ts';
import { readJson } from '../read-json.ts';

export interface SetTool {
  tool: ToolId;
  /** Diameters of the screws it fits, mm. */
  fits?: number[];
  /** As `driveSize`. */
  size?: number;
  /** mm */
  outer?: number;
  /** mm */
  inner?: number;
}

export interface ToolSet {
  name: string;
  tools: SetTool[];
}

export const toolSetFormat = 'counterturn-tool-set';
export const toolSetVersion = 1;
/** Longest name, so that it stays on one touch. */
const nameLength = 60;

const measures = ['fits', 'size', 'outer', 'inner'] as const;
const keysOfTool = ['tool', ...measures];
const keysOfFile = ['format', 'formatVersion', 'name', 'tools'];
const time = '2000-01-01T00:00:00Z';

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const unknownKeys = (value: object, known: readonly string[], at: string): Fault[] =>
  Object.keys(value)
    .filter((key) => !known.includes(key))
    .map((key) => ({ path: `${at}${key}`, message: 'unknown field' }));

/** A tool is checked as the entry that would bring it into a room, so that both know the same shapes. */
function toolFaults(tool: unknown, path: string): Fault[] {
  if (!isObject(tool)) return [{ path, message: 'expected an object' }];
  const unknown = unknownKeys(tool, keysOfTool, `${path}.`);
  if (unknown.length > 0) return unknown;
  const read = checkEntry({ n: 1, at: time, logged: time, type: 'tool-in-room', present: true, ...tool }, path);
  return 'faults' in read ? read.faults : [];
}

/**
 * Checks a set of tools as it stands in a file.
 *
 * @returns the set, or every fault with its path; never throws
 * @example checkToolSet({ format: 'counterturn-tool-set', formatVersion: 2 }) // { faults: [{ path: 'formatVersion', … }] }
 */
export function checkToolSet(value: unknown): { set: ToolSet } | { faults: Fault[] } {
  if (!isObject(value)) return { faults: [{ path: 'file', message: 'expected an object' }] };
  if (value.format !== toolSetFormat) return { faults: [{ path: 'format', message: `expected "${toolSetFormat}"` }] };
  if (value.formatVersion !== toolSetVersion)
    return { faults: [{ path: 'formatVersion', message: `expected ${toolSetVersion}` }] };
  const faults = unknownKeys(value, keysOfFile, '');
  const { name, tools } = value;
  if (typeof name !== 'string' || name.trim() === '') faults.push({ path: 'name', message: 'expected text' });
  else if (name.length > nameLength) faults.push({ path: 'name', message: `longer than ${nameLength} characters` });
  if (!Array.isArray(tools)) faults.push({ path: 'tools', message: 'expected a list' });
  else if (tools.length === 0) faults.push({ path: 'tools', message: 'holds no tool' });
  else faults.push(...tools.flatMap((tool, i) => toolFaults(tool, `tools[${i}]`)));
  if (faults.length > 0) return { faults };
  return { set: { name: (name as string).trim(), tools: tools as SetTool[] } };
}

/** What a file of a tool set says, or every fault of it. */
export function readToolSet(bytes: Uint8Array): { set: ToolSet } | { faults: Fault[] } {
  const read = readJson(bytes);
  return 'faults' in read ? { faults: [...read.faults] } : checkToolSet(read.value);
}

/** A set as the file that another device takes in. */
export const toolSetFile = ({ name, tools }: ToolSet) => ({
  name: `${
    name
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-|-$/g, '') || 'tools'
  }.tools.json`,
  type: 'application/json',
  content: `${JSON.stringify({ format: toolSetFormat, formatVersion: toolSetVersion, name, tools }, null, 1)}\n`,
});

const bare = ({ tool, fits, size, outer, inner }: RoomTool | SetTool): SetTool => ({
  tool,
  ...(fits && { fits: [...fits] }),
  ...(size !== undefined && { size }),
  ...(outer !== undefined && { outer }),
  ...(inner !== undefined && { inner }),
});
const sameTool = (a: RoomTool | SetTool, b: RoomTool | SetTool) => JSON.stringify(bare(a)) === JSON.stringify(bare(b));

/** A set of all that stands in a room. */
export const setOf = (name: string, room: readonly RoomTool[]): ToolSet => ({
  name: name.trim(),
  tools: room.map(bare),
});

/**
 * The entries that bring a set into a room: one for each tool that is not there yet.
 *
 * @example bringingIn({ name: 'plates', tools: [{ tool: 'gouge' }] }, []) // [{ type: 'tool-in-room', tool: 'gouge', present: true }]
 */
export const bringingIn = ({ tools }: ToolSet, room: readonly RoomTool[]): Draft[] =>
  tools
    .filter((tool) => !room.some((there) => sameTool(there, tool)))
    .map((tool) => ({ type: 'tool-in-room', present: true, ...bare(tool) }));

/**
 * The sets with one more. A set that is there already, name and tools, is not added again; another of the same name
 * gets a number behind it: nothing is ever overwritten.
 *
 * @example withSet([plates], { ...plates, tools: [] })[1].name // 'plates (2)'
 */
export function withSet(sets: readonly ToolSet[], set: ToolSet): ToolSet[] {
  const same = sets.some(
    ({ name, tools }) =>
      name === set.name &&
      tools.length === set.tools.length &&
      tools.every((tool, i) => sameTool(tool, set.tools[i] as SetTool)),
  );
  if (same) return [...sets];
  let name = set.name;
  for (let n = 2; sets.some((other) => other.name === name); n++) name = `${set.name} (${n})`;
  return [...sets, { ...set, name }];
}

const stored = (value: unknown): readonly ToolSet[] | null =>
  Array.isArray(value)
    ? value.flatMap((one: unknown) => {
        const read = checkToolSet(
          isObject(one) ? { format: toolSetFormat, formatVersion: toolSetVersion, ...one } : one,
        );
        return 'set' in read ? [read.set] : [];
      })
    : null;

let kept: Kept<readonly ToolSet[]> | undefined;
/** The sets of this device. */
export const toolSets = (): Kept<readonly ToolSet[]> => (kept ??= createKept('tool-sets', stored, []));
