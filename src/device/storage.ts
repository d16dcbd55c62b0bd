/** How much room the browser gives, and whether it promises to keep it. */

export type Kept = 'kept' | 'may-be-evicted' | 'unknown';

type Manager = Partial<Pick<StorageManager, 'persist' | 'persisted' | 'estimate'>> | undefined;
const ownManager = (): Manager => navigator.storage;

/**
 * Asks the browser to keep the data; tells whenever it answers. There is nothing to wait for: one browser was seen
 * never to answer, and a start that waits for it never ends.
 *
 * @example askToPersist((kept) => setKept(kept))
 */
export function askToPersist(callback: (kept: Kept) => void, storage: Manager = ownManager()): void {
  if (!storage?.persist) return callback('unknown');
  storage.persist().then(
    (kept) => callback(kept ? 'kept' : 'may-be-evicted'),
    () => callback('unknown'),
  );
}

export interface Room {
  /** Bytes. */
  used: number;
  /** Bytes; the browser's promise, not the disk's: a full disk is not seen here. */
  quota: number;
}

/** The room there is, or null when the browser does not say within 2 s. */
export function room(storage: Manager = ownManager(), timeoutMs = 2000): Promise<Room | null> {
  return new Promise((resolve) => {
    if (!storage?.estimate) return resolve(null);
    const timer = setTimeout(() => resolve(null), timeoutMs);
    storage.estimate().then(
      ({ usage, quota }) => {
        clearTimeout(timer);
        resolve(usage === undefined || quota === undefined ? null : { used: usage, quota });
      },
      () => {
        clearTimeout(timer);
        resolve(null);
      },
    );
  });
}
