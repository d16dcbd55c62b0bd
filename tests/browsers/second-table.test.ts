/** The table by the second ladder in a real browser, both ways up, in English and German: nothing is cut off. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium, startServer, type ChromiumEngine } from './harness.ts';
import { cutPictures, cutText, measure, outOfView, overlaps } from './measure.ts';
import { atRest } from './rest.ts';
import { bringIn, made, radius } from './second-case.ts';

const shots = new URL('../../.cache/screens/', import.meta.url);
const pxPerMm = 132 / 25.4;
const turned = [
  { way: 'lying', viewport: { width: 1180, height: 820 } },
  { way: 'upright', viewport: { width: 820, height: 1180 } },
];

const slipped = made('turn-out', 'slipped', { tool: 'driver-hexalobular' });
const looked = [...slipped, { type: 'reassessed', screw: '3', checks: {} }];
const deep = { stage: 'fragment-retained', underPlate: false };
const wide = { outer: 27, cortex: 5, source: 'measured' };
const rotten = made('turn-out', 'no-change', { tool: 'driver-hexalobular' });

const situations: { name: string; fields: ReturnType<typeof radius>; start?: RegExp; inGerman?: true }[] = [
  { name: 'slipped', fields: radius({ then: slipped }) },
  { name: 'jammed', inGerman: true, fields: radius({ then: [...rotten, ...rotten] }) },
  { name: 'plate-on', fields: radius({ third: { stage: 'head-sheared' } }) },
  {
    name: 'tip',
    fields: radius({
      then: [...looked, ...made('reverse-tap', 'tool-broke', { tool: 'reverse-tap' }, { bores: [] })],
    }),
  },
  { name: 'no-head', fields: radius({ third: { stage: 'head-sheared', underPlate: false } }) },
  { name: 'deep', fields: radius({ third: deep, bone: wide }) },
  {
    name: 'far-wall',
    fields: radius({ third: deep, bone: { ...wide, source: 'assumed' } }),
    start: /Ream over|Hohlfräse/,
  },
  {
    name: 'reaming',
    fields: radius({
      third: deep,
      bone: wide,
      then: made('hollow-ream', 'out', { tool: 'hollow-reamer' }).slice(0, 1),
    }),
  },
];

let server: Awaited<ReturnType<typeof startServer>>;
let engine: ChromiumEngine | null;
beforeAll(async () => {
  mkdirSync(shots, { recursive: true });
  server = await startServer();
});
afterEach(() => engine?.close());
afterAll(() => server?.close());

describe.each(['en', 'de'])('the table by the second ladder, %s', (language) => {
  it.each(situations.filter(({ inGerman }) => language === 'en' || inGerman))(
    '$name: every word and picture is whole, both ways up [Z5] [Z8]',
    async ({ name, fields, start }) => {
      engine = await launchChromium();
      if (!engine) return;
      const { page } = engine;
      await page.addInitScript((pixelsPerMm) => {
        if (localStorage.getItem('counterturn.settings') === null)
          localStorage.setItem('counterturn.settings', JSON.stringify({ pixelsPerMm, distance: 2, language: 'en' }));
      }, pxPerMm);
      await engine.open(server.url);
      const nurse = await bringIn(page, fields, language);
      if (start) await nurse.touch(start);
      for (const { way, viewport } of turned) {
        await page.setViewportSize(viewport);
        await atRest(page);
        writeFileSync(new URL(`second-${name}-${way}-${language}.png`, shots), await page.screenshot());
        expect.soft(await cutText(page), `${name} ${way}: words`).toEqual([]);
        expect.soft(await cutPictures(page), `${name} ${way}: pictures`).toEqual([]);
        expect.soft(await outOfView(page), `${name} ${way}: in view`).toEqual([]);
        expect.soft(await overlaps(page), `${name} ${way}: nothing on top of another`).toEqual([]);
        expect.soft((await measure(page, pxPerMm)).faults, `${name} ${way}: sizes`).toEqual([]);
      }
      await nurse.touch(/^(Show surgeon|Groß zeigen)/);
      for (const { way, viewport } of turned) {
        await page.setViewportSize(viewport);
        await atRest(page);
        writeFileSync(new URL(`second-${name}-${way}-${language}-surgeon.png`, shots), await page.screenshot());
        expect.soft(await outOfView(page), `${name} ${way}, surgeon: in view`).toEqual([]);
        expect.soft(await overlaps(page), `${name} ${way}, surgeon: nothing on top of another`).toEqual([]);
        expect.soft((await measure(page, pxPerMm)).faults, `${name} ${way}, surgeon: sizes`).toEqual([]);
      }
    },
  );
});
