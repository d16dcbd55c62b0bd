/** Twelve simulated hours with a case at the table and the wall view beside it: what stays in memory. */
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { serve } from '../../src/tools/serve.mjs';
import { launchChromium } from '../browsers/harness.ts';
import { caseOf } from './logs.ts';
import { store } from './page.ts';
import { ratio, type Row } from './stats.ts';

const minutes = 12 * 60;
/** Simulated minutes between two entries. */
const every = 10;

/** Bytes in use after a collection, and nodes of the document, also those that nothing shows any more. */
async function heap(page: Page): Promise<{ bytes: number; nodes: number }> {
  const session = await page.context().newCDPSession(page);
  await session.send('HeapProfiler.enable');
  await session.send('HeapProfiler.collectGarbage');
  await session.send('HeapProfiler.collectGarbage');
  const { usedSize } = await session.send('Runtime.getHeapUsage');
  const { nodes } = await session.send('Memory.getDOMCounters');
  await session.detach();
  return { bytes: usedSize, nodes };
}

/**
 * Both pages' clocks are wound on minute by minute, so that every tick of every second runs; each tenth minute the
 * number keys start a move or end it.
 *
 * @returns no rows where there is no Chromium
 */
export async function memoryRows(folder: string): Promise<Row[]> {
  const engine = await launchChromium();
  if (!engine) return [];
  const server = await serve(join(folder, 'app'), 0);
  try {
    const { page, context } = engine;
    const now = Date.UTC(2026, 2, 2, 8);
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
    ];
    const wind = async (ms: number) => {
      for (const [, one] of windowed) await one.clock.runFor(ms);
    };
    await wind(60_000);
    const before = await Promise.all(windowed.map(([, one]) => heap(one)));
    let pressed = 0;
    for (let minute = 1; minute <= minutes; minute++) {
      await wind(60_000);
      if (minute % every) continue;
      // Starts the first move; then "something else", "moving, thread by thread": the same move stays open for ever.
      await page.keyboard.press(['1', '4', '4'][pressed++ % 3] as string);
    }
    await wind(1000);
    const after = await Promise.all(windowed.map(([, one]) => heap(one)));
    const stored = await page.evaluate(countStored);
    const log = stored.bytes - JSON.stringify(entries).length;
    return windowed.map(([name], i): Row => {
      const [was, is] = [before[i] as (typeof before)[0], after[i] as (typeof after)[0]];
      const kB = (bytes: number) => `${(bytes / 1000).toFixed(0)} kB`;
      return {
        what: `memory after 12 simulated hours, ${stored.count - entries.length} entries more: ${name}`,
        measured: `${kB(is.bytes)}, ${is.nodes} nodes`,
        against: `${kB(was.bytes)}, ${was.nodes} nodes at the start; the log itself grew by ${kB(log)}`,
        ratio: ratio(is.bytes, was.bytes),
        goal: 'no growth beyond the log',
      };
    });
  } finally {
    await engine.close();
    await server.close();
  }
}

/** Runs in the page: entries in the database, and their length as JSON. */
async function countStored(): Promise<{ count: number; bytes: number }> {
  const db = await new Promise<IDBDatabase>((resolve) => {
    const request = indexedDB.open('counterturn');
    request.onsuccess = () => resolve(request.result);
  });
  const rows = await new Promise<{ entry: object }[]>((resolve) => {
    const request = db.transaction('entries').objectStore('entries').getAll();
    request.onsuccess = () => resolve(request.result as { entry: object }[]);
  });
  db.close();
  return { count: rows.length, bytes: JSON.stringify(rows.map(({ entry }) => entry)).length };
}
