/** One window writes; every other one follows. */

const LOCK = 'counterturn-writer';
const CHANNEL = 'counterturn';

export interface Claim {
  /** May this window write? */
  writer: boolean;
  /** The browser has no locks, so nothing keeps a second window from writing too. */
  unguarded?: true;
  /** Still? False from the moment on at which the lock went to another window. */
  holds(): boolean;
  /** Calls back once it is lost, at once when it is lost already; never after `release`. */
  onLost(callback: () => void): void;
  release(): void;
}

/** Does the lock belong to this client now? For a thread that writes on behalf of a window. True where nobody can say. */
export async function isHeldBy(clientId: string, locks: LockManager | undefined = navigator.locks): Promise<boolean> {
  const { held } = (await locks?.query().catch(() => undefined)) ?? {};
  return held === undefined || held.some((lock) => lock.name === LOCK && lock.clientId === clientId);
}

/** The name under which the browser lists the window that holds the lock; undefined where it does not say. */
export async function holderId(locks: LockManager | undefined = navigator.locks): Promise<string | undefined> {
  const { held } = (await locks?.query().catch(() => undefined)) ?? {};
  return held?.find((lock) => lock.name === LOCK)?.clientId;
}

/** Does another client hold the lock? What this one has been granted and not told yet is its own. True where nobody can say. */
async function isAnothers(locks: LockManager): Promise<boolean> {
  try {
    // Under a lock that nobody else knows, the browser's list says which client this one is.
    const own = `${LOCK} ${crypto.randomUUID()}`;
    const { held = [] } = await locks.request(own, () => locks.query());
    const ownId = held.find(({ name }) => name === own)?.clientId;
    return held.some(({ name, clientId }) => name === LOCK && clientId !== ownId);
  } catch {
    return true;
  }
}

const sleep = (ms: number) => new Promise<void>((wake) => setTimeout(wake, ms));
/** So many times as long, while no other window holds the lock: a machine under load is slow to hand it out. */
const patience = 15;

/**
 * Asks to be the one that writes. The lock is held until `release`, or until the window is gone, however it went.
 *
 * @param timeoutMs ms to wait for a window that is just going away; longer only while none holds the lock
 * @example (await claimWriter()).writer // true in the first window, false in the second
 */
export function claimWriter(timeoutMs = 1000, locks: LockManager | undefined = navigator.locks): Promise<Claim> {
  if (!locks)
    return Promise.resolve({ writer: true, unguarded: true, holds: () => true, onLost: () => {}, release: () => {} });
  return new Promise((resolve) => {
    const giveUp = new AbortController();
    let state: 'waits' | 'holds' | 'lost' | 'released' = 'waits';
    const waited = async () => {
      for (let i = 0; i < patience && state === 'waits'; i++) {
        await sleep(timeoutMs);
        const unanswered = sleep(timeoutMs * patience).then(() => true);
        if (state === 'waits' && (await Promise.race([isAnothers(locks), unanswered]))) return;
      }
    };
    // A lock that was granted meanwhile is not taken back by it.
    void waited().then(() => giveUp.abort());
    let tell: () => void = () => {};
    const onLost = (callback: () => void) => {
      tell = callback;
      if (state === 'lost') callback();
    };
    locks
      .request(LOCK, { signal: giveUp.signal }, () => {
        state = 'holds';
        return new Promise<void>((end) => {
          const release = () => {
            state = 'released';
            end();
          };
          resolve({ writer: true, holds: () => state === 'holds', onLost, release });
        });
      })
      .catch(() => {
        // Taken away by another window.
        if (state === 'holds') {
          state = 'lost';
          tell();
        }
        // Given up: another window writes.
        resolve({ writer: false, holds: () => false, onLost: () => {}, release: () => {} });
      });
  });
}

/**
 * Calls back once no window writes any more, so that a following one can offer to take over; takes nothing itself.
 *
 * @returns ends the wait
 */
export function whenWriterGone(callback: () => void, locks: LockManager | undefined = navigator.locks): () => void {
  const stop = new AbortController();
  // Rejects when the wait is ended from here.
  locks?.request(LOCK, { signal: stop.signal }, callback).catch(() => {});
  return () => stop.abort();
}

export interface Line<T> {
  /** Tells every other window. */
  post(message: T): void;
  close(): void;
}

/**
 * The line between the windows.
 *
 * @param onMessage what another window posted; a window never receives its own messages
 * @example openLine<{ caseId: string }>(({ caseId }) => follow(caseId)).post({ caseId })
 */
export function openLine<T>(onMessage: (message: T) => void): Line<T> {
  const channel = new BroadcastChannel(CHANNEL);
  channel.onmessage = (event) => onMessage(event.data as T);
  return { post: (message) => channel.postMessage(message), close: () => channel.close() };
}
