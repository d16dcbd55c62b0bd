/** Notices that nobody has touched the screen for a while. */

export interface IdleSources {
  page?: Pick<Document, 'addEventListener' | 'removeEventListener'>;
  /** ms; the later of both counts, since one stops in sleep and the other can be set. */
  monotonic?: () => number;
  wall?: () => number;
  /** ms between two looks. */
  every?: number;
}

/**
 * Calls back, once each time, when neither finger nor key was seen for so long.
 *
 * @param limit ms, asked again at each check; null while it does not matter
 * @returns ends the watch
 * @example watchIdle(() => 300_000, () => lock())
 */
export function watchIdle(limit: () => number | null, callback: () => void, sources: IdleSources = {}): () => void {
  const { page = document, monotonic = () => performance.now(), wall = Date.now, every = 1000 } = sources;
  const now = () => ({ monotonic: monotonic(), wall: wall() });
  let last = now();
  const seen = () => (last = now());
  const kinds = ['pointerdown', 'keydown'] as const;
  for (const kind of kinds) page.addEventListener(kind, seen, true);
  const timer = setInterval(() => {
    const after = limit();
    if (after === null) return seen();
    const at = now();
    if (Math.max(at.monotonic - last.monotonic, at.wall - last.wall) < after) return;
    last = at;
    callback();
  }, every);
  return () => {
    clearInterval(timer);
    for (const kind of kinds) page.removeEventListener(kind, seen, true);
  };
}
