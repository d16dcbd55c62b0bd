/** What the measurements in a real browser share: a slower processor, and what the page saw of itself. */
import type { CDPSession, Page } from 'playwright-core';

/** Slows the page's main thread so many times. Its workers and the disk keep their pace. */
export async function slowed(page: Page, times: number): Promise<CDPSession> {
  const session = await page.context().newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: times });
  return session;
}

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
  page.evaluate<Omit<Seen, 'first' | 'next'>>('({ ...seen, first: undefined, next: undefined })');

/** Touches a place and waits until the page has seen it through, without asking meanwhile: asking costs frames. */
export async function tapThrough(page: Page, { x, y }: { x: number; y: number }): Promise<void> {
  const through = page.evaluate('seen.next()');
  await page.touchscreen.tap(x, y);
  await through;
}
