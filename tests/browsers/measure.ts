/** Measures a screen as it stands in a real browser: sizes and gaps of touches, contrast of every text, capitals. */
import type { Page } from 'playwright-core';

export interface Measured {
  /** Sentences, one for each fault. */
  faults: string[];
  touches: number;
  texts: number;
  /** Smallest contrast of any text. */
  contrast: number;
  /** Smallest side of a touch, a link being one too, mm. */
  smallest: number;
  /** Smallest gap between two touches, mm. */
  gap: number;
}

/** @param pxPerMm the calibration that the app was given */
export const measure = (page: Page, pxPerMm: number): Promise<Measured> => page.evaluate(inPage, pxPerMm);

function inPage(pxPerMm: number): Measured {
  const faults: string[] = [];
  const shown = (element: Element) => {
    const box = element.getBoundingClientRect();
    return box.width > 0 && box.height > 0 && getComputedStyle(element).visibility !== 'hidden';
  };
  const name = (element: Element) =>
    (element.getAttribute('aria-label') ?? (element as HTMLElement).innerText).replaceAll('\n', ' / ').slice(0, 40);

  const buttons = [...document.querySelectorAll('button, a[href]')].filter(shown);
  /** What of a touch is in view: a scrolled list ends where its box ends. */
  const visible = (element: Element): DOMRect => {
    let { left, top, right, bottom } = element.getBoundingClientRect();
    for (let at = element.parentElement; at && at !== document.body; at = at.parentElement) {
      if (getComputedStyle(at).overflow === 'visible') continue;
      const box = at.getBoundingClientRect();
      [left, top] = [Math.max(left, box.left), Math.max(top, box.top)];
      [right, bottom] = [Math.min(right, box.right), Math.min(bottom, box.bottom)];
    }
    return new DOMRect(left, top, Math.max(0, right - left), Math.max(0, bottom - top));
  };
  const tolerance = 0.6;
  let smallest = Infinity;
  let gap = Infinity;
  for (const button of buttons) {
    const { width, height } = button.getBoundingClientRect();
    const least = Math.min(width, height);
    smallest = Math.min(smallest, least / pxPerMm);
    if (least < 20 * pxPerMm - tolerance || least < 44 - tolerance)
      faults.push(`touch "${name(button)}" is ${(least / pxPerMm).toFixed(1)} mm`);
    // A list may end in the middle of a row, but no touch is cut off at its side.
    const seen = visible(button);
    if (seen.height > 1 && seen.width < width - 1)
      faults.push(`touch "${name(button)}" is cut off at its side by ${(width - seen.width).toFixed(0)} px`);
  }
  for (const [i, one] of buttons.entries())
    for (const other of buttons.slice(i + 1)) {
      const [a, b] = [visible(one), visible(other)];
      if (a.width * a.height < 1 || b.width * b.height < 1) continue;
      const across = Math.max(a.left - b.right, b.left - a.right);
      const down = Math.max(a.top - b.bottom, b.top - a.bottom);
      const apart = Math.max(across, down);
      if (across > 0 && down > 0) continue;
      const consequential = [one, other].filter((button) => button.classList.contains('touch-consequential')).length;
      const least = consequential === 1 ? 13 : 3;
      gap = Math.min(gap, apart / pxPerMm);
      if (apart < least * pxPerMm - tolerance)
        faults.push(`"${name(one)}" and "${name(other)}" are ${(apart / pxPerMm).toFixed(1)} mm apart, not ${least}`);
    }

  const parse = (colour: string) => (colour.match(/[\d.]+/g) ?? []).map(Number);
  const light = (channel: number) => {
    const share = channel / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  };
  const luminance = ([r = 0, g = 0, b = 0]: number[]) => 0.2126 * light(r) + 0.7152 * light(g) + 0.0722 * light(b);
  const ground = (element: Element | null): number[] => {
    for (let at = element; at; at = at.parentElement) {
      const colour = parse(getComputedStyle(at).backgroundColor);
      if (colour.length === 3 || (colour[3] ?? 0) > 0) return colour;
    }
    return [255, 255, 255];
  };
  const ratioOf = (a: number[], b: number[]) => {
    const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
    return (high + 0.05) / (low + 0.05);
  };
  // A touch is a fill of its own and an edge of 3 : 1 along its foot, or a fill that stands out by as much itself; what
  // cannot be touched has neither.
  for (const button of buttons) {
    const style = getComputedStyle(button);
    const own = parse(style.backgroundColor);
    const isFilled = own.length === 3 || (own[3] ?? 0) > 0;
    const behind = ground(button.parentElement);
    const edge = parse(style.borderBlockEndColor);
    const hasEdge = parseFloat(style.borderBlockEndWidth) > 0 && (edge.length === 3 || (edge[3] ?? 0) > 0);
    if (button.getAttribute('aria-disabled') === 'true') {
      if (isFilled || hasEdge) faults.push(`closed touch "${name(button)}" looks like one that is open`);
      continue;
    }
    if (button.tagName === 'A') continue;
    if (!isFilled) faults.push(`touch "${name(button)}" has no fill`);
    const stands = isFilled && ratioOf(own, behind) >= 3;
    if (!stands && !(hasEdge && ratioOf(edge, behind) >= 3 && ratioOf(edge, own) >= 3))
      faults.push(`touch "${name(button)}" has no edge of 3 : 1`);
  }
  let texts = 0;
  let contrast = Infinity;
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const parent = node.parentElement;
    if (!parent || !node.textContent?.trim() || !shown(parent) || parent.closest('noscript, style, script')) continue;
    texts += 1;
    const svg = parent.closest('svg');
    const colour = parse(
      svg && parent.tagName === 'text' ? getComputedStyle(parent).fill : getComputedStyle(parent).color,
    );
    const ratio = ratioOf(colour, ground(svg ?? parent));
    contrast = Math.min(contrast, ratio);
    if (ratio < 7) faults.push(`"${node.textContent.trim().slice(0, 40)}" has a contrast of ${ratio.toFixed(2)}`);
  }
  if (document.documentElement.scrollWidth > innerWidth + 1) faults.push('the page scrolls sideways');
  return { faults, touches: buttons.length, texts, contrast, smallest, gap };
}

/** Does all of a fixed screen stand in view, with nothing cut off by the window? Names what is outside. */
export const outOfView = (page: Page): Promise<string[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll('main button, main a[href], main h1, main header, main footer')]
      .filter((element) => {
        const box = element.getBoundingClientRect();
        return (
          box.width > 0 && (box.bottom > innerHeight + 1 || box.right > innerWidth + 1 || box.top < -1 || box.left < -1)
        );
      })
      .map((element) => `${element.tagName} ${(element as HTMLElement).innerText.slice(0, 30)}`),
  );

/** Elements that hold more than they show, by more than a pixel. Names them. */
export const scrolling = (page: Page, selector: string): Promise<string[]> =>
  page.evaluate(
    (found) =>
      [...document.querySelectorAll(found)]
        .filter((element) => element instanceof HTMLElement && element.clientHeight > 0)
        .filter(
          ({ scrollHeight, clientHeight, scrollWidth, clientWidth }) =>
            scrollHeight > clientHeight + 1 || scrollWidth > clientWidth + 1,
        )
        .map((element) => `${element.tagName} ${(element as HTMLElement).innerText.slice(0, 30)}`),
    selector,
  );

/** Touches and lines of the open page that lie on one another, by more than 2 px. */
export const overlaps = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const all = [
      ...document.querySelectorAll('main button, main a[href], main h1, main h2, .table-said, .band'),
    ].filter((element) => element.getClientRects().length > 0 && getComputedStyle(element).visibility === 'visible');
    const name = (element: Element) => `${element.tagName} ${(element as HTMLElement).innerText.slice(0, 30)}`;
    return all.flatMap((a, i) =>
      all.slice(i + 1).flatMap((b) => {
        if (a.contains(b) || b.contains(a)) return [];
        const [one, two] = [a.getBoundingClientRect(), b.getBoundingClientRect()];
        const across = Math.min(one.right, two.right) - Math.max(one.left, two.left);
        const down = Math.min(one.bottom, two.bottom) - Math.max(one.top, two.top);
        return across > 2 && down > 2 ? [`${name(a)} on ${name(b)}`] : [];
      }),
    );
  });

export interface Glance {
  /** Height of a capital of the smallest line, mm. */
  capMm: number;
  /** Visual angle at the distance, arc minutes. */
  arcminutes: number;
  lines: number;
}

/**
 * Capitals of the glance layer, from the font that was really used.
 *
 * @param distance m
 */
export async function glanceCapitals(page: Page, pxPerMm: number, distance: number): Promise<Glance> {
  const { cap, lines } = await page.evaluate(() => {
    const all = [...document.querySelectorAll('.glance-state, .glance-question, .glance-option')];
    const context = document.createElement('canvas').getContext('2d') as CanvasRenderingContext2D;
    const caps = all.map((element) => {
      const style = getComputedStyle(element);
      context.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
      return context.measureText('H').actualBoundingBoxAscent;
    });
    return { cap: Math.min(...caps), lines: all.length };
  });
  const capMm = cap / pxPerMm;
  return { capMm, arcminutes: (2 * Math.atan(capMm / 2 / (distance * 1000)) * 10_800) / Math.PI, lines };
}

/**
 * Words that are not whole to be read: beyond the edge of their own touch or band, or cut off by whatever holds them. A
 * label that ends in dots says so itself. Names each with the touch it belongs to.
 */
export const cutText = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const faults = new Set<string>();
    const walker = document.createTreeWalker(document.querySelector('main') as Element, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const parent = node.parentElement;
      if (!parent || !node.textContent?.trim() || getComputedStyle(parent).visibility === 'hidden') continue;
      if (parent.closest('svg, .bar-label')) continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      const lines = [...range.getClientRects()].filter(({ width, height }) => width > 1 && height > 1);
      const held = parent.closest('button, .band, .section-ring, .table-stage, .glance-state, .glance-question');
      const edges: Element[] = held ? [held] : [];
      for (let at: Element | null = parent; at && at !== document.body; at = at.parentElement) {
        const { overflow, clipPath } = getComputedStyle(at);
        // What is only spoken is cut off on purpose, and what can be scrolled is a sheet.
        if (clipPath !== 'none' || overflow.includes('auto')) {
          edges.length = 0;
          break;
        }
        if (overflow !== 'visible') edges.push(at);
      }
      for (const edge of edges) {
        const box = edge.getBoundingClientRect();
        // The line of a text is higher than its letters.
        const spare = 0.15 * parseFloat(getComputedStyle(parent).fontSize) + 1;
        const isOut = lines.some(
          (line) =>
            line.right > box.right + 1 ||
            line.left < box.left - 1 ||
            line.bottom > box.bottom + spare ||
            line.top < box.top - spare,
        );
        if (isOut) faults.add(`"${node.textContent.trim().slice(0, 40)}" in ${edge.className || edge.tagName}`);
      }
    }
    return [...faults];
  });

/** Drawings that reach beyond the room of the pictures. Names them. */
export const cutPictures = (page: Page): Promise<string[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll('.table-pictures')].flatMap((room) => {
      const box = room.getBoundingClientRect();
      return [...room.querySelectorAll('.pictures svg, .section-ring')]
        .map((drawn) => ({ drawn, at: drawn.getBoundingClientRect() }))
        .filter(({ at }) => box.height > 60 && at.width > 0 && (at.right > box.right + 1 || at.bottom > box.bottom + 1))
        .map(
          ({ drawn, at }) =>
            `${drawn.getAttribute('class') ?? drawn.tagName} by ${Math.round(at.right - box.right)} px`,
        );
    }),
  );

/** Words of the sheet of more that are broken over two lines with nothing that says so. */
export const brokenWords = (page: Page): Promise<string[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll('.menu .touch, .menu-close, .menu-settings')].flatMap((touch) => {
      const broken: string[] = [];
      const walker = document.createTreeWalker(touch, NodeFilter.SHOW_TEXT);
      for (let node = walker.nextNode(); node; node = walker.nextNode())
        for (const found of (node.textContent ?? '').matchAll(/\p{L}+/gu)) {
          const range = document.createRange();
          range.setStart(node, found.index);
          range.setEnd(node, found.index + found[0].length);
          if (new Set([...range.getClientRects()].map(({ top }) => Math.round(top))).size > 1) broken.push(found[0]);
        }
      return broken;
    }),
  );
