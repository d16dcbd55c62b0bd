/** The log as the session sees it: sealed entries by case, appended, never overwritten. */
import type { Entry } from '../../machines/entry.ts';

/** What is kept of a case beside its entries. Written once, when the case is opened. */
export interface CaseMeta {
  /** A random UUID made on this device. */
  caseId: string;
  contentVersion: string;
  demo: boolean;
  /** RFC 3339. */
  created: string;
  /** A hospital's own additions to the content, as they stood when the case was opened. */
  overlay?: unknown;
}

export interface StoredCase {
  meta: CaseMeta;
  /** In order of `n`. */
  entries: Entry[];
}

export type CopyName = 'database' | 'journal';

/**
 * What became of a write. `copies: 2` means that both copies hold this and everything before it;
 * `copies: 1` with `missing` says which copy refused, and `reason` why, in words.
 */
export type AppendResult =
  { ok: true; copies: 2 | 1; missing?: CopyName; reason?: string } | { ok: false; reason: string };

export interface LogPort {
  /** Everything that is stored. Rejects with a reason in words when it can't be read. */
  list(): Promise<StoredCase[]>;
  create(meta: CaseMeta): Promise<AppendResult>;
  /**
   * Adds one entry; another entry with the same `n` is refused. The very same entry again is a success and changes
   * nothing, so that a write whose answer got lost can be tried again. Resolves when it is committed, not before.
   */
  append(caseId: string, entry: Entry): Promise<AppendResult>;
  /**
   * Makes it hold exactly `stored` of this case, in one step. An entry that stands in the way is moved aside, never
   * dropped; `aside` is kept beside it.
   */
  heal(stored: StoredCase, aside: readonly Entry[]): Promise<AppendResult>;
  /** Wipes a case for good: a tombstone keeps it from coming back out of another copy. */
  remove(caseId: string): Promise<void>;
  close(): Promise<void>;
}

/** An entry of a branch that was not chosen when the two copies disagreed. */
export interface Aside {
  caseId: string;
  entry: Entry;
}

/** An entry as it lies in a store while a passcode is on: nothing of it can be read without its case's keys. */
export interface SealedRow {
  n: number;
  /** Keyed tag of the entry: equal for equal entries, and telling nothing to who lacks the key. */
  seal: string;
  /** Nonce and ciphertext, base64. */
  box: string;
}

/** Everything that one copy holds, with what was wrong with it, in words. */
export interface Reading {
  cases: StoredCase[];
  /** Case ids that were wiped. */
  removed: string[];
  aside: Aside[];
  torn: string[];
}

/** One of the two copies: a log that can also be compared and brought up to date. */
export interface Copy extends LogPort {
  read(): Promise<Reading>;
  /**
   * Puts other rows in the place of all that are there, wiped cases staying wiped; a kill leaves all the old or all
   * the new. For the same entries written in another way, never for other entries. Rejects with a reason in words.
   */
  replace(reading: Reading): Promise<void>;
}

/** A write or a reading that was refused, with the reason in words. */
export class Refusal extends Error {}

/**
 * The reason for a failure, in words.
 *
 * @example reasonOf(new DOMException('', 'QuotaExceededError')) // 'no room left: the storage quota is used up'
 */
export function reasonOf(error: unknown): string {
  const { name, message } = (error ?? {}) as { name?: string; message?: string };
  if (error instanceof Refusal) return error.message;
  switch (name) {
    case 'QuotaExceededError':
      return 'no room left: the storage quota is used up';
    case 'VersionError':
      return 'a newer version of this tool has changed the store';
    case 'InvalidStateError':
      return `the connection to the store was closed (${message})`;
    case 'NoModificationAllowedError':
      return 'another window holds the file';
    case 'SecurityError':
    case 'NotAllowedError':
      return `the browser does not allow storage here (${message})`;
    default:
      return [name, message].filter(Boolean).join(': ') || 'no reason given';
  }
}

/** Turns a write that resolves or rejects into a result. */
export async function settle(write: Promise<unknown>): Promise<AppendResult> {
  try {
    await write;
    return { ok: true, copies: 1 };
  } catch (error) {
    return { ok: false, reason: reasonOf(error) };
  }
}

export const isSealed = (row: object): boolean => 'box' in row;

/**
 * Are these the same entry, field by field? Both copies keep the order of the fields. Sealed twice, one entry gives
 * two ciphertexts and one tag.
 */
export const sameEntry = (a: Entry, b: Entry): boolean =>
  a === b || (a.seal === b.seal && ((isSealed(a) && isSealed(b)) || JSON.stringify(a) === JSON.stringify(b)));

/** Are these the same about a case? A sealed one carries its tag as `created`. */
export const sameMeta = (a: CaseMeta, b: CaseMeta): boolean =>
  isSealed(a) && isSealed(b)
    ? a.caseId === b.caseId && a.created === b.created
    : JSON.stringify(a) === JSON.stringify(b);
