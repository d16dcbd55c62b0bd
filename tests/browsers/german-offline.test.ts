/** The built app, loaded once in English, then without a network in German: its words come with the install. */
import { readFileSync, readdirSync } from 'node:fs';
import { resolve } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { launchChromium, startServer, type ChromiumEngine } from './harness.ts';
import { playerOn } from './player.ts';

const folder = (language: string) => resolve(import.meta.dirname, '../../content/words', language);
const messagesOf = (language: string) =>
  Object.assign(
    {},
    ...readdirSync(folder(language))
      .filter((file) => file.endsWith('.json'))
      .map((file) => JSON.parse(readFileSync(resolve(folder(language), file), 'utf8')) as object),
  ) as Record<string, string>;

let server: Awaited<ReturnType<typeof startServer>>;
let engine: ChromiumEngine | null;
beforeAll(async () => {
  server = await startServer();
  engine = await launchChromium({ args: ['--lang=en'] });
}, 60_000);
afterAll(async () => {
  await engine?.close();
  await server.close().catch(() => undefined);
});

it('starts in German in a new page when the server is gone, and asks the network for nothing', async (task) => {
  if (!engine) return task.skip('skipped: not on this machine');
  await engine.open(server.url);
  await playerOn(engine.page).see('New case');
  await engine.page.evaluate(async () => {
    await navigator.serviceWorker.ready;
    localStorage.setItem('counterturn.settings', JSON.stringify({ pixelsPerMm: 132 / 25.4, language: 'de' }));
  });
  await server.close();
  await engine.page.close();

  const page = await engine.context.newPage();
  const [answered, fromNetwork, failed]: string[][] = [[], [], []];
  page.on('response', (response) => {
    (response.fromServiceWorker() ? answered : fromNetwork)?.push(response.url());
  });
  page.on('requestfailed', (request) => failed?.push(request.url()));
  await page.goto(server.url);
  await playerOn(page).see('Neuer Fall');
  expect(await page.evaluate(() => document.documentElement.lang)).toBe('de');

  const [english, german] = [messagesOf('en'), messagesOf('de')];
  const shown = (await page.locator('body').innerText()).split('\n').map((line) => line.trim());
  const left = Object.keys(english).filter((key) => english[key] !== german[key] && shown.includes(english[key] ?? ''));
  expect(left).toEqual([]);
  expect(shown).toContain(german['cases.settings']);
  // Its words, those of the release, and its sentences.
  for (const script of ['all-', '2026.1.de-', 'entries-'])
    expect(
      answered?.some((url) => url.includes(`/assets/${script}`)),
      script,
    ).toBe(true);
  expect({ fromNetwork, failed }).toEqual({ fromNetwork: [], failed: [] });
}, 60_000);
