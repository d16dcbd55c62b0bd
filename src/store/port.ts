/** The log as the session sees it: sealed entries by case, appended, never overwritten. */
import type { Entry } from '../../machines/entry.ts';
import { failureOf, type Failure } from '../failure.ts';

/** What is kept of a case beside its entries. Written once, when the case is opened. */
export interface CaseMeta {
  /** A random UUID made on this device. */
  caseId: string;
  contentVersion: string;
  demo: boolean;
  /** RFC 3339. */
  created: string;
  /** The format that its log begins in, where the log itself does not say so: it was written by hand. */
  format?: number;
  /** A hospital's own additions to the content, as they stood when the case was opened. */
  overlay?: unknown;
}

/** A case as it is stored. `Row` is an entry, or what stands for one in a copy that is encrypted. */
export interface StoredCase<Row = Entry> {
  meta: CaseMeta;
  /** In order of `n`. */
  entries: Row[];
}

export type CopyName = 'database' | 'journal';

/**
 * What became of a write. `copies: 2` means that both copies hold this and everything before it;
 * `copies: 1` with `missing` says which copy refused, and `reason` why.
 */
export type AppendResult =
  { ok: true; copies: 2 | 1; missing?: CopyName; reason?: Failure } | { ok: false; reason: Failure };

export interface LogPort<Row = Entry> {
  /** Everything that is stored. Rejects with a `Failed` when it can't be read. */
  list(): Promise<StoredCase<Row>[]>;
  create(meta: CaseMeta): Promise<AppendResult>;
  /**
   * Adds one entry; another entry with the same `n` is refused. The very same entry again is a success and changes
   * nothing, so that a write whose answer got lost can be tried again. Resolves when it is committed, not before.
   *
   * @param passed called, where a copy knows it before the commit, once it is settled that this window may write
   */
  append(caseId: string, entry: Row, passed?: () => void): Promise<AppendResult>;
  /**
   * Makes it hold exactly `stored` of this case, in one step. An entry that stands in the way is quarantined, never
   * dropped; `quarantined` is kept beside it.
   */
  heal(stored: StoredCase<Row>, quarantined: readonly Row[]): Promise<AppendResult>;
  /** Wipes a case for good: a tombstone keeps it from coming back out of another copy. */
  remove(caseId: string): Promise<void>;
  close(): Promise<void>;
}

/** An entry of a branch that was not chosen when the two copies disagreed: kept, and part of no case. */
export interface Quarantined<Row = Entry> {
  caseId: string;
  entry: Row;
}

/** An entry as it is stored while a passcode is on: nothing of it can be read without its case's keys. */
export interface EncryptedRow {
  n: number;
  /** Base64 of the HMAC of the entry: equal for equal entries, and telling nothing to who lacks the key. */
  seal: string;
  /** Base64 of nonce and ciphertext. */
  box: string;
}

/** What a copy can hold: entries, encrypted or not; both while a passcode is being set or taken off. */
export type StoredRow = Entry | EncryptedRow;

/** What a case keeps beside its entries while a passcode is on: `created` holds the HMAC, `box` the ciphertext. */
export interface EncryptedMeta extends CaseMeta {
  box: string;
}

/** Everything that one copy holds, with what was wrong with it. */
export interface CopyContents<Row = Entry> {
  cases: StoredCase<Row>[];
  /** Case ids that were wiped. */
  removed: string[];
  quarantined: Quarantined<Row>[];
  damaged: Failure[];
}

/** One of the two copies: a log that can also be compared and brought up to date. */
export interface Copy<Row = Entry> extends LogPort<Row> {
  read(): Promise<CopyContents<Row>>;
  /**
   * Puts other rows in the place of all that are there, wiped cases staying wiped; a kill leaves all the old or all
   * the new. For the same entries written in another way, never for other entries. Rejects with a `Failed`.
   *
   * @param how `leaveNothing`: so that nothing of the old rows stays in the browser's files. A kill may then leave this
   *   copy empty, so the other one has to hold the very same.
   */
  replace(contents: CopyContents<Row>, how?: { leaveNothing: boolean }): Promise<void>;
}

/** Turns a write that resolves or rejects into a result. */
export async function settle(write: Promise<unknown>): Promise<AppendResult> {
  try {
    await write;
    return { ok: true, copies: 1 };
  } catch (error) {
    return { ok: false, reason: failureOf(error) };
  }
}

/** What one copy, or each of the two, refused. */
export function ofCopies(refused: readonly (readonly [CopyName, Failure])[]): Failure {
  const { database, journal } = Object.fromEntries(refused) as Partial<Record<CopyName, Failure>>;
  if (database && journal) return { code: 'both', database, journal };
  if (database) return { code: 'database', reason: database };
  return journal ? { code: 'journal', reason: journal } : { code: 'no-reason' };
}

export const isEncrypted = <T extends object>(row: T): row is T & { box: string } => 'box' in row;

/**
 * Are these the same entry, field by field? Both copies keep the order of the fields. Encrypted twice, one entry gives
 * two ciphertexts and one MAC.
 */
export const sameRow = (a: StoredRow, b: StoredRow): boolean =>
  a === b || (a.seal === b.seal && ((isEncrypted(a) && isEncrypted(b)) || JSON.stringify(a) === JSON.stringify(b)));

/** Are these the same about a case? An encrypted one carries its MAC as `created`. */
export const sameMeta = (a: CaseMeta, b: CaseMeta): boolean =>
  isEncrypted(a) && isEncrypted(b)
    ? a.caseId === b.caseId && a.created === b.created
    : JSON.stringify(a) === JSON.stringify(b);

/** What stands for the opening of a case that cannot be read: the other copy gives it back. */
export const blankMeta = (caseId: string): CaseMeta => ({ caseId, contentVersion: '', demo: false, created: '' });
