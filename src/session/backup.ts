/**
 * All cases in one file, and back. Text, one JSON object a line: first what the file is, then one case a line, plain or
 * encrypted under a key that the passcode of that device opens. Read on any device, case by case: all of a case or none.
 */
import * as v from 'valibot';
import { everyId } from '../../content/catalog.ts';
import { fetchReleases } from '../../content/later.ts';
import { contentOf, readOverlay } from '../../content/overlay.ts';
import { fault } from '../../content/fault.ts';
import { issueFault } from '../../content/issue.ts';
import { pathOfIssue } from '../../content/shape.ts';
import { readCase, startOf } from '../../machines/case-file.ts';
import { checkEntry, type Entry, type Fault } from '../../machines/entry.ts';
import { entryShapes } from '../../machines/formats.ts';
import type { Head as CaseHead, Seals } from '../../machines/seal.ts';
import type { CaseMeta, Quarantined, StoredCase } from '../store/port.ts';
import { maxBytes as maxLine, readJson } from '../read-json.ts';
import { fromBase64, toBase64 } from '../store/encrypted/base64.ts';
import { aesKey, dataKeyFrom, decrypt, encrypt, utf8 } from '../store/encrypted/aes-gcm.ts';
import { keyWrapOnDisk, keyWrapShape, unwrap, type KeyWrap } from '../store/encrypted/passcode.ts';
import { caseFile } from './case-file.ts';

export const backupFormat = 'counterturn-backup';
export const backupFormatVersion = 1;
/** Bytes of a whole backup, at most; one case, as a line, may have 16 MiB as any case file. */
export const maxBackup = 256 * 1024 * 1024;

const headShape = v.strictObject({
  format: v.literal(backupFormat),
  formatVersion: v.literal(backupFormatVersion),
  made: v.pipe(v.string(), v.isoTimestamp()),
  cases: v.pipe(v.number(), v.integer(), v.minValue(0)),
  /** Only in an encrypted one: a random name that its key is drawn with, and what the passcode opens. */
  id: v.optional(v.pipe(v.string(), v.uuid())),
  lock: v.optional(keyWrapShape),
});
type Head = v.InferInput<typeof headShape>;

const lineShape = v.strictObject({
  demo: v.boolean(),
  created: v.pipe(v.string(), v.isoTimestamp()),
  overlay: v.optional(v.unknown()),
  case: v.unknown(),
  aside: v.array(v.unknown()),
});
const boxShape = v.strictObject({ box: v.pipe(v.string(), v.base64()) });

/** A ciphertext belongs to its file, by the whole first line, and to its place in it. */
const place = (head: string, number: number) => utf8(`${head}\n${number}`);

/**
 * The backup of some cases.
 *
 * @param made RFC 3339 in UTC
 * @param lock what it is encrypted with; null for a plain one
 * @returns pieces of the file, a line each
 * @example (await writeBackup([], [], '2026-02-17T08:00:00.000Z', null))[0] // '{"format":"counterturn-backup",…}\n'
 */
export async function writeBackup(
  cases: readonly StoredCase[],
  quarantined: readonly Quarantined[],
  made: string,
  lock: { id: string; keyWrap: KeyWrap; key: CryptoKey } | null,
): Promise<string[]> {
  const about: Head = {
    format: backupFormat,
    formatVersion: backupFormatVersion,
    made,
    cases: cases.length,
    ...(lock && { id: lock.id, lock: keyWrapOnDisk(lock.keyWrap) }),
  };
  const head = JSON.stringify(about);
  const lines = [`${head}\n`];
  for (const [i, { meta, entries }] of cases.entries()) {
    const { demo, created, overlay } = meta;
    const beside = quarantined.filter(({ caseId }) => caseId === meta.caseId).map(({ entry }) => entry);
    const line = JSON.stringify({
      demo,
      created,
      ...(overlay !== undefined && { overlay }),
      case: caseFile(meta, entries),
      aside: beside,
    });
    const text = lock
      ? JSON.stringify({ box: toBase64(await encrypt(lock.key, utf8(line), place(head, i + 1))) })
      : line;
    lines.push(`${text}\n`);
  }
  return lines;
}

/**
 * Whether a file says of itself that it is a backup, whole or not.
 *
 * @example isBackup(new TextEncoder().encode('{"format":"counterturn-backup"}\n')) // true
 */
export function isBackup(bytes: Uint8Array): boolean {
  const end = bytes.indexOf(0x0a);
  const json = readJson(end < 0 ? bytes : bytes.subarray(0, end));
  return 'value' in json && (json.value as { format?: unknown } | null)?.format === backupFormat;
}

/** One case out of a backup; its id is that of another device and is not kept. */
export interface BackedUp {
  /** Number of its line in the file. */
  line: number;
  meta: Omit<CaseMeta, 'caseId'>;
  entries: Entry[];
  quarantined: Entry[];
  /** Of the case as it stands in the file, with its head. */
  seals: Seals;
  head?: CaseHead;
}

export type BackupRead =
  | { kind: 'faults'; faults: Fault[] }
  /** Encrypted: nothing can be said of it before its passcode. */
  | { kind: 'locked' }
  | { kind: 'wrong-passcode' }
  /** `missing`: cases that the first line promises and the file lacks. `faults`: of lines that were left out. */
  | { kind: 'read'; cases: BackedUp[]; faults: Fault[]; missing: number };

/**
 * Reads a backup; stores nothing.
 *
 * @param passcode of the device that made it; needed only for an encrypted one
 * @returns every case that is whole, and the faults of every other, `line 4: case.entries[6].outcome`; never throws
 * @example (await readBackup(new TextEncoder().encode('{}'))).kind // 'faults'
 */
export async function readBackup(bytes: Uint8Array<ArrayBuffer>, passcode?: string): Promise<BackupRead> {
  // Without the script of a release its cases are refused by name, and stay where they are.
  await fetchReleases().catch(() => undefined);
  const refused = (...faults: Fault[]): BackupRead => ({ kind: 'faults', faults });
  if (bytes.length > maxBackup) return refused(fault('file', 'large', { size: 256, bytes: bytes.length }));
  const [first, ...rest] = linesOf(bytes);
  const json = readJson(first ?? new Uint8Array());
  if ('faults' in json) return { kind: 'faults', faults: at(1, json.faults) };
  const known = v.safeParse(headShape, json.value);
  if (!known.success) return { kind: 'faults', faults: at(1, issuesOf(known.issues)) };
  const { lock, id, cases: promised } = known.output;
  if ((lock === undefined) !== (id === undefined)) return refused(fault('line 1: lock', 'lock-id'));
  if (lock && passcode === undefined) return { kind: 'locked' };

  let key: CryptoKey | null = null;
  if (lock) {
    try {
      const dataKey = await unwrap(lock, passcode as string);
      if (!dataKey) return { kind: 'wrong-passcode' };
      key = await aesKey(await dataKeyFrom(dataKey), `counterturn backup ${id}`);
    } catch (error) {
      return refused(fault('line 1: lock', 'lock', { detail: (error as Error).message }));
    }
  }
  const head = new TextDecoder().decode(first);
  const cases: BackedUp[] = [];
  const faults: Fault[] = [];
  for (const [i, raw] of rest.entries()) {
    const plain = key ? await openLine(raw, key, place(head, i + 1)) : raw;
    const one = 'path' in plain ? { faults: [plain] } : caseOf(plain);
    if ('faults' in one) faults.push(...at(i + 2, one.faults));
    else cases.push({ line: i + 2, ...one });
  }
  if (rest.length > promised) faults.push(fault('line 1: cases', 'cases', { promised, count: rest.length }));
  return { kind: 'read', cases, faults, missing: Math.max(0, promised - rest.length) };
}

/** Where a line's faults stand in the file. */
const at = (line: number, faults: readonly Fault[]): Fault[] =>
  faults.map((one) => ({ ...one, path: `line ${line}: ${one.path}` }));

function linesOf(bytes: Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer>[] {
  const lines: Uint8Array<ArrayBuffer>[] = [];
  for (let start = 0; start < bytes.length;) {
    const end = bytes.indexOf(10, start);
    lines.push(bytes.subarray(start, end < 0 ? bytes.length : end));
    start = end < 0 ? bytes.length : end + 1;
  }
  return lines;
}

const issuesOf = (issues: readonly v.BaseIssue<unknown>[]): Fault[] =>
  issues.map((issue) => issueFault(issue.path ? pathOfIssue(issue) : 'line', issue));

async function openLine(raw: Uint8Array, key: CryptoKey, bound: Uint8Array<ArrayBuffer>) {
  const json = readJson(raw);
  if ('faults' in json) return json.faults[0] as Fault;
  const found = v.safeParse(boxShape, json.value);
  if (!found.success) return issuesOf(found.issues)[0] as Fault;
  return decrypt(key, fromBase64(found.output.box), bound).catch(() =>
    // Whatever the reason, nothing of it can be read: that is what is told.
    fault('box', 'shut'),
  );
}

function caseOf(raw: Uint8Array): Omit<BackedUp, 'line'> | { faults: Fault[] } {
  if (raw.length > maxLine) return { faults: [fault('case', 'large', { size: 16, bytes: raw.length })] };
  const json = readJson(raw);
  if ('faults' in json) return json;
  const found = v.safeParse(lineShape, json.value);
  if (!found.success) return { faults: issuesOf(found.issues) };
  const { case: inner, aside, demo, created, overlay } = found.output;
  const reading = readCase(inner, (version) => contentOf(version, overlay));
  const faults: Fault[] = [
    ...(overlay === undefined ? [] : overlayFaults(overlay)),
    ...('faults' in reading ? reading.faults.map((one) => ({ ...one, path: `case.${one.path}` })) : []),
  ];
  const beside: Entry[] = [];
  const ids = 'content' in reading ? reading.content.ids : everyId();
  for (const [i, value] of aside.entries()) {
    const path = `aside[${i}]`;
    // It stood in a log of its own, of whichever format.
    const first = checkEntry(value, path, entryShapes(ids, 1));
    const checked = 'entry' in first ? first : checkEntry(value, path, entryShapes(ids));
    if ('faults' in checked) faults.push(...checked.faults);
    else beside.push(checked.entry);
  }
  if ('faults' in reading || faults.length) return { faults };
  const { file, seals } = reading;
  // The head names the last entry: a shorter list was cut.
  if (file.head && seals.seals === 'broken' && file.entries.length < file.head.n)
    return {
      faults: [fault('case.head', 'head', { n: file.head.n, count: file.entries.length })],
    };
  if (file.entries.length === 0) return { faults: [fault('case.entries', 'no-entry')] };
  const format = startOf(file.entries, file.formatVersion);
  const meta = {
    ...{ contentVersion: file.contentVersion, demo, created },
    ...(overlay !== undefined && { overlay }),
    ...(format > 1 && { format }),
  };
  return { meta, entries: file.entries, quarantined: beside, seals, ...(file.head && { head: file.head }) };
}

/** What is wrong with the content that a case carries. */
function overlayFaults(overlay: unknown): Fault[] {
  const read = readOverlay(overlay);
  return 'faults' in read ? read.faults.map((one) => ({ ...one, path: `overlay.${one.path}` })) : [];
}
