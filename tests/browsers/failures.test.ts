/** The built app whose own code fails: it says so and what is on disk, and can be drawn again; never a blank page. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium, startServer, type ChromiumEngine } from './harness.ts';
import { playerOn, type Player } from './player.ts';

let server: Awaited<ReturnType<typeof startServer>>;
let engine: ChromiumEngine | null;
let nurse: Player;

beforeAll(async () => {
  server = await startServer();
  engine = await launchChromium({ args: ['--host-resolver-rules=MAP tablet.test 127.0.0.1'] });
  if (!engine) return;
  nurse = playerOn(engine.page);
  await engine.open(server.url);
  await nurse.beginDemo();
});
afterAll(async () => {
  await engine?.close();
  await server?.close();
});

/** Makes drawing fail: every time of day is written with this. Given back by the second call. */
const breakDrawing = () => {
  const own = String.prototype.padStart;
  const { held } = globalThis as { held?: typeof own };
  if (held) {
    String.prototype.padStart = held;
    return;
  }
  Object.assign(globalThis, { held: own });
  String.prototype.padStart = () => {
    throw new Error('made to fail');
  };
};

describe('a failure while a case is open', () => {
  it('that nothing caught is told with its time, its reason and the entries on disk; the case goes on', async (task) => {
    if (!engine) return task.skip('Chromium: not on this machine');
    const before = await nurse.stored();
    await engine.page.evaluate(() => void Promise.reject(new Error('nobody waits for this')));
    await nurse.see(/At \d\d:\d\d:\d\d something in the app failed \(Error: nobody waits for this\)/);
    await nurse.see(`${before.length} entries of this case are on disk`);
    await engine.page.evaluate(
      () =>
        void setTimeout(() => {
          throw new RangeError('thrown later');
        }),
    );
    await nurse.see('RangeError: thrown later');
    await nurse.touch(/^More/);
    await nurse.touch(/^Clocks and images/);
    await nurse.touch(/^One image/);
    await expect.poll(async () => (await nurse.stored()).length).toBe(before.length + 1);
  });

  it('of the display says how many entries are on disk and what failed, and draws the case again at a touch', async (task) => {
    if (!engine) return task.skip('Chromium: not on this machine');
    const before = await nurse.stored();
    await engine.page.evaluate(breakDrawing);
    await nurse.see('The display failed');
    await nurse.see(`${before.length} entries of this case are on disk`);
    await nurse.touch('What failed');
    await nurse.see('Error: made to fail');
    // Still broken: drawn again it says so again, and covers nothing for good.
    await nurse.touch('Draw it again');
    await nurse.see('The display failed');
    await engine.page.evaluate(breakDrawing);
    await nurse.touch('Draw it again');
    await nurse.see('Call a screw');
    expect(await nurse.stored()).toEqual(before);
  });
});

it('a start that fails is told in words, with a way to load the app again', async (task) => {
  if (!engine) return task.skip('Chromium: not on this machine');
  const page = await engine.context.newPage();
  await page.addInitScript(() => {
    LockManager.prototype.request = () => {
      throw new Error('no lock to be had');
    };
  });
  await page.goto(server.url);
  await page.getByText('The app could not start').waitFor();
  await page.getByText('Error: no lock to be had').waitFor();
  expect(await page.getByRole('button', { name: 'Load the app again' }).count()).toBe(1);
  await page.close();
});

it('an address that is not secure is told at once, and no case is begun there', async (task) => {
  if (!engine) return task.skip('Chromium: not on this machine');
  const page = await engine.context.newPage();
  await page.goto(server.url.replace(/\/\/[^:/]+/, '//tablet.test'));
  expect(await page.evaluate(() => isSecureContext)).toBe(false);
  await page
    .getByText(/this address is not secure/)
    .first()
    .waitFor();
  const newCase = page.getByRole('button', { name: /^New case/ });
  expect(await newCase.getAttribute('aria-disabled')).toBe('true');
  await page.close();
});
