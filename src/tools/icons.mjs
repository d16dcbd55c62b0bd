/** Draws the PNG icons from icon.svg with Chromium. Run by hand after a change: `node src/tools/icons.mjs`. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { findChromium } from './engines.mjs';

const folder = join(import.meta.dirname, '../public');
const executablePath = findChromium();
if (!executablePath) throw new Error('Chromium is not on this machine');

const browser = await chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-gpu'] });
const svg = readFileSync(join(folder, 'icon.svg'), 'utf8');
for (const size of [192, 512]) {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  await page.setContent(`<style>body { margin: 0 } svg { display: block; width: ${size}px }</style>${svg}`);
  await page.screenshot({ path: join(folder, `icon-${size}.png`) });
}
await browser.close();
