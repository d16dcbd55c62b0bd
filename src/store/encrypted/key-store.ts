/**
 * What a passcode leaves on the device, beside the cases: the wrapped data key, in two places, since without it nothing
 * can be opened any more; the keys of the case in work; how often a wrong passcode was tried. Never the passcode.
 */
import * as v from 'valibot';
import { Failed, failureOf } from '../../failure.ts';
import { remake } from '../indexeddb/remake.ts';
import { halfBytes, randomBytes, unwrapKeys, wrapKeys } from './aes-gcm.ts';
import { fromBase64, toBase64 } from './base64.ts';
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
  /** Were the databases made anew since the passcode was set, so that nothing from before is left in the browser's files? */
  leftNothing(): Promise<boolean>;
  noteLeftNothing(): Promise<void>;
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

const ANEW = 'anew';
const HALF_TOO = 'counterturn.half';

const cryptoKey = v.custom<CryptoKey>((value) => value instanceof CryptoKey);
const bytes = v.custom<Uint8Array<ArrayBuffer>>((value) => value instanceof Uint8Array);
/** Keys wrapped under two halves, of which one is this `half`. */
const keptShape = v.object({ caseId: v.string(), half: cryptoKey, box: bytes, tag: bytes });
/** Older ones lay here as they are. */
const keptBefore = v.object({ caseId: v.string(), keys: v.object({ box: cryptoKey, tag: cryptoKey }) });
type KeptOnDisk = v.InferOutput<typeof keptShape>;

const none = { wrong: 0, last: 0 };
const count = v.fallback(v.pipe(v.number(), v.minValue(0)), 0);
/** What makes no sense counts as no wrong try: the passcode is still asked for, only the wait before it is lost. */
const triesShape = v.fallback(v.object({ wrong: count, last: count }), none);

/** Where the other half lies: in a file that is overwritten in place, so that clearing destroys it. */
export interface HalfPlace {
  overwrite(bytes: Uint8Array): Promise<void>;
  overwritten(): Promise<Uint8Array<ArrayBuffer>>;
}

type Settings = Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>;
export interface KeyStoreOptions {
  factory?: IDBFactory | undefined;
  settings?: () => Settings;
  /** Left out, or without files of its own in this browser: the half lies in `settings`, which are not overwritten in place. */
  half?: HalfPlace;
  /** ms until the database counts as absent. */
  timeoutMs?: number;
}

export function openKeyStore(options: KeyStoreOptions = {}): KeyStore {
  const { factory = globalThis.indexedDB, settings = () => localStorage, half: place, timeoutMs = 4000 } = options;

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

  const half = {
    async read(): Promise<Uint8Array<ArrayBuffer> | null> {
      const bytes = await place?.overwritten().catch(() => undefined);
      if (bytes?.length === halfBytes && bytes.some((byte) => byte !== 0)) return bytes;
      const text = inSettings(HALF_TOO);
      return typeof text === 'string' ? fromBase64(text) : null;
    },
    async write(bytes: Uint8Array): Promise<void> {
      try {
        if (!place) throw new Failed({ code: 'no-files' });
        await place.overwrite(bytes);
      } catch (error) {
        if (!['no-files', 'no-sync-files'].includes(failureOf(error).code)) throw error;
        settings().setItem(HALF_TOO, JSON.stringify(toBase64(bytes)));
      }
    },
    async destroy(): Promise<void> {
      toSettings(HALF_TOO, null);
      const bytes = await place?.overwritten().catch(() => undefined);
      if (place && bytes?.some((byte) => byte !== 0)) await place.overwrite(new Uint8Array(bytes.length));
    },
  };

  /** Keys lay here as they are once, and deleting them left them in the browser's files. */
  async function makeAnew(): Promise<void> {
    if (!factory) return;
    const [keyWrap, kept, left] = [await get(KEY_WRAP), await get(CASE), await get(ANEW)];
    const fill = async () => {
      if (keyWrap) await put(KEY_WRAP, keyWrap);
      if (kept) await put(CASE, kept);
      await put(ANEW, left ?? 'keys');
    };
    await remake(factory, NAME, fill, timeoutMs);
  }

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
      await cut(ANEW);
    },
    async read() {
      const read = v.safeParse(v.union([keptShape, keptBefore]), await get(CASE));
      // None, or none that could be used: a restart asks for the passcode.
      if (!read.success) return null;
      const kept = read.output;
      const { caseId } = kept;
      if ('keys' in kept) return { caseId, keys: { encryption: kept.keys.box, mac: kept.keys.tag } };
      const wrapped = { half: kept.half, encryption: kept.box, mac: kept.tag };
      // Without its other half it opens nothing any more, and the passcode is asked for.
      const keys = await half
        .read()
        .then((other) => other && unwrapKeys(wrapped, caseId, other))
        .catch(() => null);
      return keys && { caseId, keys };
    },
    async write({ caseId, keys }) {
      const other = randomBytes(halfBytes);
      const { half: own, encryption, mac } = await wrapKeys(keys, caseId, other);
      await half.write(other);
      other.fill(0);
      await put(CASE, { caseId, half: own, box: encryption, tag: mac } satisfies KeptOnDisk);
      if (!(await get(ANEW))) await makeAnew();
    },
    async clear() {
      // The half first: the record may outlive its deletion. Where that is refused, the record goes all the same.
      const ends = [await Promise.allSettled([half.destroy()]), await Promise.allSettled([cut(CASE)])].flat();
      if (!(await get(ANEW)) && (await get(KEY_WRAP))) await makeAnew();
      for (const end of ends) if (end.status === 'rejected') throw end.reason;
    },
    leftNothing: async () => (await get(ANEW)) === 'all',
    noteLeftNothing: () => put(ANEW, 'all'),
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
