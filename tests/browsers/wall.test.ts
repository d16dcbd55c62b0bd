/** A second window that only follows, and a case with no network. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Page } from 'playwright-core';
import { launchChromium, startServer, type ChromiumEngine } from './harness.ts';
import { playerOn, type Player } from './player.ts';
import { patienceMs } from './rest.ts';

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

/** Runs in the table's page: tells the other one the moment that the called screw stands on it. */
const tellWhenCalled = (): void => {
  const line = new BroadcastChannel('shown');
  const observer = new MutationObserver(() => {
    if (!/Screw 3: seated/.test(document.body.innerText)) return;
    observer.disconnect();
    line.postMessage(null);
  });
  observer.observe(document.body, { subtree: true, childList: true, characterData: true });
};

/** Runs in the wall's page: how many frames it paints from what the table tells until it shows the called screw too. */
const framesBehind = (): { frames: Promise<number> } => ({
  frames: new Promise((done) => {
    new BroadcastChannel('shown').onmessage = async () => {
      let frames = 0;
      for (; !/LEFT\s+3\s+seated/.test(document.body.innerText); frames++)
        await new Promise((painted) => requestAnimationFrame(painted));
      done(frames);
    };
  }),
});

/**
 * Runs in the wall's page: how often a timer with the step of the wall's own look goes round from the last word of the
 * table until the wall says that it is out of date.
 */
const looksOfSilence = async (): Promise<{ looks: Promise<number> }> => {
  let looks = 0;
  const line = new BroadcastChannel('counterturn');
  await new Promise((heard) => (line.onmessage = heard));
  line.onmessage = () => (looks = 0);
  setInterval(() => looks++, 500);
  return {
    looks: new Promise((done) => {
      const observer = new MutationObserver(() => {
        if (!/Out of date/.test(document.body.innerText)) return;
        observer.disconnect();
        done(looks);
      });
      observer.observe(document.body, { subtree: true, childList: true, characterData: true });
    }),
  };
};

describe('the wall view', () => {
  it('follows the table within twelve painted frames of what the table shows [Z4]', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    await nurse.touch(/^Start/);
    await nurse.touch(/Start work/);
    await nurse.see('Call a screw');
    await engine.page.evaluate(tellWhenCalled);
    const behind = await wall.evaluateHandle(framesBehind);
    await nurse.call('3');
    const frames = await behind.evaluate(({ frames }) => frames);
    console.log(`wall view ${frames} painted frames after the table`);
    expect(frames).toBeLessThanOrEqual(12);
  });

  it('has nothing to touch and nothing to enter [Z27]', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    expect(await wall.getByRole('button').count()).toBe(0);
    expect(await wall.locator('input, textarea, a').count()).toBe(0);
  });

  it('says when the first window has fallen silent, and follows again when it is back [Z4] [Z25]', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    const { url } = server;
    const silent = await wall.evaluateHandle(looksOfSilence);
    await engine.page.goto('about:blank');
    const looks = await silent.evaluate(({ looks }) => looks);
    console.log(`wall view out of date at look ${looks} after the last word`);
    // A word is due at every second look; told after the fifth, or after the sixth where its look comes late.
    expect(looks).toBeGreaterThan(4);
    expect(looks).toBeLessThanOrEqual(6);
    await wall.getByText(/Out of date since \d\d:\d\d:\d\d/).waitFor({ timeout: patienceMs });
    await engine.page.goto(url);
    await nurse.see(/3\s*seated/);
    await wall.getByText(/Out of date/).waitFor({ state: 'detached', timeout: patienceMs });
    await nurse.touch(/Turn it out/);
    await wall.getByText(/It is out/).waitFor({ timeout: patienceMs });
  });
});

describe('a second window without the wall', () => {
  it('only shows while the first one writes [Z25]', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    const second = await engine.context.newPage();
    await second.goto(server.url);
    await second.getByText(/this one only shows/).waitFor({ timeout: patienceMs });
    await second.close();
  });
});

describe('a case with no network', () => {
  it('is played on with the server gone; nothing asks for a name, a password, a network or an update [Z23] [Z26]', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    // A page behind others paints nothing, and comes to no rest.
    await engine.page.bringToFront();
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

  it('starts again without a network, the case first, and of no move does it say who called or entered it: nobody was asked [Z17] [Z26]', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    await engine.page.reload();
    await nurse.see(/3\s*stripped/);
    const moves = (await nurse.stored()).filter(({ type }) => type === 'move-started' || type === 'move-ended');
    expect(moves).toHaveLength(2);
    for (const move of moves) for (const field of ['calledBy', 'loggedBy']) expect(move).not.toHaveProperty(field);
  });
});
