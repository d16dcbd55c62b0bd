/** The sheets that come out of the printer: a case file is brought in, printed as PDF by Chromium, and read back. */
import { readFileSync } from 'node:fs';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { format } from '../../machines/case-file.ts';
import type { Entry } from '../../machines/entry.ts';
import { sealAll } from '../../machines/seal.ts';
import { buildPatient, buildSurgeon } from '../../src/record/index.ts';
import { timelineRows } from '../../src/screens/record/record-of.ts';
import { content, easyPlate, leftBehind, recordOf, signed, written, type Written } from '../record/cases.ts';
import { flat } from '../record/helpers.ts';
import { launchChromium, startServer, type ChromiumEngine } from './harness.ts';
import { canReadPdf, readPdf } from './pdf.ts';
import { playerOn, type Player } from './player.ts';

let server: Awaited<ReturnType<typeof startServer>>;
let engine: ChromiumEngine | null;
let nurse: Player;
let folder: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'counterturn-print-'));
  server = await startServer();
  engine = canReadPdf ? await launchChromium() : null;
  if (!engine) return;
  // The print window of a browser without a screen stays open for ever; the sheets are printed below instead.
  await engine.page.addInitScript('window.print = () => {}');
  await engine.open(server.url);
  nurse = playerOn(engine.page);
});
afterAll(async () => {
  await engine?.close();
  await server?.close();
  if (process.env.KEEP === undefined) await rm(folder, { recursive: true, force: true });
  else console.log(folder);
});

/** Brings a case in through the list of cases, and stands in its record. */
async function bringIn(name: string, entries: readonly Entry[]) {
  const { page } = engine as ChromiumEngine;
  const file = join(folder, `${name}.json`);
  await writeFile(file, JSON.stringify({ format, formatVersion: 1, contentVersion: content.version, entries }));
  await nurse.touch(/Bring in a case file/);
  await page.setInputFiles('input[type=file]', file);
  await nurse.see(/Taken in as a case of its own/);
  await nurse.touch(/^Open it/);
  await nurse.see(/OPERATIVE|Operative record/i);
}

interface Sheets {
  /** Text of each sheet, its columns side by side. */
  text: string[];
  /** On each sheet the lines as they were drawn, so that slanted words stay whole. */
  drawn: string[];
}

/** What is asked for under "Hand over", sheet by sheet as a canReadPdf of PDF finds it. */
async function printed(touch: RegExp, name: string): Promise<Sheets> {
  const { page } = engine as ChromiumEngine;
  await nurse.touch(/^Hand over/);
  await nurse.touch(touch);
  const path = join(folder, `${name}.pdf`);
  await page.emulateMedia({ media: 'print' });
  await page.pdf({ path, preferCSSPageSize: true });
  await page.emulateMedia({ media: null });
  await page.evaluate(() => window.dispatchEvent(new Event('afterprint')));
  return { text: readPdf(path, '-layout').map(flat), drawn: readPdf(path, '-raw') };
}

/** The size of every text of what is asked for under "Hand over", in points, the word across it left out. */
async function sizesOf(touch: RegExp): Promise<number[]> {
  const { page } = engine as ChromiumEngine;
  await nurse.touch(/^Hand over/);
  await nurse.touch(touch);
  await page.emulateMedia({ media: 'print' });
  const sizes = await page.evaluate(() =>
    [...document.querySelectorAll('.print-paper *:not(.print-draft)')]
      .filter(({ childNodes }) => [...childNodes].some((node) => node.nodeType === 3 && node.textContent?.trim()))
      .map((one) => (parseFloat(getComputedStyle(one).fontSize) * 72) / 96),
  );
  await page.emulateMedia({ media: null });
  await page.evaluate(() => window.dispatchEvent(new Event('afterprint')));
  return sizes;
}

/** Sheets that do not end with their number of how many. */
const unnumbered = (sheets: readonly string[]) =>
  sheets.filter((sheet, index) => !new RegExp(`\\b${index + 1} ?/ ?${sheets.length} ?$`).test(sheet));

const backToCases = () => nurse.touch(/^To the cases/);

describe('a case with metal left in, not signed', () => {
  let note: Sheets;
  let patient: Sheets;
  let stillIn: Sheets;
  let lists: Sheets;
  /** Points of every text that the patient reads. */
  let sizes: number[] = [];
  beforeAll(async () => {
    if (!engine) return;
    await bringIn('left', leftBehind);
    note = await printed(/^Print the note/, 'left-note');
    patient = await printed(/^Print: for the patient/, 'left-patient');
    stillIn = await printed(/^Print: for the next surgeon/, 'left-next-surgeon');
    lists = await printed(/^Print the lists/, 'left-lists');
    sizes = await sizesOf(/^Print: for the patient/);
    await backToCases();
  });

  it('has side, bone and case at the head of every sheet, DRAFT across it, its number at the foot', (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    expect(note.text.length).toBeGreaterThan(3);
    for (const { text, drawn } of [note, patient, stillIn, lists]) {
      for (const sheet of text)
        expect(sheet).toMatch(/^ ?RIGHT tibia · Theatre 2, second case · case [0-9a-f]{8} · DRAFT, not signed/);
      for (const sheet of drawn) expect(sheet).toMatch(/^DRAFT$/m);
      expect(unnumbered(text)).toEqual([]);
    }
  });

  it('has every entry with its time and its sentence, and says what was not recorded', (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    const all = note.drawn.join(' ');
    const bare = (text: string) => text.replace(/\s/g, '');
    const rows = timelineRows(recordOf(leftBehind));
    expect(rows).toHaveLength(leftBehind.length);
    for (const { time, n, marks, sentence } of rows)
      expect(bare(all)).toContain(bare([`${time} (${n})`, ...marks.map((mark) => `[${mark}]`), sentence].join(' ')));
    expect(flat(all)).toContain('The hexagonal driver slipped in the recess of screw 3.');
    expect(flat(all).match(/not recorded/gi)?.length).toBeGreaterThan(10);
    // Items that nobody entered are named together.
    expect(flat(all)).toMatch(/Indication; .*Closure technique; .*Instructions after operation/);
    expect(flat(all)).toContain(`End of this print. The log holds ${leftBehind.length} entries.`);
  });

  it.each([
    ['patient', () => patient, buildPatient],
    ['next surgeon', () => stillIn, buildSurgeon],
  ] as const)('has what is still in, piece by piece, on sheets of its own for the %s', (_, sheets, build) => {
    if (!engine) return;
    const all = sheets().text.join(' ');
    const page = build(recordOf(leftBehind), content);
    expect(all).toContain(page.title);
    const headings = page.sections.flatMap(({ blocks }) =>
      blocks.flatMap((block) => (block.kind === 'heading' ? [block.text] : [])),
    );
    expect(headings.length).toBeGreaterThan(2);
    for (const heading of headings) expect(all).toContain(heading);
    for (const { title } of page.sections) expect(all).toContain(title);
    expect(all).toContain('MR status not assessed');
    expect(all).not.toContain('10:00:00 (1)');
  });

  it('prints nothing for the patient under 11 points', (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    expect(sizes.length).toBeGreaterThan(20);
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(10.99);
  });

  it('gives the patient one sheet, with lines to fill in, and room for a code to the next surgeon', (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    expect(patient.text).toHaveLength(1);
    expect(patient.text[0]).toContain('Phone by day');
    expect(stillIn.text.join(' ')).toContain('Room for the code of a metal passport');
  });

  it('lists the tools by what happened to them and what to do', (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    expect(lists.text).toHaveLength(1);
    expect(lists.text[0]).toMatch(/Instrument +Size +What happened +What to do/);
    expect(lists.text[0]).toContain('Conical extractor');
  });
});

describe('a signed case', () => {
  it('says signed at the head, and is no draft', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    await bringIn('signed', signed);
    const { text, drawn } = await printed(/^Print the note/, 'signed-note');
    await backToCases();
    for (const sheet of text) expect(sheet).toMatch(/^ ?RIGHT tibia .* · signed /);
    for (const sheet of drawn) expect(sheet).not.toMatch(/^DRAFT$/m);
    expect(text.join(' ')).not.toMatch(/\(DRAFT\)|DRAFT, not signed/);
  });
});

describe('a long case', () => {
  it('prints all of its 300 entries, each once', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    const [opened, listed, started] = signed.map(({ n: _, at: __, logged: ___, seal: ____, ...draft }) => draft);
    const remarks = Array.from({ length: 295 }, (_, index) => ({ type: 'remark', text: `Seen again, ${index + 1}` }));
    const drafts = [opened, listed, started, ...remarks, { type: 'work-ended' }, { type: 'case-closed' }];
    const entries = sealAll(written(drafts as Written[], undefined, 20));
    expect(entries).toHaveLength(300);
    await bringIn('long', entries);
    const { text } = await printed(/^Print the note/, 'long-note');
    await backToCases();
    const all = text.join(' ');
    for (const { time, n } of timelineRows(recordOf(entries)))
      expect(all.split(`${time} (${n}) `), `times that entry ${n} stands there, and one`).toHaveLength(2);
    expect(unnumbered(text)).toEqual([]);
  });
});

/** Six plain screws of one plate, all of them out with the driver. */
const sixOut = written([
  ...easyPlate.slice(0, 5).map(({ n: _, at: __, logged: ___, seal: ____, ...draft }) => draft as Written),
  ...['1', '2', '3', '4', '5', '6'].map((id): Written => {
    const { n: _, at: __, logged: ___, ...listed } = easyPlate.find(({ type }) => type === 'screw-listed') as Entry;
    return { ...listed, screw: id } as Written;
  }),
  { type: 'tool-in-room', tool: 'driver-hexagonal', present: true, size: 3.5 },
  { type: 'work-started' },
  ...['1', '2', '3', '4', '5', '6'].flatMap((id): Written[] => [
    { type: 'move-started', screw: id, move: 'turn-out', tool: 'driver-hexagonal' },
    { type: 'move-ended', screw: id, outcome: 'out' },
  ]),
  { type: 'plate-off' },
  { type: 'work-ended' },
  { type: 'count-answered', by: ['scrub', 'circulating'] },
  { type: 'case-closed' },
]);

describe('how long the note is', () => {
  const hard = JSON.parse(readFileSync(new URL('../golden/hard-plate.case.json', import.meta.url), 'utf8')) as {
    entries: Entry[];
  };

  it.each([
    ['an easy plate of six screws', sixOut, 2],
    // As it stood before it was signed under older rules: that record begins with the words that were signed.
    ['a hard plate', hard.entries.slice(0, 69), 5],
  ] as const)('%s fills few sheets besides its timeline, what was done on the first', async (name, entries, most) => {
    if (!engine) return;
    await bringIn(name.replaceAll(' ', '-'), entries);
    const { page } = engine;
    const whole = await printed(/^Print the note/, `${name}-whole`);
    await page.evaluate(() => document.querySelector('.print-paper [data-section=timeline]')?.closest('tr')?.remove());
    const path = join(folder, `${name}-short.pdf`);
    await page.emulateMedia({ media: 'print' });
    await page.pdf({ path, preferCSSPageSize: true });
    await page.emulateMedia({ media: null });
    const sheets = readPdf(path, '-layout').map(flat);
    await backToCases();
    expect(sheets.length, `${sheets.length} sheets`).toBeLessThanOrEqual(most);
    expect(sheets.join(' ')).not.toContain('The case was opened as');
    expect(whole.text.join(' ')).toContain('The case was opened as');
    for (const words of ['What was done', 'Stays in', 'Account of the metal', 'Signature, name, role, date and time'])
      expect(sheets[0], words).toContain(words);
    expect(sheets[0]).toContain('taken out');
  });
});
