/** Every screen of the built app is looked at in the same way: sizes, gaps, contrast, names, what is out of view, what moves. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, expect } from 'vitest';
import { violations } from './axe.ts';
import { launchChromium, startServer, type ChromiumEngine } from './harness.ts';
import { brokenWords, cutText, measure, outOfView, overlaps, scrolling } from './measure.ts';
import { playerOn, type Player } from './player.ts';
import { atRest } from './rest.ts';

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
  others: readonly Size[];
  pxPerMm: number;
  theme: 'dark' | 'light';
  distance: number;
  language?: 'en' | 'de';
  /** Words that are cut off are looked for, too. */
  whole?: boolean;
  /** What the names of the pictures begin with; the theme when left out. */
  keeps?: string;
}
const size = (width: number, height: number): Size => ({ width, height });

/** The tablets that every screen is looked at on. */
export const tablets = {
  dark: {
    name: '132 px per inch',
    viewport: size(1180, 820),
    others: [size(1280, 800), size(1024, 768), size(820, 1180)],
    pxPerMm: 132 / 25.4,
    theme: 'dark',
    distance: 3,
  },
  light: {
    name: '149 px per inch',
    viewport: size(1280, 800),
    others: [size(800, 1280)],
    pxPerMm: 149 / 25.4,
    theme: 'light',
    distance: 2,
  },
} as const satisfies Record<string, Device>;

/** Runs in the page: every word of the sheet of more a third longer, as another language might have it. */
function lengthen(): void {
  for (const touch of document.querySelectorAll('.menu .touch, .menu-close'))
    touch.textContent = (touch.textContent ?? '').replace(/\p{L}+/gu, (word) => word + 'n'.repeat(word.length / 3));
}

/** Runs in the page: sizes of the type that is read, mm, and colours of what is filled. */
function kindsInPage(perMm: number): { sizes: number[]; fills: string[] } {
  const sizes = new Set<number>();
  const fills = new Set<string>();
  for (const element of document.querySelectorAll('main, main *')) {
    if (!(element instanceof HTMLElement) || element.getClientRects().length === 0) continue;
    const style = getComputedStyle(element);
    if (!style.backgroundColor.endsWith(', 0)')) fills.add(style.backgroundColor);
    const isRead = [...element.childNodes].some((node) => node.nodeType === 3 && node.textContent?.trim());
    let isSpoken = false;
    for (let at: Element | null = element; at && !isSpoken; at = at.parentElement)
      isSpoken = getComputedStyle(at).clipPath !== 'none';
    if (isRead && !isSpoken && !element.closest('.paper'))
      sizes.add(Math.round((parseFloat(style.fontSize) / perMm) * 10) / 10);
  }
  return { sizes: [...sizes], fills: [...fills] };
}

/** Opens the app on a device before the tests of the suite, and closes it behind them. */
export function looksAt(device: Device) {
  let server: Awaited<ReturnType<typeof startServer>>;
  beforeAll(async () => {
    mkdirSync(shots, { recursive: true });
    server = await startServer();
  });
  afterAll(() => server?.close());

  let engine: ChromiumEngine | null;
  let nurse: Player;
  const worst = { contrast: Infinity, smallest: Infinity, gap: Infinity };
  /** Sizes of type, mm, and fills, as computed, of every screen looked at so far; the surgeon's page by itself. */
  const kinds = { sizes: new Set<number>(), fills: new Set<string>() };

  beforeAll(async () => {
    engine = await launchChromium({ viewport: device.viewport });
    if (!engine) return;
    const { pxPerMm: pixelsPerMm, distance, theme, language = 'en' } = device;
    await engine.page.addInitScript(
      (settings) => {
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
      },
      { pixelsPerMm, distance, theme, language },
    );
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
  async function holds(name: string, { fixed = false, words = device.whole === true } = {}): Promise<void> {
    const page = (engine as ChromiumEngine).page;
    await atRest(page);
    // What the measuring itself moves is not the app's doing.
    const moved = await page.evaluate('shifts.length');
    writeFileSync(new URL(`${device.keeps ?? device.theme}-${name}.png`, shots), await page.screenshot());
    const measured = await measure(page, device.pxPerMm);
    worst.contrast = Math.min(worst.contrast, measured.contrast);
    worst.smallest = Math.min(worst.smallest, measured.smallest);
    worst.gap = Math.min(worst.gap, measured.gap);
    if (name !== 'glance') {
      const seen = await page.evaluate(kindsInPage, device.pxPerMm);
      for (const one of seen.sizes) kinds.sizes.add(one);
      for (const one of seen.fills) kinds.fills.add(one);
    }
    expect.soft(measured.faults, `${name}: sizes and contrast`).toEqual([]);
    expect.soft(measured.texts, `${name}: texts`).toBeGreaterThan(0);
    if (fixed) expect.soft(await outOfView(page), `${name}: in view`).toEqual([]);
    if (fixed) expect.soft(await overlaps(page), `${name}: nothing on top of another`).toEqual([]);
    if (fixed && words) expect.soft(await cutText(page), `${name}: words whole`).toEqual([]);
    // Names, roles and order are the same in both sets of colours; their contrast is measured above.
    if (device.theme === 'dark') expect.soft(await violations(page), `${name}: axe`).toEqual([]);
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
        if (words === 'as they are') expect.soft(await brokenWords(page), `${name}: words broken`).toEqual([]);
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

  return { opened: () => ({ engine, nurse }), holds, holdsTurned, moreInView, kinds };
}
