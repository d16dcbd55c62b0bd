/** Invented cases under the second ladder, brought in as files, for the tests in a browser. */
import type { Page } from 'playwright-core';
import type { Entry } from '../../machines/entry.ts';
import { sealAll } from '../../machines/seal.ts';
import { caseFile } from '../../src/session/case-file.ts';
import { playerOn, type Player } from './player.ts';
import { atRest } from './rest.ts';

const contentVersion = '2026.2-draft';
type Fields = Record<string, unknown>;

const tools = [
  ...['driver-hexalobular', 'driver-hexagonal', 'pick', 'mallet', 'metal-foil', 'head-gripper', 'locking-pliers'],
  ...['conical-extractor', 't-handle', 'hard-metal-drill', 'reverse-tap', 'gouge', 'hollow-reamer'],
  ...['extraction-sleeve', 'reversing-drive', 'punch', 'image-intensifier', 'irrigation', 'metal-cutting-burr'],
];

/** Six locking screws of 3.5 mm in a plate on the left radius, screw 3 called. */
export function radius({
  third = {},
  bone = { outer: 15, cortex: 3, source: 'measured' },
  present = tools,
  then = [],
}: {
  third?: Fields;
  bone?: Fields;
  present?: readonly string[];
  then?: readonly Fields[];
}): Fields[] {
  return [
    {
      ...{ type: 'case-opened', label: 'Theatre 2, second', zone: 'Europe/Oslo', side: 'left', bone: 'radius' },
      ...{ construct: 'plate', planned: 'Removal of a plate and six screws', rules: 2, contentVersion },
      ...{ patient: 'adult', limb: 'upper' },
    },
    { type: 'person-listed', role: 'surgeon', who: 'AB' },
    { type: 'bone-measured', ...bone },
    ...['1', '2', '3', '4', '5', '6'].map((screw) => ({
      ...{ type: 'screw-listed', screw, diameter: 3.5, thread: 'cortical', locking: true, drive: 'hexalobular' },
      ...{ driveSize: 15, material: 'titanium', length: 18, cortices: 2, ...(screw === '3' ? third : {}) },
    })),
    ...present.map((tool) => ({
      ...{ type: 'tool-in-room', tool, present: true },
      ...(tool === 'driver-hexalobular' && { size: 15 }),
    })),
    { type: 'work-started' },
    { type: 'screw-called', screw: '3' },
    ...then,
  ];
}

/** A move on screw 3, with its end. */
export const made = (move: string, outcome: string, more: Fields = {}, end: Fields = {}): Fields[] => [
  { type: 'move-started', screw: '3', move, ...more },
  { type: 'move-ended', screw: '3', outcome, ...end },
];

/** Brings a case in as a file, and takes it up as it stands: the question after taking up is answered. */
export async function bringIn(page: Page, fields: readonly Fields[], language = 'en'): Promise<Player> {
  const start = Date.now() - 40 * 60_000;
  const entries = fields.map((one, i) => {
    const at = new Date(start + i * 15_000).toISOString();
    return { n: i + 1, at, logged: at, ...one } as Entry;
  });
  const nurse = playerOn(page);
  await nurse.touch(/Bring in a case file|Falldatei/);
  await page.setInputFiles('input[type=file]', {
    name: 'second.case.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(caseFile({ contentVersion }, sealAll(entries)))),
  });
  await page
    .locator('[role=status], p', { hasText: /Taken in as a case of its own|eigener Fall/ })
    .first()
    .waitFor();
  await page.evaluate((to) => {
    const kept = JSON.parse(localStorage.getItem('counterturn.settings') ?? '{}') as object;
    localStorage.setItem('counterturn.settings', JSON.stringify({ ...kept, language: to }));
  }, language);
  await page.reload();
  await page.locator('.table-said').waitFor();
  await atRest(page);
  // Where a look at the recess is asked first, the question after taking up waits.
  if ((await page.getByRole('button', { name: /^(Yes|Ja)$/ }).count()) > 0) await nurse.touch(/^(Yes|Ja)$/);
  nurse.touches = 0;
  return nurse;
}
