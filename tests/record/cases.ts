/** Invented cases, written by hand. No person, place or date in them is real. */
import { loadContent } from '../../content/catalog.ts';
import type { Content } from '../../content/types.ts';
import { checkEntry, type EntryDraft, type Entry } from '../../machines/entry.ts';
import { entryShapes, formatOfLog } from '../../machines/formats.ts';
import { fold } from '../../machines/fold.ts';
import { sealAll, verify } from '../../machines/seal.ts';
import { epoch, inZone } from '../../machines/time.ts';
import { view } from '../../machines/view.ts';
import { buildRecord } from '../../src/record/build.ts';
import type { CaseRecord } from '../../src/record/model.ts';

export const content = loadContent('2026.1') as Content;

/** A draft, with the time it happened when it was entered late. */
export type Written = EntryDraft & { at?: string };

/** Entries a minute apart from 10:00 in Oslo, or so many seconds apart. */
export function written(drafts: readonly Written[], from = '2026-02-17T10:00:00.000+01:00', seconds = 60): Entry[] {
  return drafts.map((draft, index) => {
    const ms = epoch(from) + index * seconds * 1000;
    const { date, time } = inZone(ms, 'Etc/GMT-1');
    const logged = `${date}T${time}.000+01:00`;
    const checked = checkEntry(
      { n: index + 1, at: logged, logged, ...draft },
      `entries[${index}]`,
      entryShapes(content.ids, formatOfLog(drafts)),
    );
    if ('faults' in checked) throw new Error(JSON.stringify(checked.faults));
    return checked.entry;
  });
}

export function recordOf(entries: readonly Entry[]): CaseRecord {
  const folded = fold(entries, content);
  return buildRecord(entries, folded, view(folded, undefined, verify(entries)), content);
}

const opened: EntryDraft = {
  type: 'case-opened',
  label: 'Theatre 2, second case',
  zone: 'Europe/Oslo',
  side: 'right',
  bone: 'tibia',
  construct: 'plate',
  planned: 'Removal of a plate and three screws',
  urgency: 'elective',
  placedBy: 'other-team',
  placedMonthsAgo: 26,
  theatreMinutes: 60,
};
const screw = (id: string, more: object = {}): EntryDraft => ({
  type: 'screw-listed',
  screw: id,
  diameter: 4.5,
  thread: 'cortical',
  locking: false,
  drive: 'hexagonal',
  driveSize: 3.5,
  material: 'steel',
  length: 36,
  cortices: 2,
  ...more,
});
const people: EntryDraft[] = [
  { type: 'person-listed', role: 'surgeon', who: 'A. Example' },
  { type: 'person-listed', role: 'assistant', who: 'B. Example' },
  { type: 'person-listed', role: 'anaesthetist', who: 'C. Example' },
  { type: 'person-listed', role: 'scrub', who: 'D. Example' },
];
const tool = (id: string, more: object = {}): EntryDraft =>
  ({ type: 'tool-in-room', tool: id, present: true, ...more }) as EntryDraft;
const start = (id: string, move: string, more: object = {}): EntryDraft =>
  ({ type: 'move-started', screw: id, move, ...more }) as EntryDraft;
const end = (id: string, outcome: string, more: object = {}): EntryDraft =>
  ({ type: 'move-ended', screw: id, outcome, ...more }) as EntryDraft;

/** Everything came out with the driver, and everything was written down. */
export const easyPlate = written([
  opened,
  ...people,
  { type: 'bone-measured', outer: 27, cortex: 5, source: 'measured' },
  screw('1'),
  screw('2'),
  tool('driver-hexagonal', { size: 3.5 }),
  { type: 'consent-point', point: 'this-metal', confirmed: true },
  { type: 'antibiotic', drug: 'cefazolin', dose: '2 g' },
  { type: 'tourniquet', to: 'up', pressure: 250 },
  { type: 'work-started' },
  { type: 'screw-called', screw: '1', calledBy: 'surgeon', loggedBy: 'circulating' },
  start('1', 'turn-out', { tool: 'driver-hexagonal' }),
  end('1', 'out', { recovered: 36 }),
  start('2', 'turn-out', { tool: 'driver-hexagonal' }),
  end('2', 'out', { recovered: 35.5 }),
  { type: 'plate-off' },
  { type: 'images', shots: 1, dose: 0.1, doseUnit: 'mGy' },
  { type: 'images', shots: 3, dose: 0.2, doseUnit: 'mGy' },
  { type: 'tourniquet', to: 'down' },
  { type: 'blood-loss', ml: 50 },
  { type: 'work-ended' },
  { type: 'count-answered', by: ['scrub', 'circulating'] },
  { type: 'note-field', field: 'incision', text: 'Through the old scar' },
  { type: 'note-field', field: 'dvt-prophylaxis', notApplicable: true },
  { type: 'case-closed' },
]);

/** One screw stripped, sheared, broke deep and stayed; a tip broke off and stayed too; a tap came out jammed. */
export const leftBehind = written([
  opened,
  ...people,
  { type: 'bone-measured', outer: 27, cortex: 5, source: 'measured' },
  { type: 'bone-measured', screw: '3', outer: 25, cortex: 4.5, source: 'assumed' },
  screw('1', { locking: true, drive: 'hexalobular', driveSize: 25, material: 'titanium' }),
  screw('2'),
  screw('3', { material: 'unknown' }),
  tool('driver-hexagonal', { size: 3.5 }),
  tool('hollow-reamer', { fits: [4.5], inner: 4.8, outer: 6.5 }),
  tool('reversing-drive'),
  { type: 'limits-set', boneConsider: 0.15, boneStop: 0.25 },
  { type: 'work-started' },
  { type: 'clock-compared', theatreClock: '2026-02-17T10:17:05+01:00' },
  { type: 'tourniquet', to: 'up', pressure: 250 },
  start('1', 'reverse-tap', { tool: 'reverse-tap' }),
  end('1', 'out', { recovered: 36, toolJammed: true }),
  start('2', 'turn-out'),
  end('2', 'out', { recovered: 36 }),
  start('3', 'turn-out', { tool: 'driver-hexagonal' }),
  end('3', 'slipped'),
  { type: 'reassessed', screw: '3', checks: { recessCleared: true, fullySeated: true, inLine: false } },
  start('3', 'conical-extractor'),
  end('3', 'tool-broke'),
  {
    type: 'tool-damaged',
    tool: 'conical-extractor',
    how: 'tip sheared in the recess',
    tipMissing: true,
    length: 6,
    kept: true,
  },
  { type: 'colleague-called', who: 'E. Example' },
  start('3', 'drill-head-off', { tool: 'hard-metal-drill' }),
  end('3', 'set-up-done'),
  { type: 'plate-off' },
  start('3', 'grip-shank'),
  end('3', 'shank-broke', { reachable: false, recovered: 20 }),
  { type: 'found', screw: '3', nearSurface: 4, tipProud: false, corridor: false },
  {
    type: 'hold-answered',
    hold: 'bone-stop',
    screw: '3',
    answer: 'stop',
    reason: 'it stays in',
    onWordOf: 'A. Example',
  },
  {
    type: 'left-in',
    screw: '3',
    length: null,
    where: 'far cortex, 8 cm above the ankle',
    reason: 'reaching it would cost more bone than it is worth',
    imageTaken: true,
    decidedBy: 'A. Example',
    toldTo: 'nobody yet',
  },
  {
    type: 'left-in',
    tool: 'conical-extractor',
    length: 6,
    where: 'beside the deep piece',
    reason: 'not reached',
    imageTaken: true,
  },
  { type: 'tourniquet', to: 'down' },
  { type: 'washed-out' },
  { type: 'work-ended' },
  { type: 'count-answered', by: ['scrub', 'circulating'], discrepancy: 'extractor tip stays', imageTaken: true },
  { type: 'patient-told', state: 'to-be-told', by: 'A. Example', points: ['material', 'size', 'place', 'mri'] },
  { type: 'case-closed' },
]);

/** Nothing was entered. */
export const empty: Entry[] = [];

/** An entry struck, one late, a hold passed unanswered, one out of order, text that would upset an output. */
export const untidy = written([
  { ...opened, label: '=HYPERLINK("x"), [list] | *one*' },
  screw('1'),
  screw('-2+3'),
  tool('driver-hexagonal'),
  { type: 'work-started' },
  start('1', 'turn-out'),
  end('1', 'slipped'),
  start('1', 'reseat-driver'),
  end('1', 'slipped'),
  start('-2+3', 'turn-out'),
  end('-2+3', 'head-sheared'),
  { type: 'struck', entry: 11, reason: 'it only\n slipped\t<once>' },
  end('-2+3', 'slipped'),
  { type: 'washed-out', at: '2026-02-17T10:05:30.000+01:00' },
  start('7', 'turn-out'),
  { type: 'clock-jumped', seconds: -3605 },
  { type: 'note-field', field: 'findings', text: `${'scar '.repeat(60)}${'x'.repeat(200)}` },
  { type: 'note-field', field: 'specimens', notApplicable: true },
  { type: 'remark', text: '@SUM(A1) \u202Eturned\u202C 骨 😀' },
]);

/** Signed, then added to. */
export const amended = sealAll(
  written([
    opened,
    ...people,
    screw('1', { length: null }),
    { type: 'work-started' },
    start('1', 'turn-out'),
    end('1', 'out'),
    { type: 'work-ended' },
    { type: 'case-closed' },
    { type: 'signed', who: 'A. Example', role: 'surgeon', meaning: 'I made this operation and this is its record' },
    { type: 'remark', text: 'Closure was with absorbable sutures', kind: 'addendum' },
    {
      type: 'remark',
      text: 'The side of the tourniquet was wrong above',
      kind: 'correction',
      at: '2026-02-17T10:04:00.000+01:00',
    },
    { type: 'note-field', field: 'closure', text: 'Absorbable sutures' },
  ]),
);

/** Out, by what was measured 16 mm short. */
export const shortScrew = written([
  opened,
  screw('1'),
  { type: 'work-started' },
  start('1', 'turn-out'),
  end('1', 'out', { recovered: 20 }),
]);

/** Signed, and nothing after it. */
export const signed = sealAll(
  written([
    opened,
    screw('1'),
    { type: 'work-started' },
    start('1', 'turn-out'),
    end('1', 'out'),
    { type: 'work-ended' },
    { type: 'case-closed' },
    { type: 'signed', who: 'A. Example', role: 'surgeon', meaning: 'This is my record' },
  ]),
);

export const cases: Record<string, Entry[]> = { easyPlate, leftBehind, empty, untidy, amended, shortScrew, signed };
