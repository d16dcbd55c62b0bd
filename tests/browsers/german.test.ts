/** The built app in German: nothing overflows or shrinks on the table, at a hold, in the glance layer and at the end. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findChromium } from '../../src/tools/engines.mjs';
import { absent, launchChromium, startServer, type ChromiumEngine } from './harness.ts';
import { measure } from './measure.ts';
import { playerOn, type Player } from './player.ts';

const pxPerMm = 132 / 25.4;

const sizes = [
  { width: 1180, height: 820 },
  { width: 1280, height: 800 },
];

describe.skipIf(!findChromium() && !absent('Chromium')).each(sizes)(
  'the app in German at $width × $height',
  (viewport) => {
    let server: Awaited<ReturnType<typeof startServer>>;
    let engine: ChromiumEngine;
    let player: Player;
    beforeAll(async () => {
      server = await startServer();
      engine = (await launchChromium({ viewport, args: ['--lang=en'] })) as ChromiumEngine;
      player = playerOn(engine.page);
      await engine.page.addInitScript((pixelsPerMm) => {
        localStorage.setItem('counterturn.settings', JSON.stringify({ pixelsPerMm, language: 'de', distance: 2 }));
      }, pxPerMm);
      await engine.open(server.url);
    }, 60_000);
    afterAll(async () => {
      await engine?.close();
      await server?.close();
    });

    /** Words that stand out of the touch that they are in. A line's box is a tenth taller than its letters on either side. */
    const overflowing = () =>
      engine.page.evaluate(() =>
        [...document.querySelectorAll('button')]
          .filter((button) => button.getBoundingClientRect().width > 0)
          .flatMap((button) => {
            const box = button.getBoundingClientRect();
            const range = document.createRange();
            range.selectNodeContents(button);
            const out = [...range.getClientRects()].some(
              (rect) =>
                rect.width > 0 &&
                (rect.right > box.right + 1 ||
                  rect.left < box.left - 1 ||
                  rect.bottom - rect.height / 10 > box.bottom + 1 ||
                  rect.top + rect.height / 10 < box.top - 1),
            );
            return out ? [button.innerText.replaceAll('\n', ' / ')] : [];
          }),
      );
    const whole = async (screen: string) => {
      expect({ screen, overflowing: await overflowing() }).toEqual({ screen, overflowing: [] });
      const { faults, touches } = await measure(engine.page, pxPerMm);
      expect(touches).toBeGreaterThan(3);
      expect({ screen, faults }).toEqual({ screen, faults: [] });
    };

    it('speaks German, and says so to the machine', async () => {
      await player.see(/Neuer Fall/);
      expect(await engine.evaluate('document.documentElement.lang')).toBe('de');
      await whole('cases');
    });

    it('keeps the table, a hold and the moves after it whole', { timeout: 120_000 }, async () => {
      await player.openFirst();
      await player.see('8 Schrauben');
      await player.touch(/^Beginn/);
      await player.touch('Arbeit beginnen');
      await player.see('Schraube aufrufen');
      await whole('table');
      await player.touch(/^3 .*Schraube/);
      await player.see(/3 sitzt/i);
      await whole('called');
      await player.touch(/^1\s*Herausdrehen/i);
      await player.see(/Abgerutscht/);
      await whole('running');
      await player.touch(/Abgerutscht/);
      await player.see('Nicht weiterdrehen, neu hinsehen');
      await player.see('ist im Antrieb von Schraube 3 abgerutscht');
      await whole('hold');
      await player.touch(/^Neu hingesehen/);
      await player.see('Folie hinein');
      await whole('moves');
    });

    it('fits the surgeon’s screen', { timeout: 60_000 }, async () => {
      await player.touch(/^Groß zeigen/);
      await player.see('Antrieb rund LINKS');
      await whole('glance');
      const wide = await engine.evaluate('document.documentElement.scrollWidth <= innerWidth');
      expect(wide).toBe(true);
      await player.touch('Zurück zum Tisch');
    });

    it('keeps the closing and the record whole', { timeout: 90_000 }, async () => {
      await player.touch(/^Mehr/);
      await player.see('Alle Einträge, streichen');
      await whole('more');
      await player.touch('Fall abschließen');
      await player.see('Metall zählen');
      await whole('closing');
      await player.touch(/^Bericht/);
      await player.see(/LINKS .*: Metallentfernung/i);
      await whole('record');
    });

    it(
      'keeps the table of the release to come whole, through a slip, its look and its moves',
      { timeout: 180_000 },
      async () => {
        await engine.page.reload();
        await player.see(/Antrieb rund/);
        await player.touch(/^Mehr/);
        await player.touch('Plan und Werkzeug');
        await player.touch(/^Fälle/);
        await player.touch(/^mehr über/);
        await player.touch(/^Offenen Fall weglegen/);
        await player.openDemo();
        await player.begin();
        await whole('next-table');
        await player.touch(/^3 .*Schraube/);
        await player.see('Schraube 3: sitzt');
        await whole('next-called');
        await player.touch(/^1\s*Ausdrehen/i);
        await player.see(/Abgerutscht/);
        await whole('next-running');
        await player.touch(/Abgerutscht/);
        await player.see('Nicht weiterdrehen, neu hinsehen');
        await whole('next-hold');
        await player.touch(/^Antrieb beschädigt/);
        await whole('next-checks');
        await player.touch(/^Neu hingesehen/);
        await player.see('Gesperrtes');
        await whole('next-moves');
        await player.touch(/^Gesperrtes/);
        await whole('next-closed');
        await player.touch(/^Zurück/);
        await player.touch(/^Mehr/);
        await whole('next-more');
      },
    );
  },
);
