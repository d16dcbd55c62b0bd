/** Sets of tools that a department owns: saved once with their real sizes, brought into a case by one touch. */
import * as v from 'valibot';
import { everyId } from '../../content/catalog.ts';
import type { ToolId } from '../../content/ids.ts';
import { fault } from '../../content/fault.ts';
import { issueFault } from '../../content/issue.ts';
import { isObject, pathOfIssue, unknownFields } from '../../content/shape.ts';
import type { RoomTool } from '../../machines/case.context.ts';
import { checkEntry, type EntryDraft, type Fault } from '../../machines/entry.ts';
import { entryShapes } from '../../machines/formats.ts';
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

const kindShape = v.object(
  {
    format: v.literal(toolSetFormat, 'exactly-text'),
    formatVersion: v.literal(toolSetVersion, 'exactly-number'),
  },
  ({ path }) => (path?.[0]?.key === 'format' ? 'exactly-text' : 'exactly-number'),
);
/** What stands in it besides; each tool is checked on its own. */
const setShape = v.object(
  {
    name: v.pipe(
      v.string('text'),
      v.check((name) => name.trim() !== '', 'text'),
      v.maxLength(nameLength, 'long'),
    ),
    tools: v.pipe(v.array(v.unknown(), 'list'), v.minLength(1, 'no-tool')),
  },
  ({ path }) => (path?.[0]?.key === 'name' ? 'text' : 'list'),
);
/** What stands in the places of the codes of these shapes. */
const said = { value: toolSetFormat, n: toolSetVersion, count: nameLength };
const issuesOf = (issues: readonly v.BaseIssue<unknown>[]): Fault[] =>
  issues.map((issue) => issueFault(pathOfIssue(issue), issue, said));
const time = '2000-01-01T00:00:00Z';

/** A tool is checked as the entry that would bring it into a room, so that both know the same shapes. */
function toolFaults(tool: unknown, path: string): Fault[] {
  if (!isObject(tool)) return [fault(path, 'object')];
  const unknown = unknownFields(tool, keysOfTool, path);
  if (unknown.length > 0) return unknown;
  const entry = { n: 1, at: time, logged: time, type: 'tool-in-room', present: true, ...tool };
  // A set belongs to no case: whatever a release knows may be in it.
  const read = checkEntry(entry, path, entryShapes(everyId()));
  return 'faults' in read ? read.faults : [];
}

/**
 * Checks a set of tools as it stands in a file.
 *
 * @returns the set, or every fault with its path; never throws
 * @example checkToolSet({ format: 'counterturn-tool-set', formatVersion: 2 }) // { faults: [{ path: 'formatVersion', … }] }
 */
export function checkToolSet(value: unknown): { set: ToolSet } | { faults: Fault[] } {
  if (!isObject(value)) return { faults: [fault('file', 'object')] };
  const known = v.safeParse(kindShape, value, { abortEarly: true });
  if (!known.success) return { faults: issuesOf(known.issues) };
  const faults = unknownFields(value, [...Object.keys(kindShape.entries), ...Object.keys(setShape.entries)]);
  const read = v.safeParse(setShape, value, { abortPipeEarly: true });
  if (!read.success) faults.push(...issuesOf(read.issues));
  if (Array.isArray(value.tools)) faults.push(...value.tools.flatMap((tool, i) => toolFaults(tool, `tools[${i}]`)));
  if (faults.length > 0 || !read.success) return { faults };
  return { set: { name: read.output.name.trim(), tools: read.output.tools as SetTool[] } };
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
export const bringingIn = ({ tools }: ToolSet, room: readonly RoomTool[]): EntryDraft[] =>
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

/** Sets as they were kept, which is without the head of a file; one that makes no sense is left out. */
function stored(value: unknown): readonly ToolSet[] | null {
  const list = v.safeParse(v.array(v.unknown()), value);
  if (!list.success) return null;
  return list.output.flatMap((one) => {
    const read = checkToolSet(isObject(one) ? { format: toolSetFormat, formatVersion: toolSetVersion, ...one } : one);
    return 'set' in read ? [read.set] : [];
  });
}

let kept: Kept<readonly ToolSet[]> | undefined;
/** The sets of this device. */
export const toolSets = (): Kept<readonly ToolSet[]> => (kept ??= createKept('tool-sets', stored, []));
