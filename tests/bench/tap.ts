/** A touch, until its entry is on disk in both copies and shown; beside it the same on a bare page. */
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { serve } from '../../src/tools/serve.mjs';
import { launchChromium, type ChromiumEngine } from '../browsers/harness.ts';
import { caseOf } from '../browsers/long-case.ts';
import { quiet, quietTime } from '../browsers/rest.ts';
import { store } from '../browsers/stored-case.ts';
import { seenBy, slowed, tapThrough, watched } from './page.ts';
import { median, quantile, ratio, spread, type Row } from './stats.ts';

const taps = 40;
const block = 10;
const [start, others, moving] = [/Turn it out/, /Something else/, /Moving, thread by thread/];

interface Target {
  page: Page;
  /** Waits until the next touch counts, does what has to be done before it, and says where it goes. */
  next: () => Promise<Place>;
}
type Place = { x: number; y: number };

async function middle(page: Page, name: RegExp | string): Promise<Place> {
  const box = await page.getByRole('button', { name }).first().boundingBox({ timeout: 20_000 });
  if (!box) throw new Error(`${String(name)} is not on the screen`);
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

/** The app with a case of so many entries open, its screw called and nothing running. */
async function appWith(engine: ChromiumEngine, url: string, entries: number): Promise<Target> {
  const { page } = engine;
  await watched(page);
  await page.goto(url);
  await page.locator('#app main').waitFor();
  await store(page, '2026.1', caseOf(entries, Date.now()));
  await page.reload();
  await page.getByRole('button', { name: start }).first().waitFor({ timeout: 20_000 });
  // Looking for a touch by its name costs the page as much as drawing it: each is looked for once.
  const places = new Map<RegExp, Place>();
  const place = async (name: RegExp) => {
    const known = places.get(name) ?? (await middle(page, name));
    places.set(name, known);
    return known;
  };
  let running = false;
  const next = async () => {
    await quietTime(page);
    running = !running;
    if (running) return place(start);
    const { x, y } = await place(others);
    await page.touchscreen.tap(x, y);
    await quietTime(page);
    return place(moving);
  };
  return { page, next };
}

async function floorPage(engine: ChromiumEngine, url: string): Promise<Target> {
  const page = await engine.context.newPage();
  await watched(page);
  await page.goto(url);
  const place = await middle(page, 'Tap');
  const next = () => page.evaluate(quiet, 150).then(() => place);
  return { page, next };
}

/**
 * @param folder holds the built `app` and `floor`
 * @returns no rows where there is no Chromium
 */
export async function tapRows(folder: string): Promise<Row[]> {
  const engine = await launchChromium();
  if (!engine) return [];
  const [app, floor] = await Promise.all([serve(join(folder, 'app'), 0), serve(join(folder, 'floor'), 0)]);
  const rows: Row[] = [];
  try {
    const targets = [await appWith(engine, app.url, 500), await floorPage(engine, floor.url)] as const;
    const sessions = await Promise.all(targets.map(({ page }) => slowed(page, 1)));
    for (const rate of [1, 4, 6]) {
      for (const session of sessions) await session.send('Emulation.setCPUThrottlingRate', { rate });
      const times: [number[], number[]] = [[], []];
      let long: number[] = [];
      for (let done = -block; done < taps; done += block)
        for (const [i, target] of targets.entries()) {
          await target.page.bringToFront();
          const before = await seenBy(target.page);
          for (let tap = 0; tap < block; tap++) await tapThrough(target.page, await target.next());
          const after = await seenBy(target.page);
          if (done >= 0) times[i]?.push(...after.taps.slice(before.taps.length));
          if (i === 0) long = [...long, ...after.long.slice(before.long.length)];
        }
      rows.push(...rowsOf(rate, times, long));
    }
  } finally {
    await engine.close();
    await Promise.all([app.close(), floor.close()]);
  }
  return rows;
}

function rowsOf(rate: number, [app, floor]: [number[], number[]], long: readonly number[]): Row[] {
  const late = [app, floor].map((times) => quantile(times, 0.99)) as [number, number];
  const at = `processor ${rate}×`;
  return [
    {
      what: `touch → on disk twice and shown, ${at}, 500 entries`,
      measured: spread(app, 'ms'),
      against: `${spread(floor, 'ms')}: bare page, one strict write, 30 rows`,
      ratio: ratio(median(app), median(floor)),
      goal: '≤ 1.3',
    },
    {
      what: `the same, 99th of 100, ${at}`,
      measured: `${late[0].toFixed(1)} ms`,
      against: `${late[1].toFixed(1)} ms`,
      ratio: ratio(late[0], late[1]),
      goal: '≤ 1.5',
    },
    {
      what: `tasks over 50 ms in ${app.length + block} touches, ${at}`,
      measured: long.length ? `${long.length}, longest ${Math.max(...long).toFixed(0)} ms` : 'none',
      against: '–',
      ratio: '–',
      goal: rate === 6 ? 'none' : 'stated',
    },
  ];
}
