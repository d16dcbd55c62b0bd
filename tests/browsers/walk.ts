/** A walk through the app, kept as one picture that moves. */
import type { Page } from 'playwright-core';
import sharp from 'sharp';
import { atRest } from './rest.ts';

export interface Walk {
  /** Keeps what the window shows now; it will stand for so many seconds. */
  show(seconds?: number): Promise<void>;
  /** The whole walk: GIF bytes that begin again at the end. Fails when nothing was kept. */
  film(): Promise<Buffer>;
}

const colours = 64;

/** @param width of the moving picture, px; the window's proportions stay */
export function walkOn(page: Page, width: number): Walk {
  const frames: { picture: Buffer; ms: number }[] = [];
  return {
    async show(seconds = 1.6) {
      await atRest(page);
      const picture = await sharp(await page.screenshot())
        .resize({ width })
        .png()
        .toBuffer();
      frames.push({ picture, ms: seconds * 1000 });
    },
    film: () =>
      sharp(
        frames.map(({ picture }) => picture),
        { join: { animated: true } },
      )
        .gif({ delay: frames.map(({ ms }) => ms), colours, dither: 0, effort: 10, loop: 0 })
        .toBuffer(),
  };
}
