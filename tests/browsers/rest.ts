/** Waiting for a page that has come to rest, instead of for some time. */
import type { Page } from 'playwright-core';
import { quietMs } from '../../src/parts/tap-guard.ts';
import { demoDrafts } from '../../src/session/demo.ts';

/** Entries of the demo case as it is opened: its plan is on disk once so many are there. */
export const demoPlan = demoDrafts().length;

/**
 * A wait for something that never comes is given up after so long, ms, so that the test can say what was missing. No
 * figure of the app is measured by it.
 */
export const patienceMs = 60_000;

/**
 * Runs in the page: waits until so many ms passed, by the page's own clock, in which nothing came or went in the
 * document, and for one painted frame more, since a browser may round the time of a touch.
 */
export const quiet = async (ms: number): Promise<void> => {
  let since = performance.now();
  const observer = new MutationObserver(() => (since = performance.now()));
  observer.observe(document, { subtree: true, childList: true });
  while (performance.now() - since <= ms) await new Promise((painted) => requestAnimationFrame(painted));
  observer.disconnect();
  await new Promise((painted) => requestAnimationFrame(painted));
};

/**
 * Waits until the app takes touches again. The time in which it takes none shows nowhere on the page, and the guard
 * reads it from the browser's own time of a touch: a clock wound by the test would stand for that of every timer, frame
 * and entry too.
 */
export const quietTime = (page: Page): Promise<void> => page.evaluate(quiet, quietMs);

/**
 * Runs in the page: waits until the type is loaded, no animation that ends is running, and nothing was changed in the
 * document over so many painted frames, one after the other. A clock that ticks each second leaves room enough between.
 */
export const rest = async (frames: number): Promise<void> => {
  await document.fonts.ready;
  let still = 0;
  const observer = new MutationObserver(() => (still = 0));
  observer.observe(document, { subtree: true, childList: true, attributes: true, characterData: true });
  while (still < frames) {
    await new Promise((painted) => requestAnimationFrame(painted));
    const moves = document
      .getAnimations()
      .some(({ playState, effect }) => playState === 'running' && effect?.getComputedTiming().endTime !== Infinity);
    still = moves ? 0 : still + 1;
  }
  observer.disconnect();
};

/** Waits until a page has come to rest; `frames` painted in a row, 20 when left out, a third of a second on a quick machine. */
export const atRest = (page: Page, frames = 20): Promise<void> => page.evaluate(rest, frames);
