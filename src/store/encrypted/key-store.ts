/**
 * What a passcode leaves on the device, beside the cases: the sealed data key, in two places, since without it nothing
 * can be opened any more; the keys of the case in work; how often a wrong passcode was tried. Never the passcode.
 */
import * as v from 'valibot';
import { lockShape, type LockHead } from './passcode.ts';
import type { KeptCase, KeptCases } from './keyring.ts';

export interface Tries {
  /** Wrong ones since the last right one. */
  wrong: number;
  /** ms since 1970 of the last one. */
  last: number;
}

export interface VaultStore extends KeptCases {
  /** The newest of what both places hold, put back where it is missing. Null when no passcode is set. */
  readHead(): Promise<LockHead | null>;
  /** Resolves once it is committed to the database. Rejects when it is not. */
  writeHead(head: LockHead): Promise<void>;
  removeHead(): Promise<void>;
  tries(): Tries;
  countTry(tries: Tries | null): void;
}

const NAME = 'counterturn-vault';
const STORE = 'kept';
const HEAD = 'counterturn.lock';
const TRIES = 'counterturn.tries';

type Box = Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>;
export interface VaultStoreOptions {
  factory?: IDBFactory | undefined;
  box?: () => Box;
  /** ms until the database counts as absent. */
  patience?: number;
}

export function openVaultStore(options: VaultStoreOptions = {}): VaultStore {
  const { factory = globalThis.indexedDB, box = () => localStorage, patience = 4000 } = options;

  /** One transaction, committed with `durability: 'strict'` before it resolves. */
  async function within<T>(mode: IDBTransactionMode, work: (store: IDBObjectStore) => IDBRequest<T>): Promise<T> {
    const db = await open(factory, patience);
    try {
      return await new Promise<T>((resolve, reject) => {
        const tx = db.transaction(STORE, mode, { durability: 'strict' });
        const request = work(tx.objectStore(STORE));
        tx.oncomplete = () => resolve(request.result);
        tx.onabort = () => reject(tx.error ?? new Error('the database gave the write up'));
      });
    } finally {
      db.close();
    }
  }
  const get = (key: string) => within<unknown>('readonly', (store) => store.get(key)).catch(() => undefined);
  const put = (key: string, value: unknown) => within('readwrite', (store) => store.put(value, key)).then(() => {});
  const cut = (key: string) => within('readwrite', (store) => store.delete(key)).then(() => {});
  const inBox = (key: string): unknown => {
    try {
      return JSON.parse(box().getItem(key) ?? 'null');
    } catch {
      return null;
    }
  };
  const toBox = (key: string, value: unknown) => {
    try {
      if (value === null) box().removeItem(key);
      else box().setItem(key, JSON.stringify(value));
    } catch {
      // The database holds it; the second place is only a second place.
    }
  };
  const headOf = (value: unknown): LockHead | null => {
    const read = v.safeParse(lockShape, value);
    return read.success ? read.output : null;
  };

  return {
    async readHead() {
      const [a, b] = [headOf(await get('head')), headOf(inBox(HEAD))];
      const newest = a && b ? (b.turn > a.turn ? b : a) : (a ?? b);
      if (newest && newest.turn !== a?.turn) await put('head', newest).catch(() => {});
      if (newest && newest.turn !== b?.turn) toBox(HEAD, newest);
      return newest;
    },
    async writeHead(head) {
      await put('head', head);
      toBox(HEAD, head);
    },
    async removeHead() {
      toBox(HEAD, null);
      await cut('head');
    },
    read: async () => ((await get('case')) as KeptCase | undefined) ?? null,
    write: (kept) => put('case', kept),
    clear: () => cut('case').catch(() => {}),
    tries() {
      const kept = inBox(TRIES) as Partial<Tries> | null;
      const count = (value: unknown) => (typeof value === 'number' && value >= 0 ? value : 0);
      return { wrong: count(kept?.wrong), last: count(kept?.last) };
    },
    countTry: (tries) => toBox(TRIES, tries),
  };
}

function open(factory: IDBFactory | undefined, patience: number): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    if (!factory) return reject(new Error('this browser has no database'));
    let over = false;
    const timer = setTimeout(() => {
      over = true;
      reject(new Error(`the database did not open within ${patience / 1000} s`));
    }, patience);
    const request = factory.open(NAME, 1);
    request.onupgradeneeded = () => request.result.createObjectStore(STORE);
    request.onerror = () => {
      clearTimeout(timer);
      reject(request.error ?? new Error('the database did not open'));
    };
    request.onsuccess = () => {
      clearTimeout(timer);
      if (over) request.result.close();
      else resolve(request.result);
    };
  });
}
