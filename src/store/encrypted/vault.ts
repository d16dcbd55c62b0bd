/**
 * The passcode of the device: set, changed, taken off, asked for. Off, nothing of it touches the log. It is asked for
 * at a start and after idle time, never while a case is in work.
 */
import { createSignal } from 'solid-js';
import { failureOf, type Failure } from '../../failure.ts';
import type { Tries, KeyStore } from './key-store.ts';
import { serialQueue } from '../serial-queue.ts';
import { type Copy, type CopyName, type StoredRow, isEncrypted, ofCopies } from '../port.ts';
import { openEncrypted, type EncryptedCopy } from './encrypted-log.ts';
import { aesKey, dataKeyFrom } from './aes-gcm.ts';
import { createKeyring } from './keyring.ts';
import { cost, leastCharacters, newDataKey, unwrap, wrap, type KeyWrap } from './passcode.ts';

/** Seconds to wait after so many wrong tries in a row: 1, 2, 4 … 60 (common practice, no source). */
export const waitAfter = (wrong: number): number => (wrong < 1 ? 0 : Math.min(60, 2 ** (wrong - 1)));

export type Tried =
  { ok: true } | { ok: false; why: 'wrong' | 'wait'; seconds: number } | { ok: false; why: 'failed'; reason: Failure };

/** `partly`: copies in which rows are still written the other way, with the reason; the next unlocked start goes on. */
export type Switched = { ok: true; partly: Failure[] } | Exclude<Tried, { ok: true }>;

export interface VaultParts {
  copies: Record<CopyName, Copy<StoredRow>>;
  store: KeyStore;
  /** ms since 1970. */
  now?: () => number;
  /** False in a window that only follows: it writes nothing. As a function it is asked each time. */
  writer?: boolean | (() => boolean);
  /** What a try costs from now on. */
  kdf?: KeyWrap['kdf'];
}

export type Vault = Awaited<ReturnType<typeof openVault>>;

/** Reads what is kept of a passcode, and stands between the log and its copies from then on. */
export async function openVault({ copies: raw, store, now = Date.now, writer = true, kdf = cost }: VaultParts) {
  const writes = typeof writer === 'function' ? writer : () => writer;
  const ring = createKeyring(store);
  const [keyWrap, setKeyWrap] = createSignal<KeyWrap | null>(await store.readKeyWrap());
  const [full, setFull] = createSignal(false);
  /** Whether rows are written encrypted: not the same as a passcode being set while it is taken off. */
  let encrypting = keyWrap() !== null;
  const encryptedCopy = (copy: Copy<StoredRow>) =>
    openEncrypted(copy, { ready, on: () => encrypting, keysOf: ring.keysOf });
  const copies: Record<CopyName, EncryptedCopy> = {
    database: encryptedCopy(raw.database),
    journal: encryptedCopy(raw.journal),
  };

  /** What the device keeps may have changed since the last reading: another window may have set a passcode. */
  async function ready(): Promise<void> {
    ring.again();
    if (writes() || ring.full()) return;
    setKeyWrap(await store.readKeyWrap());
    encrypting = keyWrap() !== null;
  }

  /**
   * Rewrites both copies in the present form; returns what a copy refuses. The first time that all of it is encrypted,
   * the database is made anew, so that nothing from before stays in the browser's files; it is empty for a moment then,
   * and this is done only while the journal holds the very same.
   */
  async function settle(): Promise<[CopyName, Failure][]> {
    const refused: [CopyName, Failure][] = [];
    const step = (name: CopyName, how?: { leaveNothing: boolean }) =>
      copies[name].settle(how).catch((error: unknown) => void refused.push([name, failureOf(error)]));
    await step('journal');
    const leaveNothing = encrypting && refused.length === 0 && !(await store.leftNothing()) && (await journalHasAll());
    await step('database', { leaveNothing });
    // Not noted: the next unlocking makes it anew once more.
    if (leaveNothing && refused.length === 0) await store.noteLeftNothing().catch(() => {});
    return refused;
  }

  async function journalHasAll(): Promise<boolean> {
    const [inDatabase, inJournal] = await Promise.all([raw.database.read(), raw.journal.read()]);
    if (inJournal.damaged.length) return false;
    const key = (caseId: string, { n, seal }: StoredRow, macs: boolean) => `${caseId} ${n} ${macs ? seal : ''}`;
    // The database's rows may be plain still, and have no MAC then; a number is one entry.
    const held = (macs: boolean) =>
      new Set(inJournal.cases.flatMap(({ meta, entries }) => entries.map((row) => key(meta.caseId, row, macs))));
    const [all, byMac] = [held(false), held(true)];
    const cases = inDatabase.cases.every(({ meta, entries }) =>
      entries.every((row) => (isEncrypted(row) ? byMac : all).has(key(meta.caseId, row, isEncrypted(row)))),
    );
    return (
      cases &&
      inDatabase.cases.every(({ meta }) => inJournal.cases.some((one) => one.meta.caseId === meta.caseId)) &&
      inDatabase.quarantined.length <= inJournal.quarantined.length
    );
  }

  const secondsLeft = ({ wrong, last } = store.tries()): number => {
    const since = (now() - last) / 1000;
    // A clock set back must not lock for longer than the wait itself.
    return since < 0 ? waitAfter(wrong) : Math.max(0, Math.ceil(waitAfter(wrong) - since));
  };

  /** The data key, if the passcode is right. A try counts before it is made, so that ending it early saves nothing. */
  async function tryOpen(
    passcode: string,
    at = keyWrap(),
  ): Promise<Uint8Array<ArrayBuffer> | Exclude<Tried, { ok: true }>> {
    if (!at) return { ok: false, why: 'failed', reason: { code: 'no-passcode' } };
    const seconds = secondsLeft();
    if (seconds > 0) return { ok: false, why: 'wait', seconds };
    const counted: Tries = { wrong: store.tries().wrong + 1, last: now() };
    store.countTry(counted);
    try {
      const dataKey = await unwrap(at, passcode);
      if (!dataKey) return { ok: false, why: 'wrong', seconds: waitAfter(counted.wrong) };
      store.countTry(null);
      return dataKey;
    } catch (error) {
      return { ok: false, why: 'failed', reason: failureOf(error) };
    }
  }

  /** Keys that cannot be kept or let go stop nothing, and are told. */
  const [keysFailure, setKeysFailure] = createSignal<Failure | null>(null);
  const told = (code: 'keys-not-kept' | 'keys-left', step: Promise<void>): Promise<void> =>
    step.then(
      () => void setKeysFailure(null),
      (error: unknown) => void setKeysFailure({ code, reason: failureOf(error) }),
    );

  async function lockUp(): Promise<void> {
    ring.lock();
    setFull(false);
    // A following window must not take the keys of the case in work from the one that writes.
    if (writes()) await told('keys-left', ring.release());
  }

  /** One first passcode at a time: two would each encrypt under a key of its own. */
  const inTurn = serialQueue();

  return {
    copies,
    /** A passcode is set. */
    on: () => keyWrap() !== null,
    /** All cases can be read. */
    full: () => keyWrap() === null || full(),
    secondsLeft,
    settle,

    /** Opens everything; what is still written plainly is encrypted. The caller reads the log again. */
    async unlock(passcode: string): Promise<Tried> {
      const dataKey = await tryOpen(passcode);
      if (!(dataKey instanceof Uint8Array)) return dataKey;
      ring.unlock(await dataKeyFrom(dataKey));
      if (writes()) await settle();
      setFull(true);
      return { ok: true };
    },

    /** Forgets the keys. Not for while a case is in work. */
    lock: lockUp,

    /** The case in work, whose keys stay on the device until `release`. */
    keep: (caseId: string): Promise<void> =>
      keyWrap() && writes() ? told('keys-not-kept', ring.keep(caseId)) : Promise.resolve(),
    release: (): Promise<void> => (keyWrap() && writes() ? told('keys-left', ring.release()) : Promise.resolve()),
    /** What last came in the way of keeping keys or of letting them go; null when nothing did. */
    keysFailure,

    /** Sets the first passcode and encrypts what is stored. The wrapped key is on disk before any row is. */
    set: (passcode: string): Promise<Switched> =>
      inTurn(async () => {
        if (keyWrap()) return { ok: false, why: 'failed', reason: { code: 'passcode-set' } };
        if (passcode.length < leastCharacters) return { ok: false, why: 'failed', reason: { code: 'passcode-short' } };
        const dataKey = newDataKey();
        try {
          const made = await wrap(dataKey, passcode, 1, kdf);
          await store.writeKeyWrap(made);
          ring.unlock(await dataKeyFrom(dataKey));
          encrypting = true;
          setFull(true);
          setKeyWrap(made);
        } catch (error) {
          return { ok: false, why: 'failed', reason: failureOf(error) };
        }
        return { ok: true, partly: (await settle()).map((one) => ofCopies([one])) };
      }),

    /** Another passcode for the same data key; no row changes. */
    async change(before: string, after: string): Promise<Switched> {
      const at = keyWrap();
      if (after.length < leastCharacters) return { ok: false, why: 'failed', reason: { code: 'passcode-short' } };
      const dataKey = await tryOpen(before, at);
      if (!(dataKey instanceof Uint8Array)) return dataKey;
      try {
        const made = await wrap(dataKey, after, (at?.revision ?? 0) + 1, kdf);
        await store.writeKeyWrap(made);
        setKeyWrap(made);
        return { ok: true, partly: [] };
      } catch (error) {
        return { ok: false, why: 'failed', reason: failureOf(error) };
      } finally {
        dataKey.fill(0);
      }
    },

    /** Writes everything plainly, then forgets the key. While a copy refuses, the passcode stays on. */
    async takeOff(passcode: string): Promise<Switched> {
      const dataKey = await tryOpen(passcode);
      if (!(dataKey instanceof Uint8Array)) return dataKey;
      ring.unlock(await dataKeyFrom(dataKey));
      encrypting = false;
      const refused = await settle();
      if (refused.length) {
        encrypting = true;
        await settle();
        return { ok: false, why: 'failed', reason: ofCopies(refused) };
      }
      try {
        await store.removeKeyWrap();
      } catch (error) {
        encrypting = true;
        await settle();
        return { ok: false, why: 'failed', reason: failureOf(error) };
      }
      setKeyWrap(null);
      await lockUp();
      return { ok: true, partly: [] };
    },

    /**
     * Makes the database anew as it stands, so that nothing that was wiped stays in the browser's files. Rejects with a
     * `Failed`; does nothing while the journal lacks something.
     */
    async leaveNothing(): Promise<void> {
      if (await journalHasAll()) await copies.database.settle({ leaveNothing: true });
    },

    /** Ids of every case in either copy, readable or not. */
    async everyCase(): Promise<string[]> {
      const readings = await Promise.allSettled([raw.database.read(), raw.journal.read()]);
      const ids = readings.flatMap((end) =>
        end.status === 'fulfilled' ? end.value.cases.map(({ meta }) => meta.caseId) : [],
      );
      return [...new Set(ids)];
    },

    /** After every case was wiped: no passcode any more. */
    async forget(): Promise<void> {
      await store.removeKeyWrap();
      store.countTry(null);
      encrypting = false;
      setKeyWrap(null);
      await lockUp();
    },

    /** What a backup is encrypted with: the wrapped key that its passcode opens, and a key of its own. Null without a passcode. */
    async backupLock(id: string): Promise<{ keyWrap: KeyWrap; key: CryptoKey } | null> {
      const at = keyWrap();
      const dataKey = ring.dataKey();
      return at && dataKey ? { keyWrap: at, key: await aesKey(dataKey, `counterturn backup ${id}`) } : null;
    },
  };
}
