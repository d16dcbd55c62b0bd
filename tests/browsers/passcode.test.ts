/** A passcode on the built app: encrypted stores, a restart in the middle of a case, the lock screen, a backup. */
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium, launchFirefox, startServer, type ChromiumEngine } from './harness.ts';
import { playerOn, type Player } from './player.ts';
import { demoPlan, patienceMs, rest } from './rest.ts';

const passcode = 'four plain words here';
/** What stands in the entries of the demo case. */
const telling = ['INVENTED', 'tibia', 'screw-listed', 'case-opened', 'move-started', '"logged"', 'locking', '2026.2'];

/** Runs in the page: everything that both stores hold, as text, and how many entries. */
async function lying(): Promise<{ database: string; journal: string; rows: number; kept: boolean }> {
  const all = (name: string) =>
    new Promise<[string, unknown[]][]>((resolve, reject) => {
      const opening = indexedDB.open(name);
      opening.onerror = () => reject(opening.error ?? new Error('given up without a reason'));
      opening.onsuccess = () => {
        const db = opening.result;
        const stores = [...db.objectStoreNames];
        if (stores.length === 0) return resolve([]);
        const tx = db.transaction(stores);
        const reads = stores.map((store) => [store, tx.objectStore(store).getAll()] as const);
        tx.oncomplete = () => {
          db.close();
          resolve(reads.map(([store, read]) => [store, read.result as unknown[]]));
        };
      };
    });
  const rows = await all('counterturn');
  const vault = await all('counterturn-vault');
  const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle('counterturn-log');
  const files = await Promise.all(
    ['a.jsonl', 'b.jsonl'].map(async (name) => (await (await folder.getFileHandle(name)).getFile()).text()),
  );
  return {
    database: JSON.stringify(rows),
    journal: files.join(''),
    rows: rows.find(([store]) => store === 'entries')?.[1].length ?? 0,
    kept: vault.some(([, values]) => values.some((value) => (value as { caseId?: string }).caseId !== undefined)),
  };
}
const until = async <T>(read: () => Promise<T>, right: (value: T) => boolean, what: string): Promise<T> => {
  for (const end = Date.now() + patienceMs; ; await new Promise((wake) => setTimeout(wake, 200))) {
    const value = await read();
    if (right(value)) return value;
    if (Date.now() > end) throw new Error(`${what}: still ${JSON.stringify(value).slice(0, 300)}`);
  }
};
/** The whole demo plan is on disk, and the screen has come to rest behind it. */
async function planned(read: () => Promise<{ rows: number; kept: boolean }>, settle: () => Promise<void>) {
  // A journal that is written to just then cannot be read.
  const looked = () => read().catch(() => ({ rows: 0, kept: false }));
  await until(looked, ({ rows, kept }) => rows >= demoPlan && kept, 'the plan is on disk');
  await settle();
}
const encrypted = ({ database, journal }: { database: string; journal: string }) => {
  for (const [name, text] of Object.entries({ database, journal })) {
    expect(text, name).toContain('"box":"');
    for (const words of telling) expect(text, `${name}: ${words}`).not.toContain(words);
  }
};
const asked = (page: Page) => page.locator('input[type=password]').count();

let server: Awaited<ReturnType<typeof startServer>>;
let profile: string;
let engine: ChromiumEngine | null;
let nurse: Player;
const requests: string[] = [];

/** Starts the browser on the same profile again. */
async function restart(how: 'killed' | 'first' = 'killed') {
  if (how === 'killed') await engine?.kill();
  engine = await launchChromium({ userDataDir: profile });
  if (!engine) return;
  await engine.open(server.url);
  nurse = playerOn(engine.page);
}
beforeAll(async () => {
  server = await startServer();
  profile = await mkdtemp(join(tmpdir(), 'counterturn-passcode-'));
  await restart('first');
});
afterAll(async () => {
  await engine?.close();
  await server?.close();
  await rm(profile, { recursive: true, force: true, maxRetries: 10, retryDelay: 300 });
});

describe('a passcode in Chromium', () => {
  it('[Z22] is set before the first case, and every entry lies encrypted in both stores', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    const { page } = engine;
    await nurse.touch(/^Settings/);
    await nurse.touch('Privacy');
    await nurse.touch('Set a passcode');
    await nurse.see(/Nobody can look a forgotten passcode up/);
    await page.getByLabel('New passcode').fill(passcode);
    await page.getByLabel('The same again').fill(passcode);
    await nurse.touch(/^Set it/);
    await page.getByText('The passcode is set.').waitFor({ timeout: patienceMs });
    await nurse.touch(/^Cases/);
    await nurse.touch(/^Demo case/);
    await planned(
      () => page.evaluate(lying),
      () => page.evaluate(rest, 20),
    );
    await nurse.touch(/^Start/);
    await nurse.touch(/Start work/);
    await nurse.see('Call a screw');
    await nurse.call('3');
    await nurse.see(/3\s*seated/);
    await nurse.touch(/Turn it out/);
    await nurse.see(/now: turn it out/);
    const { rows, kept, ...texts } = await page.evaluate(lying);
    expect(rows).toBeGreaterThan(35);
    expect(kept).toBe(true);
    encrypted(texts);
  });

  it('[Z14] [Z23] killed in the middle of the case, resumes it with nothing asked and nothing lost', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    const before = await engine.page.evaluate(lying);
    await restart();
    await nurse.see(/now: turn it out/);
    expect(await asked(engine.page)).toBe(0);
    expect((await engine.page.evaluate(lying)).rows).toBe(before.rows);
    await nurse.touch(/slipped/i);
    await nurse.see('Stop turning and look again');
    const after = await engine.page.evaluate(lying);
    // The outcome, and before it that nobody has confirmed how long the case lay.
    expect(after.rows).toBe(before.rows + 2);
    encrypted(after);
  });

  it('[Z25] shows the case on the wall with nothing asked there either', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    const wall = await engine.context.newPage();
    await wall.goto(`${server.url}#wall`);
    await wall
      .getByText(/Stop turning|look again|stop/i)
      .first()
      .waitFor({ timeout: patienceMs });
    expect(await asked(wall)).toBe(0);
    await wall.close();
  });

  it('[Z22] asks once the case is put away, shows nothing of it till then, and tells how long it took', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    await nurse.touch(/^More/);
    await nurse.touch('Plan and tools');
    await nurse.touch('Cases');
    await nurse.touch(/^more about/);
    await nurse.touch(/Put the open case away/);
    await until(
      () => engine!.page.evaluate(lying),
      ({ kept }) => !kept,
      'the key of the case is gone',
    );
    await restart();
    await nurse.see('The cases on this device are encrypted.');
    expect(await nurse.text()).not.toMatch(/INVENTED:|tibia|LEFT/);
    const { page } = engine;
    // The app's own parts come out of the service worker, at any time after the start: they ask no network.
    page.on('response', (response) => void (response.fromServiceWorker() || requests.push(response.url())));
    page.on('requestfailed', (request) => requests.push(request.url()));
    await page.getByLabel('Passcode').fill('not the passcode');
    await nurse.touch(/^Unlock/);
    await page.getByText(/That was not it/).waitFor({ timeout: patienceMs });
    await page.getByLabel('Passcode').fill(passcode);
    await until(
      () => page.getByRole('button', { name: /^Unlock$/ }).count(),
      (count) => count === 1,
      'the wait is over',
    );
    await nurse.touch(/^Unlock/);
    const start = performance.now();
    await page.locator('.lock').waitFor({ state: 'detached', timeout: patienceMs });
    console.log(`time to unlock in Chromium: ${Math.round(performance.now() - start)} ms`);
    await nurse.see('Stop turning and look again');
    expect(requests.filter((url) => !url.includes('/assets/argon2.worker'))).toEqual([]);
  });

  it('[Z22] saves all cases as one encrypted file', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    const { page } = engine;
    await nurse.touch(/^More/);
    await nurse.touch('Plan and tools');
    await nurse.touch('Cases');
    await nurse.touch(/^Data on this device/);
    const coming = page.waitForEvent('download');
    await nurse.touch(/^Save all cases as one file/);
    const file = await readFile(await (await coming).path(), 'utf8');
    expect(file).toMatch(/^\{"format":"counterturn-backup","formatVersion":1/);
    expect(file.trimEnd().split('\n')).toHaveLength(2);
    for (const words of telling) expect(file).not.toContain(words);
  });
});

it('[Z22] Firefox encrypts both stores too, resumes a case without asking, and locks once it is put away', async (test) => {
  const firefox = await launchFirefox();
  if (!firefox) return test.skip('Firefox skipped: not on this machine');
  const { page } = firefox;
  const press = async (name: string) => {
    // So many frames without a change are longer than the time in which the app takes no second touch.
    await page.evaluate(rest, 30);
    await until(
      () =>
        page.evaluate((wanted) => {
          const fits = (one: HTMLButtonElement) => (one.ariaLabel ?? one.innerText).trim().startsWith(wanted);
          const found = [...document.querySelectorAll('button')].find(fits);
          if (!found || found.ariaDisabled === 'true') return false;
          found.click();
          return true;
        }, name),
      (done) => done,
      `touch ${name}`,
    );
  };
  /** A list that has just moved takes no touch, on purpose: a nurse touches again where nothing came of it. */
  const reach = async (name: string, next: string) => {
    const come = () =>
      page.evaluate((wanted) => {
        const named = (one: HTMLButtonElement) => (one.ariaLabel ?? one.innerText).trim().startsWith(wanted);
        return [...document.querySelectorAll('button')].some(named);
      }, next);
    for (const end = Date.now() + patienceMs; !(await come());) {
      if (Date.now() > end) throw new Error(`${next} does not come after ${name}`);
      await press(name);
      for (let look = 0; look < 10 && !(await come()); look++) await page.evaluate(rest, 20);
    }
  };
  const words = (text: string) =>
    until(
      () => page.evaluate(() => document.body.innerText),
      (all) => all.includes(text),
      text,
    );
  const type = async () => {
    for (const field of await page.$$('input[type=password]')) await field.type(passcode);
  };
  try {
    await firefox.open(server.url);
    await reach('Settings', 'Privacy');
    await reach('Privacy', 'Set a passcode');
    await press('Set a passcode');
    await type();
    await press('Set it');
    await words('The passcode is set.');
    await reach('Cases', 'Demo case');
    await press('Demo case');
    await words('8 screws');
    await planned(
      () => page.evaluate(lying),
      () => page.evaluate(rest, 20),
    );
    await page.reload();
    await words('8 screws');
    encrypted(await page.evaluate(lying));
    await reach('Cases', 'more about');
    await reach('more about', 'Put the open case away');
    await press('Put the open case away');
    await until(
      () => page.evaluate(lying),
      ({ kept }) => !kept,
      'the key of the case is gone',
    );
    await page.reload();
    await words('The cases on this device are encrypted.');
    await type();
    const start = performance.now();
    await press('Unlock');
    await words('8 screws');
    console.log(`time to unlock in Firefox: ${Math.round(performance.now() - start)} ms`);
  } finally {
    await firefox.close();
  }
});
