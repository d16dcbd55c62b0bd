/**
 * The room of the table in millimetres, in the fullest moment there is: fourteen screws, seven tries on the called one, a
 * hold open; at every size of tablet, in English, in German, and in words a good third longer than any of them.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium, startServer, type ChromiumEngine } from './harness.ts';
import { cutText, measure, outOfView, overlaps, scrolling } from './measure.ts';
import { atRest } from './rest.ts';
import { bringIn, made, radius } from './second-case.ts';

const shots = new URL('../../.cache/screens/', import.meta.url);
const pxPerMm = 132 / 25.4;

const looked = { type: 'reassessed', screw: '3', checks: {} };
const driver = { tool: 'driver-hexalobular' };
/** Screw 11 stripped as well, the cuff up, and seven tries on screw 3, the last of which brought nothing. */
const full = [
  ...radius({}).flatMap((entry) =>
    entry.type === 'screw-listed' && entry.screw === '6'
      ? Array.from({ length: 9 }, (_, i) => ({ ...entry, screw: String(6 + i) }))
      : [entry],
  ),
  { type: 'tourniquet', to: 'up' },
  { type: 'screw-called', screw: '11' },
  { type: 'move-started', screw: '11', move: 'turn-out', ...driver },
  { type: 'move-ended', screw: '11', outcome: 'slipped' },
  { ...looked, screw: '11' },
  { type: 'screw-called', screw: '3' },
  ...made('turn-out', 'slipped', driver),
  looked,
  ...made('reseat-driver', 'no-change', driver),
  ...made('pack-recess', 'no-change', { tool: 'metal-foil' }),
  ...made('drive-oversize', 'no-change', driver),
  ...made('grip-head', 'no-change', { tool: 'head-gripper' }),
  ...made('grip-head', 'no-change', { tool: 'locking-pliers' }),
  ...made('conical-extractor', 'no-change', { tool: 'conical-extractor' }),
];

/**
 * Runs in the page: every word of the table four tenths longer, as a language that nobody speaks might have it; not those
 * whose letters are counted before a content is taken (stages, moves, outcomes), nor upright the six of the foot, whose
 * least touches, gaps and distance leave 8 mm for all their words beyond 20 mm.
 */
function lengthen(): void {
  const walker = document.createTreeWalker(document.querySelector('main') as Element, NodeFilter.SHOW_TEXT);
  const isUpright = innerHeight > innerWidth;
  const kept = `.bar-label, .map-word, .stage, .card-title, .stair-line${isUpright ? ', .table-foot' : ''}`;
  const nodes: Node[] = [];
  for (let node = walker.nextNode(); node; node = walker.nextNode()) nodes.push(node);
  for (const node of nodes)
    if (!node.parentElement?.closest(kept))
      node.textContent = (node.textContent ?? '').replace(
        /\p{L}{3,}/gu,
        (word) => word + 'eniro'.repeat(3).slice(0, Math.round(word.length * 0.4)),
      );
}

/** Heights and distances, mm. */
const budget = (page: Page) =>
  page.evaluate((perMm) => {
    const box = (found: string) => document.querySelector(found)?.getBoundingClientRect();
    const high = (found: string) => (box(found)?.height ?? 0) / perMm;
    const cards = [...document.querySelectorAll('.table-panel .card')].map((card) => card.getBoundingClientRect());
    return {
      stage: high('.stage'),
      foot: high('.table-foot'),
      said: high('.table-said'),
      card: Math.min(...cards.map(({ height }) => height)) / perMm,
      apart: ((box('.table-foot')?.top ?? 0) - Math.max(...cards.map(({ bottom }) => bottom))) / perMm,
    };
  }, pxPerMm);

const sizes = [
  { width: 1180, height: 820 },
  { width: 1280, height: 800 },
  { width: 1024, height: 768 },
  { width: 820, height: 1180 },
];

let server: Awaited<ReturnType<typeof startServer>>;
beforeAll(async () => {
  mkdirSync(shots, { recursive: true });
  server = await startServer();
});
afterAll(() => server?.close());

describe.each(sizes)('the fullest table at $width × $height', (viewport) => {
  let engine: ChromiumEngine | null = null;
  afterAll(() => engine?.close());

  it.each(['en', 'de'])('is whole in %s, and with longer words, its budget kept [Z3] [Z5]', async (language) => {
    await engine?.close();
    engine = await launchChromium({ viewport });
    if (!engine) return;
    const { page } = engine;
    await page.addInitScript(
      (settings) => {
        if (localStorage.getItem('counterturn.settings') === null)
          localStorage.setItem('counterturn.settings', JSON.stringify(settings));
      },
      { pixelsPerMm: pxPerMm, distance: 2, theme: language === 'en' ? 'dark' : 'light' },
    );
    await engine.open(server.url);
    const nurse = await bringIn(page, full, language);
    for (const words of ['as they are', 'longer'] as const) {
      const name = `${language}, words ${words}`;
      if (words === 'longer') await page.evaluate(lengthen);
      await atRest(page);
      writeFileSync(
        new URL(`budget-${viewport.width}-${language}-${words === 'longer' ? 'longer' : 'plain'}.png`, shots),
        await page.screenshot(),
      );
      expect.soft(await page.locator('.band-hold').count(), `${name}: a hold is open`).toBe(1);
      expect.soft(await outOfView(page), `${name}: in view`).toEqual([]);
      expect.soft(await overlaps(page), `${name}: nothing on top of another`).toEqual([]);
      expect.soft(await cutText(page), `${name}: words whole`).toEqual([]);
      expect.soft((await measure(page, pxPerMm)).faults, `${name}: sizes and contrast`).toEqual([]);
      const mm = await budget(page);
      expect.soft(mm.card, `${name}: a card`).toBeGreaterThanOrEqual(19.95);
      expect.soft(mm.foot, `${name}: the foot`).toBeGreaterThanOrEqual(19.95);
      expect.soft(mm.said, `${name}: the last entry`).toBeGreaterThanOrEqual(9.95);
      expect.soft(mm.apart, `${name}: from the cards to the foot`).toBeGreaterThanOrEqual(12.95);
    }
    // The longer of the two languages shows whether there is room.
    if (language === 'en') return;
    await page.reload();
    const isWhole = async (what: string) => {
      await atRest(page);
      writeFileSync(new URL(`budget-${viewport.width}-${language}-${what}.png`, shots), await page.screenshot());
      expect.soft(await scrolling(page, '.table-sheet, .table-panel'), `${what}: scrolls`).toEqual([]);
      expect.soft(await outOfView(page), `${what}: in view`).toEqual([]);
      expect.soft(await overlaps(page), `${what}: nothing on top of another`).toEqual([]);
      expect.soft(await cutText(page), `${what}: words whole`).toEqual([]);
      expect.soft((await measure(page, pxPerMm)).faults, `${what}: sizes and contrast`).toEqual([]);
    };
    await nurse.touch(/^(More|Mehr)/);
    await nurse.touch(/^(At the tablet now|Jetzt am Tablet)/);
    await page.locator('.at-the-tablet').waitFor();
    await isWhole('hand-over');
    await nurse.touch(/^(Back|Zurück)/);
    await nurse.touch(/^(More|Mehr)/);
    await nurse.touch(/^(It was earlier|Es war schon früher)/);
    await nurse.touch(/^(5 min ago|vor 5 min)/);
    await page.locator('.late-moves svg').first().waitFor();
    await isWhole('late');
  });
});
