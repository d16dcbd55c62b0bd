/** Parts of the app in scripts of their own: none is needed until the first screen stands, all are in memory right after it. */

/** One such part. */
export interface Deferred<T> {
  /** The part when it is in memory. */
  loaded: () => T | undefined;
  /** The part; fetched once, and again after fetching failed. Rejects with what the fetch rejects with. */
  load: () => Promise<T>;
}

const all: (() => Promise<unknown>)[] = [];

/**
 * Names a part that `loadDeferred` brings into memory.
 *
 * @param fetch asks for the script
 * @example const backup = deferred(() => import('./backup.ts')); // later: (await backup.load()).writeBackup(…)
 */
export function deferred<T>(fetch: () => Promise<T>): Deferred<T> {
  let part: T | undefined;
  let going: Promise<T> | undefined;
  const load = () =>
    (going ??= fetch().then(
      (found) => (part = found),
      (error: unknown) => {
        going = undefined;
        throw error;
      },
    ));
  all.push(load);
  return { loaded: () => part, load };
}

/**
 * Brings every part into memory, one after the other, those too that a part names as it comes. What cannot be had is
 * passed over: it is asked for again where it is needed.
 */
export async function loadDeferred(): Promise<void> {
  for (const load of all)
    await load().catch(() => {
      // Without a network, or after an update: `later` says it where the part is needed, and asks again.
    });
}
