/** Twelve simulated hours with a case at the table and the wall view beside it: what stays in memory. */
import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import { serve } from '../../src/tools/serve.mjs';
import { launchChromium } from '../browsers/harness.ts';
import { caseOf } from '../browsers/long-case.ts';
import { store } from '../browsers/stored-case.ts';
import { ratio, type Row } from './stats.ts';

/** Simulated minutes between two entries. */
const every = 10;

/** After that share of the time every part of the app has run often enough to be compiled for good: what grows is a leak. */
const warmShare = 1 / 3;

interface Heap {
  bytes: number;
  nodes: number;
}

/** Bytes in use after a collection, and nodes of the document, also those that nothing shows any more. */
async function heap(page: Page): Promise<Heap> {
  const session = await page.context().newCDPSession(page);
  await session.send('HeapProfiler.enable');
  await session.send('HeapProfiler.collectGarbage');
  await session.send('HeapProfiler.collectGarbage');
  const { usedSize } = await session.send('Runtime.getHeapUsage');
  const { nodes } = await session.send('Memory.getDOMCounters');
  await session.detach();
  return { bytes: usedSize, nodes };
}

const floorName = 'a bare page with two timers';
/** What a browser gathers by itself in the same hours. */
async function barePage(context: BrowserContext, url: string, now: number): Promise<Page> {
  const page = await context.newPage();
  await page.clock.install({ time: now });
  await page.goto(url);
  await page.evaluate(() => {
    const seen = { wall: 0, steady: 0 };
    setInterval(() => (seen.wall = Date.now()), 1000);
    setInterval(() => (seen.steady = performance.now()), 500);
  });
  return page;
}

/**
 * The clocks of all pages are wound on minute by minute, so that every tick of every second runs; each tenth minute the
 * number keys start a move or end it. The simulated hours begin now, since the journal's thread keeps the real time.
 *
 * @param hours simulated, more than 0
 * @returns no rows where there is no Chromium
 */
export async function memoryRows(folder: string, hours = 12): Promise<Row[]> {
  const minutes = Math.round(hours * 60);
  const warmMinutes = Math.max(1, Math.round(minutes * warmShare));
  const warmHours = Number((warmMinutes / 60).toFixed(2));
  const engine = await launchChromium();
  if (!engine) return [];
  const [server, floor] = await Promise.all([serve(join(folder, 'app'), 0), serve(join(folder, 'floor'), 0)]);
  try {
    const { page, context } = engine;
    const now = Date.now();
    const entries = caseOf(60, now);
    await page.clock.install({ time: now });
    await page.goto(server.url);
    await page.clock.runFor(2000);
    await page.locator('#app main').waitFor();
    await store(page, '2026.1', entries);
    await page.reload();
    await page.clock.runFor(2000);
    await page.locator('.table-said').waitFor();
    const wall = await context.newPage();
    await wall.clock.install({ time: now });
    await wall.goto(`${server.url}#wall`);
    const windowed: [string, Page][] = [
      ['table', page],
      ['wall', wall],
      [floorName, await barePage(context, floor.url, now)],
    ];
    const wind = async (ms: number) => {
      for (const [, one] of windowed) await one.clock.runFor(ms);
    };
    const measured = () => Promise.all(windowed.map(([, one]) => heap(one)));
    await wind(60_000);
    const before = await measured();
    let warm = before;
    let pressed = 0;
    for (let minute = 1; minute <= minutes; minute++) {
      await wind(60_000);
      if (minute === warmMinutes) warm = await measured();
      if (minute % every) continue;
      // Starts the first move; then "something else", "moving, thread by thread": the same move stays open for ever.
      const shown = await page.evaluate(() => document.body.innerText);
      await page.keyboard.press(['1', '4', '4'][pressed++ % 3] as string);
      // The disk keeps real time: wound on at once, the app would take it for one that does not answer.
      await page.waitForFunction((before) => document.body.innerText !== before, shown);
    }
    await wind(1000);
    const after = await measured();
    const stored = await page.evaluate(countStored);
    const log = stored.bytes - JSON.stringify(entries).length;
    return windowed.map(([name], i): Row => {
      const [start, later, end] = [before, warm, after].map((all) => all[i]) as [Heap, Heap, Heap];
      const isFloor = name === floorName;
      const kB = (bytes: number) => `${(bytes / 1000).toFixed(0)} kB`;
      return {
        what: `memory after ${hours} simulated hours${isFloor ? '' : `, ${stored.count - entries.length} entries more`}: ${name}`,
        measured: `${kB(end.bytes)}, ${end.nodes} nodes`,
        against: `${kB(start.bytes)} at the start, ${kB(later.bytes)} after ${warmHours} h${isFloor ? '' : `; the log itself grew by ${kB(log)}`}`,
        ratio: `${ratio(end.bytes, start.bytes)}, since ${warmHours} h ${ratio(end.bytes, later.bytes)}`,
        goal: isFloor ? 'floor' : 'no growth beyond the log',
      };
    });
  } finally {
    await engine.close();
    await Promise.all([server.close(), floor.close()]);
  }
}

/** Runs in the page: entries in the database, and their length as JSON. */
async function countStored(): Promise<{ count: number; bytes: number }> {
  const db = await new Promise<IDBDatabase>((resolve) => {
    const request = indexedDB.open('counterturn');
    request.onsuccess = () => resolve(request.result);
  });
  const rows = await new Promise<{ entry: object; more?: object[] }[]>((resolve) => {
    const request = db.transaction('entries').objectStore('entries').getAll();
    request.onsuccess = () => resolve(request.result);
  });
  db.close();
  const entries = rows.flatMap(({ entry, more }) => [entry, ...(more ?? [])]);
  return { count: entries.length, bytes: JSON.stringify(entries).length };
}
