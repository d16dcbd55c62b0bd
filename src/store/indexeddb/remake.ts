/**
 * Making a database anew so that nothing of the old one stays in the browser's files. Rows that are deleted or cleared
 * do stay there: Chromium appends the deletion behind them and was seen to keep both over many starts. It drops them only
 * where files are compacted, and it compacts the rows of a database that is deleted, if they had left its newest file
 * before; the other engines delete the file of a database with it.
 */
import { Failed } from '../../failure.ts';

const SCRATCH = 'counterturn-scratch';

const ended = (request: IDBOpenDBRequest, timeoutMs: number): Promise<IDBDatabase | undefined> =>
  new Promise((resolve, reject) => {
    const slow = () => reject(new Failed({ code: 'database-slow', seconds: timeoutMs / 1000 }));
    const timer = setTimeout(slow, timeoutMs);
    request.onsuccess = () => {
      clearTimeout(timer);
      resolve(request.result);
    };
    request.onerror = () => {
      clearTimeout(timer);
      reject(request.error ?? new Failed({ code: 'database-gave-up' }));
    };
  });

const drop = (factory: IDBFactory, name: string, timeoutMs: number) => ended(factory.deleteDatabase(name), timeoutMs);

/** Chromium compacts behind the answer that a database is deleted, and keeps what somebody is just reading. */
const pause = () => new Promise<void>((wake) => setTimeout(wake, 250));

/** Deleting any database makes Chromium begin a new file, and let go of those that nothing lives in any more. */
async function turnOver(factory: IDBFactory, timeoutMs: number): Promise<void> {
  const opening = factory.open(SCRATCH, 1);
  opening.onupgradeneeded = () => opening.result.createObjectStore('scratch').put(1, 1);
  (await ended(opening, timeoutMs))?.close();
  await drop(factory, SCRATCH, timeoutMs);
}

/**
 * Deletes a database and fills it again, so that its old rows are gone from the browser's files. In between it is empty:
 * only for what lies in a second place as well. Every connection to it has to be closed, or to close when it is asked to.
 *
 * @param fill makes the database and writes all of it
 * @throws what the browser refuses, and what `fill` rejects with; the database may be empty then
 */
export async function remake(
  factory: IDBFactory,
  name: string,
  fill: () => Promise<void>,
  timeoutMs: number,
): Promise<void> {
  await turnOver(factory, timeoutMs);
  await pause();
  await drop(factory, name, timeoutMs);
  await pause();
  await fill();
  // One begins the file behind which the next lets go of the old ones; what was being read meanwhile needs one more.
  for (let time = 0; time < 4; time++) {
    await pause();
    await turnOver(factory, timeoutMs);
  }
}
