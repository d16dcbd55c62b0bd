/** Keeps the screen on while a case runs. */

export interface WakeState {
  held: boolean;
  /** Why the screen may go dark; none while the page is hidden. */
  why?: 'unsupported' | 'refused';
}

interface Sentinel {
  release(): Promise<void>;
  addEventListener(type: 'release', listener: () => void): void;
}
export interface WakeSources {
  page?: Pick<Document, 'hidden' | 'addEventListener' | 'removeEventListener'>;
  wakeLock?: { request(type: 'screen'): Promise<Sentinel> } | undefined;
}

/**
 * Holds the lock, and takes it again whenever the page comes back: the browser lets go of it when the page is hidden.
 *
 * @param onChange called at every change
 * @returns lets go for good
 * @example keepAwake(({ held }) => setAwake(held))
 */
export function keepAwake(onChange: (state: WakeState) => void, sources: WakeSources = {}): () => void {
  const { page = document } = sources;
  // Given as undefined it means: none here.
  const wakeLock = 'wakeLock' in sources ? sources.wakeLock : navigator.wakeLock;
  let lock: Sentinel | undefined;
  let asking = false;
  let over = false;

  const take = async () => {
    if (over || page.hidden || lock || asking) return;
    if (!wakeLock) return onChange({ held: false, why: 'unsupported' });
    asking = true;
    try {
      const got = await wakeLock.request('screen');
      // A lock that cannot be let go ends with the page.
      if (over) return void got.release().catch(() => {});
      lock = got;
      got.addEventListener('release', () => {
        lock = undefined;
        if (!over) onChange({ held: false });
        void take();
      });
      onChange({ held: true });
    } catch {
      // A browser refuses on low battery, or to save power: all that matters here is that the screen may go dark.
      onChange({ held: false, why: 'refused' });
    } finally {
      asking = false;
    }
  };
  const shown = () => void take();

  page.addEventListener('visibilitychange', shown);
  void take();
  return () => {
    over = true;
    page.removeEventListener('visibilitychange', shown);
    // As above.
    lock?.release().catch(() => {});
  };
}
