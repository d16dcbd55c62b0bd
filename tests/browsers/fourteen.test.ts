/** The fullest moment there is: a plate of fourteen screws, one of them with a hold open, at every size of screen. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Entry } from '../../machines/entry.ts';
import { sealAll } from '../../machines/seal.ts';
import { caseFile } from '../../src/session/case-file.ts';
import { launchChromium, startServer, type ChromiumEngine } from './harness.ts';
import { measure, outOfView } from './measure.ts';
import { playerOn } from './player.ts';
import { atRest } from './rest.ts';

const shots = new URL('../../.cache/screens/', import.meta.url);

/** An invented case, as it stood after two moves on screw 7 had brought nothing, with the tourniquet past its limit. */
function fullCase(): string {
  const start = Date.now() - 3 * 3600_000;
  const entries: Entry[] = [];
  const add = (minute: number, fields: object) => {
    const at = new Date(start + minute * 60_000).toISOString();
    entries.push({ n: entries.length + 1, at, logged: at, ...fields } as Entry);
  };
  add(0, {
    ...{ type: 'case-opened', label: 'Theatre 4, the long plate', zone: 'Europe/Oslo', side: 'right', bone: 'femur' },
    ...{ construct: 'plate', planned: 'Removal of a plate and fourteen screws', theatreMinutes: 60 },
    ...{ rules: 2, contentVersion: '2026.1' },
  });
  for (let screw = 1; screw <= 14; screw++)
    add(1, {
      ...{ type: 'screw-listed', screw: String(screw), diameter: 5, thread: 'cortical', locking: true },
      ...{ drive: 'hexagonal', material: 'titanium', length: 40, cortices: 2 },
    });
  for (const tool of [
    'driver-hexagonal',
    'metal-foil',
    'mallet',
    'driver-hexalobular',
    'conical-extractor',
    't-handle',
  ])
    add(2, { type: 'tool-in-room', tool, present: true });
  for (const tool of ['hard-metal-drill', 'reverse-tap', 'reversing-drive', 'hollow-reamer'])
    add(2, { type: 'tool-in-room', tool, present: true });
  add(5, { type: 'work-started' });
  add(6, { type: 'tourniquet', to: 'up' });
  add(7, { type: 'screw-called', screw: '7' });
  add(8, { type: 'move-started', screw: '7', move: 'turn-out' });
  add(9, { type: 'move-ended', screw: '7', outcome: 'slipped' });
  add(10, { type: 'reassessed', screw: '7', checks: { recessCleared: true } });
  add(11, { type: 'move-started', screw: '7', move: 'pack-recess' });
  add(14, { type: 'move-ended', screw: '7', outcome: 'no-change' });
  return JSON.stringify(caseFile({ contentVersion: '2026.1' }, sealAll(entries)));
}

const sizes = [
  { name: '1180 × 820', viewport: { width: 1180, height: 820 }, pxPerMm: 132 / 25.4 },
  { name: '1280 × 800', viewport: { width: 1280, height: 800 }, pxPerMm: 149 / 25.4 },
  { name: '1024 × 768', viewport: { width: 1024, height: 768 }, pxPerMm: 132 / 25.4 },
];

let server: Awaited<ReturnType<typeof startServer>>;
beforeAll(async () => {
  mkdirSync(shots, { recursive: true });
  server = await startServer();
});
afterAll(() => server?.close());

describe.each(sizes)('fourteen screws and a hold at $name', ({ name, viewport, pxPerMm }) => {
  let engine: ChromiumEngine | null;
  beforeAll(async () => {
    engine = await launchChromium({ viewport });
  });
  afterAll(() => engine?.close());

  it('is all in view, with sizes and gaps kept; number keys choose the cards [Z3] [Z5]', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    const { page } = engine;
    await page.addInitScript(
      (pixelsPerMm) => localStorage.setItem('counterturn.settings', JSON.stringify({ pixelsPerMm, distance: 2 })),
      pxPerMm,
    );
    await engine.open(server.url);
    const nurse = playerOn(page);
    await nurse.touch(/Bring in a case file/);
    await page.setInputFiles('input[type=file]', {
      name: 'full.case.json',
      mimeType: 'application/json',
      buffer: Buffer.from(fullCase()),
    });
    await nurse.see(/Taken in as a case of its own/);
    await page.reload();
    await nurse.see(/7\s*stripped/);
    await nurse.see(/Taken up again/);
    await nurse.see(/A second surgeon/);
    await atRest(page);
    expect.soft(await outOfView(page), `${name}, taken up`).toEqual([]);
    expect.soft((await measure(page, pxPerMm)).faults, `${name}, taken up`).toEqual([]);
    await nurse.touch(/^Yes$/);
    await page.locator('.band-hold', { hasText: /A second surgeon/ }).waitFor();
    await atRest(page);
    writeFileSync(new URL(`fourteen-${viewport.width}.png`, shots), await page.screenshot());
    expect.soft(await outOfView(page), name).toEqual([]);
    expect.soft((await measure(page, pxPerMm)).faults, name).toEqual([]);
    expect(await page.locator('.map-drawing, .map-touch').count()).toBeGreaterThanOrEqual(14);

    const before = (await nurse.stored()).length;
    await page.keyboard.press('1');
    await nurse.see(/now: /);
    await atRest(page);
    expect((await nurse.stored()).slice(before).map(({ type }) => type)).toEqual(['move-started']);
    writeFileSync(new URL(`fourteen-running-${viewport.width}.png`, shots), await page.screenshot());
    expect.soft(await outOfView(page), `${name}, running`).toEqual([]);
  });
});
