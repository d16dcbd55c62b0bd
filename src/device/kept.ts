/** Lists that belong to this device and to no case: kept by the browser beside the cases, one value a name. */
import { get, set } from 'idb-keyval';
import { createSignal, type Accessor } from 'solid-js';
import { failureOf } from '../failure.ts';
import type { Sent } from './share.ts';

export interface Kept<T> {
  /** What is kept; the fallback until it was read. */
  value: Accessor<T>;
  /** Whether it was read from the browser yet. */
  ready: Accessor<boolean>;
  /** Keeps a value, and shows it only then. */
  keep: (value: T) => Promise<Sent>;
}

/**
 * One named value of this device. Whatever is stored and makes no sense counts as never stored.
 *
 * @param read what a stored value means; null when it makes no sense
 * @example createKept('help-seen', (value) => (value === true ? true : null), false).value() // false at first
 */
export function createKept<T>(name: string, read: (stored: unknown) => T | null, fallback: T): Kept<T> {
  const [value, setValue] = createSignal<T>(fallback);
  const [ready, setReady] = createSignal(false);
  let written = false;
  void (async () => {
    try {
      const stored = read(await get<unknown>(`counterturn.${name}`));
      if (stored !== null && !written) setValue(() => stored);
    } catch {
      // Without a database of the browser nothing was kept.
    }
    setReady(true);
  })();
  return {
    value,
    ready,
    keep: async (next) => {
      try {
        await set(`counterturn.${name}`, next);
      } catch (error) {
        return { ok: false, reason: failureOf(error) };
      }
      written = true;
      setValue(() => next);
      return { ok: true };
    },
  };
}
