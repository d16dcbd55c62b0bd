/** What can be told of the metal of a screw of 36 mm, in format 2. */
import type { EntryDraft, EntryOf } from '../../machines/entry.ts';
import { table2 } from './build-2.ts';
import type { Log } from './build.ts';

export type How = 'measured' | 'image' | 'difference';
export type Do = (log: Log) => Log;
export const told = (...steps: Do[]) => steps.reduce((log, one) => one(log), table2());
/** A move that brought it out, with or without a length. */
export const out =
  (recovered?: number, lengthHow: How = 'measured', more: Partial<EntryOf<'move-ended'>> = {}): Do =>
  (log) =>
    log.tries('1', 'gouge-and-grip', 'out', { ...(recovered !== undefined && { recovered, lengthHow }), ...more });
export const breaks =
  (recovered?: number, reachable = false, lengthHow: How = 'measured'): Do =>
  (log) =>
    log.tries('1', 'turn-out', 'shank-broke', { reachable, ...(recovered !== undefined && { recovered, lengthHow }) });
export const shears =
  (more: Partial<EntryOf<'move-ended'>> = {}): Do =>
  (log) =>
    log.tries('1', 'turn-out', 'head-sheared', more);
export const write =
  (draft: EntryDraft): Do =>
  (log) =>
    log.write(draft);
export const piece = (length: number, lengthHow: How = 'measured', more: object = {}): Do =>
  write({ type: 'piece-recovered', screw: '1', length, lengthHow, ...more });
export const allOfIt = (more: object = {}): Do =>
  write({ type: 'piece-recovered', screw: '1', complete: true, ...more });
export const head = (place: EntryOf<'head-seen'>['head'], more: object = {}): Do =>
  write({ type: 'head-seen', screw: '1', head: place, ...more });
export const plateOut: Do = write({ type: 'part-ended', part: 'plate', end: 'out' });
export const stays = (length: number | null, more: object = {}): Do =>
  write({ type: 'left-in', screw: '1', length, where: 'far cortex', reason: 'more bone lost', ...more });
export const gone = (what: 'head' | 'shank' | 'all', length?: number, lengthHow: How = 'measured'): Do =>
  write({ type: 'destroyed', screw: '1', what, how: 'burr', ...(length !== undefined && { length, lengthHow }) });
export const ends: Do = write({ type: 'work-ended' });
export const image = { imageTaken: true };
