/** Cases of two releases and two formats on one device: listed, opened, gone on with, recorded, counted, saved, taken in. */
import 'fake-indexeddb/auto';
import { describe, expect, it, vi } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import { wordsOfAny } from '../../content/names.ts';
import { applyOverlay, contentOf, versionOf } from '../../content/overlay.ts';
import type { OverlayFile } from '../../content/overlay.types.ts';
import { currentVersion } from '../../content/releases/index.ts';
import type { Content } from '../../content/types.ts';
import type { EntryDraft } from '../../machines/entry.ts';
import { addCase, emptyTally } from '../../machines/across/tally.ts';
import { report } from '../../machines/across/report.ts';
import { updatedRates } from '../../machines/across/rates.ts';
import { fold } from '../../machines/fold.ts';
import { forecast } from '../../machines/forecast.ts';
import { readiness } from '../../machines/readiness.ts';
import { verify } from '../../machines/seal.ts';
import { view } from '../../machines/view.ts';
import { run } from '../../src/commands.ts';
import { buildRecord, note, noteForms } from '../../src/record/index.ts';
import { acrossOf } from '../../src/session/across.ts';
import { readBackup, writeBackup } from '../../src/session/backup.ts';
import { caseFile } from '../../src/session/case-file.ts';
import { readIncoming } from '../../src/session/case-import.ts';
import { createSession, openStored } from '../../src/session/session.ts';
import { openMemory } from '../../src/store/memory.ts';
import type { StoredCase } from '../../src/store/port.ts';
import { fileWith } from '../cli/files.ts';
import { inventedCase, inventedFile, knownCase, knownFile, plate, sealed } from './cases.ts';
import { inventedVersion } from './invented.ts';

const known = loadContent(currentVersion) as Content;
const other = loadContent(inventedVersion) as Content;
const made = '2026-03-05T08:00:00.000Z';

/** A department's own content over a release. */
function overlayOver(base: Content, changes: object): OverlayFile {
  const file: OverlayFile = {
    ...{ format: 'counterturn-content', formatVersion: 1, base: base.version, version: '', name: 'Invented ward' },
    ...{ changedOn: '2026-03-02', reason: 'invented for a test', ...changes },
  };
  return { ...file, version: versionOf(file, 'ward', 1) };
}
const overKnown = overlayOver(known, { notUsed: ['pack-recess'] });
const overOther = overlayOver(other, {
  order: ['warm-head', ...known.ids.moves.filter((id) => other.ids.moves.includes(id))],
  phrases: { en: { moves: { 'warm-head': { label: 'Heat the head' } } } },
  toolSets: [{ name: 'Warm tray', tools: [{ tool: 'warming-iron' }] }],
});

let made_ = 0;
const stored = (entries: StoredCase['entries'], contentVersion: string, overlay?: OverlayFile): StoredCase => ({
  meta: { caseId: `case-${++made_}`, contentVersion, demo: false, created: made, ...(overlay && { overlay }) },
  entries,
});
const four = (): StoredCase[] => [
  stored([...sealed(knownCase('known'))], currentVersion),
  stored([...sealed(inventedCase('to come'))], inventedVersion),
  stored([...sealed(knownCase('ward, known'))], overKnown.version, overKnown),
  stored([...sealed(inventedCase('ward, to come'))], overOther.version, overOther),
];
const sessionOf = (cases: StoredCase[]) => {
  const log = openMemory();
  return { log, session: createSession({ log, stored: cases, now: () => made, newId: () => `new-${++made_}` }) };
};

describe('one device', () => {
  it('lists cases of both releases, and opens each with its own content', () => {
    const { session } = sessionOf(four());
    expect(session.lines().map(({ label, closed }) => [label, closed])).toEqual([
      ['known', true],
      ['to come', true],
      ['ward, known', true],
      ['ward, to come', true],
    ]);
    for (const one of session.all()) {
      session.resume(one.meta.caseId);
      const open = session.open();
      expect(open?.folded.content.version).toBe(one.meta.contentVersion);
      expect(open?.folded.outOfOrder).toEqual([]);
      expect(open?.folded.screws.get('1')?.context.stage).toBe('out');
    }
  });

  it('goes on with an open case of either: what only one knows is taken there and refused here', async () => {
    const { log, session } = sessionOf([]);
    const bring = async (entries: StoredCase['entries'], version: string) => {
      await session.bringIn(version, entries);
      session.resume(session.lines().at(-1)?.meta.caseId ?? '');
    };
    const warm = { type: 'move-started', screw: '1', move: 'warm-head' } as unknown as EntryDraft;
    const photo = { type: 'photo-taken', of: 'the plate' } as unknown as EntryDraft;

    await bring([...sealed(plate('open, to come', [], { writtenIn: 3 }))], inventedVersion);
    expect(session.open()?.folded.format).toBe(3);
    expect((await session.record(warm)).ok).toBe(true);
    expect((await session.record(photo)).ok).toBe(true);
    expect(session.open()?.folded.outOfOrder).toEqual([]);

    await bring([...sealed(plate('open, known'))], currentVersion);
    expect(session.open()?.folded.format).toBe(1);
    expect(await session.record(warm)).toMatchObject({ ok: false });
    expect(await session.record(photo)).toMatchObject({ ok: false });
    expect((await session.record({ type: 'move-started', screw: '1', move: 'push-through' })).ok).toBe(true);

    const onDisk = await log.list();
    expect(onDisk.map(({ entries }) => entries.length)).toEqual(session.all().map(({ entries }) => entries.length));
  });

  it('offers what the release of the case has: a move more, its tool, its answers', () => {
    const before = inventedCase().entries.slice(0, 9);
    const state = view(fold(before, other)).screws['1'];
    expect(state?.offered.map(({ move }) => move)).toContain('warm-head');
    expect(view(fold(before, known)).screws['1']?.offered.map(({ move }) => move)).not.toContain('warm-head');
    const after = fold(inventedCase().entries, other);
    expect(after.case.context.consent).toEqual({ 'may-be-warmed': true });
    expect(after.unoffered).toEqual([]);
  });

  it('knows readiness and forecast of either', () => {
    const plan = inventedCase().entries.slice(0, 5);
    expect(readiness(fold(plan, other)).consentOpen).toContain('may-be-warmed');
    expect(readiness(fold(plan, known)).consentOpen).not.toContain('may-be-warmed');
    const expected = forecast(fold(inventedCase().entries.slice(0, 9), other));
    expect(expected.rates.map(({ outcome }) => outcome)).toContain('half-out');
    expect(expected.screws['1']?.out.mean).toBeGreaterThan(0.1);
  });
});

describe('the record', () => {
  const recordOf = (one: StoredCase) => {
    const open = openStored(one);
    if (!open) throw new Error('no content');
    const { folded, entries } = open;
    return {
      content: folded.content,
      record: buildRecord(entries, folded, view(folded, undefined, verify(entries)), folded.content),
    };
  };

  // The short papers leave out holds and what only a log has; the picture of time and the list of tools have no sentences.
  const short: readonly string[] = ['brief', 'patient', 'still-in', 'picture', 'tools', 'tools-csv'];
  it.each(noteForms.filter((form) => !short.includes(form)))(
    'as %s says what each release and format has more',
    (form) => {
      const [ours, theirs, , ward] = four()
        .map(recordOf)
        .map(({ record, content }) => note(form, record, content));
      const plainText = (text = '') => text.replace(/\s+/g, ' ').toLowerCase();
      for (const words of ['warm the head', 'screw 1 came out by half', 'look twice', 'photo-taken: of the plate']) {
        expect(plainText(theirs), words).toContain(words);
        expect(plainText(ours), words).not.toContain(words);
      }
      expect(plainText(ward)).toContain('heat the head');
    },
  );

  it('asks for the fields of the note of its own release', () => {
    const text = (i: number) => {
      const { record, content } = recordOf(four()[i] as StoredCase);
      return note('text', record, content);
    };
    expect(text(0)).toContain('Drains');
    expect(text(0)).not.toContain('Marks on the skin');
    expect(text(1)).not.toContain('Drains');
    expect(text(1).replace(/\s+/g, ' ')).toMatch(/Marks on the skin:? none seen/);
  });
});

describe('counted together', () => {
  const tally = emptyTally();
  for (const one of four())
    addCase(tally, one.entries, contentOf(one.meta.contentVersion, one.meta.overlay) as Content);

  it.each([
    ['2026.1', known],
    ['the invented release', other],
  ])('cases of both stand in one report, in the order of %s', (_, content) => {
    const { cases, moves, holds } = report(tally, content);
    expect(cases.counted).toBe(4);
    expect(moves.map(({ move, stage, tries }) => [move, stage, tries])).toEqual([
      ['turn-out', 'seated', 4],
      ['reseat-driver', 'recess-stripped', 2],
      ['warm-head', 'recess-stripped', 4],
    ]);
    const warm = moves.find(({ move }) => (move as string) === 'warm-head');
    expect(warm?.ends).toEqual({ out: 2, 'half-out': 2 });
    expect([warm?.out.count, warm?.gain.count]).toEqual([2, 2]);
    expect(holds.map(({ hold }) => hold)).toContain('second-look');
  });

  it('bring the rates of the release that knows the move up to date', () => {
    const row = (content: Content) =>
      updatedRates(tally, content).find((rate) => `${rate.move} ${rate.outcome}` === 'warm-head half-out');
    expect(row(other)).toMatchObject({ count: 2, of: 4, released: 0.2 });
    expect(row(known)).toBeUndefined();
  });

  it('on the device, with the words for what only one knows', async () => {
    const across = acrossOf(sessionOf(four()).session);
    await vi.waitFor(() => expect(across.numbers()?.report.cases.counted).toBe(4), { timeout: 10_000 });
    expect(across.numbers()?.report.moves.map(({ move }) => move)).toContain('warm-head');
  });
});

describe('in one backup', () => {
  it('all of them go to another device as they are', async () => {
    const cases = four();
    const pieces = await writeBackup(cases, [], made, null);
    const read = await readBackup(new TextEncoder().encode(pieces.join('')));
    expect(read).toMatchObject({ kind: 'read', faults: [], missing: 0 });
    const taken = read.kind === 'read' ? read.cases : [];
    expect(taken.map(({ entries }) => entries)).toEqual(cases.map(({ entries }) => entries));
    expect(taken.map(({ meta }) => meta.contentVersion)).toEqual(cases.map(({ meta }) => meta.contentVersion));
    for (const { entries } of taken) expect(verify(entries).seals).toBe('whole');
  });
});

describe('case files', () => {
  it('go out in the format of their log and come in again', () => {
    for (const { meta, entries } of four().slice(0, 2)) {
      const file = caseFile(meta, entries);
      const incoming = readIncoming(new TextEncoder().encode(JSON.stringify(file)), []);
      expect(incoming).toMatchObject({ kind: 'new', seals: 'whole', endMissing: false, file: { ...file } });
    }
  });
});

describe('a department over either release', () => {
  it('is checked by the ids of its base', () => {
    expect('content' in applyOverlay(other, overOther)).toBe(true);
    const faults = (over: OverlayFile) => {
      const read = applyOverlay(known, over);
      return 'faults' in read ? read.faults.map(({ path }) => path) : [];
    };
    expect(faults(overlayOver(known, { notUsed: ['warm-head'] }))).toEqual(['notUsed[0]']);
    expect(faults(overlayOver(known, { phrases: { en: { tools: { 'warming-iron': { label: 'iron' } } } } }))).toEqual([
      'phrases.en.tools.warming-iron',
    ]);
    expect(faults(overKnown)).toEqual([]);
  });

  it('keeps its order, its words and its tool sets', () => {
    const content = contentOf(overOther.version, overOther);
    expect(content?.moves[0]?.id).toBe('warm-head');
    expect(content && wordsOfAny(content, 'moves', 'warm-head')?.label).toBe('Heat the head');
    expect(content?.department?.toolSets[0]?.tools).toEqual([{ tool: 'warming-iron' }]);
  });
});

describe('the commands', () => {
  const files = () => ({ ours: fileWith(knownFile()), theirs: fileWith(inventedFile()) });

  it.each(['state', 'check', 'ready', 'forecast'])('%s reads a case of either', async (command) => {
    const { ours, theirs } = files();
    for (const file of [ours, theirs]) {
      const { status, stderr } = await run([command, file]);
      expect([status < 2, stderr]).toEqual([true, '']);
    }
  });

  it.each(noteForms)('note as %s is the same text as on the device', async (form) => {
    const { theirs } = files();
    const { entries } = inventedFile();
    const state = fold(entries, other);
    const record = buildRecord(entries, state, view(state, undefined, verify(entries)), other);
    expect((await run(['note', theirs, '--as', form])).stdout).toBe(note(form, record, other));
  });

  it('a note in German is told in German, with the words that the release lacks in English', async () => {
    const { theirs } = files();
    const text = (await run(['note', theirs, '--as', 'text', '--lang', 'de'])).stdout;
    expect(text).toContain('Schraube 1');
    expect(text.toLowerCase().replace(/\s+/g, ' ')).toContain('warm the head');
    expect(text).not.toContain('undefined');
  });
});
