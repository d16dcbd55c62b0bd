import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { describe, expect, it } from 'vitest';
import { openDatabase } from '../../src/store/indexeddb/log.ts';
import { openJournal } from '../../src/store/opfs/journal.ts';
import { openMemory } from '../../src/store/memory.ts';
import type { Copy, CopyName, LogPort } from '../../src/store/port.ts';
import { openEncrypted, type Ring } from '../../src/store/encrypted/encrypted-log.ts';
import { openMirroredLog } from '../../src/store/mirrored-log.ts';
import { rules } from './acceptance.ts';
import { chain, metaOf, next } from './chain.ts';
import { files, gathering, simulatedWorker } from './simulated.ts';
import { openRing } from './vaults.ts';

/** Each opens its own fresh store, again and again the same one, through a new layer of encryption each time. */
const logs: Record<string, (ring: Ring) => () => Promise<LogPort>> = {
  memory: (ring) => {
    const log = openMemory();
    return async () => openEncrypted(log, ring);
  },
  'database (simulated)': (ring) => {
    const factory = new IDBFactory();
    return async () => openEncrypted(openDatabase({ factory }), ring);
  },
  'database whose rows are gathered after every write (simulated)': (ring) => {
    const factory = new IDBFactory();
    return async () => openEncrypted(gathering({ factory }), ring);
  },
  'journal (simulated files)': (ring) => {
    const slots = files();
    return async () => openEncrypted(openJournal({ makeWorker: () => simulatedWorker(slots) }), ring);
  },
  'both copies (simulated)': (ring) => {
    const [slots, factory] = [files(), new IDBFactory()];
    return async () =>
      (
        await openMirroredLog({
          database: openEncrypted(openDatabase({ factory }), ring),
          journal: openEncrypted(openJournal({ makeWorker: () => simulatedWorker(slots) }), ring),
        })
      ).log;
  },
};

for (const [name, fresh] of Object.entries(logs))
  describe(`the encrypted log in ${name}`, () => {
    for (const rule of rules) it(rule.name, async () => rule.run(fresh(await openRing())));
  });

const names: CopyName[] = ['database', 'journal'];
async function fill(log: LogPort, entries: ReturnType<typeof chain>, caseId = 'one') {
  await log.create(metaOf(caseId));
  for (const entry of entries) expect((await log.append(caseId, entry)).ok).toBe(true);
}

/** Real stores on simulated disks, with all that lies there as text. */
function disks() {
  const [slots, factory] = [files(), new IDBFactory()];
  const copies = (): Record<CopyName, Copy> => ({
    database: openDatabase({ factory }),
    journal: openJournal({ makeWorker: () => simulatedWorker(slots) }),
  });
  const raw = async () => {
    const rows = await openDatabase({ factory }).read();
    return {
      database: JSON.stringify(rows),
      journal: slots.map(({ bytes }) => new TextDecoder().decode(bytes)).join(),
    };
  };
  return { copies, raw, slots };
}
const encryptedPair = (copies: Record<CopyName, Copy>, ring: Ring) => ({
  database: openEncrypted(copies.database, ring),
  journal: openEncrypted(copies.journal, ring),
});

describe('what lies on disk', () => {
  const secret = 'Radius proximal, screw seven will not come';
  const telling = [secret, 'remark', '2026-02-17', '"seal":"' + chain(1)[0]?.seal, 'contentVersion":"2026'];

  it('[Z22] holds no text, type, time or seal of an entry while encrypted, in either store', async () => {
    const { copies, raw } = disks();
    const { log } = await openMirroredLog(encryptedPair(copies(), await openRing()));
    await fill(log, [...chain(2), next(chain(2), { type: 'remark', text: secret })]);
    const lying = await raw();
    for (const name of names) {
      expect(lying[name]).toContain('"box":"');
      for (const words of telling) expect(lying[name], `${name}: ${words}`).not.toContain(words);
    }
  });

  it('holds exactly what it always held while no passcode is set', async () => {
    const ring = Object.assign(await openRing(), { encrypting: false });
    const [through, straight] = [disks(), disks()];
    await fill((await openMirroredLog(encryptedPair(through.copies(), ring))).log, chain(3));
    await fill((await openMirroredLog(straight.copies())).log, chain(3));
    expect(await through.raw()).toEqual(await straight.raw());
    expect((await through.raw()).journal).toContain('turned 3');
  });

  it('does not tell short entries apart by their length', async () => {
    const [copy, ring] = [openMemory(), await openRing()];
    await fill(openEncrypted(copy, ring), [
      next([], { type: 'work-started' }),
      next([next([], { type: 'work-started' })]),
    ]);
    const boxes = (await copy.read()).cases[0]?.entries.map((row) => (row as unknown as { box: string }).box.length);
    expect(new Set(boxes).size).toBe(1);
  });

  it('never uses a nonce twice, in 10,000 entries', async () => {
    const [copy, ring] = [openMemory(), await openRing()];
    const log = openEncrypted(copy, ring);
    await log.heal(
      { meta: metaOf('one'), entries: Array.from({ length: 10_000 }, (_, i) => ({ ...next([]), n: i + 1 })) },
      [],
    );
    const rows = (await copy.read()).cases[0]?.entries as unknown as { box: string }[];
    expect(new Set(rows.map(({ box }) => box.slice(0, 16))).size).toBe(10_000);
  });
});

describe('a box', () => {
  it('[Z15] that was changed, or moved to another place or case, is told and skipped, and the other copy gives it back', async () => {
    const ring = await openRing();
    type Rows = { n: number; box: string }[];
    const spoils: Record<string, (rows: Rows, others: Rows) => void> = {
      changed: (rows) => (rows[1]!.box = rows[1]!.box.replace(/.{4}$/, (end) => (end === 'AAAA' ? 'BBBB' : 'AAAA'))),
      moved: (rows) => ([rows[0]!.box, rows[1]!.box] = [rows[1]!.box, rows[0]!.box]),
      foreign: (rows, others) => (rows[1]!.box = others[1]!.box),
      cut: (rows) => (rows[1]!.box = rows[1]!.box.slice(0, 8)),
    };
    for (const [how, spoil] of Object.entries(spoils)) {
      const copies = { database: openMemory(), journal: openMemory() };
      const { log } = await openMirroredLog(encryptedPair(copies, ring));
      await fill(log, chain(3));
      await fill(log, chain(3, 'other'), 'two');
      const reading = await copies.database.read();
      const rowsOf = (id: string) => reading.cases.find(({ meta }) => meta.caseId === id)!.entries as unknown as Rows;
      spoil(rowsOf('one'), rowsOf('two'));
      await copies.database.replace(reading);
      const { report, cases } = await openMirroredLog(encryptedPair(copies, ring));
      expect(report.damaged[0]?.what, how).toEqual({ code: 'entry-unopened', n: expect.any(Number) as number });
      expect(cases.map(({ entries }) => entries).sort(), how).toEqual([chain(3), chain(3, 'other')].sort());
      const again = await openMirroredLog(encryptedPair(copies, ring));
      expect([again.report.damaged, again.report.restored, again.report.quarantined], how).toEqual([[], [], []]);
      expect(
        (await openEncrypted(copies.database, ring).list()).find((c) => c.meta.caseId === 'one')?.entries,
        how,
      ).toEqual(chain(3));
    }
  });

  it('of the opening of a case that was changed is given back too', async () => {
    const ring = await openRing();
    for (const name of names) {
      const copies = { database: openMemory(), journal: openMemory() };
      await fill((await openMirroredLog(encryptedPair(copies, ring))).log, chain(2));
      const reading = await copies[name].read();
      Object.assign(reading.cases[0]!.meta, { box: 'AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA' });
      await copies[name].replace(reading);
      const { report, cases } = await openMirroredLog(encryptedPair(copies, ring));
      expect(report.damaged.map(({ what }) => what)).toEqual([{ code: 'opening-unopened' }]);
      expect(cases[0]?.meta).toEqual(metaOf('one'));
      expect((await openMirroredLog(encryptedPair(copies, ring))).report.damaged).toEqual([]);
    }
  });
});

describe('both encrypted copies, compared at the start', () => {
  for (const name of names)
    it(`[Z14] an emptied or shortened ${name} is filled again from the other`, async () => {
      const { copies } = disks();
      const ring = await openRing();
      const all = copies();
      await fill(openEncrypted(all[name === 'database' ? 'journal' : 'database'], ring), chain(5));
      await fill(openEncrypted(all[name], ring), chain(3));
      const { report, cases } = await openMirroredLog(encryptedPair(all, ring));
      expect(report.restored).toMatchObject([{ entries: 2 }]);
      expect(cases[0]?.entries).toEqual(chain(5));
      expect((await openMirroredLog(encryptedPair(all, ring))).report.restored).toEqual([]);
    });

  it('[Z14] branches that disagree are settled by their seals, as when they are plain', async () => {
    const ring = await openRing();
    const copies = { database: openMemory(), journal: openMemory() };
    const [long, short] = [chain(6, 'kept', 4, chain(3)), chain(5, 'branch', 4, chain(3))];
    await fill(openEncrypted(copies.journal, ring), long);
    await fill(openEncrypted(copies.database, ring), short);
    const { report, cases } = await openMirroredLog(encryptedPair(copies, ring));
    expect(report.disagreements).toEqual([{ caseId: 'one', n: 4, kept: 'journal', quarantined: short.slice(3) }]);
    expect(cases[0]?.entries).toEqual(long);
    const again = await openMirroredLog(encryptedPair(copies, ring));
    expect([again.report.disagreements, again.report.quarantined.map(({ entry }) => entry)]).toEqual([
      [],
      short.slice(3),
    ]);
  });
});

describe('locked', () => {
  it('[Z22] nothing is read and nothing is written, and nothing is lost by it', async () => {
    const { copies } = disks();
    const ring = await openRing();
    const all = copies();
    await fill((await openMirroredLog(encryptedPair(all, ring))).log, chain(3));
    ring.locked = true;
    const { log, cases, report } = await openMirroredLog(encryptedPair(all, ring));
    expect([cases, report.restored, report.damaged, report.refused]).toEqual([[], [], [], []]);
    const refused = await log.append('one', chain(4)[3] as never);
    expect(refused).toMatchObject({ ok: false });
    expect(!refused.ok && JSON.stringify(refused.reason)).toContain('"code":"locked"');
    ring.locked = false;
    expect((await openMirroredLog(encryptedPair(all, ring))).cases[0]?.entries).toEqual(chain(3));
  });

  it('says how many cases are encrypted when what opens them is gone, and goes on with new ones', async () => {
    const { copies } = disks();
    const ring = await openRing();
    const all = copies();
    await fill((await openMirroredLog(encryptedPair(all, ring))).log, chain(3));
    Object.assign(ring, { encrypting: false, locked: true });
    const { log, cases, report } = await openMirroredLog(encryptedPair(all, ring));
    expect(cases).toEqual([]);
    expect(report.damaged.map(({ what }) => what)).toEqual(names.map(() => ({ code: 'cases-encrypted', count: 1 })));
    await fill(log, chain(2), 'two');
    Object.assign(ring, { locked: false });
    const after = await openMirroredLog(encryptedPair(all, ring));
    expect(after.cases.map(({ entries }) => entries.length).sort()).toEqual([2, 3]);
  });
});
