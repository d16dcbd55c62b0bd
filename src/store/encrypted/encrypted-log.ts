/**
 * A copy of the log whose rows are encrypted while a passcode is on. It sits between the comparing of the copies and
 * each of them: above it entries are plain and their seals can be followed, below it lie ciphertexts, each with its
 * MAC. Rows of both kinds are read, so that switching may be cut off anywhere.
 */
import type { Entry } from '../../../machines/entry.ts';
import { Failed, type Failure } from '../../failure.ts';
import {
  type AppendResult,
  type CaseMeta,
  type Copy,
  type CopyContents,
  type EncryptedRow,
  type Quarantined,
  type StoredCase,
  type StoredRow,
  blankMeta,
  isEncrypted,
  settle as settled,
} from '../port.ts';
import { serialQueue } from '../serial-queue.ts';
import type { CaseKeys } from './aes-gcm.ts';
import { decryptMeta, decryptRow, encryptMeta, encryptRow } from './row-codec.ts';

/** The present keys. */
export interface Ring {
  /** Brings itself up to date; asked once for each reading, once the rows are there. */
  ready?(): Promise<void>;
  /** Is what is written encrypted? */
  on(): boolean;
  /** Null when a case cannot be read now. */
  keysOf(caseId: string): Promise<CaseKeys | null>;
}

export interface EncryptedCopy extends Copy {
  /**
   * Rewrites rows that are still in the other form (plain or encrypted) in the present one. Rejects with a `Failed`.
   *
   * @param how `leaveNothing`: all is written, also what needs it not, so that nothing of what was there before stays in
   *   the browser's files; only while the other copy holds the very same
   */
  settle(how?: { leaveNothing: boolean }): Promise<void>;
}

/**
 * @param copy what lies on disk
 * @param ring the present keys; a case without keys is left out of what is read, and left as it is
 */
export function openEncrypted(copy: Copy<StoredRow>, ring: Ring): EncryptedCopy {
  /** Cases with a row that could not be decrypted: it makes room when the other copy gives the entry back. */
  const undecryptable = new Set<string>();
  /** Encrypting takes a moment: writes stay in the order of the calls, and none comes between reading and replacing. */
  const inTurn = serialQueue();

  async function read(): Promise<CopyContents> {
    const raw = await copy.read();
    await ring.ready?.();
    // Nothing to decrypt: a promise for each row would cost more than the reading itself.
    if (!ring.on() && isSettled(raw)) return raw as CopyContents;
    const damaged = [...raw.damaged];
    const shut = new Set<string>();
    const keyed = async (caseId: string, rows: readonly object[]) => {
      const keys = await ring.keysOf(caseId);
      const closed = !keys && (ring.on() || rows.some(isEncrypted));
      if (closed) shut.add(caseId);
      return { keys, closed };
    };
    const decrypted = async <T>(caseId: string, lost: Failure, row: Promise<T>): Promise<T | null> =>
      row.catch(() => {
        // Changed, moved or of other keys, which look the same: its number is told, and the other copy restores it.
        undecryptable.add(caseId);
        damaged.push(lost);
        return null;
      });
    const cases: StoredCase[] = [];
    for (const { meta, entries } of raw.cases) {
      const { caseId } = meta;
      const { keys, closed } = await keyed(caseId, [meta, ...entries]);
      if (closed) continue;
      const all = await Promise.all(
        entries.map((row) => decrypted(caseId, { code: 'entry-unopened', n: row.n }, decryptedRow(keys, caseId, row))),
      );
      cases.push({
        meta: (await decrypted(caseId, { code: 'opening-unopened' }, decryptedMeta(keys, meta))) ?? blankMeta(caseId),
        entries: all.filter((entry) => entry !== null),
      });
    }
    const quarantined: Quarantined[] = [];
    for (const { caseId, entry: row } of raw.quarantined) {
      const { keys, closed } = await keyed(caseId, [row]);
      if (closed) continue;
      const entry = await decrypted(
        caseId,
        { code: 'quarantined-unopened', n: row.n },
        decryptedRow(keys, caseId, row),
      );
      if (entry) quarantined.push({ caseId, entry });
    }
    if (shut.size && !ring.on()) damaged.push({ code: 'cases-encrypted', count: shut.size });
    return { cases, removed: raw.removed, quarantined, damaged };
  }

  /** The keys to write with, or null to write plainly. */
  async function keysFor(caseId: string): Promise<CaseKeys | null> {
    if (!ring.on()) return null;
    const keys = await ring.keysOf(caseId);
    if (!keys) throw new Failed({ code: 'locked' });
    return keys;
  }

  /** All rows, each put through a step; a row that becomes null goes. */
  async function mapped(
    raw: CopyContents<StoredRow>,
    entry: (caseId: string, row: StoredRow) => Promise<StoredRow | null>,
    meta: (row: CaseMeta) => Promise<CaseMeta> = async (row) => row,
  ): Promise<CopyContents<StoredRow>> {
    const cases: StoredCase<StoredRow>[] = [];
    for (const one of raw.cases) {
      const rows = await Promise.all(one.entries.map((row) => entry(one.meta.caseId, row)));
      cases.push({ meta: await meta(one.meta), entries: rows.filter((row) => row !== null) });
    }
    const quarantined = await Promise.all(
      raw.quarantined.map(async (one) => ({ caseId: one.caseId, entry: await entry(one.caseId, one.entry) })),
    );
    return {
      ...raw,
      cases,
      quarantined: quarantined.filter((one): one is Quarantined<StoredRow> => one.entry !== null),
    };
  }

  /** Is this written in the present form? */
  const done = (row: object) => isEncrypted(row) === ring.on();
  const isSettled = (raw: CopyContents<StoredRow>) =>
    raw.cases.every(({ meta, entries }) => (!meta.created || done(meta)) && entries.every(done)) &&
    raw.quarantined.every(({ entry }) => done(entry));

  async function settle(how = { leaveNothing: false }): Promise<void> {
    const raw = await copy.read();
    if (isSettled(raw) && !how.leaveNothing) return;
    const next = await mapped(
      raw,
      async (caseId, row) => {
        const keys = done(row) ? null : await ring.keysOf(caseId);
        if (!keys) return row;
        // A row that cannot be decrypted stays as it is: the next reading reports it, and the other copy restores it.
        return isEncrypted(row)
          ? decryptRow(keys, caseId, row as EncryptedRow).catch(() => row)
          : encryptRow(keys, caseId, row);
      },
      async (row) => {
        const keys = done(row) || !row.created ? null : await ring.keysOf(row.caseId);
        if (!keys) return row;
        // As with a row.
        return isEncrypted(row) ? decryptMeta(keys, row).catch(() => row) : encryptMeta(keys, row);
      },
    );
    await copy.replace(next, how);
  }

  /** Takes rows out that cannot be decrypted, so that the entry can stand in their place again. */
  async function makeRoom(caseId: string): Promise<void> {
    const keys = await ring.keysOf(caseId);
    // What fails here is what is looked for: it was told when it was read.
    const isLost = (reading: Promise<unknown>) =>
      reading.then(
        () => false,
        () => true,
      );
    const kept = await mapped(
      await copy.read(),
      async (id, row) =>
        id === caseId && isEncrypted(row) && (await isLost(decryptedRow(keys, id, row))) ? null : row,
      async (row) => (row.caseId === caseId && (await isLost(decryptedMeta(keys, row))) ? blankMeta(caseId) : row),
    );
    await copy.replace(kept);
    undecryptable.delete(caseId);
  }

  const write = (step: () => Promise<AppendResult>) => inTurn(() => settled(step().then(insist)));
  return {
    read: () => inTurn(read),
    list: () => inTurn(async () => (await read()).cases),
    create: (meta) =>
      write(async () => {
        const keys = await keysFor(meta.caseId);
        return copy.create(keys ? await encryptMeta(keys, meta) : meta);
      }),
    append: (caseId, entry, passed) =>
      write(async () => {
        const keys = await keysFor(caseId);
        return copy.append(caseId, keys ? await encryptRow(keys, caseId, entry) : entry, passed);
      }),
    heal: ({ meta, entries }, quarantined) =>
      write(async () => {
        const { caseId } = meta;
        const keys = await keysFor(caseId);
        if (undecryptable.has(caseId)) await makeRoom(caseId);
        const all = (list: readonly Entry[]): Promise<StoredRow[]> =>
          Promise.all(list.map(async (entry) => (keys ? encryptRow(keys, caseId, entry) : entry)));
        const stored = {
          meta: keys && meta.created ? await encryptMeta(keys, meta) : meta,
          entries: await all(entries),
        };
        return copy.heal(stored, await all(quarantined));
      }),
    replace: (contents, how) => inTurn(() => copy.replace(contents, how)),
    settle: (how) => inTurn(() => settle(how)),
    remove: (caseId) => inTurn(() => copy.remove(caseId)),
    close: () => inTurn(() => copy.close()),
  };
}

/** A refusal below is a refusal here, for the same reason. */
function insist(result: AppendResult): void {
  if (!result.ok) throw new Failed(result.reason);
}

async function decryptedRow(keys: CaseKeys | null, caseId: string, row: StoredRow): Promise<Entry> {
  if (!isEncrypted(row)) return row;
  if (!keys) throw new Failed({ code: 'locked' });
  return decryptRow(keys, caseId, row as EncryptedRow);
}

async function decryptedMeta(keys: CaseKeys | null, row: CaseMeta): Promise<CaseMeta> {
  if (!isEncrypted(row)) return row;
  if (!keys) throw new Failed({ code: 'locked' });
  return decryptMeta(keys, row);
}
