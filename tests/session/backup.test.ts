import { describe, expect, it } from 'vitest';
import type { EntryDraft, Entry } from '../../machines/entry.ts';
import { noSeal, sealOf, verify } from '../../machines/seal.ts';
import { openMemory } from '../../src/store/memory.ts';
import type { CopyName, StoredCase } from '../../src/store/port.ts';
import { openMirroredLog } from '../../src/store/mirrored-log.ts';
import { maxBackup, readBackup, writeBackup } from '../../src/session/backup.ts';
import { joinCase } from '../../src/session/backup-merge.ts';
import { createSession } from '../../src/session/session.ts';
import { createPrivacy } from '../../src/session/privacy.ts';
import { openVault } from '../../src/store/encrypted/vault.ts';
import { everything, overlayWith } from '../content/overlays.ts';
import { cheap, shelfStore } from '../store/vaults.ts';

const made = '2026-02-17T12:00:00.000Z';
const passcode = 'four plain words here';

/** A case with a whole chain: its opening, then so many remarks. */
function sealed(label: string, count: number, word = 'turned', from = 1): Entry[] {
  const drafts: EntryDraft[] = [
    { type: 'case-opened', label, zone: 'UTC', side: 'left', bone: 'tibia', construct: 'plate', planned: '' },
    ...Array.from({ length: count - 1 }, (_, i): EntryDraft => ({
      type: 'remark',
      text: `${i + 2 >= from ? word : 'turned'} ${i + 2}`,
    })),
  ];
  return drafts.reduce<Entry[]>((entries, draft, i) => {
    const at = new Date(Date.UTC(2026, 1, 17, 9, 0, i)).toISOString();
    const entry = { n: i + 1, at, logged: at, ...draft } as Entry;
    return [...entries, { ...entry, seal: sealOf(entries.at(-1)?.seal ?? noSeal, entry) }];
  }, []);
}
const stored = (caseId: string, entries: Entry[]): StoredCase => ({
  meta: { caseId, contentVersion: '2026.1', demo: false, created: made },
  entries,
});

/** A whole device, with or without a passcode. */
async function device(cases: StoredCase[] = [], withPasscode = false) {
  const copies = { database: openMemory(), journal: openMemory() };
  const vault = await openVault({ copies, store: shelfStore(), kdf: cheap });
  if (withPasscode) await vault.set(passcode);
  const { log, report } = await openMirroredLog(vault.copies);
  for (const one of cases) await log.heal(one, []);
  let ids = 0;
  const newId = () => `0000000${++ids}-0000-4000-8000-000000000000`;
  const session = createSession({ log, stored: cases, now: () => made, newId });
  const privacy = createPrivacy({ vault, session, report, writer: () => true, newId, idleMinutes: () => 5 });
  const onDisk = async () => {
    const { cases: held, report: told } = await openMirroredLog(vault.copies, { writer: false });
    return { entries: held.map(({ entries }) => entries), quarantined: told.quarantined.map(({ entry }) => entry) };
  };
  const file = async () => {
    const backup = await privacy.backup(made);
    if (!backup.ok) throw new Error(backup.reason.code);
    return bytesOf(backup.pieces.join(''));
  };
  return { copies, session, privacy, log, onDisk, file };
}
const bytesOf = (text: string) => new TextEncoder().encode(text);
const textOf = (bytes: Uint8Array) => new TextDecoder().decode(bytes);

const two = () => [stored('a', sealed('first', 4)), stored('b', sealed('second', 7))];

describe('a backup', () => {
  it('carries every case to another device as it is; twice is once', async () => {
    const file = await (await device(two())).file();
    const other = await device();
    expect(await other.privacy.takeIn(file)).toMatchObject({
      kind: 'taken',
      count: { new: 2, longer: 0, known: 0, differs: 0 },
      faults: [],
      missing: 0,
    });
    const once = await other.onDisk();
    expect(once.entries).toEqual(two().map(({ entries }) => entries));
    expect(other.session.lines().map(({ label, entries }) => [label, entries])).toEqual([
      ['first', 4],
      ['second', 7],
    ]);
    expect(await other.privacy.takeIn(file)).toMatchObject({ count: { new: 0, longer: 0, known: 2, differs: 0 } });
    expect(await other.onDisk()).toEqual(once);
  });

  it('keeps what belongs to a case beside its entries: demo, the day it was opened, additions to the content', async () => {
    const [one] = two() as [StoredCase];
    const overlay = overlayWith(everything);
    const own = { contentVersion: overlay.version, overlay };
    const meta = { ...one.meta, ...own, demo: true, created: '2025-01-01T00:00:00.000Z' };
    const file = await (await device([{ ...one, meta }])).file();
    const other = await device();
    await other.privacy.takeIn(file);
    expect(other.session.all()[0]?.meta).toEqual({ ...meta, caseId: expect.any(String) as string });
  });

  it('[Z29] leaves a case out whose content was changed or is missing, and says where', async () => {
    const overlay = overlayWith(everything);
    const changed = { ...overlay, limits: { boneStop: 0.9 } };
    const [a, b] = two() as [StoredCase, StoredCase];
    const with_ = (one: StoredCase, more: object) => ({ ...one, meta: { ...one.meta, ...more } });
    const pieces = await writeBackup(
      [with_(a, { contentVersion: overlay.version, overlay: changed }), with_(b, { contentVersion: overlay.version })],
      [],
      made,
      null,
    );
    const other = await device();
    const taken = await other.privacy.takeIn(bytesOf(pieces.join('')));
    expect(taken).toMatchObject({ kind: 'taken', count: { new: 0 } });
    const paths = 'faults' in taken ? taken.faults.map(({ path }) => path) : [];
    expect(paths).toEqual(['line 2: overlay.version', 'line 2: case.contentVersion', 'line 3: case.contentVersion']);
  });

  it('of a case that was wiped here brings it back under another name', async () => {
    const here = await device(two());
    const file = await here.file();
    await here.privacy.wipeAll();
    expect([(await here.onDisk()).entries, here.session.lines()]).toEqual([[], []]);
    await here.privacy.takeIn(file);
    expect((await here.onDisk()).entries).toEqual(two().map(({ entries }) => entries));
  });

  it.each([
    ['plain', false],
    ['encrypted', true],
  ])('of no cases, %s, is read as none', async (_, withPasscode) => {
    const file = await (await device([], withPasscode)).file();
    expect(await readBackup(file, passcode)).toEqual({ kind: 'read', cases: [], faults: [], missing: 0 });
  });

  it('larger than 16 MiB is read; one over its own limit is refused', async () => {
    const words = 'x'.repeat(100_000);
    const many = Array.from({ length: 3 }, (_, i) => stored(String(i), sealed(`case ${i}`, 61, words)));
    const pieces = await writeBackup(many, [], made, null);
    const file = bytesOf(pieces.join(''));
    expect(file.length).toBeGreaterThan(16 * 1024 * 1024);
    const read = await readBackup(file);
    expect(read.kind === 'read' && read.cases.map(({ entries }) => entries.length)).toEqual([61, 61, 61]);
    expect(await readBackup(new Uint8Array(maxBackup + 1))).toMatchObject({
      kind: 'faults',
      faults: [{ path: 'file' }],
    });
  });
});

describe('a backup on a device that has the case already', () => {
  const branch = () => sealed('first', 6, 'elsewhere', 3);

  it('[Z14] the longer chain wins when it goes on from the shorter one, and no entry is written anew', async () => {
    const here = await device([stored('mine', sealed('first', 4))]);
    const file = await (await device([stored('theirs', sealed('first', 9))])).file();
    expect(await here.privacy.takeIn(file)).toMatchObject({ count: { new: 0, longer: 1, known: 0, differs: 0 } });
    expect(await here.onDisk()).toEqual({ entries: [sealed('first', 9)], quarantined: [] });
    expect(here.session.all().map(({ meta }) => meta.caseId)).toEqual(['mine']);
  });

  it('[Z14] the longer one here stays against a shorter one', async () => {
    const here = await device([stored('mine', sealed('first', 9))]);
    const file = await (await device([stored('theirs', sealed('first', 4))])).file();
    expect(await here.privacy.takeIn(file)).toMatchObject({ count: { known: 1 } });
    expect(await here.onDisk()).toEqual({ entries: [sealed('first', 9)], quarantined: [] });
  });

  it('[Z14] [Z15] branches that part are both kept: the one here stands, the other goes aside, once', async () => {
    const here = await device([stored('mine', sealed('first', 4))]);
    const file = await (await device([stored('theirs', branch())])).file();
    expect(await here.privacy.takeIn(file)).toMatchObject({ count: { longer: 0, differs: 1 } });
    const kept = { entries: [sealed('first', 4)], quarantined: branch().slice(2) };
    expect(await here.onDisk()).toEqual(kept);
    expect(await here.privacy.takeIn(file)).toMatchObject({ count: { known: 1, differs: 0 } });
    expect(await here.onDisk()).toEqual(kept);
  });

  it('[Z14] what was set aside goes with the next backup, and comes with it', async () => {
    const here = await device([stored('mine', sealed('first', 4))]);
    await here.privacy.takeIn(await (await device([stored('theirs', branch())])).file());
    const third = await device();
    expect(await third.privacy.takeIn(await here.file())).toMatchObject({ count: { new: 1 } });
    expect(await third.onDisk()).toEqual({ entries: [sealed('first', 4)], quarantined: branch().slice(2) });
  });

  it('[Z15] a longer one whose seals do not hold is no continuation', () => {
    const forged = sealed('first', 6).map((entry) => (entry.n === 5 ? { ...entry, text: 'never' } : entry)) as Entry[];
    const { caseId: _, ...meta } = stored('x', []).meta;
    const here = [stored('mine', sealed('first', 4))];
    const step = joinCase({ meta, entries: forged, quarantined: [] }, here, [], String);
    expect([step.what, step.stored.entries.length, step.quarantined]).toEqual(['differs', 4, forged.slice(4)]);
  });

  it('two cases that only look alike stay two', async () => {
    const here = await device([stored('mine', sealed('first', 4))]);
    await here.privacy.takeIn(await (await device([stored('theirs', sealed('another', 4))])).file());
    expect((await here.onDisk()).entries).toHaveLength(2);
  });
});

describe('a plain backup with a case that was changed', () => {
  /** The second of two cases, spoilt in the text of the file. */
  const spoilt = async (spoil: (inner: { entries: Entry[]; head?: object }) => unknown) => {
    const [head, first, second] = textOf(await (await device(two())).file()).split('\n') as [string, string, string];
    const line = JSON.parse(second) as { case: { entries: Entry[]; head?: object } };
    spoil(line.case);
    return bytesOf([head, first, JSON.stringify(line), ''].join('\n'));
  };
  const changed = () => spoilt(({ entries }) => ((entries[4] as { text: string }).text = 'never said'));
  const labels = (here: Awaited<ReturnType<typeof device>>) => here.session.lines().map(({ label }) => label);

  it('[Z15] takes nothing of it before somebody has said what becomes of that case', async () => {
    const here = await device();
    expect(await here.privacy.takeIn(await changed())).toEqual({
      kind: 'changed',
      cases: [{ line: 3, label: 'second', brokenAt: 5 }],
    });
    expect([labels(here), (await here.onDisk()).entries]).toEqual([[], []]);
  });

  it('[Z15] takes the others alone, or all of them as they are, as it was told', async () => {
    const [one, other] = [await device(), await device()];
    expect(await one.privacy.takeIn(await changed(), undefined, 'leave')).toMatchObject({ count: { new: 1 }, left: 1 });
    expect(labels(one)).toEqual(['first']);
    const all = await other.privacy.takeIn(await changed(), undefined, { take: true, remark: 'told by the head' });
    expect(all).toMatchObject({ count: { new: 2 }, left: 0 });
    const taken = other.session.all()[1]!.entries;
    expect([taken.length, verify(taken)]).toEqual([7, { seals: 'broken', brokenAt: 5 }]);
  });

  it('[Z15] writes down what only the head of the file told, so that the case reads no better here', async () => {
    const file = await spoilt((inner) => (inner.head = { n: 7, seal: noSeal }));
    const here = await device();
    expect(await here.privacy.takeIn(file)).toMatchObject({ kind: 'changed', cases: [{ brokenAt: 7 }] });
    await here.privacy.takeIn(file, undefined, { take: true, remark: 'told by the head' });
    expect(here.session.all()[1]!.entries.at(-1)).toMatchObject({ n: 8, type: 'remark', text: 'told by the head' });
  });

  it('[Z15] asks for a seal that is missing as for one that is wrong, and not for a case that is here as it is', async () => {
    const file = await spoilt(({ entries }) => delete entries[2]!.seal);
    const here = await device();
    expect(await here.privacy.takeIn(file)).toMatchObject({ kind: 'changed', cases: [{ line: 3, brokenAt: 3 }] });
    await here.privacy.takeIn(file, undefined, { take: true, remark: '' });
    expect(await here.privacy.takeIn(file)).toMatchObject({ kind: 'taken', count: { known: 2 } });
  });
});

describe('an encrypted backup', () => {
  it('[Z22] holds no words of a case, asks for its passcode, and opens with that one alone', async () => {
    const file = await (await device(two(), true)).file();
    for (const words of ['turned', 'remark', 'first', 'tibia', '2026.1', 'seal"'])
      expect(textOf(file)).not.toContain(words);
    const other = await device();
    expect(await other.privacy.takeIn(file)).toEqual({ kind: 'locked' });
    expect(await other.privacy.takeIn(file, 'another passcode')).toEqual({ kind: 'wrong-passcode' });
    expect((await other.onDisk()).entries).toEqual([]);
    expect(await other.privacy.takeIn(file, passcode)).toMatchObject({ count: { new: 2 }, faults: [] });
    expect((await other.onDisk()).entries).toEqual(two().map(({ entries }) => entries));
  });

  it('[Z15] with a box changed, moved, or of another file leaves that case out, with its place, and takes the others', async () => {
    const here = await device(two(), true);
    const [head, one, other] = textOf(await here.file())
      .trimEnd()
      .split('\n') as [string, string, string];
    const foreign = textOf(await here.file()).split('\n')[1] as string;
    const box = 'does not open: changed, moved or of another file';
    const spoilt: [string[], string[], number][] = [
      [
        [head, one.replace(/.{8}"}$/, (end) => (end.startsWith('AAAA') ? 'BBBBBBBB"}' : 'AAAAAAAA"}')), other],
        ['line 2: box'],
        1,
      ],
      [[head, other, one], ['line 2: box', 'line 3: box'], 0],
      [[head, foreign, other], ['line 2: box'], 1],
      [[head.replace(/"made":"2026/, '"made":"2025'), one, other], ['line 2: box', 'line 3: box'], 0],
    ];
    for (const [lines, paths, taken] of spoilt) {
      const read = await readBackup(bytesOf(`${lines.join('\n')}\n`), passcode);
      if (read.kind !== 'read') throw new Error(read.kind);
      expect(read.faults).toEqual(paths.map((path) => ({ path, message: box, code: 'shut' })));
      expect(read.cases).toHaveLength(taken);
    }
  });

  it('says how many cases its end lacks', async () => {
    const file = textOf(await (await device(two(), true)).file());
    const cut = bytesOf(file.split('\n').slice(0, 2).join('\n'));
    expect(await (await device()).privacy.takeIn(cut, passcode)).toMatchObject({ count: { new: 1 }, missing: 1 });
  });
});

describe('a bad backup', () => {
  const file = async () =>
    textOf(await (await device(two())).file())
      .trimEnd()
      .split('\n') as [string, string, string];
  const other = (line: string, change: (value: Record<string, never>) => void) => {
    const value = JSON.parse(line) as Record<string, never>;
    change(value);
    return JSON.stringify(value);
  };

  it.each([
    ['', 'line 1: 1:1'],
    ['{', 'line 1: 1:2'],
    ['{"format":"counterturn-case"}', 'line 1: format'],
    [
      '{"format":"counterturn-backup","formatVersion":2,"made":"2026-02-17T12:00:00.000Z","cases":0}',
      'line 1: formatVersion',
    ],
    ['{"format":"counterturn-backup","format":"counterturn-backup"}', 'line 1: format'],
    [
      '{"format":"counterturn-backup","formatVersion":1,"made":"2026-02-17T12:00:00.000Z","cases":0,"x":1}',
      'line 1: x',
    ],
  ])('%j is refused as a whole, with the place', async (text, path) => {
    const read = await readBackup(bytesOf(text));
    expect(read.kind === 'faults' && read.faults.map((fault) => fault.path)).toContain(path);
  });

  it('leaves a case with a fault out as a whole, with every place, and takes the others', async () => {
    const [head, one, two_] = await file();
    const bad = other(one, (value) => {
      const { entries, head: last } = (
        value as unknown as { case: { entries: Record<string, unknown>[]; head?: object } }
      ).case;
      entries[0]!.side = 'up';
      entries[2]!.extra = 1;
      expect(last).toBeDefined();
    });
    const here = await device();
    const taken = await here.privacy.takeIn(bytesOf([head, bad, two_].join('\n')));
    expect(taken).toMatchObject({ count: { new: 1 } });
    expect(taken.kind === 'taken' && taken.faults.map(({ path }) => path)).toEqual([
      'line 2: case.entries[0].side',
      'line 2: case.entries[2].extra',
    ]);
    expect((await here.onDisk()).entries).toEqual([sealed('second', 7)]);
  });

  it('leaves a case out whose end was cut, and a line that is none', async () => {
    const [head, one, two_] = await file();
    const cut = other(one, (value) => (value as unknown as { case: { entries: unknown[] } }).case.entries.pop());
    const read = await readBackup(bytesOf([head, cut, two_.slice(0, 200)].join('\n')));
    if (read.kind !== 'read') throw new Error(read.kind);
    expect(read.faults.map(({ path }) => path)).toEqual([
      'line 2: case.head',
      expect.stringMatching(/^line 3: 1:\d+$/) as string,
    ]);
    expect(read.cases).toEqual([]);
  });

  it('[Z14] says which case was not stored when the disk refuses, and keeps what was there', async () => {
    const here = await device([stored('mine', sealed('first', 4))]);
    const refuse = async () => ({ ok: false as const, reason: { code: 'no-room' as const } });
    for (const name of ['database', 'journal'] as CopyName[]) here.copies[name].heal = refuse;
    const taken = await here.privacy.takeIn(bytesOf((await file()).join('\n').replaceAll('x', 'x')));
    expect(taken).toMatchObject({ count: { known: 1, new: 0 } });
    const both = { code: 'both', database: { code: 'no-room' }, journal: { code: 'no-room' } };
    expect(taken.kind === 'taken' && [taken.faults, taken.notStored]).toEqual([
      [],
      [{ line: 3, reason: { code: 'not-stored', reason: both } }],
    ]);
    expect((await here.onDisk()).entries).toEqual([sealed('first', 4)]);
  });
});
