/** The department's content in the built app: made on screen, measured, put in use, kept over a start, kept by its case. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { violations } from './axe.ts';
import { launchChromium, startServer, type ChromiumEngine } from './harness.ts';
import { measure } from './measure.ts';
import { playerOn } from './player.ts';
import { atRest, patienceMs } from './rest.ts';

const shots = new URL('../../.cache/screens/', import.meta.url);

let server: Awaited<ReturnType<typeof startServer>>;
beforeAll(async () => {
  mkdirSync(shots, { recursive: true });
  server = await startServer();
});
afterAll(() => server?.close());

const devices = [
  { viewport: { width: 1180, height: 820 }, theme: 'dark' },
  { viewport: { width: 1024, height: 768 }, theme: 'light' },
];
const pxPerMm = 132 / 25.4;

describe.each(devices)('the department’s content at $viewport.width × $viewport.height', ({ viewport, theme }) => {
  let engine: ChromiumEngine | null;
  beforeAll(async () => {
    engine = await launchChromium({ viewport });
  });
  afterAll(() => engine?.close());

  it('is made, put in use and kept by its case, with sizes, gaps and contrast [Z5] [Z29]', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    const { page } = engine;
    await page.addInitScript((kept) => localStorage.setItem('counterturn.settings', JSON.stringify(kept)), {
      ...{ pixelsPerMm: pxPerMm, distance: 2, theme, language: 'en' },
    });
    await engine.open(server.url);
    const nurse = playerOn(page);
    const holds = async (name: string) => {
      await atRest(page);
      writeFileSync(new URL(`department-${name}-${viewport.width}.png`, shots), await page.screenshot());
      expect.soft((await measure(page, pxPerMm)).faults, name).toEqual([]);
      expect.soft(await violations(page), name).toEqual([]);
    };
    const open = async () => {
      await nurse.touch(/^Settings/);
      await nurse.touch(/^Content/);
    };
    /** A tap just after a start may count as aimed at what stood there before. */
    const toStart = () =>
      expect
        .poll(
          async () => {
            await nurse.touch(/^Start/);
            return nurse.text();
          },
          { timeout: patienceMs },
        )
        .toMatch(/Content 2026\.1\+invented-ward-1/);
    await open();
    await nurse.see('Nothing of the department');
    await holds('none');
    await nurse.touch(/^Work on a new version/);
    await nurse.touch(/^Up: Grip the head/);
    await nurse.touch(/^Not used here: Tap in/);
    await holds('order');
    await nurse.touch(/^Limits, intervals/);
    await nurse.touch(/^bone limit, consider/);
    for (const digit of [/^4$/, /^0$/]) await nurse.touch(digit);
    await nurse.touch(/^Done/);
    await nurse.see('is greater than boneStop');
    await holds('fault');
    await nurse.touch(/^bone limit, consider/);
    for (const digit of [/^1$/, /^8$/]) await nurse.touch(digit);
    await nurse.touch(/^Done/);
    await nurse.touch(/^Consent/);
    await holds('consent');
    await nurse.touch(/^Policy, cautions/);
    await page.getByLabel(/One more: Local policy/).fill('Tools from outside the house are not used.');
    await nurse.touch(/^Add/);
    await holds('policy');
    await nurse.touch(/^Words/);
    await holds('words');
    await nurse.touch(/^Look and save/);
    await page.getByLabel(/Whose content/).fill('Invented ward');
    await page.getByLabel(/Why it is changed/).fill('invented for a test');
    await nurse.see('bone limit, consider: 0.20 → 0.18');
    await holds('save');
    await nurse.touch(/^Save as a new version/);
    await nurse.touch(/^Use for new cases/);
    await nurse.see(/New cases are opened with 2026\.1\+invented-ward-1\.[0-9a-f]{8} from now on/);
    await holds('used');

    // Another start: a new case gets it.
    await engine.open(server.url);
    await nurse.touch(/^New case/);
    for (const asked of [/^Case of /, /^LEFT/, /^Plate$/, /^tibia/i, /^Open the case/]) await nurse.touch(asked);
    await toStart();
    await nurse.see(/Local policy, set by the department on/);
    await holds('briefing');
    const pinned = (await page.evaluate(kept)) as { contentVersion: string; overlay: { version: string } }[];
    expect(pinned.map(({ contentVersion, overlay }) => contentVersion === overlay.version)).toEqual([true]);
    expect(pinned[0]?.contentVersion).toMatch(/^2026\.1\+invented-ward-1\./);

    // The device forgets every version: the case is read as it was opened.
    await page.evaluate(() => localStorage.removeItem('counterturn.department'));
    await engine.open(server.url);
    await toStart();
  });
});

/** What the browser's database keeps of the cases beside their entries. */
function kept(): Promise<unknown> {
  return new Promise((resolve, reject) => {
    void indexedDB.databases().then((all) => {
      const name = all.map((one) => one.name ?? '').find((one) => one.startsWith('counterturn'));
      const request = indexedDB.open(name ?? '');
      request.onerror = () => reject(new Error('not opened'));
      request.onsuccess = () => {
        const rows = request.result.transaction('cases').objectStore('cases').getAll();
        rows.onsuccess = () => {
          request.result.close();
          resolve(rows.result);
        };
      };
    });
  });
}
