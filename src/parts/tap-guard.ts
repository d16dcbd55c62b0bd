/** Which taps count: no bounce, and nothing that was aimed at what stood there a moment ago. */

/**
 * How long a bounce or a changed layout keeps taps out, ms. A choice of this project within the customary 300–500 ms
 * (practice, no source).
 */
export const quietMs = 400;

export interface TapGuard {
  /**
   * May this tap act? An accepted tap is remembered, a refused one is not.
   *
   * @param now when it was released, ms on any clock that does not run backwards
   * @param tap `down`: when it began, `now` if left out; `on`: what it hit. With `on`, only a second tap on the same
   *   thing is a bounce (digits typed fast); without, any second tap is
   */
  allowTap(now: number, tap?: { down?: number; on?: object }): boolean;
  /** Something moved or came up under the finger at `now`. */
  layoutChanged(now: number): void;
}

/**
 * A guard with a memory of its own. A tap that began before a change of layout, or within the quiet time after it,
 * was aimed at something else and is refused however late it is released.
 *
 * @example
 * const guard = makeTapGuard();
 * guard.allowTap(1000); // true
 * guard.allowTap(1399); // false: a bounce
 * guard.layoutChanged(2000);
 * guard.allowTap(2500, { down: 2399 }); // false: began 399 ms after the change
 */
export function makeTapGuard(quiet: number = quietMs): TapGuard {
  let layout = -Infinity;
  let last = -Infinity;
  let lastOn: object | undefined;
  return {
    allowTap(now, tap = {}) {
      if ((tap.down ?? now) - layout < quiet) return false;
      if (now - last < quiet && (tap.on === undefined || tap.on === lastOn)) return false;
      last = now;
      lastOn = tap.on;
      return true;
    },
    layoutChanged(now) {
      layout = Math.max(layout, now);
    },
  };
}

/** The one guard of the app: every touch asks it. */
export const { allowTap, layoutChanged } = makeTapGuard();
