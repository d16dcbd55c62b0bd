/**
 * The built app with its stores failing on purpose, its tab crashed, closed, reloaded and put to sleep: nothing is shown
 * as recorded that is not, and what was recorded is there again.
 */
import { readFile } from 'node:fs/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Page } from 'playwright-core';
import { loadContent } from '../../content/catalog.ts';
import { fetchReleases } from '../../content/later.ts';
import { readCase } from '../../machines/case-file.ts';
import { readJson } from '../../src/read-json.ts';
import { launchChromium, startServer, type ChromiumEngine } from './harness.ts';
import { playerOn, type Player } from './player.ts';
import { patienceMs } from './rest.ts';

type DatabaseFault = 'refuses to open' | 'gives the write up' | 'has no room' | 'loses its connection';
interface Faults {
  database?: DatabaseFault;
  journal?: 'refuses';
}

let server: Awaited<ReturnType<typeof startServer>>;
let engine: ChromiumEngine | null;
let page: Page;
let nurse: Player;
const outcomes: string[] = [];

/** Runs in the page before anything else: makes the stores fail as long as `faults` says so. */
function breakable(): void {
  const faults: Faults = JSON.parse(sessionStorage.getItem('faults') ?? '{}') as Faults;
  Object.assign(globalThis, { faults });
  const open = IDBFactory.prototype.open;
  IDBFactory.prototype.open = function (...all) {
    if (faults.database === 'refuses to open') throw new DOMException('not allowed here', 'SecurityError');
    return open.apply(this, all);
  };
  const transaction = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (stores, mode, options) {
    const writes = mode === 'readwrite';
    if (writes && faults.database === 'loses its connection') this.close();
    const begun = transaction.call(this, stores, mode, options);
    if (writes && faults.database === 'gives the write up') setTimeout(() => begun.abort());
    return begun;
  };
  const add = IDBObjectStore.prototype.add;
  IDBObjectStore.prototype.add = function (...all) {
    if (faults.database === 'has no room') throw new DOMException('no room', 'QuotaExceededError');
    return add.apply(this, all);
  };
  // Told that nobody waits for the answer any more, the journal refuses the write.
  const post = Worker.prototype.postMessage as (message: unknown) => void;
  Worker.prototype.postMessage = function (message: unknown) {
    post.call(this, faults.journal ? { ...(message as object), until: 0 } : message);
  };
}

const setFaults = (faults: Faults) =>
  page.evaluate((now) => {
    const { faults: held } = globalThis as unknown as { faults: Faults };
    delete held.database;
    delete held.journal;
    Object.assign(held, now);
    sessionStorage.setItem('faults', JSON.stringify(now));
  }, faults);

beforeAll(async () => {
  await fetchReleases();
  server = await startServer();
  engine = await launchChromium();
  if (!engine) return;
  await engine.context.addInitScript(breakable);
  page = engine.page;
  nurse = playerOn(page);
  await engine.open(server.url);
  await nurse.beginDemo();
});
afterAll(async () => {
  console.log(outcomes.join('\n'));
  await engine?.close();
  await server?.close();
});

async function takeImage(): Promise<void> {
  await nurse.touch(/^More/);
  await nurse.touch(/^Clocks and images/);
  await nurse.touch(/^One image/);
}
const types = async () => (await nurse.stored()).map(({ type }) => type);

describe('one store failing', () => {
  it.for<Faults>([
    { database: 'gives the write up' },
    { database: 'has no room' },
    { database: 'loses its connection' },
    { journal: 'refuses' },
  ])('[Z14] %o: the other takes the entry, and the screen says "one copy only"', async (fault, task) => {
    if (!engine) return task.skip('skipped: not on this machine');
    const before = (await nurse.stored()).length;
    await setFaults(fault);
    await takeImage();
    await nurse.see('one copy only');
    await setFaults({});
    await takeImage();
    await page.getByText('one copy only').waitFor({ state: 'detached', timeout: patienceMs });
    expect((await types()).slice(before)).toEqual(['images', 'images']);
    outcomes.push(`${JSON.stringify(fault)}: recorded in one copy, said so; made up for with the next entry`);
  });
});

describe('both stores failing', () => {
  it.for<DatabaseFault>(['gives the write up', 'has no room', 'loses its connection'])(
    '[Z14] the database %s: stops in view, shows nothing as recorded, gives a file, and records once it can',
    async (database, task) => {
      if (!engine) return task.skip('skipped: not on this machine');
      const before = await nurse.stored();
      await setFaults({ database, journal: 'refuses' });
      await takeImage();
      await nurse.see('NOT SAVED');
      await setFaults({ journal: 'refuses' });
      expect(await nurse.stored()).toEqual(before);
      await setFaults({ database, journal: 'refuses' });

      const [download] = await Promise.all([page.waitForEvent('download'), nurse.touch('Keep it as a file')]);
      const json = readJson(await readFile(await download.path()));
      if ('faults' in json) throw new Error(JSON.stringify(json.faults));
      const reading = readCase(json.value, loadContent);
      if ('faults' in reading) throw new Error(JSON.stringify(reading.faults));
      expect(reading.file.entries.map(({ type }) => type)).toEqual([...before.map(({ type }) => type), 'images']);

      await nurse.touch('Try again');
      await nurse.see(/Tried again/);
      expect((await page.getByText('NOT SAVED').count()) > 0).toBe(true);

      await setFaults({});
      await expect
        .poll(
          async () => {
            if (await page.getByText('NOT SAVED').count()) await nurse.touch('Try again');
            return (await nurse.stored()).length;
          },
          { timeout: patienceMs, interval: 1000 },
        )
        .toBe(before.length + 1);
      await page.getByText('NOT SAVED').waitFor({ state: 'detached', timeout: patienceMs });
      outcomes.push(
        `both refuse, database ${database}: visible stop, file with the entry, recorded once after the fault`,
      );
    },
  );
});

describe('the window', () => {
  const resumed = async (how: string, before: unknown) => {
    await nurse.see(/now: turn it out/);
    expect(await nurse.stored()).toEqual(before);
    outcomes.push(`${how}: the case resumed with the move running, no entry lost`);
  };
  const anew = async () => {
    page = await (engine as ChromiumEngine).context.newPage();
    nurse = playerOn(page);
    await page.goto(server.url);
  };

  it('[Z14] crashed, closed, reloaded in the middle of a move, resumes it', async (task) => {
    if (!engine) return task.skip('skipped: not on this machine');
    await nurse.call('3');
    await nurse.touch(/Turn it out/);
    await nurse.see(/now: turn it out/);
    const before = await nurse.stored();

    const crashed = page.waitForEvent('crash');
    await Promise.all([crashed, page.goto('chrome://crash').catch(() => undefined)]);
    const dead = page;
    await anew();
    await dead.close();
    await resumed('tab crashed', before);

    await page.close({ runBeforeUnload: false });
    await anew();
    await resumed('window closed', before);

    await page.reload();
    await resumed('page reloaded', before);
  });

  it('[Z14] [Z4] asleep and awake again, says for how long nothing was shown, and takes the next entry', async (task) => {
    if (!engine) return task.skip('skipped: not on this machine');
    const before = await nurse.stored();
    await engine.sleep(5000);
    await nurse.see(/The screen stood still for \d+ s/);
    await nurse.touch(/slipped/i);
    await nurse.see('Stop turning and look again');
    expect((await nurse.stored()).slice(before.length).map(({ type }) => type)).toContain('move-ended');
    outcomes.push('stopped for 5 s: the gap is said, the next entry recorded');
  });

  it('[Z14] [Z1] started with a database that will not open, plays the case from the journal and says "one copy only"', async (task) => {
    if (!engine) return task.skip('skipped: not on this machine');
    await nurse.touch(/Looked again/);
    await nurse.see(/3\s*stripped/);
    const before = (await nurse.stored()).length;
    await setFaults({ database: 'refuses to open' });
    await page.reload();
    await nurse.see(/3\s*stripped/);
    await takeImage();
    await nurse.see('one copy only');
    await setFaults({});
    await page.reload();
    await nurse.see(/3\s*stripped/);
    await expect
      .poll(async () => (await types()).slice(before), { timeout: patienceMs })
      .toEqual(['resumed', 'images']);
    outcomes.push('database refuses to open at the start: played from the journal, made up for at the next start');
  });
});
