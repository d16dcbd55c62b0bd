/** One window writes; every other one follows. */

const LOCK = 'counterturn-writer';
const CHANNEL = 'counterturn';

export interface Claim {
  /** May this window write? */
  writer: boolean;
  /** The browser has no locks, so nothing keeps a second window from writing too. */
  unguarded?: true;
  release(): void;
}

/**
 * Asks to be the one that writes. The lock is held until `release`, or until the window is gone, however it went.
 *
 * @param timeoutMs ms to wait for a window that is just going away
 * @example (await claimWriter()).writer // true in the first window, false in the second
 */
export function claimWriter(timeoutMs = 1000, locks: LockManager | undefined = navigator.locks): Promise<Claim> {
  if (!locks) return Promise.resolve({ writer: true, unguarded: true, release: () => {} });
  return new Promise((resolve) => {
    const giveUp = new AbortController();
    const timer = setTimeout(() => giveUp.abort(), timeoutMs);
    locks
      .request(LOCK, { signal: giveUp.signal }, () => {
        clearTimeout(timer);
        return new Promise<void>((release) => resolve({ writer: true, release }));
      })
      .catch(() => {
        // Given up after `timeoutMs`: another window writes.
        clearTimeout(timer);
        resolve({ writer: false, release: () => {} });
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
