/** Case files on disk for the command's tests, and the command itself run in this process. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';
import type { Entry } from '../../machines/entry.ts';
import { run, type Ran } from '../../src/commands.ts';
import { Log } from '../machines/build.ts';

const folder = mkdtempSync(join(tmpdir(), 'counterturn-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

let count = 0;
/** Writes what is given as a file of its own; text and bytes as they are. */
export function fileWith(content: unknown): string {
  const path = join(folder, `${++count}.json`);
  writeFileSync(path, typeof content === 'string' || Buffer.isBuffer(content) ? content : JSON.stringify(content));
  return path;
}

export const caseOf = (entries: readonly unknown[], more: object = {}) => ({
  format: 'counterturn-case',
  formatVersion: 1,
  contentVersion: '2026.1',
  entries,
  ...more,
});

/** One opened case with a screw and the work begun: 4 entries. */
export const begun = (): Log => new Log().opened().screw('1').room('driver-hexagonal').start();

export const state = (content: unknown): Promise<Ran> => run(['state', fileWith(content)]);
export const ofEntries = (entries: readonly unknown[], more: object = {}) => state(caseOf(entries, more));

/** The begun case with one more entry at its end, as it is written by hand. */
export const withEntry = (entry: object, more: object = {}) => {
  const log = begun();
  const last = log.entries.at(-1) as Entry;
  return ofEntries([...log.entries, { n: log.n + 1, at: last.at, logged: last.logged, ...entry }], more);
};
/** Path of that entry. */
export const here = `entries[${begun().n}]`;

/** The faults of a refusal, one for each line. */
export function faults({ status, stdout, stderr }: Ran): string[] {
  if (status !== 2 || stdout !== '') throw new Error(`not refused: ${status} ${stdout.slice(0, 80)}`);
  return stderr.replace(/\n$/, '').split('\n');
}
