/** Rows written anew when a passcode is set or taken off, cut off at every moment. */
import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { describe, expect, it } from 'vitest';
import { openDatabase } from '../../src/store/indexeddb/log.ts';
import { openJournal } from '../../src/store/opfs/journal.ts';
import type { Copy, CopyName } from '../../src/store/port.ts';
import { openEncrypted } from '../../src/store/encrypted/encrypted-log.ts';
import { JournalFiles, peek } from '../../src/store/opfs/journal-files.ts';
import { openMirroredLog } from '../../src/store/mirrored-log.ts';
import { chain, metaOf } from './chain.ts';
import { MemoryFile, files, simulatedWorker } from './simulated.ts';
import { openRing } from './vaults.ts';

const filled = (words: string, count: number) => {
  const pair = files();
  const journal = new JournalFiles(pair);
  journal.add({ kind: 'case', meta: metaOf('one') });
  for (const entry of chain(count, words)) journal.add({ kind: 'entry', caseId: 'one', entry });
  return { pair, journal };
};
const anew = {
  cases: [{ meta: metaOf('one'), entries: chain(4, 'anew') }],
  removed: ['gone'],
  quarantined: [],
  damaged: [],
};

describe('a journal written anew', () => {
  it('holds the new rows and no byte of the old ones', () => {
    const { pair, journal } = filled('old', 4);
    journal.replace(anew);
    const text = pair.map(({ bytes }) => new TextDecoder().decode(bytes)).join();
    expect([text.includes('anew 4'), text.includes('old')]).toEqual([true, false]);
    expect(new JournalFiles(pair).read()).toEqual(anew);
    expect(peek(pair.map(({ bytes }) => bytes))).toEqual(anew);
  });

  it('[Z14] killed after any byte of it, gives all the old or all the new, never a mixture, and takes more entries', () => {
    const { pair, journal } = filled('old', 3);
    const old = pair.map(({ bytes }) => bytes.slice());
    journal.replace(anew);
    const whole = pair.find(({ bytes }) => bytes.length > 0)!.bytes;
    const standing = old.find((bytes) => bytes.length > 0)!;
    const seen = new Set<string>();
    for (let cut = 0; cut <= whole.length; cut++) {
      const [a, b] = [new MemoryFile(), new MemoryFile()];
      a.bytes = standing.slice();
      b.bytes = whole.slice(0, cut);
      const told = peek([a.bytes, b.bytes]).cases[0]?.entries;
      const opened = new JournalFiles([a, b]);
      const { cases, quarantined } = opened.read();
      expect(cases[0]?.entries).toEqual(told);
      expect(quarantined).toEqual([]);
      const words = cases[0]?.entries.map((entry) => String('text' in entry && entry.text).split(' ')[0]);
      seen.add([...new Set(words)].join('+'));
      if (cut % 97 > 0) continue;
      const next = chain((told?.length ?? 0) + 1, words![0]).at(-1)!;
      opened.add({ kind: 'entry', caseId: 'one', entry: next });
      expect(new JournalFiles([a, b]).read().cases[0]?.entries).toEqual([...told!, next]);
    }
    expect([...seen]).toEqual(['old', 'anew']);
  });

  it('[Z14] stands with an older one, and with a wipe that was cut off, by its turn', () => {
    const { pair, journal } = filled('old', 3);
    journal.replace({ ...anew, cases: [{ meta: metaOf('one'), entries: chain(6, 'first') }] });
    const first = pair.map(({ bytes }) => bytes.slice());
    journal.replace(anew);
    const second = pair.map(({ bytes }) => bytes.slice());
    for (const i of [0, 1]) {
      const [a, b] = [new MemoryFile(), new MemoryFile()];
      a.bytes = (first[i]!.length ? first[i] : second[i])!.slice();
      b.bytes = (first[1 - i]!.length ? first[1 - i] : second[1 - i])!.slice();
      expect(new JournalFiles([a, b]).read()).toEqual(anew);
    }
  });

  it('[Z14] takes what comes after it into the new file, also when the old one could not be emptied', () => {
    const { pair, journal } = filled('old', 3);
    const old = pair.find(({ bytes }) => bytes.length > 0)!;
    const truncate = old.truncate.bind(old);
    old.truncate = () => {
      throw new Error('held by another');
    };
    expect(() => journal.replace(anew)).toThrow('held by another');
    old.truncate = truncate;
    const next = chain(5, 'anew').at(-1)!;
    journal.add({ kind: 'entry', caseId: 'one', entry: next });
    expect(new JournalFiles(pair).read().cases[0]?.entries).toEqual(chain(5, 'anew'));
  });

  it('changes nothing when there is no room', () => {
    const { pair, journal } = filled('old', 3);
    const spare = pair.find(({ bytes }) => bytes.length === 0)!;
    spare.refuse = { after: 40 };
    expect(() => journal.replace(anew)).toThrow();
    spare.refuse = undefined;
    expect(new JournalFiles(pair).read().cases[0]?.entries).toEqual(chain(3, 'old'));
  });
});

const names: CopyName[] = ['database', 'journal'];
const setUp = async () => {
  const [slots, factory] = [files(), new IDBFactory()];
  const raw = (): Record<CopyName, Copy> => ({
    database: openDatabase({ factory }),
    journal: openJournal({ makeWorker: () => simulatedWorker(slots) }),
  });
  const ring = await openRing();
  const pair = () => {
    const all = raw();
    return { database: openEncrypted(all.database, ring), journal: openEncrypted(all.journal, ring) };
  };
  ring.encrypting = false;
  const { log } = await openMirroredLog(pair());
  for (const caseId of ['one', 'two']) {
    await log.create(metaOf(caseId));
    for (const entry of chain(5, caseId)) await log.append(caseId, entry);
  }
  const text = async () => ({
    database: JSON.stringify(await raw().database.read()),
    journal: slots.map(({ bytes }) => new TextDecoder().decode(bytes)).join(),
  });
  return { ring, pair, text };
};

describe('switching', () => {
  it('on seals every row of both copies and off lays them open again, nothing lost', async () => {
    const { ring, pair, text } = await setUp();
    const before = (await openMirroredLog(pair())).cases;
    ring.encrypting = true;
    for (const name of names) await pair()[name].settle();
    for (const name of names) expect((await text())[name]).not.toMatch(/one 1|two 5|remark|contentVersion":"2/);
    const sealed = await openMirroredLog(pair());
    expect([sealed.cases, sealed.report.restored, sealed.report.quarantined]).toEqual([before, [], []]);
    ring.encrypting = false;
    for (const name of names) await pair()[name].settle();
    for (const name of names) expect((await text())[name]).not.toContain('"box"');
    expect((await openMirroredLog(pair())).cases).toEqual(before);
  });

  it.each(names.flatMap((name) => [true, false].map((to) => ({ name, to, way: to ? 'on' : 'off' }))))(
    '[Z14] $way, killed with only the $name done, reads everything, and goes on at the next start',
    async ({ name, to }) => {
      const { ring, pair, text } = await setUp();
      const before = (await openMirroredLog(pair())).cases;
      if (!to) {
        ring.encrypting = true;
        for (const each of names) await pair()[each].settle();
      }
      ring.encrypting = to;
      await pair()[name].settle();
      // After the kill the passcode is on, whichever way the switch was going: its head is the first to come, the last to go.
      ring.encrypting = true;
      const mixed = await openMirroredLog(pair());
      expect([mixed.cases, mixed.report.restored, mixed.report.disagreements, mixed.report.quarantined]).toEqual([
        before,
        [],
        [],
        [],
      ]);
      for (const each of names) await pair()[each].settle();
      for (const each of names) expect((await text())[each]).not.toMatch(/one 1|remark/);
      expect((await openMirroredLog(pair())).cases).toEqual(before);
    },
  );

  it('lets entries that come meanwhile wait, and loses none', async () => {
    const { ring, pair } = await setUp();
    const { log } = await openMirroredLog(pair());
    const copies = pair();
    await openMirroredLog(copies);
    ring.encrypting = true;
    const more = chain(9, 'one').slice(5);
    const results = await Promise.all([
      copies.database.settle(),
      ...more.map((entry) => copies.database.append('one', entry)),
      copies.database.settle(),
    ]);
    expect(results.filter((one) => one && !one.ok)).toEqual([]);
    const here = (await copies.database.list()).find(({ meta }) => meta.caseId === 'one');
    expect(here?.entries).toEqual(chain(9, 'one'));
    await log.close();
  });
});

describe('a database made anew so that nothing is left', () => {
  /** A database with a case in it, on a factory that notes what is deleted and breaks off after the deletion when told to. */
  async function filledDatabase() {
    const factory = new IDBFactory();
    const dropped: string[] = [];
    const kill = { on: false };
    const [open, drop] = [factory.open.bind(factory), factory.deleteDatabase.bind(factory)];
    factory.deleteDatabase = (name) => (dropped.push(name), drop(name));
    factory.open = (name, version) => {
      if (kill.on && dropped.includes('counterturn')) throw new DOMException('', 'SecurityError');
      return open(name, version);
    };
    const database = openDatabase({ factory });
    await database.create(metaOf('one'));
    for (const entry of chain(4, 'old')) await database.append('one', entry);
    await database.create(metaOf('gone'));
    await database.remove('gone');
    return { factory, database, dropped, kill };
  }

  it('[Z22] is deleted and holds the new rows, with what was wiped still wiped, and takes more', async () => {
    const { database, dropped } = await filledDatabase();
    await database.replace(anew, { leaveNothing: true });
    expect(dropped.filter((name) => name === 'counterturn')).toHaveLength(1);
    expect(await database.read()).toEqual(anew);
    expect(await database.append('one', chain(5, 'anew')[4]!)).toEqual({ ok: true, copies: 1 });
    expect((await database.create(metaOf('gone'))).ok).toBe(false);
  });

  it('[Z14] killed between the deleting and the writing is filled again from the journal at the next start', async () => {
    const { factory, database, kill } = await filledDatabase();
    const journal = openJournal({ folder: 'x', makeWorker: () => simulatedWorker(pair) });
    const pair = files();
    await journal.create(metaOf('one'));
    for (const entry of chain(4, 'old')) await journal.append('one', entry);
    kill.on = true;
    await expect(database.replace(anew, { leaveNothing: true })).rejects.toMatchObject({
      failure: { code: 'not-allowed' },
    });
    kill.on = false;
    const { cases, report } = await openMirroredLog({ database: openDatabase({ factory }), journal });
    expect(cases).toEqual([{ meta: metaOf('one'), entries: chain(4, 'old') }]);
    expect(report.restored).toEqual([{ caseId: 'one', entries: 4, from: 'journal' }]);
    expect((await openDatabase({ factory }).list())[0]?.entries).toEqual(chain(4, 'old'));
  });
});
