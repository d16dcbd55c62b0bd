/** What the measurements in a real browser share: a stored case, a slower processor, and what the page saw of itself. */
import type { CDPSession, Page } from 'playwright-core';
import type { Entry } from '../../machines/entry.ts';
import { gatherable, type DatabaseRow, rowOf } from '../../src/store/indexeddb/rows.ts';

/** Slows the page's main thread so many times. Its workers and the disk keep their pace. */
export async function slowed(page: Page, times: number): Promise<CDPSession> {
  const session = await page.context().newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: times });
  return session;
}

/** Rows that stand singly: what is recorded in a busy minute. All before them are gathered, as the app does it. */
const single = 32;

function lying(entries: readonly Entry[]): DatabaseRow<Entry>[] {
  const rows = entries.map((entry) => rowOf('', entry));
  const [run] = gatherable(rows.slice(0, -single));
  return run ? [run.row, ...rows.filter(({ n }) => n > run.to)] : rows;
}

/** Puts a whole case into the app's database, where the next start finds it, resumes it and heals the other copy. */
export const store = (page: Page, contentVersion: string, entries: readonly Entry[]) =>
  page.evaluate(
    async ({ contentVersion: version, rows }) => {
      const db = await new Promise<IDBDatabase>((resolve, reject) => {
        const request = indexedDB.open('counterturn');
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
      const tx = db.transaction(['cases', 'entries'], 'readwrite');
      const caseId = crypto.randomUUID();
      const created = rows[0]?.entry.at;
      tx.objectStore('cases').add({ caseId, contentVersion: version, demo: true, created });
      for (const row of rows) tx.objectStore('entries').add({ ...row, caseId });
      await new Promise((resolve, reject) => {
        tx.oncomplete = resolve;
        tx.onabort = () => reject(tx.error);
      });
      db.close();
    },
    { contentVersion, rows: lying(entries) },
  );

/** What the page saw of itself; kept on its global object. */
export interface Seen {
  /** ms from lifting the finger to the frame in which the last entry stands in other words, tap by tap. */
  taps: number[];
  /** ms of every task over 50 ms. */
  long: number[];
  /** ms from the start of the navigation to the frame in which the app's first screen stands. */
  drawn: number;
  /** Resolves once `drawn` is known. */
  first: Promise<void>;
  /** Resolves with the next of `taps`. */
  next: () => Promise<void>;
}

/** Lets a page see itself from its next start on. */
export async function watched(page: Page): Promise<void> {
  // What compiles this file wraps every named function so.
  await page.addInitScript('globalThis.__name = (named) => named');
  await page.addInitScript(watch);
}

/** Runs in the page before anything else. */
function watch(): void {
  let waiting = () => {};
  const next = () => new Promise<void>((done) => (waiting = done));
  let stands = () => {};
  const first = new Promise<void>((done) => (stands = done));
  const seen: Seen = { taps: [], long: [], drawn: NaN, first, next };
  Object.assign(globalThis, { seen });
  const afterFrame = (then: () => void) =>
    requestAnimationFrame(() => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = then;
      port2.postMessage(0);
    });
  let lifted: number | null = null;
  let said: string | null = null;
  addEventListener('pointerup', (event) => (lifted = event.timeStamp), true);
  new MutationObserver(() => {
    if (Number.isNaN(seen.drawn) && document.querySelector('#app main')) {
      seen.drawn = Infinity;
      afterFrame(() => {
        seen.drawn = performance.now();
        stands();
      });
    }
    const text = document.querySelector('.table-said')?.textContent ?? null;
    if (text === said) return;
    said = text;
    if (lifted === null) return;
    const from = lifted;
    lifted = null;
    afterFrame(() => {
      seen.taps.push(performance.now() - from);
      waiting();
    });
  }).observe(document, { subtree: true, childList: true, characterData: true });
  new PerformanceObserver((list) => seen.long.push(...list.getEntries().map(({ duration }) => duration))).observe({
    type: 'longtask',
  });
}

export const seenBy = (page: Page) =>
  page.evaluate('({ ...seen, first: undefined, next: undefined })') as Promise<Omit<Seen, 'first' | 'next'>>;

/** Touches a place and waits until the page has seen it through, without asking meanwhile: asking costs frames. */
export async function tapThrough(page: Page, { x, y }: { x: number; y: number }): Promise<void> {
  const through = page.evaluate('seen.next()');
  await page.touchscreen.tap(x, y);
  await through;
}
