/** The pages of the plan in the built app, each measured; what belongs to the device outlives a start. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { violations } from './axe.ts';
import { launchChromium, startServer, type ChromiumEngine } from './harness.ts';
import { measure } from './measure.ts';
import { playerOn, type Player } from './player.ts';
import { atRest } from './rest.ts';

/** Kept out of the repository; for a look with one's own eyes. */
const shots = new URL('../../.cache/screens/', import.meta.url);

let server: Awaited<ReturnType<typeof startServer>>;
beforeAll(async () => {
  mkdirSync(shots, { recursive: true });
  server = await startServer();
});
afterAll(() => server?.close());

const devices = [
  { viewport: { width: 1180, height: 820 }, pxPerMm: 132 / 25.4, theme: 'dark' },
  { viewport: { width: 1280, height: 800 }, pxPerMm: 149 / 25.4, theme: 'light' },
];

describe.each(devices)('the plan at $viewport.width × $viewport.height', ({ viewport, pxPerMm, theme }) => {
  let engine: ChromiumEngine | null;
  let nurse: Player;
  let userDataDir: string;

  const opened = async () => {
    engine = await launchChromium({ viewport, userDataDir });
    if (!engine) return;
    await engine.page.addInitScript((kept) => localStorage.setItem('counterturn.settings', JSON.stringify(kept)), {
      pixelsPerMm: pxPerMm,
      distance: 2,
      theme,
    });
    await engine.open(server.url);
    nurse = playerOn(engine.page);
  };
  beforeAll(async () => {
    userDataDir = await mkdtemp(join(tmpdir(), 'counterturn-plan-'));
    await opened();
  });
  afterAll(async () => {
    await engine?.close();
    await rm(userDataDir, { recursive: true, force: true });
  });

  async function holds(name: string): Promise<void> {
    const { page } = engine as ChromiumEngine;
    await atRest(page);
    writeFileSync(new URL(`plan-${theme}-${name}.png`, shots), await page.screenshot());
    const measured = await measure(page, pxPerMm);
    expect.soft(measured.faults, `${name}: sizes and contrast`).toEqual([]);
    expect.soft(measured.texts, `${name}: texts`).toBeGreaterThan(0);
    expect.soft(await violations(page), `${name}: axe`).toEqual([]);
  }

  it('offers in one line how the work goes, and shows it [Z5] [Z28]', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    await holds('offer');
    await nurse.touch(/^Show it/);
    for (let step = 1; step < 6; step++) {
      await nurse.see(`${step} of 6`);
      await nurse.touch(/^Next/);
    }
    await holds('help');
    await nurse.touch(/^To work/);
    await nurse.see('Past cases');
    expect(await nurse.text()).not.toContain('New here?');
  });

  it('keeps size, gap, contrast and names on every page of the plan [Z5] [Z28]', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    await nurse.openFirst();
    await nurse.touch(/^Correct a screw/);
    await nurse.touch(/^3 /);
    await nurse.touch(/^Record and films disagree/);
    await holds('disagree');
    await nurse.touch(/^Back$/);
    await nurse.touch(/^Tools/);
    await nurse.touch(/^Tool sets/);
    await nurse.touch(/^Save what is in the room/);
    await engine.page.fill('textarea', 'Plates, theatre 2');
    await holds('set-save');
    await nurse.touch(/^Save the set/);
    await nurse.see('Kept on this device: Plates, theatre 2');
    await holds('sets');
    await nurse.touch(/^Plates, theatre 2/);
    await holds('set');
    await nurse.touch(/^Remove this set/);
    await holds('set-remove');
    await nurse.touch(/^Keep it/);
    await nurse.touch(/^Back$/);
    await holds('tools');
    await nurse.touch(/^Start/);
    await nurse.touch(/^Forecast/);
    await nurse.see('9 in 10 end by');
    await holds('forecast');
    await nurse.touch(/^The rates this rests on/);
    await holds('rates');
    await nurse.touch(/^It is out 81/);
    await holds('rate');
    for (const key of [/^6$/, /^0$/, /^Done$/]) await nurse.touch(key);
    await nurse.see('Kept on this device.');
    await nurse.touch(/^Back to the forecast/);
    await nurse.touch(/^Back$/);
    await nurse.touch(/^Brief sheet/);
    await nurse.see(/Whole operation: 1 in 10/);
    await holds('brief');
    await nurse.touch(/^Back$/);
    await nurse.touch(/^Start work/);
    await nurse.touch(/^More/);
    await nurse.touch(/^How long still/);
    await nurse.see(/Still to come/);
    await holds('still');
  });

  if (theme === 'light') return;
  it('finds rates, tool sets and the seen help again after a new start of the browser [Z14]', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    await engine.kill();
    await opened();
    await nurse.see(/Call a screw/);
    await nurse.touch(/^More/);
    await nurse.touch(/^How long still/);
    await nurse.touch(/^The rates this rests on/);
    await nurse.see('entered on this device');
    await nurse.touch(/^Back to the forecast/);
    await nurse.touch(/^Back$/);
    await nurse.touch(/^More/);
    await nurse.touch(/^Plan and tools/);
    await nurse.touch(/^Tools/);
    await nurse.see(/Bring in: Plates, theatre 2/);
    await nurse.touch(/^Cases/);
    await nurse.see('Past cases');
    expect(await nurse.text()).not.toContain('New here?');
  });
});
