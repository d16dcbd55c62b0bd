/**
 * Makes what the README shows, out of the built app: two pictures, a walk through one invented case, and its record as
 * the printer gives it. `npm run build && npx tsx tests/browsers/pictures.ts`
 */
import { writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { launchChromium, startServer } from './harness.ts';
import { playerOn } from './player.ts';
import { walkOn } from './walk.ts';

const file = (name: string) => fileURLToPath(new URL(`../../.readme/${name}`, import.meta.url));
const server = await startServer();
const engine = await launchChromium();
if (!engine) throw new Error('There is no Chromium on this machine');
const { page } = engine;
await page.addInitScript(() => {
  localStorage.setItem('counterturn.settings', JSON.stringify({ pixelsPerMm: 132 / 25.4, distance: 3, theme: 'dark' }));
  // The print window of a browser without a screen stays open for ever.
  window.print = () => {};
});
await engine.open(server.url);
const nurse = playerOn(page);
const walk = walkOn(page, 826);
const keep = async (name: string) => writeFile(file(name), await page.screenshot());

await nurse.openFirst();
await walk.show(2);
await nurse.touch(/^Start/);
await walk.show(2.4);
await nurse.touch(/Start work/);
await nurse.see('Call a screw');
await walk.show();
await nurse.call('3');
await walk.show(2);
await nurse.touch(/Turn it out/);
await nurse.see(/now: turn it out/);
await walk.show();
await nurse.touch(/slipped/i);
await nurse.see('Stop turning and look again');
await walk.show(2.4);
await nurse.touch(/Looked again/);
await nurse.see(/3\s*stripped/);
await walk.show(2);
await nurse.touch(/Moves 5/);
await walk.show();
await nurse.touch(/Drill head off/);
await nurse.see(/now: drill head off/);
await walk.show();
await nurse.touch(/The head came off/);
await nurse.see(/3\s*head gone/);
await walk.show(2.4);
await keep('at-the-table.png');
await nurse.touch(/Show surgeon/);
await walk.show(2.4);
await keep('show-surgeon.png');
await nurse.touch(/Back to the table|Hand back|Back/);
await nurse.touch(/Hollow reamer/);
await nurse.see(/reverse/i);
await walk.show(2);
await nurse.touch(/Yes, in reverse/);
await nurse.see(/now: hollow reamer/);
await walk.show();
await nurse.touch(/It is out/);
await nurse.see(/3 is out/);
await nurse.touch(/Measured whole/);
await walk.show();
await nurse.call('5');
await nurse.touch(/^Leave it in/);
await nurse.touch(/through both cortices/);
await walk.show();
await nurse.touch(/does no harm/);
await nurse.see('Call a screw');
for (const screw of ['1', '2', '4', '6', '7', '8']) {
  await nurse.call(screw);
  await nurse.see(new RegExp(`${screw}\\s*seated`));
  await nurse.touch(/Turn it out/);
  await nurse.touch(/It is out/);
  await nurse.see(`${screw} is out`);
}
await walk.show();
await nurse.touch(/^More/);
await nurse.touch(/Washed out/);
await nurse.see(/washed out\./i);
await nurse.touch(/Close the case/);
await nurse.touch(/End work/);
await nurse.see(/case clock stops/);
await nurse.touch(/End work/);
await nurse.touch(/Yes, end the work/);
await nurse.touch(/^Count/);
await walk.show(2);
await nurse.touch(/^All of it is out/);
await nurse.touch(/scrub/i);
await nurse.touch(/circulating/i);
await nurse.touch(/Answer the count/);
await nurse.touch(/Yes, record the answer/);
await nurse.touch(/Close case/);
await nurse.see(/After this/);
await nurse.touch(/Close case/);
await nurse.touch(/Yes, close the case/);
await nurse.see(/DRAFT/);
await walk.show(2.4);
await nurse.touch(/^Timeline/);
await walk.show(2.4);
await writeFile(file('walk-through.gif'), await walk.film());

await nurse.touch(/^Hand over/);
await nurse.touch(/^Print/);
await page.emulateMedia({ media: 'print' });
await page.pdf({ path: file('example-record.pdf'), preferCSSPageSize: true });

await engine.close();
await server.close();
