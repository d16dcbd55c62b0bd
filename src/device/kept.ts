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
  /** Puts a value in the place of whatever is kept, and shows it only then. */
  keep: (value: T) => Promise<Sent>;
  /**
   * Makes another value of what is kept, read anew: what is shown may be the fallback alone, because nothing could be
   * read yet. Where it still cannot be read nothing is written.
   */
  change: (next: (kept: T) => T) => Promise<Sent>;
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
  const key = `counterturn.${name}`;
  let written = false;
  let lastChange: Promise<unknown> = Promise.resolve();
  void (async () => {
    try {
      const stored = read(await get<unknown>(key));
      if (stored !== null && !written) setValue(() => stored);
    } catch {
      // Without a database of the browser nothing was kept.
    }
    setReady(true);
  })();
  /** One after the other: a change that comes meanwhile is one of what this one leaves. */
  const write = (make: () => T | Promise<T>): Promise<Sent> => {
    const writing = lastChange.then(async (): Promise<Sent> => {
      try {
        const next = await make();
        await set(key, next);
        written = true;
        setValue(() => next);
        return { ok: true };
      } catch (error) {
        return { ok: false, reason: failureOf(error) };
      }
    });
    lastChange = writing;
    return writing;
  };
  return {
    value,
    ready,
    keep: (next) => write(() => next),
    change: (next) => write(async () => next(read(await get<unknown>(key)) ?? fallback)),
  };
}
