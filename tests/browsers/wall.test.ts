/** A second window that only follows, and a case with no network. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Page } from 'playwright-core';
import { launchChromium, startServer, type ChromiumEngine } from './harness.ts';
import { playerOn, type Player } from './player.ts';

let server: Awaited<ReturnType<typeof startServer>>;
let engine: ChromiumEngine | null;
let nurse: Player;
let wall: Page;
const requests: string[] = [];

beforeAll(async () => {
  server = await startServer();
  engine = await launchChromium();
  if (!engine) return;
  await engine.open(server.url);
  await engine.page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await engine.page.reload();
  nurse = playerOn(engine.page);
  await nurse.touch(/Demo case/);
  await nurse.settled();
  wall = await engine.context.newPage();
  await wall.goto(`${server.url}#wall`);
});
afterAll(async () => {
  await engine?.close();
  await server?.close().catch(() => undefined);
});

describe('the wall view', () => {
  it('follows the table within 200 ms of what the table shows [Z4]', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    await nurse.touch(/^Start/);
    await nurse.touch(/Start work/);
    await nurse.see('Call a screw');
    const watch = (page: Page) =>
      page.evaluate(
        () =>
          new Promise<number>((done) => {
            const look = () => /3\s+seated\s+(LEFT|Say)/.test(document.body.innerText) && done(Date.now());
            new MutationObserver(look).observe(document.body, { subtree: true, childList: true, characterData: true });
          }),
      );
    const seen = Promise.all([watch(engine.page), watch(wall)]);
    await nurse.call('3');
    const [table, other] = await seen;
    console.log(`wall view ${other - table} ms after the table`);
    expect(other - table).toBeLessThan(200);
  });

  it('has nothing to touch and nothing to enter [Z27]', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    expect(await wall.getByRole('button').count()).toBe(0);
    expect(await wall.locator('input, textarea, a').count()).toBe(0);
  });

  it('says when the first window has fallen silent, and follows again when it is back [Z4] [Z25]', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    const { url } = server;
    await engine.page.goto('about:blank');
    await wall.getByText(/Out of date since \d\d:\d\d:\d\d/).waitFor({ timeout: 8000 });
    await engine.page.goto(url);
    await nurse.see(/3\s*seated/);
    await wall.getByText(/Out of date/).waitFor({ state: 'detached', timeout: 8000 });
    await nurse.touch(/Turn it out/);
    await wall.getByText(/3 turn it out/).waitFor({ timeout: 8000 });
  });
});

describe('a second window without the wall', () => {
  it('only shows while the first one writes [Z25]', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    const second = await engine.context.newPage();
    await second.goto(server.url);
    await second.getByText(/this one only shows/).waitFor({ timeout: 8000 });
    await second.close();
  });
});

describe('a case with no network', () => {
  it('is played on with the server gone; nothing asks for a name, a password, a network or an update [Z23] [Z26]', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    await server.close();
    await engine.context.setOffline(true);
    engine.page.on('request', (request) => requests.push(request.url()));
    await nurse.touch(/slipped/i);
    await nurse.see('Stop turning and look again');
    await nurse.touch(/Looked again/);
    await nurse.see(/3\s*stripped/);
    expect(await engine.page.locator('input[type=password], input[type=email]').count()).toBe(0);
    expect(requests).toEqual([]);
  });

  it('starts again without a network, the case first, who called and who entered kept with each move [Z17] [Z26]', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    await engine.page.reload();
    await nurse.see(/3\s*stripped/);
    const moves = (await nurse.stored()).filter(({ type }) => type === 'move-started' || type === 'move-ended');
    expect(moves.map(({ calledBy, loggedBy }) => [calledBy, loggedBy])).toEqual([
      ['surgeon', 'circulating'],
      ['surgeon', 'circulating'],
    ]);
  });
});
