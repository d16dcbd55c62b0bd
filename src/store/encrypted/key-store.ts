/**
 * What a passcode leaves on the device, beside the cases: the wrapped data key, in two places, since without it nothing
 * can be opened any more; the keys of the case in work; how often a wrong passcode was tried. Never the passcode.
 */
import * as v from 'valibot';
import { Failed } from '../../failure.ts';
import { keyWrapOnDisk, keyWrapShape, type KeyWrap } from './passcode.ts';
import type { KeptCases } from './keyring.ts';

export interface Tries {
  /** Wrong ones since the last right one. */
  wrong: number;
  /** ms since 1970 of the last one. */
  last: number;
}

export interface KeyStore extends KeptCases {
  /** The newest of what both places hold, put back where it is missing. Null when no passcode is set. */
  readKeyWrap(): Promise<KeyWrap | null>;
  /** Resolves once it is committed to the database. Rejects when it is not. */
  writeKeyWrap(keyWrap: KeyWrap): Promise<void>;
  removeKeyWrap(): Promise<void>;
  tries(): Tries;
  countTry(tries: Tries | null): void;
}

const NAME = 'counterturn-vault';
const STORE = 'kept';
/** Keys on disk, in the database and in `localStorage`. */
const KEY_WRAP = 'head';
const CASE = 'case';
const KEY_WRAP_TOO = 'counterturn.lock';
const TRIES = 'counterturn.tries';

const cryptoKey = v.custom<CryptoKey>((value) => value instanceof CryptoKey);
const keptShape = v.object({ caseId: v.string(), keys: v.object({ box: cryptoKey, tag: cryptoKey }) });
type KeptOnDisk = v.InferOutput<typeof keptShape>;

const none = { wrong: 0, last: 0 };
const count = v.fallback(v.pipe(v.number(), v.minValue(0)), 0);
/** What makes no sense counts as no wrong try: the passcode is still asked for, only the wait before it is lost. */
const triesShape = v.fallback(v.object({ wrong: count, last: count }), none);

type Settings = Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>;
export interface KeyStoreOptions {
  factory?: IDBFactory | undefined;
  settings?: () => Settings;
  /** ms until the database counts as absent. */
  timeoutMs?: number;
}

export function openKeyStore(options: KeyStoreOptions = {}): KeyStore {
  const { factory = globalThis.indexedDB, settings = () => localStorage, timeoutMs = 4000 } = options;

  /** One transaction, committed with `durability: 'strict'` before it resolves. */
  async function within<T>(mode: IDBTransactionMode, work: (store: IDBObjectStore) => IDBRequest<T>): Promise<T> {
    const db = await open(factory, timeoutMs);
    try {
      return await new Promise<T>((resolve, reject) => {
        const tx = db.transaction(STORE, mode, { durability: 'strict' });
        const request = work(tx.objectStore(STORE));
        tx.oncomplete = () => resolve(request.result);
        tx.onabort = () => reject(tx.error ?? new Failed({ code: 'database-gave-up' }));
      });
    } finally {
      db.close();
    }
  }
  // Without an answer of the database the second place counts; with neither, encrypted cases are named at the start.
  const get = (key: string) => within<unknown>('readonly', (store) => store.get(key)).catch(() => undefined);
  const put = (key: string, value: unknown) => within('readwrite', (store) => store.put(value, key)).then(() => {});
  const cut = (key: string) => within('readwrite', (store) => store.delete(key)).then(() => {});
  const inSettings = (key: string): unknown => {
    try {
      return JSON.parse(settings().getItem(key) ?? 'null');
    } catch {
      // Storage that is not allowed, or text that is no JSON: the database holds the other one.
      return null;
    }
  };
  const toSettings = (key: string, value: unknown) => {
    try {
      if (value === null) settings().removeItem(key);
      else settings().setItem(key, JSON.stringify(value));
    } catch {
      // The database holds it; the second place is only a second place.
    }
  };
  const keyWrapOf = (value: unknown): KeyWrap | null => {
    const read = v.safeParse(keyWrapShape, value);
    return read.success ? read.output : null;
  };

  return {
    async readKeyWrap() {
      const [a, b] = [keyWrapOf(await get(KEY_WRAP)), keyWrapOf(inSettings(KEY_WRAP_TOO))];
      const newest = a && b ? (b.revision > a.revision ? b : a) : (a ?? b);
      // One place holds it, and the next start tries the other again.
      if (newest && newest.revision !== a?.revision) await put(KEY_WRAP, keyWrapOnDisk(newest)).catch(() => {});
      if (newest && newest.revision !== b?.revision) toSettings(KEY_WRAP_TOO, keyWrapOnDisk(newest));
      return newest;
    },
    async writeKeyWrap(keyWrap) {
      await put(KEY_WRAP, keyWrapOnDisk(keyWrap));
      toSettings(KEY_WRAP_TOO, keyWrapOnDisk(keyWrap));
    },
    async removeKeyWrap() {
      toSettings(KEY_WRAP_TOO, null);
      await cut(KEY_WRAP);
    },
    async read() {
      const read = v.safeParse(keptShape, await get(CASE));
      // None, or none that could be used: a restart asks for the passcode.
      if (!read.success) return null;
      const { caseId, keys } = read.output;
      return { caseId, keys: { encryption: keys.box, mac: keys.tag } };
    },
    write: ({ caseId, keys }) =>
      put(CASE, { caseId, keys: { box: keys.encryption, tag: keys.mac } } satisfies KeptOnDisk),
    clear: () => cut(CASE),
    tries: () => v.parse(triesShape, inSettings(TRIES)),
    countTry: (tries) => toSettings(TRIES, tries),
  };
}

function open(factory: IDBFactory | undefined, timeoutMs: number): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    if (!factory) return reject(new Failed({ code: 'no-database' }));
    let over = false;
    const timer = setTimeout(() => {
      over = true;
      reject(new Failed({ code: 'database-slow-open', seconds: timeoutMs / 1000 }));
    }, timeoutMs);
    const request = factory.open(NAME, 1);
    request.onupgradeneeded = () => request.result.createObjectStore(STORE);
    request.onerror = () => {
      clearTimeout(timer);
      reject(request.error ?? new Failed({ code: 'database-not-open' }));
    };
    request.onsuccess = () => {
      clearTimeout(timer);
      if (over) request.result.close();
      else resolve(request.result);
    };
  });
}
