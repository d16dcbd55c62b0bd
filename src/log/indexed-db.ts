/**
 * The first copy: IndexedDB. Every write is one transaction of its own with `durability: 'strict'`, and counts when the
 * transaction is complete. A request's own success says nothing: writes acknowledged by it were lost in kills.
 */
import type { Entry } from '../../machines/entry.ts';
import {
  type Aside,
  type CaseMeta,
  type Copy,
  type Reading,
  Refusal,
  type StoredCase,
  reasonOf,
  sameEntry,
  sameMeta,
  settle,
} from './port.ts';

const VERSION = 1;
/** Everything at once may take so many times as long as one entry. */
const LONG = 10;
const STORES = ['cases', 'entries', 'removed', 'aside'];
type Get = <T>(request: IDBRequest<T>, then: (value: T) => void) => void;
type Add = (store: IDBObjectStore, row: object, taken: () => void) => void;
interface Work {
  store(name: string): IDBObjectStore;
  /** Runs `then` with the answer; what it throws ends the transaction with that reason. */
  get: Get;
  /** Adds a row; runs `taken` where its key is there already, and the transaction goes on. */
  add: Add;
}

export interface DatabaseOptions {
  name?: string;
  factory?: IDBFactory;
  /** ms until an unanswered write counts as refused; reading and healing everything may take ten times that. */
  patience?: number;
}

/**
 * Opens lazily: the first call that needs the connection makes it.
 *
 * @returns a copy whose writes resolve on commit, and whose every failure is a reason in words
 * @example await openDatabase().append(caseId, entry) // { ok: true, copies: 1 }
 */
export function openDatabase({
  name = 'counterturn',
  factory = globalThis.indexedDB,
  patience = 4000,
}: DatabaseOptions = {}): Copy {
  let connection: Promise<IDBDatabase> | undefined;

  function connect(): Promise<IDBDatabase> {
    connection ??= open(factory, name, patience, () => (connection = undefined));
    return connection;
  }

  /** One transaction. A connection that was closed under us is opened again, once. */
  async function transact(mode: IDBTransactionMode, work: (tx: Work) => void, wait = patience): Promise<void> {
    const fresh = connection === undefined;
    try {
      await commit(await connect(), mode, wait, work);
    } catch (error) {
      connection = isClosed(error) ? undefined : connection;
      if (connection || fresh) throw error;
      await commit(await connect(), mode, wait, work);
    }
  }

  async function read(): Promise<Reading> {
    const cases = new Map<string, StoredCase>();
    const reading: Reading = { cases: [], removed: [], aside: [], torn: [] };
    const work = ({ store, get }: Work) => {
      cases.clear();
      get(store('cases').getAll() as IDBRequest<CaseMeta[]>, (metas) => {
        for (const meta of metas) cases.set(meta.caseId, { meta, entries: [] });
      });
      // Keys run [caseId, n], so each case's entries come in order of n.
      get(store('entries').getAll() as IDBRequest<Aside[]>, (rows) => {
        for (const { caseId, entry } of rows) {
          const held = cases.get(caseId) ?? {
            meta: { caseId, contentVersion: '', demo: false, created: '' },
            entries: [],
          };
          cases.set(caseId, held);
          held.entries.push(entry);
        }
      });
      get(store('removed').getAllKeys(), (keys) => (reading.removed = keys.map(String)));
      get(store('aside').getAll() as IDBRequest<Aside[]>, (rows) => (reading.aside = rows));
    };
    await transact('readonly', work, patience * LONG);
    return { ...reading, cases: [...cases.values()] };
  }

  const write = (caseId: string, work: (tx: Work) => void, wait = patience) => {
    const unlessWiped = (tx: Work) =>
      tx.get(tx.store('removed').getKey(caseId), (key) => {
        refuseWiped(key);
        work(tx);
      });
    return settle(transact('readwrite', unlessWiped, wait));
  };

  return {
    read: () => read().catch(inWords),
    list: () => read().then((r) => r.cases, inWords),
    create: (meta) =>
      write(meta.caseId, ({ store, get }) =>
        get(store('cases').get(meta.caseId) as IDBRequest<CaseMeta | undefined>, (there) => {
          if (there && !sameMeta(there, meta)) throw new Refusal('this case is already there');
          if (!there) store('cases').add(meta);
        }),
      ),
    // Written and asked in one breath: each answer waited for costs a busy page one more turn. What must not stand takes
    // the whole transaction back.
    append: (caseId, entry) =>
      settle(
        transact('readwrite', ({ store, get, add }) => {
          get(store('cases').getKey(caseId), (key) => {
            if (key !== undefined) return;
            get(store('removed').getKey(caseId), (wiped) => {
              refuseWiped(wiped);
              throw new Refusal('this case is not in the log');
            });
          });
          add(store('entries'), { caseId, n: entry.n, entry }, () =>
            get(store('entries').get([caseId, entry.n]) as IDBRequest<Aside | undefined>, (there) => {
              if (there && !sameEntry(there.entry, entry))
                throw new Refusal(`another entry ${entry.n} is already recorded`);
            }),
          );
        }),
      ),
    heal: ({ meta, entries }, aside) =>
      write(
        meta.caseId,
        ({ store, get }) => {
          const putAside = (entry: Entry) =>
            store('aside').put({ caseId: meta.caseId, n: entry.n, seal: entry.seal ?? '', entry });
          aside.forEach(putAside);
          get(store('cases').get(meta.caseId) as IDBRequest<CaseMeta | undefined>, (there) => {
            if (!there?.created) store('cases').put(meta);
          });
          for (const entry of entries)
            get(store('entries').get([meta.caseId, entry.n]) as IDBRequest<Aside | undefined>, (there) => {
              if (there && sameEntry(there.entry, entry)) return;
              if (there) putAside(there.entry);
              store('entries').put({ caseId: meta.caseId, n: entry.n, entry });
            });
        },
        patience * LONG,
      ),
    replace: ({ cases, aside }) =>
      transact(
        'readwrite',
        ({ store }) => {
          for (const name of ['cases', 'entries', 'aside']) store(name).clear();
          for (const { meta, entries } of cases) {
            store('cases').add(meta);
            for (const entry of entries) store('entries').add({ caseId: meta.caseId, n: entry.n, entry });
          }
          for (const { caseId, entry } of aside)
            store('aside').put({ caseId, n: entry.n, seal: entry.seal ?? '', entry });
        },
        patience * LONG,
      ).catch(inWords),
    remove: (caseId) =>
      transact('readwrite', ({ store }) => {
        store('removed').put({ caseId });
        store('cases').delete(caseId);
        for (const rows of ['entries', 'aside']) store(rows).delete(IDBKeyRange.bound([caseId], [caseId, []]));
      }).catch(inWords),
    async close() {
      const open = connection;
      connection = undefined;
      await open?.then((db) => db.close()).catch(() => {});
    },
  };
}

function open(factory: IDBFactory | undefined, name: string, patience: number, gone: () => void): Promise<IDBDatabase> {
  return new Promise<IDBDatabase>((resolve, reject) => {
    if (!factory) throw new Refusal('this browser has no database');
    let over = false;
    const fail = (error: unknown) => {
      over = true;
      clearTimeout(timer);
      gone();
      reject(error);
    };
    const timer = setTimeout(
      () => fail(new Refusal(`the database did not open within ${patience / 1000} s`)),
      patience,
    );
    const request = factory.open(name, VERSION);
    request.onupgradeneeded = () => {
      const db = request.result;
      db.createObjectStore('cases', { keyPath: 'caseId' });
      db.createObjectStore('entries', { keyPath: ['caseId', 'n'] });
      db.createObjectStore('removed', { keyPath: 'caseId' });
      db.createObjectStore('aside', { keyPath: ['caseId', 'n', 'seal'] });
    };
    request.onerror = () => fail(request.error);
    request.onblocked = () => fail(new Refusal('another window holds an older version of the database open'));
    request.onsuccess = () => {
      clearTimeout(timer);
      const db = request.result;
      // Nobody waits any more: a connection left open would block the next version.
      if (over) return db.close();
      db.onversionchange = () => {
        db.close();
        gone();
      };
      db.onclose = gone;
      resolve(db);
    };
  }).catch((error: unknown) => {
    gone();
    throw error;
  });
}

function commit(db: IDBDatabase, mode: IDBTransactionMode, patience: number, work: (tx: Work) => void): Promise<void> {
  return new Promise((resolve, reject) => {
    let why: unknown;
    const tx = db.transaction(STORES, mode, { durability: 'strict' });
    const stop = (error: unknown) => {
      why ??= error;
      try {
        tx.abort();
      } catch {
        // Already committing or ended: `complete` or `abort` tells which.
      }
    };
    const timer = setTimeout(() => {
      stop(new Refusal(`the database did not answer within ${patience / 1000} s`));
      reject(why);
    }, patience);
    tx.oncomplete = () => {
      clearTimeout(timer);
      resolve();
    };
    tx.onabort = () => {
      clearTimeout(timer);
      // Not the requests' own errors: those of a transaction that was given up say no more than that.
      reject(why ?? tx.error ?? new Refusal('the database gave the write up'));
    };
    const guarded = (step: () => void) => {
      try {
        step();
      } catch (error) {
        stop(error);
      }
    };
    const get: Get = (request, then) => (request.onsuccess = () => guarded(() => then(request.result)));
    const add: Add = (to, row, taken) => {
      const request = to.add(row);
      request.onerror = (event) => {
        if (request.error?.name !== 'ConstraintError') return;
        event.preventDefault();
        event.stopPropagation();
        guarded(taken);
      };
    };
    guarded(() => work({ store: (name) => tx.objectStore(name), get, add }));
  });
}

function refuseWiped(key: IDBValidKey | undefined): void {
  if (key !== undefined) throw new Refusal('this case was wiped');
}

const isClosed = (error: unknown) => (error as { name?: string } | null)?.name === 'InvalidStateError';

function inWords(error: unknown): never {
  throw new Refusal(reasonOf(error));
}
