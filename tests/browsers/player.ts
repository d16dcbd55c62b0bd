/** Plays the built app as the nurse does: one touch on one named target at a time, and counts them. */
import type { Locator, Page } from 'playwright-core';
import { firstCase } from './first-case.ts';
import { atRest, demoPlan, patienceMs, quietTime } from './rest.ts';

export interface Player {
  /** Touches so far. */
  touches: number;
  /** Touches the first target whose spoken name fits. Fails when there is none, naming what there is. */
  touch(name: RegExp | string): Promise<void>;
  /** Calls a screw on the map; where the map has no touch for it, by way of all screws. */
  call(screw: string): Promise<void>;
  /** Opens the demo case from the case list, as far as its plan. */
  openDemo(): Promise<void>;
  /** The same case by the release in use, brought in as a file and opened as far as its plan. */
  openFirst(): Promise<void>;
  /** The next page of the moves, by the touch at the foot. */
  turnPage(): Promise<void>;
  /** Begins the work of the case whose plan stands on the screen. */
  begin(): Promise<void>;
  beginDemo(): Promise<void>;
  /** Waits until words stand on the screen. */
  see(words: RegExp | string): Promise<void>;
  /** Waits until the whole plan of the demo case is on disk, and the screen has come to rest behind it. */
  settled(): Promise<void>;
  /** All that the page says. */
  text(): Promise<string>;
  /** Entries of the open case, as they lie in the browser's database. */
  stored(): Promise<Stored[]>;
}

export interface Stored {
  n: number;
  type: string;
  at: string;
  logged: string;
  seal: string;
  [field: string]: unknown;
}

/**
 * Where a touch stands once the page has come to rest. What was drawn anew meanwhile is looked for once more, as an eye
 * would; null when it has no place then either.
 */
async function placeOf(target: Locator, page: Page) {
  for (let looks = 0; ; looks++) {
    try {
      await target.scrollIntoViewIfNeeded({ timeout: 10_000 });
      await quietTime(page);
      const box = await target.boundingBox({ timeout: 10_000 });
      if (box || looks === 2) return box;
    } catch (error) {
      if (looks === 2) throw error;
    }
  }
}

export function playerOn(page: Page): Player {
  const player: Player = {
    touches: 0,
    async touch(name) {
      const target = page.getByRole('button', { name }).first();
      try {
        await target.waitFor({ timeout: patienceMs });
      } catch {
        const there = (await page.getByRole('button').allInnerTexts()).map((text) => text.replaceAll('\n', ' / '));
        throw new Error(`no touch "${String(name)}"; there are: ${there.join(' | ')}`);
      }
      const box = await placeOf(target, page);
      if (!box) throw new Error(`"${String(name)}" has no place on the screen`);
      await page.touchscreen.tap(box.x + box.width / 2, box.y + box.height / 2);
      player.touches += 1;
    },
    async call(screw) {
      const name = new RegExp(`^${screw} .*: screw`);
      if ((await page.getByRole('button', { name }).count()) === 0) await player.touch(/^All \d+ screws/);
      await player.touch(name);
    },
    async openDemo() {
      await player.touch(/Demo case|Beispielfall/);
      await player.settled();
    },
    async openFirst() {
      await player.touch(/Bring in a case file|Falldatei/);
      await page.setInputFiles('input[type=file]', firstCase());
      await player.touch(/^(Open it|Öffnen)/);
      await player.settled();
    },
    async turnPage() {
      const isMore = (await page.getByRole('button', { name: /^Moves? \d/ }).count()) > 0;
      await player.touch(isMore ? /^Moves? \d/ : /^(Closed moves|First moves)/);
    },
    async begin() {
      await player.touch(/^(Start|Beginn)/);
      await player.touch(/Start work|Arbeit beginnen/);
      await player.see(/Call a screw|Schraube aufrufen/);
    },
    async beginDemo() {
      await player.openDemo();
      await player.begin();
    },
    see: (words) => page.getByText(words).first().waitFor({ timeout: patienceMs }),
    async settled() {
      for (const end = Date.now() + patienceMs; (await player.stored()).length < demoPlan; await atRest(page, 5))
        if (Date.now() > end) throw new Error('the plan of the demo case never came to be on disk');
      await atRest(page);
    },
    text: () => page.evaluate(() => document.body.innerText),
    stored: () => page.evaluate(readDatabase),
  };
  return player;
}

/** Runs in the page: every object in the database that looks like an entry, in order. */
export async function readDatabase(): Promise<Stored[]> {
  const database = await new Promise<IDBDatabase>((resolve, reject) => {
    const opening = indexedDB.open('counterturn');
    opening.onsuccess = () => resolve(opening.result);
    opening.onerror = () => reject(opening.error ?? new Error('given up without a reason'));
  });
  const found: Stored[] = [];
  for (const name of database.objectStoreNames) {
    const rows = await new Promise<unknown[]>((resolve, reject) => {
      const request = database.transaction(name).objectStore(name).getAll();
      request.onsuccess = () => resolve(request.result as unknown[]);
      request.onerror = () => reject(request.error ?? new Error('given up without a reason'));
    });
    // A row may hold the entries that follow its own: after a minute the app gathers them so.
    const held = rows.flatMap((row) => {
      const { entry = row, more = [] } = row as { entry?: unknown; more?: unknown[] };
      return [entry, ...more] as Partial<Stored>[];
    });
    found.push(...(held.filter(({ n, type }) => typeof n === 'number' && typeof type === 'string') as Stored[]));
  }
  database.close();
  return found.sort((a, b) => a.n - b.n);
}
