/**
 * What a start needs before a long case stands on its table, and its ceiling. Counted in a real browser: every script,
 * style sheet and word list that the page does not name itself is held back until the table stands, so that a file which
 * the start came to need would keep it from standing, whatever a list of the build says.
 */
import { readFileSync, readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { currentVersion } from '../../content/releases/index.ts';
import { caseOf } from './long-case.ts';
import { store } from './stored-case.ts';
import { launchChromium, startServer, type ChromiumEngine } from './harness.ts';

/** kB, gzip: scripts (the journal's thread among them), style and content for a case of 500 entries, in English. */
const measured = 162.9;
/** What may be added before somebody has to look at it and write another figure above. */
const leeway = 5;
/** What a start may cost at all, kB. */
const most = 168;

const root = resolve(import.meta.dirname, '../..');
const page = readFileSync(join(root, 'dist/index.html'), 'utf8');
const words = readdirSync(join(root, 'content/words/en')).map(
  (file) => JSON.parse(readFileSync(join(root, 'content/words/en', file), 'utf8')) as Record<string, string>,
);
const word = Object.assign({}, ...words) as Record<string, string>;
const isCounted = (path: string) => /^assets\/.*\.(?:js|css|json)$/.test(path);
const isHeld = (path: string) => isCounted(path) && !page.includes(path) && !path.includes('.worker-');

let server: Awaited<ReturnType<typeof startServer>>;
let engine: ChromiumEngine | null;
const asked = new Set<string>();
const held: string[] = [];
const failed: string[] = [];
let release = () => {};

beforeAll(async () => {
  server = await startServer();
  engine = await launchChromium();
  if (!engine) return;
  // Nothing is installed, so that every file is asked of the server.
  await engine.page.addInitScript("navigator.serviceWorker.register = () => Promise.reject(new Error('not here'))");
  await engine.open(server.url);
  await engine.page.locator('#app main').waitFor();
  await store(engine.page, currentVersion, caseOf(500, Date.now()));
  const open = new Promise<void>((done) => (release = done));
  await engine.page.route('**/*', async (route) => {
    const path = new URL(route.request().url()).pathname.slice(1);
    asked.add(path);
    if (isHeld(path)) {
      held.push(path);
      await open;
    }
    await route.continue();
  });
  engine.page.on('pageerror', (error) => failed.push(error.message));
  await engine.page.reload();
  await engine.page.locator('.table-said').waitFor();
});
afterAll(async () => {
  release();
  await engine?.close();
  await server?.close();
});

describe('a long case resumed before anything else has come', () => {
  it('stands on its table, in words', async (test) => {
    if (!engine) return test.skip();
    const text = await engine.page.locator('#app').innerText();
    const shown = text.split(/\s+/);
    expect(Object.keys(word).filter((key) => shown.includes(key))).toEqual([]);
    expect(text).toContain(word['table.more']);
  });

  it(`needs no more than ${measured} kB, and ${leeway} to grow`, async (test) => {
    if (!engine) return test.skip();
    const needed = [...asked].filter((path) => isCounted(path) && !held.includes(path));
    expect(needed.filter((path) => path.endsWith('.js')).length).toBeGreaterThan(0);
    const bytes = needed.map((path) => gzipSync(readFileSync(join(root, 'dist', path)), { level: 9 }).length);
    const total = bytes.reduce((sum, size) => sum + size, 0) / 1000;
    expect(total, `${needed.join(', ')}: ${total.toFixed(1)} kB`).toBeLessThanOrEqual(
      Math.min(most, measured + leeway),
    );
    // A figure that has become far too high would let anything in.
    expect(total).toBeGreaterThan(measured - leeway);
  });

  it('answers a touch on what has not come with a word, and with the thing itself once it is there', async (test) => {
    if (!engine) return test.skip();
    await expect.poll(() => held.length).toBeGreaterThan(0);
    await engine.page.getByRole('button', { name: word['table.more'] as string, exact: true }).tap();
    await engine.page.locator('.later', { hasText: word['later.coming'] as string }).waitFor();
    release();
    await engine.page.locator('.table-sheet .menu').waitFor();
    expect(await engine.page.locator('.later').count()).toBe(0);
    expect(failed).toEqual([]);
  });
});
