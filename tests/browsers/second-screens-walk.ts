/** The screens of the built app by the release to come, on one tablet, looked at as those of the release in use are. */
import { beforeAll, describe, expect, it } from 'vitest';
import type { ChromiumEngine } from './harness.ts';
import { looksAt, type Device } from './looks.ts';
import { glanceCapitals } from './measure.ts';
import type { Player } from './player.ts';

export function secondScreensAt(device: Device): void {
  describe(`the screens by the release to come at ${device.name}, ${device.theme}`, () => {
    const { opened, holds, moreInView, kinds } = looksAt(device);
    let engine: ChromiumEngine | null;
    let nurse: Player;
    beforeAll(() => {
      ({ engine, nurse } = opened());
    });
    const fixed = { fixed: true };

    it('the briefing keeps size, gap, contrast and names [Z5] [Z8] [Z28]', async (test) => {
      if (!engine) return test.skip('Chromium: not on this machine');
      await nurse.see('New case');
      await holds('cases');
      await nurse.openDemo();
      for (const step of ['Screws', 'Bone', 'Tools', 'Consent', 'Agreed', 'Start']) {
        await nurse.touch(new RegExp(`^${step}`));
        await holds(`briefing-${step.toLowerCase()}`);
      }
    });

    it('the table keeps them through a failure, its holds and its sheets, all in view [Z5] [Z8] [Z28]', async (test) => {
      if (!engine) return test.skip('Chromium: not on this machine');
      await nurse.begin();
      await engine.page.evaluate('shifts.length = 0');
      await holds('table-uncalled', fixed);
      await nurse.call('3');
      await nurse.see(/3\s*seated/);
      await holds('table-seated', fixed);
      await nurse.touch(/Turn it out/);
      await nurse.see(/now: turn it out/);
      await holds('table-running', fixed);
      await nurse.touch(/Something else/);
      await holds('table-outcomes', fixed);
      await nurse.touch(/Back to the likely/);
      await nurse.touch(/slipped/i);
      await nurse.see('Stop turning and look again');
      await holds('table-reassess', fixed);
      await nurse.touch(/^Recess damaged/);
      await nurse.see('Recess clean');
      await holds('table-reassess-checks', fixed);
      await nurse.touch(/^Looked again/);
      await holds('table-stripped', fixed);
      await nurse.touch(/^About moves/);
      await holds('table-about-moves', fixed);
      await nurse.touch(/Pack foil/);
      await holds('table-about');
      await nurse.touch(/^Back/);
      await nurse.touch(/Pack foil/);
      await nurse.touch(/No change/);
      await holds('table-second-surgeon', fixed);
      await nurse.touch(/^None available/);
      await holds('table-after', fixed);
      await nurse.touch(/^Closed moves/);
      await holds('sheet-closed');
      await nurse.touch(/^Back/);
      for (let page = 0; page < 4; page++) {
        await nurse.turnPage();
        await holds(`table-moves-${page + 2}`, fixed);
        if ((await engine.page.getByRole('button', { name: /^First moves/ }).count()) > 0) break;
      }
    });

    it('every sheet of more keeps them, at every size such a tablet is sold in, no word of it broken', async (test) => {
      if (!engine) return test.skip('Chromium: not on this machine');
      await nurse.touch(/^More/);
      await holds('sheet-more', fixed);
      await moreInView();
      await nurse.touch(/^Back/);
      for (const sheet of [
        ...['What was found', 'Clocks and images', 'Tool brought in', 'Bone picture', 'It was earlier', 'All entries'],
        ...['Remark', 'At the tablet now', 'An event', 'Plate, nail, parts'],
      ]) {
        await nurse.touch(/^More/);
        await nurse.touch(new RegExp(sheet));
        await holds(`sheet-${sheet.toLowerCase().replaceAll(/\W+/g, '-')}`);
        await nurse.touch(/^Back/);
      }
      await nurse.touch(/^Let it stay/);
      await holds('sheet-stay');
      await nurse.touch(/^Back/);
    });

    it('a broken tool and what is asked of its tip keep them', async (test) => {
      if (!engine) return test.skip('Chromium: not on this machine');
      await nurse.call('4');
      await nurse.see(/4\s*seated/);
      await nurse.touch(/Turn it out/);
      await nurse.touch(/Something else/);
      await nurse.touch(/The tool broke/);
      await holds('table-tip', fixed);
      await nurse.touch(/^Found/);
      await holds('table-tip-found', fixed);
      await nurse.touch(/^All of it/);
      await holds('table-tip-done', fixed);
    });

    it('a head that is off under a plate, and what the plate is asked before it is lifted, keep them', async (test) => {
      if (!engine) return test.skip('Chromium: not on this machine');
      await nurse.call('3');
      await nurse.see(/3\s*stripped/);
      for (
        let page = 0;
        page < 6 && (await engine.page.getByRole('button', { name: /Drill head/ }).count()) === 0;
        page++
      )
        await nurse.turnPage();
      await nurse.touch(/Drill head/);
      await nurse.see(/now: drill the head off/);
      await nurse.touch(/The head came off/);
      await holds('table-where-is-the-head', fixed);
      await nurse.touch(/In the plate/);
      await nurse.see(/3\s*no head/);
      await holds('table-plate-on', fixed);
      await nurse.touch(/Come back later/);
      await holds('table-put-off', fixed);
      await nurse.touch(/^More/);
      await nurse.touch(/^Lift the plate/);
      await nurse.touch(/^Count$/);
      await nurse.see('Screws on the image');
      await holds('table-still-fixed', fixed);
      await nurse.touch(/^8$/);
      await holds('table-still-fixed-out', fixed);
      await nurse.touch(/^0$/);
      await holds('table-still-fixed-answers', fixed);
      await nurse.touch(/^Stop$/);
      // The map is there again once the count is gone.
      await engine.page.locator('.still-fixed').waitFor({ state: 'detached' });
      await nurse.call('4');
      await nurse.see(/4\s*seated/);
    });

    it('the surgeon’s page shows capitals of at least 16 arc minutes at the set distance [Z8]', async (test) => {
      if (!engine) return test.skip('Chromium: not on this machine');
      await nurse.touch(/Show surgeon/);
      // Its lines are set closer than the height of their letters.
      await holds('glance', { fixed: true, words: false });
      const glance = await glanceCapitals(engine.page, device.pxPerMm, device.distance);
      console.log(
        `${device.name} at ${device.distance} m: ${glance.capMm.toFixed(1)} mm, ${glance.arcminutes.toFixed(1)}′`,
      );
      expect(glance.lines).toBeGreaterThan(1);
      expect(glance.arcminutes).toBeGreaterThanOrEqual(16);
      await nurse.touch(/Back to the table/);
    });

    it('closing and record keep them [Z5] [Z28]', async (test) => {
      if (!engine) return test.skip('Chromium: not on this machine');
      await nurse.touch(/^More/);
      await nurse.touch(/Close the case/);
      await holds('closing');
      await nurse.touch(/^End work/);
      await holds('closing-aftercare');
      await nurse.touch(/^Back/);
      await nurse.touch(/^Record/);
      for (const tab of ['Note', 'Fill in', 'Timeline', 'Still in', 'Lists', 'Hand over']) {
        await nurse.touch(new RegExp(`^${tab}`));
        await holds(`record-${tab.toLowerCase().replaceAll(' ', '-')}`);
      }
    });

    it('few sizes of type and few fills are used over all of them', (test) => {
      if (!engine) return test.skip('Chromium: not on this machine');
      const sizes = [...kinds.sizes].sort((a, b) => a - b);
      const fills = [...kinds.fills].sort();
      console.log(
        `${device.name}, ${device.theme}: sizes ${sizes.join(', ')} mm; ${fills.length} fills ${fills.join('; ')}`,
      );
      expect(sizes.length).toBeGreaterThan(2);
      expect(sizes.length).toBeLessThanOrEqual(7);
      expect(fills.length).toBeGreaterThan(2);
      expect(fills.length).toBeLessThanOrEqual(7);
    });

    it('nothing moves under a finger while a case is played [Z7]', async (test) => {
      if (!engine) return test.skip('Chromium: not on this machine');
      expect(await engine.page.evaluate('shifts')).toEqual([]);
    });
  });
}
