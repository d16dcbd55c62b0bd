/** The department's own numbers in the built app: every page measured, the line at the table, the file that comes out. */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { caseFile } from '../../src/session/case-file.ts';
import { wholeCase } from '../machines/whole-case.ts';
import { violations } from './axe.ts';
import { launchChromium, startServer, type ChromiumEngine } from './harness.ts';
import { measure, outOfView } from './measure.ts';
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
  {
    viewport: { width: 1180, height: 820 },
    pxPerMm: 132 / 25.4,
    theme: 'dark',
    pages: ['What stayed in', 'Dead ends', 'Holds', 'Rates', 'Forecast', 'Next tool'],
  },
  { viewport: { width: 1024, height: 768 }, pxPerMm: 132 / 25.4, theme: 'light', pages: ['Holds', 'Forecast'] },
];

describe.each(devices)('across cases at $viewport.width × $viewport.height', ({ viewport, pxPerMm, theme, pages }) => {
  let engine: ChromiumEngine | null;
  beforeAll(async () => {
    engine = await launchChromium({ viewport });
  });
  afterAll(() => engine?.close());

  it('holds sizes, gaps and contrast on every page, and moves nothing at the table [Z5]', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    const { page } = engine;
    await page.addInitScript((kept) => localStorage.setItem('counterturn.settings', JSON.stringify(kept)), {
      ...{ pixelsPerMm: pxPerMm, distance: 2, theme },
    });
    await engine.open(server.url);
    const nurse = playerOn(page);
    const holds = async (name: string) => {
      await atRest(page);
      writeFileSync(new URL(`across-${name}-${viewport.width}.png`, shots), await page.screenshot());
      expect.soft((await measure(page, pxPerMm)).faults, name).toEqual([]);
      expect.soft(await violations(page), name).toEqual([]);
    };
    await nurse.touch(/Across cases/);
    await nurse.see(/No closed case on this device yet/);
    await holds('none');
    await nurse.touch(/^Back/);
    await nurse.touch(/Bring in a case file/);
    const closed = Array.from({ length: 9 }, (_, seed) => wholeCase(seed + 900)).filter((one) => one.closed);
    for (const { entries } of closed.slice(0, 5)) {
      const file = JSON.stringify(caseFile({ contentVersion: '2026.1' }, entries));
      await page.setInputFiles('input[type=file]', {
        ...{ name: 'one.case.json', mimeType: 'application/json', buffer: Buffer.from(file) },
      });
      await page.getByText(/Taken in as a case of its own/).waitFor({ timeout: patienceMs });
      // The next file's answer would be the same words: this one goes first.
      await nurse.touch(/^Back/);
      await nurse.touch(/Bring in a case file/);
    }
    await nurse.touch(/^Back/);
    await nurse.touch(/Across cases/);
    await nurse.see(/5 cases counted/);
    await holds('moves');
    await nurse.touch(/Turn it out/);
    await nurse.see(/By kind of screw/);
    await holds('behind');
    await nurse.touch(/All moves/);
    for (const name of pages) {
      await nurse.touch(new RegExp(`^${name}`));
      const word = name.toLowerCase().replaceAll(' ', '-');
      const isReckoned = name === 'Forecast' || name === 'Next tool';
      if (isReckoned) await nurse.see(/Forecasts reckoned: 5 of 5 cases/);
      await holds(word);
      if (!isReckoned) continue;
      await nurse.touch(/^Tables/);
      await holds(`${word}-tables`);
      await nurse.touch(/^Picture/);
    }
    const [download] = await Promise.all([page.waitForEvent('download'), nurse.touch(/Save as CSV/)]);
    const csv = readFileSync((await download.path()) ?? '', 'utf8');
    expect(csv).toContain('cases,,,,,,counted,,5,');
    await nurse.touch(/^Back/);

    await nurse.openFirst();
    await nurse.begin();
    await nurse.call('3');
    await nurse.touch(/^About moves/);
    await page
      .getByRole('button', { name: /here: \d+\sof\s\d+/ })
      .first()
      .waitFor({ timeout: patienceMs });
    await holds('table');
    expect.soft(await outOfView(page)).toEqual([]);
  }, 400_000);
});
