/** Makes the pictures of the README from the built app: `npm run build && npx tsx tests/browsers/pictures.ts`. */
import { writeFile } from 'node:fs/promises';
import { launchChromium, startServer } from './harness.ts';
import { playerOn } from './player.ts';

const folder = new URL('../../.readme/', import.meta.url);
const server = await startServer();
const engine = await launchChromium();
if (!engine) throw new Error('There is no Chromium on this machine');
await engine.page.addInitScript(() =>
  localStorage.setItem('counterturn.settings', JSON.stringify({ pixelsPerMm: 132 / 25.4, distance: 3, theme: 'dark' })),
);
await engine.open(server.url);
const nurse = playerOn(engine.page);
const keep = async (name: string) => writeFile(new URL(`${name}.png`, folder), await engine.screenshot());

await nurse.beginDemo();
await nurse.call('3');
await nurse.touch(/Turn it out/);
await nurse.see(/now: turn it out/);
await nurse.touch(/slipped/i);
await nurse.touch(/Looked again/);
await nurse.touch(/Moves 5/);
await nurse.touch(/Drill head off/);
await nurse.see(/now: drill head off/);
await nurse.touch(/The head came off/);
await nurse.see(/3\s*head gone/);
await engine.page.waitForTimeout(800);
await keep('at-the-table');
await nurse.touch(/Show surgeon/);
await engine.page.waitForTimeout(800);
await keep('show-surgeon');

await engine.close();
await server.close();
