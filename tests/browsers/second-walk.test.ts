/** A hard screw by the second ladder, played by touches from a case file to the closing: what each thing costs in touches. */
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium, startServer, type ChromiumEngine } from './harness.ts';
import { outOfView } from './measure.ts';
import type { Player } from './player.ts';
import { bringIn, radius } from './second-case.ts';

let server: Awaited<ReturnType<typeof startServer>>;
let engine: ChromiumEngine | null;
beforeAll(async () => {
  server = await startServer();
});
afterEach(() => engine?.close());
afterAll(() => server?.close());

/** Touches that something takes, with the entries that it writes. */
async function costs(nurse: Player, what: () => Promise<void>): Promise<{ touches: number; types: string[] }> {
  const [touches, before] = [nurse.touches, (await nurse.stored()).length];
  await what();
  await expect.poll(async () => (await nurse.stored()).length).toBeGreaterThan(before);
  return { touches: nurse.touches - touches, types: (await nurse.stored()).slice(before).map(({ type }) => type) };
}

/** A tablet of 132 px per inch, its surgeon 2 m away, as far as nobody has set it otherwise. */
const calibrated = (page: ChromiumEngine['page']) =>
  page.addInitScript(() => {
    if (localStorage.getItem('counterturn.settings') === null)
      localStorage.setItem('counterturn.settings', JSON.stringify({ pixelsPerMm: 132 / 25.4, distance: 2 }));
  });

describe.each([{ way: 'lying', viewport: { width: 1180, height: 820 } }])(
  'a locking screw of 3.5 mm in the radius that does not come, $way',
  ({ viewport }) => {
    it('takes one touch or two for each thing that is told, to the closing [Z5]', async (test) => {
      engine = await launchChromium({ viewport });
      if (!engine) return test.skip('Chromium: not on this machine');
      const { page } = engine;
      await calibrated(page);
      await engine.open(server.url);
      const present = ['driver-hexalobular', 'pick', 'mallet', 'conical-extractor', 't-handle', 'hard-metal-drill'];
      const nurse = await bringIn(
        page,
        radius({ present: [...present, 'reverse-tap', 'locking-pliers', 'head-gripper'] }),
      );

      // The recess strips; one look, and the screw is stripped.
      await nurse.touch(/Turn it out/);
      await nurse.touch(/slipped/i);
      expect(await costs(nurse, () => nurse.touch(/^Recess damaged/))).toMatchObject({ touches: 1 });
      await nurse.touch(/^Looked again/);

      // What is closed for want of a tool opens with one touch.
      const more = async (name: RegExp) => {
        for (let page = 0; page < 6 && (await engine?.page.getByRole('button', { name }).count()) === 0; page++)
          await nurse.turnPage();
      };
      await more(/soft metal foil: it is here/);
      expect(await costs(nurse, () => nurse.touch(/soft metal foil: it is here/))).toEqual({
        touches: 1,
        types: ['tool-in-room'],
      });
      await nurse.touch(/^(First moves|Moves? \d)/);

      // The tap breaks: its tip is found and is all there, two touches after the break.
      await more(/Reverse tap/);
      await nurse.touch(/^\d+ ?\n?.*Reverse tap/s);
      if ((await page.getByText('Drive set to reverse').count()) > 0) await nurse.touch(/Yes, in reverse/);
      await nurse.touch(/Something else/);
      await nurse.touch(/The tool broke/);
      const tip = await costs(nurse, async () => {
        await nurse.touch(/^Found/);
        await nurse.touch(/^All of it/);
      });
      expect(tip).toEqual({ touches: 2, types: ['hold-answered', 'piece-recovered'] });
      expect(await costs(nurse, () => nurse.touch(/^Called$/))).toEqual({ touches: 1, types: ['colleague-called'] });

      // What is closed is done anyway: two touches from the first moves, however many are open.
      expect(await page.getByRole('button', { name: /^Moves? \d/ }).count()).toBeGreaterThan(0);
      const anyway = await costs(nurse, async () => {
        await nurse.touch(/^Closed moves/);
        await nurse.touch(/: done anyway$/);
      });
      expect(anyway).toEqual({ touches: 2, types: ['move-started'] });
      await nurse.touch(/No change/);
      await expect.poll(async () => (await nurse.stored()).at(-1)?.type).toBe('move-ended');

      // It was another screw: two touches.
      const wrong = await costs(nurse, async () => {
        await nurse.touch(/^3 .*: screw/);
        await nurse.touch(/^It was screw 4/);
      });
      expect(wrong).toEqual({ touches: 2, types: ['reassigned', 'screw-called'] });
      console.log(`touches so far: ${nurse.touches}; done anyway: ${anyway.touches}`);
      expect(nurse.touches).toBeLessThanOrEqual(30);

      // To the closing.
      await nurse.touch(/^More/);
      await nurse.touch(/Close the case/);
      await nurse.see(/Account|account/);
    });
  },
);

describe('an easy plate, upright', () => {
  it('is out and counted with no hold on the way, every screen of it in view [Z5]', async (test) => {
    engine = await launchChromium({ viewport: { width: 820, height: 1180 } });
    if (!engine) return test.skip('Chromium: not on this machine');
    const { page } = engine;
    await calibrated(page);
    await engine.open(server.url);
    const nurse = await bringIn(page, radius({}));
    const { length: before } = await nurse.stored();
    const inView = async (name: string) => expect.soft(await outOfView(page), name).toEqual([]);
    for (const screw of ['1', '2', '3', '4', '5', '6']) {
      await nurse.call(screw);
      await nurse.see(new RegExp(`Screw ${screw}: seated`));
      await inView(`screw ${screw} seated`);
      await nurse.touch(/Turn it out/);
      await nurse.see(/now: turn it out/);
      await inView(`screw ${screw} turned`);
      await nurse.touch(/It is out/);
      await nurse.see(`${screw} is out`);
      await nurse.touch(/^Whole, tip and head seen/);
    }
    const atScrews = nurse.touches;
    await nurse.touch(/^More/);
    await inView('more');
    await nurse.touch(/^Lift the plate/);
    await nurse.see(/is the plate off/);
    await nurse.touch(/^Plate is off/);
    await expect.poll(async () => (await nurse.stored()).at(-1)?.type).toBe('plate-off');
    await nurse.touch(/^More/);
    await nurse.touch(/Close the case/);
    await nurse.touch(/End work/);
    await nurse.see(/case clock stops/);
    await nurse.touch(/End work/);
    await nurse.touch(/Yes, end the work/);
    await nurse.touch(/^Count/);
    await nurse.touch(/^All of it is out/);
    await nurse.touch(/scrub/i);
    await nurse.touch(/circulating/i);
    await nurse.touch(/Answer the count/);
    await nurse.touch(/Yes, record the answer/);
    await nurse.see(/answered: scrub nurse/);
    const types = (await nurse.stored()).slice(before).map(({ type }) => type);
    expect(types.filter((type) => ['hold-answered', 'reassessed', 'colleague-called'].includes(type))).toEqual([]);
    expect(types.filter((type) => type === 'move-ended')).toHaveLength(6);
    console.log(`touches: ${atScrews} for six screws, ${nurse.touches} to the count`);
  });
});
