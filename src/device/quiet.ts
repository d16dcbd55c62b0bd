/** Work that can wait. */

/**
 * A moment in which nothing is left to draw.
 *
 * @param timeoutMs ms after which it has come, however busy the screen is
 * @example await quietMoment(2000)
 */
export const quietMoment = (timeoutMs: number): Promise<void> =>
  new Promise((go) => {
    if (typeof requestIdleCallback === 'function') requestIdleCallback(() => go(), { timeout: timeoutMs });
    else setTimeout(go, 50);
  });

/**
 * Does small pieces of upkeep, each in a quiet moment, until there is nothing left, and looks again every minute.
 *
 * @param piece does one piece; false when there was none
 * @returns ends it
 * @example upkeep(() => database.gather())
 */
export function upkeep(piece: () => Promise<boolean>, every = 60_000): () => void {
  let busy = false;
  const round = async () => {
    if (busy) return;
    busy = true;
    do await quietMoment(every);
    while (
      // A piece that failed changed nothing; the next round comes in a minute.
      await piece().catch(() => false)
    );
    busy = false;
  };
  const timer = setInterval(() => void round(), every);
  return () => clearInterval(timer);
}
