/** Long computations in slices, so that a tap or a tick never waits for them. */

/** ms of computing before others may go: well under the 50 ms from which a browser counts a long task (W3C Long Tasks). */
const sliceMs = 5;

/**
 * Runs a computation that pauses, a few milliseconds at a time.
 *
 * @param wanted asked between two slices; once it says no, the computation is dropped
 * @returns its result, or null when it was dropped
 * @example await inSlices((function* () { yield; return 7; })(), () => true) // 7
 */
export async function inSlices<T>(steps: Generator<void, T>, wanted: () => boolean): Promise<T | null> {
  for (;;) {
    const until = performance.now() + sliceMs;
    do {
      const next = steps.next();
      if (next.done) return next.value;
    } while (performance.now() < until);
    await new Promise((resolve) => setTimeout(resolve));
    if (!wanted()) return null;
  }
}
