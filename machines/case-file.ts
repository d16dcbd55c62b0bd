/** The case file: checked as a whole, with a path for every fault. Nothing is half read. */
import * as v from 'valibot';
import { everyId } from '../content/catalog.ts';
import { fault } from '../content/fault.ts';
import { issueFault } from '../content/issue.ts';
import { isObject, pathOfIssue, unknownFields } from '../content/shape.ts';
import type { Content } from '../content/types.ts';
import { checkEntry, show, type Entry, type Fault } from './entry.ts';
import { boneAt } from './compute/bone-cost.ts';
import type { Room } from './case.context.ts';
import { caseFormat } from './conversions.ts';
import { entryShapes, formatFrom, formatOf, formatOfLog, formatVersions } from './formats.ts';
import { fold, refolds, ruleVersions, step, unfolded } from './fold.ts';
import type { Folded } from './folded.ts';
import { verify, type Head, type Seals } from './seal.ts';
import { epoch } from './time.ts';

export { caseFormat as format } from './conversions.ts';
export { formatVersion } from './formats.ts';

/** Far beyond any bone: keeps a hostile file from taking hours to read. */
const mostScrews = 1000;
/** Entries folded again because of corrections while a file is read: a long case of 1,000 entries with 1,000 strikes has as many. */
const mostRefolded = 1_000_000;

export interface CaseFile {
  format: typeof caseFormat;
  formatVersion: number;
  contentVersion: string;
  /** The rules that the case was written under; left out by format 1, and in a file written by hand. */
  rules?: number;
  entries: Entry[];
  head?: Head;
}

export type CaseReading = { file: CaseFile; content: Content; seals: Seals } | { faults: Fault[] };

/**
 * Checks a parsed case file.
 *
 * @param value what a JSON reader gave (duplicate keys are the reader's to refuse)
 * @param load the content of a version, undefined when this build does not carry it
 * @returns the file with its content and seals, or every fault with its path; never throws
 * @example readCase({ format: 'other' }, load) // { faults: [{ path: 'format', … }] }
 */
export function readCase(value: unknown, load: (version: string) => Content | undefined): CaseReading {
  if (!isObject(value)) return { faults: [fault('file', 'object')] };
  if (value.format !== caseFormat)
    return { faults: [fault('format', 'not-format', { value: show(value.format ?? null), wanted: caseFormat })] };
  const own = formatOf(value.formatVersion);
  if (!own)
    return {
      faults: [
        fault('formatVersion', 'format-version', {
          version: show(value.formatVersion ?? null),
          known: formatVersions().join(', '),
        }),
      ],
    };
  const faults: Fault[] = [];
  faults.push(...unknownFields(value, ['format', 'formatVersion', ...own.header]));
  const content = typeof value.contentVersion === 'string' ? load(value.contentVersion) : undefined;
  if (!content) faults.push(fault('contentVersion', 'no-content', { version: show(value.contentVersion ?? null) }));
  const rules = value.rules === undefined ? undefined : rulesOf(value.rules, faults);
  const head = value.head === undefined ? undefined : headOf(value.head, faults);
  if (!Array.isArray(value.entries)) return { faults: [...faults, fault('entries', 'list')] };
  const entries: Entry[] = [];
  // Without its content nothing tells which ids a case may name: what no release has is a fault all the same.
  const ids = content?.ids ?? everyId();
  const formats = formatsAlong(value.entries, own.number);
  value.entries.forEach((item: unknown, index) => {
    const checked = checkEntry(item, `entries[${index}]`, entryShapes(ids, formats[index]));
    if ('faults' in checked) faults.push(...checked.faults);
    else entries.push(checked.entry);
  });
  if (faults.length || !content) return { faults };
  faults.push(
    ...opensOtherwise(entries, content, rules),
    ...acrossEntries(entries, content, { format: startOf(entries, own.number) }),
  );
  if (faults.length) return { faults };
  const file: CaseFile = {
    format: caseFormat,
    formatVersion: own.number,
    contentVersion: content.version,
    ...(rules !== undefined && { rules }),
    entries,
    ...(head && { head }),
  };
  return { file, content, seals: verify(entries, head) };
}

/**
 * The format in force at each entry. A log that says nowhere which one it stands in, such as one written by hand, is
 * of its file's throughout.
 */
function formatsAlong(entries: readonly unknown[], ofFile: number): number[] {
  let now = 1;
  const along = entries.map((entry) => (now = isObject(entry) ? formatFrom(entry, now, ofFile) : now));
  return now === 1 ? along.map(() => ofFile) : along;
}

/**
 * The format that a log is folded from: a case says at its opening which one it stands in, or begins in format 1; one
 * that says nowhere is of its file's throughout.
 *
 * @param ofFile the format that its file names
 * @example startOf([], 2) // 2
 */
export const startOf = (entries: readonly object[], ofFile: number): number =>
  formatOfLog(entries) === 1 ? ofFile : 1;

function rulesOf(value: unknown, faults: Fault[]): number | undefined {
  if (typeof value === 'number' && ruleVersions.of(value)) return value;
  return void faults.push(fault('rules', 'rules-unknown', { rules: show(value) }));
}

/** Faults of an opening, or of a change of format, that names another content or other rules than its file, or rules that this build lacks. */
function opensOtherwise(entries: readonly Entry[], content: Content, ofFile: number | undefined): Fault[] {
  let rules = ofFile;
  return entries.flatMap((entry, index) => {
    if (entry.type !== 'case-opened' && entry.type !== 'format-raised') return [];
    const faults: Fault[] = [];
    const path = `entries[${index}]`;
    if (entry.type === 'case-opened' && (entry.contentVersion ?? content.version) !== content.version)
      faults.push(fault(`${path}.contentVersion`, 'other-content', { version: content.version }));
    if (entry.rules === undefined) return faults;
    if (!ruleVersions.of(entry.rules)) faults.push(fault(`${path}.rules`, 'rules-unknown', { rules: entry.rules }));
    else if ((rules ??= entry.rules) !== entry.rules) faults.push(fault(`${path}.rules`, 'other-rules', { rules }));
    return faults;
  });
}

const headFaults = { n: 'whole-from-1', seal: 'digits' };
const headShape = v.object(
  {
    n: v.pipe(v.number(headFaults.n), v.integer(headFaults.n), v.minValue(1, headFaults.n)),
    seal: v.pipe(v.string(headFaults.seal), v.regex(/^[0-9a-f]{64}$/, headFaults.seal)),
  },
  ({ path }) => headFaults[path?.[0]?.key as keyof typeof headFaults],
);

function headOf(value: unknown, faults: Fault[]): Head | undefined {
  if (!isObject(value)) return void faults.push(fault('head', 'object'));
  faults.push(...unknownFields(value, Object.keys(headShape.entries), 'head'));
  const read = v.safeParse(headShape, value, { abortPipeEarly: true });
  if (read.success) return read.output;
  faults.push(...read.issues.map((issue) => issueFault(pathOfIssue(issue, 'head'), issue)));
  return undefined;
}

/**
 * Faults that only show between entries: numbers, times, limits in force, bores wider than the bone in force. What is
 * in force at an entry is what stood before it: a later strike makes nothing that was once accepted unreadable.
 *
 * @param entries each checked on its own
 * @param most entries folded again because of corrections, before it gives up
 * @param format the format that the log begins in
 */
export function acrossEntries(
  entries: readonly Entry[],
  content: Content,
  { most = mostRefolded, format = 1 }: { most?: number; format?: number } = {},
): Fault[] {
  const faults: Fault[] = [];
  const stateAt = stateBefore(entries, content, most, format);
  const screws = new Set<string>();
  let gaveUp = false;
  let before = -Infinity;
  let now = format;
  entries.forEach((entry, index) => {
    const path = `entries[${index}]`;
    if (entry.n !== index + 1) faults.push(fault(`${path}.n`, 'gap', { n: index + 1 }));
    const logged = epoch(entry.logged);
    if (epoch(entry.at) > logged) faults.push(fault(`${path}.at`, 'late'));
    now = formatFrom(entry, now);
    if (logged < before && !(now > 1 && mayRunBack(entry, before - logged)))
      faults.push(fault(`${path}.logged`, 'early'));
    // The clock that ran back goes on from where it is.
    before = now > 1 ? logged : Math.max(before, logged);
    if (entry.type === 'screw-listed' && screws.add(entry.screw).size === mostScrews + 1)
      faults.push(fault(`${path}.screw`, 'screws', { count: mostScrews }));
    const needsRoom =
      entry.type === 'limits-set' || ('bores' in entry && entry.type !== 'move-answered' && entry.bores?.length);
    if (!needsRoom) return;
    const state = stateAt(index);
    if (state) faults.push(...againstRoom(entry, state.case.context.room, content, path));
    else if (!gaveUp) faults.push(fault(path, 'corrections'));
    gaveUp ||= state === null;
  });
  return faults;
}

/** How much more than the jump itself the clock may run back at it, ms: the jump is measured to the second. */
const jumpRounding = 2000;

/** May the time of logging run back here: at the jump that says so, or when the work at the tablet is taken up again? */
const mayRunBack = (entry: Entry, by: number): boolean =>
  entry.type === 'resumed' || (entry.type === 'clock-jumped' && by <= -entry.seconds * 1000 + jumpRounding);

/**
 * The state before an entry, asked for in ascending order: folded once, and again only after a strike; null once that has
 * become too much.
 */
function stateBefore(
  entries: readonly Entry[],
  content: Content,
  most: number,
  format: number,
): (index: number) => Folded | null {
  let state = unfolded(content, undefined, format);
  let done = 0;
  let refolded = 0;
  return (index) => {
    const ahead = entries.slice(done, index);
    done = index;
    if (!ahead.some(({ type }) => refolds.includes(type))) {
      state = ahead.reduce((now, entry) => step(now, entry, entries), state);
      return state;
    }
    refolded += index;
    if (refolded > most) return null;
    state = fold(entries.slice(0, index), content, undefined, format);
    return state;
  };
}

const limitsAfter = (room: Room, { boneConsider, boneStop }: Extract<Entry, { type: 'limits-set' }>) => ({
  boneConsider: boneConsider ?? room.limits.boneConsider,
  boneStop: boneStop ?? room.limits.boneStop,
});

/** Faults of one entry against the room in force: limits that cross, bores as wide as the bone. */
export function againstRoom(entry: Entry, room: Room, content: Content, path: string): Fault[] {
  if (entry.type === 'limits-set') {
    const { boneConsider, boneStop } = limitsAfter(room, entry);
    const named = entry.boneConsider === undefined ? 'boneStop' : 'boneConsider';
    return boneConsider > boneStop
      ? [fault(`${path}.${named}`, 'limits-cross', { consider: boneConsider, stop: boneStop })]
      : [];
  }
  if (!('bores' in entry) || !('screw' in entry)) return [];
  const bone = boneAt(content, room, entry.screw);
  return (entry.bores ?? []).flatMap((bore, index) =>
    bone && bore.diameter >= bone.outer
      ? [fault(`${path}.bores[${index}].diameter`, 'bore-wide', { bore: bore.diameter, outer: bone.outer })]
      : [],
  );
}
