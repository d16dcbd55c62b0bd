/** Every screen of the built app, measured on one tablet: each has a test file of its own, so that they run side by side. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { violations } from './axe.ts';
import { launchChromium, startServer, type ChromiumEngine } from './harness.ts';
import { glanceCapitals, measure, outOfView, overlaps, scrolling } from './measure.ts';
import { playerOn, type Player } from './player.ts';
import { atRest, patienceMs } from './rest.ts';

/** Kept out of the repository; for a look with one's own eyes. */
const shots = new URL('../../.cache/screens/', import.meta.url);

interface Size {
  width: number;
  height: number;
}
/** A tablet as it is calibrated, its sizes in CSS pixels, and how far the surgeon stands from it, m. */
export interface Device {
  name: string;
  viewport: Size;
  /** Other sizes that tablets of this fineness are sold in. */
  others: Size[];
  pxPerMm: number;
  theme: 'dark' | 'light';
  distance: number;
}
export const size = (width: number, height: number): Size => ({ width, height });

/** Runs in the page: every word of the sheet of more a third longer, as another language might have it. */
function lengthen(): void {
  for (const touch of document.querySelectorAll('.menu .touch, .menu-close'))
    touch.textContent = (touch.textContent ?? '').replace(/\p{L}+/gu, (word) => word + 'n'.repeat(word.length / 3));
}

export function screensAt(device: Device): void {
  describe(`the screens at ${device.name}, ${device.theme}`, () => {
    let server: Awaited<ReturnType<typeof startServer>>;
    beforeAll(async () => {
      mkdirSync(shots, { recursive: true });
      server = await startServer();
    });
    afterAll(() => server?.close());

    let engine: ChromiumEngine | null;
    let nurse: Player;
    const worst = { contrast: Infinity, smallest: Infinity, gap: Infinity };

    beforeAll(async () => {
      engine = await launchChromium({ viewport: device.viewport });
      if (!engine) return;
      const kept = { pixelsPerMm: device.pxPerMm, distance: device.distance, theme: device.theme };
      await engine.page.addInitScript((settings) => {
        localStorage.setItem('counterturn.settings', JSON.stringify(settings));
        const shifts: [number, string][] = [];
        Object.assign(globalThis, { shifts });
        new PerformanceObserver((list) => {
          for (const entry of list.getEntries() as unknown as {
            value: number;
            hadRecentInput: boolean;
            sources: { node: Node | null }[];
          }[])
            if (!entry.hadRecentInput)
              shifts.push([
                entry.value,
                entry.sources.map(({ node }) => (node as Element | null)?.className ?? node?.textContent).join(' '),
              ]);
        }).observe({ type: 'layout-shift', buffered: true });
      }, kept);
      await engine.open(server.url);
      nurse = playerOn(engine.page);
    });
    afterAll(async () => {
      console.log(
        `${device.name}: least contrast ${worst.contrast.toFixed(2)}, touch ${worst.smallest.toFixed(1)} mm, gap ${worst.gap.toFixed(1)} mm`,
      );
      await engine?.close();
    });

    /** Measures the screen, looks for what cannot be reached, and keeps a picture. */
    async function holds(name: string, { fixed = false } = {}): Promise<void> {
      const page = (engine as ChromiumEngine).page;
      await atRest(page);
      // What the measuring itself moves is not the app's doing.
      const moved = await page.evaluate('shifts.length');
      writeFileSync(new URL(`${device.theme}-${name}.png`, shots), await page.screenshot());
      const measured = await measure(page, device.pxPerMm);
      worst.contrast = Math.min(worst.contrast, measured.contrast);
      worst.smallest = Math.min(worst.smallest, measured.smallest);
      worst.gap = Math.min(worst.gap, measured.gap);
      expect.soft(measured.faults, `${name}: sizes and contrast`).toEqual([]);
      expect.soft(measured.texts, `${name}: texts`).toBeGreaterThan(0);
      if (fixed) expect.soft(await outOfView(page), `${name}: in view`).toEqual([]);
      if (fixed) expect.soft(await overlaps(page), `${name}: nothing on top of another`).toEqual([]);
      expect.soft(await violations(page), `${name}: axe`).toEqual([]);
      await atRest(page, 5);
      await page.evaluate(`shifts.length = ${moved as number}`);
    }

    /** The sheet of more at every size that such a tablet is sold in: all of it in view, with longer words too. */
    async function moreInView(): Promise<void> {
      const page = (engine as ChromiumEngine).page;
      for (const words of ['as they are', 'a third longer']) {
        if (words !== 'as they are') await page.evaluate(lengthen);
        for (const viewport of [...device.others, device.viewport]) {
          await page.setViewportSize(viewport);
          await atRest(page);
          const name = `more at ${viewport.width} × ${viewport.height}, words ${words}`;
          const whole = words === 'as they are' ? '.table-sheet, .table-sheet .touch' : '.table-sheet';
          expect.soft(await scrolling(page, whole), `${name}: scrolls`).toEqual([]);
          expect.soft(await outOfView(page), `${name}: in view`).toEqual([]);
          expect.soft(await overlaps(page), `${name}: nothing on top of another`).toEqual([]);
          expect.soft((await measure(page, device.pxPerMm)).faults, `${name}: sizes and contrast`).toEqual([]);
        }
      }
      // Turning the tablet moves everything, and is meant to.
      await page.evaluate('shifts.length = 0');
    }

    /** Both ways up. */
    async function holdsTurned(name: string): Promise<void> {
      const page = (engine as ChromiumEngine).page;
      await holds(name);
      await page.setViewportSize({ width: device.viewport.height, height: device.viewport.width });
      await holds(`${name}-upright`);
      await page.setViewportSize(device.viewport);
    }

    it('cases and briefing keep size, gap, contrast and names [Z5] [Z8] [Z28]', async (test) => {
      if (!engine) return test.skip('Chromium: not on this machine');
      await nurse.see('New case');
      await holds('cases');
      await nurse.touch(/Demo case/);
      await nurse.settled();
      for (const step of ['Screws', 'Bone', 'Tools', 'Consent', 'Agreed', 'Start']) {
        await nurse.touch(new RegExp(`^${step}`));
        await holds(`briefing-${step.toLowerCase()}`);
      }
    });

    it('the table keeps them through a failure, its holds and its sheets, all in view [Z5] [Z8] [Z28]', async (test) => {
      if (!engine) return test.skip('Chromium: not on this machine');
      await nurse.touch(/Start work/);
      await nurse.see('Call a screw');
      await engine.page.evaluate('shifts.length = 0');
      await holds('table-uncalled', { fixed: true });
      await nurse.call('3');
      await nurse.see(/3\s*seated/);
      await holds('table-seated', { fixed: true });
      await nurse.touch(/Turn it out/);
      await nurse.see(/now: turn it out/);
      await holds('table-running', { fixed: true });
      await nurse.touch(/Something else/);
      await holds('table-outcomes', { fixed: true });
      await nurse.touch(/Back to the likely/);
      await nurse.touch(/slipped/i);
      await nurse.see('Stop turning and look again');
      await holds('table-reassess', { fixed: true });
      await nurse.touch(/Looked again/);
      await holds('table-stripped', { fixed: true });
      await nurse.touch(/^About/);
      await holds('table-about');
      await nurse.touch(/^Back/);
      await nurse.touch(/Pack with foil/);
      await nurse.touch(/No change/);
      await holds('table-second-surgeon', { fixed: true });
      for (const sheet of [
        'What was found',
        'Clocks and images',
        'A tool came',
        'Bone picture',
        'It happened earlier',
        'All entries',
        'Remark',
      ]) {
        await nurse.touch(/^More/);
        if (sheet === 'What was found') {
          await holds('sheet-more', { fixed: true });
          await moreInView();
          await nurse.touch(/^Back/);
          await nurse.touch(/^More/);
        }
        await nurse.touch(new RegExp(sheet));
        await holds(`sheet-${sheet.toLowerCase().replaceAll(' ', '-')}`);
        await nurse.touch(/^Back/);
      }
      await nurse.touch(/^Leave it in/);
      await holds('sheet-leave');
      await nurse.touch(/^Back/);
    });

    it('a bone limit keeps them too, on a small tablet as well, with the line to read aloud that goes with it', async (test) => {
      if (!engine) return test.skip('Chromium: not on this machine');
      await nurse.call('4');
      await nurse.touch(/Turn it out/);
      await nurse.touch(/No change/);
      await nurse.touch(/Drill head off/);
      await nurse.touch(/The head came off/);
      await nurse.touch(/Gouge and grip/);
      await nurse.see('Gouge and grip. Lower bone limit reached');
      await nurse.see('This reaches the lower bone limit. Go on, or change?');
      await holds('table-bone', { fixed: true });
      await engine.page.setViewportSize({ width: 1024, height: 768 });
      await atRest(engine.page);
      const small = [...(await outOfView(engine.page)), ...(await overlaps(engine.page))];
      await engine.page.setViewportSize(device.viewport);
      await nurse.touch(/^Another move/);
      await nurse.call('3');
      // Of the finer of the two devices no such small one is sold: its touches would be a third of the screen.
      if (device.pxPerMm < 5.5) expect(small).toEqual([]);
    });

    it('the glance layer shows capitals of at least 16 arc minutes at the set distance [Z8]', async (test) => {
      if (!engine) return test.skip('Chromium: not on this machine');
      await nurse.touch(/Show surgeon/);
      await holds('glance', { fixed: true });
      const glance = await glanceCapitals(engine.page, device.pxPerMm, device.distance);
      console.log(
        `${device.name} at ${device.distance} m: ${glance.capMm.toFixed(1)} mm, ${glance.arcminutes.toFixed(1)} arc minutes`,
      );
      expect(glance.lines).toBe(5);
      expect(glance.arcminutes).toBeGreaterThanOrEqual(16);
      await nurse.touch(/Back to the table/);
    });

    it('closing, record and settings keep size, gap, contrast and names [Z5] [Z28]', async (test) => {
      if (!engine) return test.skip('Chromium: not on this machine');
      await nurse.touch(/^More/);
      await nurse.touch(/Settings/);
      await holds('settings');
      await nurse.touch(/^About$/);
      await nurse.see(/^Other packages/);
      await holds('settings-about');
      await engine.page.reload();
      await nurse.see(/3\s*stripped/);
      await nurse.touch(/^More/);
      await nurse.touch(/Close the case/);
      await holds('closing');
      await nurse.touch(/^Record/);
      for (const tab of ['Note', 'Fill in', 'Timeline', 'Still in', 'Lists', 'Hand over']) {
        await nurse.touch(new RegExp(`^${tab}`));
        await holds(`record-${tab.toLowerCase().replaceAll(' ', '-')}`);
      }
    });

    it('nothing moves under a finger while a case is played [Z7]', async (test) => {
      if (!engine) return test.skip('Chromium: not on this machine');
      expect(await engine.page.evaluate('shifts')).toEqual([]);
    });

    it('a new case, data, privacy and the lock keep size, gap, contrast and names, both ways up [Z5] [Z22] [Z28]', async (test) => {
      if (!engine) return test.skip('Chromium: not on this machine');
      const { page } = engine;
      await page.reload();
      await nurse.touch(/^More/);
      await nurse.touch('Plan and tools');
      await nurse.touch('Cases');
      await nurse.touch(/^more about/);
      await nurse.touch(/Put the open case away/);
      await nurse.touch(/^New case/);
      await holdsTurned('new-case');
      await nurse.touch(/^Back/);
      await nurse.touch(/^Settings/);
      await nurse.touch('Privacy');
      await holdsTurned('privacy');
      await nurse.touch('Set a passcode');
      await holdsTurned('privacy-set');
      await page.getByLabel('New passcode').fill('four plain words here');
      await page.getByLabel('The same again').fill('four plain words here');
      await nurse.touch(/^Set it/);
      await page.getByText('The passcode is set.').waitFor({ timeout: patienceMs });
      await nurse.touch('Lock now');
      await nurse.see('The cases on this device are encrypted.');
      await holdsTurned('lock');
      await nurse.touch('Nobody knows the passcode');
      await nurse.touch(/^Wipe all cases/);
      await holdsTurned('lock-wipe');
      await nurse.touch('Keep them');
      await page.getByLabel('Passcode').fill('four plain words here');
      await nurse.touch(/^Unlock/);
      await page.locator('.lock').waitFor({ state: 'detached', timeout: patienceMs });
      await nurse.touch(/^Cases/);
      await nurse.touch(/^Data/);
      await holdsTurned('data');
      await nurse.touch(/^Wipe all cases/);
      await holdsTurned('data-wipe');
      await nurse.touch(/^Yes, wipe all cases/);
      await nurse.see('All cases are wiped.');
      await nurse.touch(/^Back/);
    });
  });
}
