/** The network goes as soon as the app is installed: every room must open all the same, with nothing asked of it. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium, startServer, type ChromiumEngine } from './harness.ts';
import { playerOn, type Player } from './player.ts';

let server: Awaited<ReturnType<typeof startServer>>;
let engine: ChromiumEngine | null;
let nurse: Player;
const failed: string[] = [];

beforeAll(async () => {
  server = await startServer();
  engine = await launchChromium();
  if (!engine) return;
  await engine.open(server.url);
  await engine.page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await server.close();
  await engine.context.setOffline(true);
  engine.page.on('pageerror', (error) => failed.push(error.message));
  await engine.page.reload();
  nurse = playerOn(engine.page);
});
afterAll(async () => {
  await engine?.close();
  await server?.close().catch(() => undefined);
});

describe('first use without a network', () => {
  it('opens the settings, the plan with its forecast, and the closing', { timeout: 120_000 }, async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    await nurse.see('Cases');
    await nurse.touch(/^Settings/);
    await nurse.see('Calibrat');
    await nurse.touch(/^Cases/);
    await nurse.touch(/Demo case/);
    await nurse.settled();
    await nurse.touch(/^Start/);
    await nurse.touch(/^Forecast/);
    await nurse.see(/1 in 10|ends by/);
    await nurse.touch(/^Back/);
    await nurse.touch(/Start work/);
    await nurse.see('Call a screw');
    await nurse.touch(/^More/);
    await nurse.touch(/Close the case/);
    await nurse.see('LEFT');
    expect(await engine.page.locator('.later').count()).toBe(0);
    expect(failed).toEqual([]);
  });
});
