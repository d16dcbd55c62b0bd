import { createEffect, createMemo, on } from 'solid-js';
import { layoutChanged } from './tap-guard.ts';

/**
 * Keeps taps out for a moment whenever what is under the finger changes.
 *
 * @param key anything that is another value when the layout is another, such as the ids of the cards in one string
 * @example createLayoutGuard(() => cards().map((card) => card.move).join())
 */
export function createLayoutGuard(key: () => unknown): void {
  // Memoized: what the key is made of may change every second while the layout stays.
  createEffect(on(createMemo(key), () => layoutChanged(performance.now()), { defer: true }));
}
