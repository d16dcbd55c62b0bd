/** Waiting for a page that has come to rest, instead of for some time. */
import type { Page } from 'playwright-core';
import { demoDrafts } from '../../src/session/demo.ts';

/** Entries of the demo case as it is opened: its plan is on disk once so many are there. */
export const demoPlan = demoDrafts().length;

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
