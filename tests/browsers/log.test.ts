import { mkdtemp, readdir, rm, stat, truncate } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { findChromium } from '../../src/tools/engines.mjs';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { absent, type ChromiumEngine, type Engine, launchChromium, launchFirefox, launchWebKit } from './harness.ts';
import { type LogPage, serveLogPage } from './log-page.ts';
import type { logPage } from './pages/log.ts';

type Started = Awaited<ReturnType<typeof logPage.start>>;
type Results = Awaited<ReturnType<typeof logPage.write>>;

let site: LogPage;
beforeAll(async () => (site = await serveLogPage()));
afterAll(() => site.close());

const withFiles = ['--features=+StorageAPI,+StorageAPIEstimate,+FileSystem,+AccessHandle'];
const engines: [Engine['name'], () => Promise<Engine | null>][] = [
  ['Chromium', launchChromium],
  ['Firefox', launchFirefox],
  ['WebKit', () => launchWebKit({ args: withFiles })],
];

describe.each(engines)('the log in %s', (name, launch) => {
  let engine: Engine | null = null;
  beforeAll(async () => {
    engine = await launch();
    await engine?.open(site.url);
  });
  afterAll(() => engine?.close());

  it.for(['database', 'gathered', 'journal', 'both'] as const)(
    '[Z14] %s: keeps every rule of the log',
    async (kind, task) => {
      if (!engine) return task.skip('skipped: not on this machine');
      if ((kind === 'journal' || kind === 'both') && !(await engine.evaluate('logPage.hasFiles()'))) {
        // WebKitGTK has no synchronous file access: the log must go on with one copy, and say so at every entry.
        expect(name).toBe('WebKit');
        const started = (await engine.evaluate('logPage.start()')) as Started;
        expect(started.report.refused).toEqual([
          { copy: 'journal', reason: { code: 'other', detail: expect.stringMatching(/./) } },
        ]);
        const results = (await engine.evaluate(`logPage.write('${kind}', 3)`)) as Results;
        expect(results).toHaveLength(4);
        for (const result of results) expect(result).toMatchObject({ ok: true, copies: 1, missing: 'journal' });
        return console.info(
          `${name}: no file access for a journal, one copy only: ${started.report.refused[0]?.reason.code}`,
        );
      }
      const results = (await engine.evaluate(`logPage.acceptance('${kind}')`)) as { name: string; error?: string }[];
      expect(results.filter((result) => result.error)).toEqual([]);
      expect(results.length).toBeGreaterThan(5);
    },
  );
});

describe('a torn database log, in Chromium', () => {
  it.for([1, 10])('[Z14] by %i bytes: loses no recorded entry, one start and two starts later', async (cut, task) => {
    if (!findChromium()) return task.skip(`Chromium: ${absent('Chromium') ?? 'not on this machine'}`);
    const profile = await mkdtemp(join(tmpdir(), 'counterturn-profile-'));
    const session = async <T>(work: (engine: ChromiumEngine, started: Started) => Promise<T>): Promise<T> => {
      const engine = await launchChromium({ userDataDir: profile });
      if (!engine) throw new Error('Chromium did not start');
      await engine.open(site.url);
      return work(engine, (await engine.evaluate('logPage.start()')) as Started).finally(() => engine.close());
    };
    const writeBoth = async (engine: ChromiumEngine, caseId: string, count: number) =>
      expect(
        ((await engine.evaluate(`logPage.write('${caseId}', ${count})`)) as Results).every(
          (r) => r.ok && r.copies === 2,
        ),
      ).toBe(true);

    await session((engine) => writeBoth(engine, 'one', 50));
    const { file, size } = await databaseLog(profile);
    await truncate(file, size - cut);

    await session(async (engine, { held }) => {
      expect(held).toEqual({ one: 50 });
      await writeBoth(engine, 'one', 10);
      await writeBoth(engine, 'two', 5);
    });
    await session(async (engine, { held, report }) => {
      const lost = report.restored.filter((r) => r.from === 'journal').reduce((sum, r) => sum + r.entries, 0);
      console.info(`log torn by ${cut}: 65 entries recorded, ${lost} gone from the database, ${65 - total(held)} lost`);
      expect(held).toEqual({ one: 60, two: 5 });
      expect(report.restored.filter((r) => r.from === 'database')).toEqual([]);
      expect(await engine.evaluate('logPage.eachCopy()')).toEqual({ database: held, journal: held });
    });
    await rm(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  });
});

describe('faults, in Chromium', () => {
  let engine: ChromiumEngine | null = null;
  let page: ChromiumEngine['page'];
  let stores = 0;
  beforeAll(async () => void (engine = await launchChromium()));
  afterAll(() => engine?.close());
  /** Each test has stores and a page of its own, in the one browser. */
  beforeEach(async (task) => {
    if (!engine) return task.skip('skipped: not on this machine');
    stores++;
    page = await engine.context.newPage();
  });
  afterEach(() => page?.close());

  /** Loads the page anew, as after a crash: a new worker, new connections. */
  async function start(prepare?: (page: ChromiumEngine['page']) => Promise<unknown>): Promise<Started> {
    await page.close();
    page = await (engine as ChromiumEngine).context.newPage();
    await prepare?.(page);
    await page.goto(`${site.url}?stores=test-${stores}`);
    return page.evaluate<Started>('logPage.start()');
  }
  const write = (caseId: string, count: number, text = 'x') =>
    page.evaluate<Results>(`logPage.write('${caseId}', ${count}, '${text}')`);
  const eachCopy = () => page.evaluate('logPage.eachCopy()');

  it.each([1, 10, 300])('[Z14] a journal torn by %i bytes is cut, told, and healed from the database', async (cut) => {
    await start();
    await write('one', 20);
    await page.evaluate(`logPage.damageJournal({ cut: ${cut} })`);
    const second = await start();
    expect(second.held).toEqual({ one: 20 });
    expect(second.report.damaged).toEqual([
      { copy: 'journal', what: { code: 'line-damaged', bytes: expect.any(Number) } },
    ]);
    expect(second.report.restored).toEqual([{ caseId: 'one', entries: cut > 250 ? 2 : 1, from: 'database' }]);
    await write('one', 5);
    const third = await start();
    expect([third.held, third.report.damaged, third.report.restored]).toEqual([{ one: 25 }, [], []]);
  });

  it('[Z14] a byte changed in the middle of the journal is told, and healed from the database', async () => {
    await start();
    await write('one', 20);
    await page.evaluate('logPage.damageJournal({ at: 2000 })');
    const second = await start();
    expect(second.held).toEqual({ one: 20 });
    expect(second.report.damaged).toEqual([
      { copy: 'journal', what: { code: 'lines-unreadable', lines: [expect.any(Number)] } },
    ]);
    expect(second.report.restored).toEqual([{ caseId: 'one', entries: 1, from: 'database' }]);
    expect(await eachCopy()).toEqual({ database: { one: 20 }, journal: { one: 20 } });
  });

  it.each(['database', 'journal'] as const)('[Z14] an emptied %s is filled again from the other copy', async (copy) => {
    await start();
    await write('one', 20);
    await page.evaluate(`logPage.empty('${copy}')`);
    const second = await start();
    expect(second.held).toEqual({ one: 20 });
    expect(second.report.restored).toEqual([
      { caseId: 'one', entries: 20, from: copy === 'database' ? 'journal' : 'database' },
    ]);
    expect(await eachCopy()).toEqual({ database: { one: 20 }, journal: { one: 20 } });
  });

  const refusals: Record<'database' | 'journal', (page: ChromiumEngine['page']) => Promise<unknown>> = {
    database: (page) =>
      page.addInitScript(() => {
        IDBFactory.prototype.open = () => {
          throw new DOMException('refused for this test', 'SecurityError');
        };
      }),
    journal: (page) =>
      page.route(/journal\.worker.*\.js/, async (route) => {
        const response = await route.fetch();
        const refusal = `navigator.storage.getDirectory = () => Promise.reject(new DOMException('refused for this test', 'SecurityError'));\n`;
        await route.fulfill({ response, body: refusal + (await response.text()) });
      }),
  };
  it.each(['database', 'journal'] as const)(
    '[Z14] a browser that refuses the %s records one copy and says so; the next start makes two of it',
    async (copy) => {
      await start();
      await write('one', 5);
      const second = await start(refusals[copy]);
      expect(second.report.refused).toEqual([
        { copy, reason: { code: 'not-allowed', detail: expect.stringContaining('refused for this test') } },
      ]);
      const [result] = await write('one', 1);
      expect(result).toEqual({
        ok: true,
        copies: 1,
        missing: copy,
        reason: { code: 'not-allowed', detail: expect.stringContaining('refused for this test') },
      });
      const third = await start();
      expect(third.report.restored).toEqual([
        { caseId: 'one', entries: 1, from: copy === 'database' ? 'journal' : 'database' },
      ]);
      expect(await eachCopy()).toEqual({ database: { one: 6 }, journal: { one: 6 } });
    },
  );

  it.each(['database', 'journal'] as const)(
    '[Z14] when the copies disagree, the longer chain (%s) is kept and the other set aside, told',
    async (copy) => {
      await start();
      await write('one', 5);
      await page.evaluate('logPage.close()');
      await page.evaluate(`logPage.branch('${copy}', 'one', 3, 'kept')`);
      await page.evaluate(`logPage.branch('${copy === 'database' ? 'journal' : 'database'}', 'one', 2, 'aside')`);
      const second = await start();
      expect(second.held).toEqual({ one: 8 });
      const aside = [6, 7].map((n) => ({ n, text: 'aside' }));
      expect(second.report.disagreements).toMatchObject([{ caseId: 'one', n: 6, kept: copy, quarantined: aside }]);
      const third = await start();
      expect([third.held, third.report.disagreements, third.report.quarantined.length]).toEqual([{ one: 8 }, [], 2]);
    },
  );

  it('[Z22] a wiped case stays wiped, even when either copy loses its tombstone', async () => {
    await start();
    await write('one', 5);
    await write('two', 5);
    await page.evaluate(`logPage.remove('one')`);
    for (const copy of ['database', 'journal', 'database'] as const) {
      expect((await start()).held).toEqual({ two: 5 });
      await page.evaluate(`logPage.empty('${copy}')`);
    }
    expect((await start()).held).toEqual({ two: 5 });
    expect((await write('one', 1))[0]?.ok).toBe(false);
  });

  it('[Z25] a second window that only follows reads everything and changes nothing', async () => {
    await start();
    await write('one', 5);
    const second = await (engine as ChromiumEngine).context.newPage();
    await second.goto(page.url());
    const seen = await second.evaluate<Started>('logPage.start({ writer: false })');
    await second.close();
    expect([seen.held, seen.report.refused]).toEqual([{ one: 5 }, []]);
    expect((await write('one', 1)).at(-1)).toEqual({ ok: true, copies: 2 });
  });

  it('[Z25] of two windows one may write, and the other once the first is gone', async () => {
    await start();
    const second = await (engine as ChromiumEngine).context.newPage();
    await second.goto(page.url());
    expect(await page.evaluate('logPage.claim()')).toBe(true);
    expect(await second.evaluate('logPage.claim()')).toBe(false);
    await page.close();
    expect(await second.evaluate('logPage.claim()')).toBe(true);
    await second.close();
  });

  it('[Z14] a used-up quota is said so, and what is recorded stays readable', async () => {
    const quota = async (quotaSize?: number) => {
      const session = await (engine as ChromiumEngine).context.newCDPSession(page);
      await session.send('Storage.overrideQuotaForOrigin', {
        origin: new URL(site.url).origin,
        ...(quotaSize && { quotaSize }),
      });
    };
    await start(() => quota(3_000_000));
    const results = await write('one', 60, 'x'.repeat(64_000));
    const [both, one] = [2, 1].map((copies) => results.slice(1).filter((r) => r.ok && r.copies === copies).length) as [
      number,
      number,
    ];
    console.info(
      `quota used up: ${both} entries in both copies, ${one} in one copy and said so, ${60 - both - one} refused`,
    );
    const refused = results.find((r) => !r.ok || r.copies === 1);
    expect(JSON.stringify(refused)).toContain('"no-room"');
    expect(both).toBeGreaterThan(5);
    expect(both).toBeLessThan(60);
    expect((await start()).held).toEqual({ one: both + one });
    await quota();
  });
});

/** The largest LevelDB log of the page's own databases in a Chromium profile. */
async function databaseLog(profile: string) {
  const folder = join(profile, 'Default', 'IndexedDB', `http_localhost_${site.port}.indexeddb.leveldb`);
  const logs = (await readdir(folder)).filter((file) => file.endsWith('.log')).map((file) => join(folder, file));
  const sizes = await Promise.all(logs.map(async (file) => (await stat(file)).size));
  return { file: logs[sizes.indexOf(Math.max(...sizes))] as string, size: Math.max(...sizes) };
}

const total = (held: Record<string, number>) => Object.values(held).reduce((a, b) => a + b, 0);
