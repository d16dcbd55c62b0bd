/** A start without a network, from the service worker to the first screen: a long case resumed, and an empty log. */
import { join } from 'node:path';
import type { BrowserContext } from 'playwright-core';
import { serve } from '../../src/tools/serve.mjs';
import { launchChromium, type ChromiumEngine } from '../browsers/harness.ts';
import { caseOf } from '../browsers/long-case.ts';
import { store } from '../browsers/stored-case.ts';
import { seenBy, slowed, watched } from './page.ts';
import { median, ratio, spread, type Row } from './stats.ts';

const starts = 6;

/** A browser with the app installed, the server about to go. */
async function installed(url: string, entries: number): Promise<ChromiumEngine | null> {
  const engine = await launchChromium();
  if (!engine) return null;
  const { page } = engine;
  await page.goto(url);
  await page.locator('#app main').waitFor();
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  if (entries) await store(page, '2026.1', caseOf(entries, Date.now()));
  await page.reload();
  await page.locator(entries ? '.table-said' : '#app main').waitFor();
  return engine;
}

/** One start in a new tab: ms from the navigation to the frame in which the first screen stands. */
async function oneStart(context: BrowserContext, url: string, rate: number): Promise<number> {
  const page = await context.newPage();
  try {
    await watched(page);
    await slowed(page, rate);
    await page.goto(url);
    await page.evaluate('seen.first');
    return (await seenBy(page)).drawn;
  } finally {
    await page.close();
  }
}

/** @returns no rows where there is no Chromium */
export async function startRows(folder: string): Promise<Row[]> {
  const server = await serve(join(folder, 'app'), 0);
  const engines = [await installed(server.url, 500), await installed(server.url, 0)];
  await server.close();
  const [long, empty] = engines;
  try {
    if (!long || !empty) return [];
    // The first window holds the right to write: a start is one of a window that may.
    for (const engine of [long, empty]) await engine.page.goto('about:blank');
    const rows: Row[] = [];
    for (const rate of [1, 4, 6]) {
      const times: [number[], number[]] = [[], []];
      for (let run = -1; run < starts; run++)
        for (const [i, engine] of [long, empty].entries()) {
          const time = await oneStart(engine.context, server.url, rate);
          if (run >= 0) times[i]?.push(time);
        }
      rows.push({
        what: `start without a network, 500 entries resumed, processor ${rate}×`,
        measured: spread(times[0], 'ms'),
        against: `${spread(times[1], 'ms')}: the same with an empty log`,
        ratio: ratio(median(times[0]), median(times[1])),
        goal: '≤ 1.3',
      });
    }
    return rows;
  } finally {
    for (const engine of engines) await engine?.close();
  }
}
