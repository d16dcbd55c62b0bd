/** The connection to the database and its transactions. */
import { Failed } from '../../failure.ts';

const VERSION = 2;
/** Its name on disk is older than its name here. */
export const QUARANTINE = 'aside';
/** Which window writes: one row. Since version 2. */
export const HOLDER = 'holder';
const STORES = ['cases', 'entries', 'removed', QUARANTINE, HOLDER];
type Get = <T>(request: IDBRequest<T>, then: (value: T) => void) => void;
type Add = (store: IDBObjectStore, row: object, taken: () => void) => void;
export interface Work {
  store(name: string): IDBObjectStore;
  /** Runs `then` with the answer; what it throws ends the transaction with that reason. */
  get: Get;
  /** Adds a row; runs `taken` where its key is there already, and the transaction goes on. */
  add: Add;
}

/** @param gone called when the connection is lost, or was never made */
export function open(
  factory: IDBFactory | undefined,
  name: string,
  timeoutMs: number,
  gone: () => void,
): Promise<IDBDatabase> {
  return new Promise<IDBDatabase>((resolve, reject) => {
    if (!factory) throw new Failed({ code: 'no-database' });
    let over = false;
    const fail = (error: unknown) => {
      over = true;
      clearTimeout(timer);
      gone();
      reject(error);
    };
    const timer = setTimeout(
      () => fail(new Failed({ code: 'database-slow-open', seconds: timeoutMs / 1000 })),
      timeoutMs,
    );
    const request = factory.open(name, VERSION);
    request.onupgradeneeded = ({ oldVersion }) => {
      const db = request.result;
      db.createObjectStore(HOLDER, { keyPath: 'of' });
      if (oldVersion === 1) return;
      db.createObjectStore('cases', { keyPath: 'caseId' });
      db.createObjectStore('entries', { keyPath: ['caseId', 'n'] });
      db.createObjectStore('removed', { keyPath: 'caseId' });
      db.createObjectStore(QUARANTINE, { keyPath: ['caseId', 'n', 'seal'] });
    };
    request.onerror = () => fail(request.error);
    request.onblocked = () => fail(new Failed({ code: 'database-old' }));
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

/** One transaction with strict durability; resolves when it is complete, rejects with the reason when it was given up. */
export function commit(
  db: IDBDatabase,
  mode: IDBTransactionMode,
  timeoutMs: number,
  work: (tx: Work) => void,
): Promise<void> {
  return new Promise((resolve, reject) => {
    let why: unknown;
    const tx = db.transaction(STORES, mode, { durability: 'strict' });
    const stop = (error: unknown) => {
      why ??= error;
      try {
        tx.abort();
      } catch {
        // Already committing or ended: `complete` or `abort` follows.
      }
    };
    const timer = setTimeout(() => {
      stop(new Failed({ code: 'database-slow', seconds: timeoutMs / 1000 }));
      reject(why);
    }, timeoutMs);
    tx.oncomplete = () => {
      clearTimeout(timer);
      resolve();
    };
    tx.onabort = () => {
      clearTimeout(timer);
      // Not the requests' own errors: those of a transaction that was given up say no more than that.
      const reason: unknown = why ?? tx.error ?? new Failed({ code: 'database-gave-up' });
      reject(reason);
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

/** A connection that was closed under us. */
export const isClosed = (error: unknown) => (error as { name?: string } | null)?.name === 'InvalidStateError';
