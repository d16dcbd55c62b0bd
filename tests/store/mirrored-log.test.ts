import { describe, expect, it } from 'vitest';
import { Failed, type Failure } from '../../src/failure.ts';
import { openMemory } from '../../src/store/memory.ts';
import { prefetch } from '../../src/store/prefetch.ts';
import { type AppendResult, type Copy, type CopyName, type StoredCase } from '../../src/store/port.ts';
import { openMirroredLog } from '../../src/store/mirrored-log.ts';
import { chain, metaOf, next } from './chain.ts';

const names: CopyName[] = ['database', 'journal'];
const otherOf = (name: CopyName): CopyName => (name === 'database' ? 'journal' : 'database');
const pair = (): Record<CopyName, Copy> => ({ database: openMemory(), journal: openMemory() });

async function fill(copy: Copy, entries: ReturnType<typeof chain>, caseId = 'one') {
  await copy.create(metaOf(caseId));
  for (const entry of entries) await copy.append(caseId, entry);
}
const entriesOf = async (copy: { list: Copy['list'] }, caseId = 'one') =>
  (await copy.list()).find((c) => c.meta.caseId === caseId)?.entries;

/** Makes a copy refuse while `switch.on`. */
function faulty(copy: Copy, reason: Failure = { code: 'no-room' }) {
  const fault = { on: true };
  const or =
    <A extends unknown[]>(call: (...args: A) => Promise<AppendResult>) =>
    async (...args: A): Promise<AppendResult> =>
      fault.on ? { ok: false, reason } : call(...args);
  const spoilt: Copy = {
    ...copy,
    create: or(copy.create),
    append: or(copy.append),
    heal: or(copy.heal),
    read: () => (fault.on ? Promise.reject(new Failed(reason)) : copy.read()),
    remove: (caseId) => (fault.on ? Promise.reject(new Failed(reason)) : copy.remove(caseId)),
  };
  return { spoilt, fault };
}

describe('the two copies, written', () => {
  it('counts two copies when both have committed', async () => {
    const copies = pair();
    const { log } = await openMirroredLog(copies);
    expect(await log.create(metaOf('one'))).toEqual({ ok: true, copies: 2 });
    expect(await log.append('one', next([]))).toEqual({ ok: true, copies: 2 });
    for (const name of names) expect(await entriesOf(copies[name])).toEqual(chain(1, 'x', 2, [next([])]));
  });

  it('[Z25] leaves nothing in either, and owes nothing, once the database says that another window holds the cases', async () => {
    const copies = pair();
    const { spoilt, fault } = faulty(copies.database, { code: 'not-holder' });
    fault.on = false;
    const { log } = await openMirroredLog({ ...copies, database: spoilt });
    await log.create(metaOf('one'));
    await log.append('one', chain(1)[0]!);
    fault.on = true;
    const refusal = { ok: false, reason: { code: 'not-holder' } };
    expect(await log.append('one', chain(2)[1]!)).toEqual(refusal);
    expect(await log.heal({ meta: metaOf('two'), entries: chain(2) }, [])).toEqual(refusal);
    await expect(log.remove('one')).rejects.toMatchObject({ failure: refusal.reason });
    for (const name of names) expect(await entriesOf(copies[name])).toEqual(chain(1));
    fault.on = false;
    const other = next(chain(1), { type: 'remark', text: 'by the other window' });
    expect(await log.append('one', other)).toEqual({ ok: true, copies: 2 });
    for (const name of names) expect(await entriesOf(copies[name])).toEqual([chain(1)[0], other]);
  });

  it('[Z25] begins with the journal once the database let the entry pass, and not before', async () => {
    const copies = pair();
    const order: string[] = [];
    let pass: () => void = () => {};
    let commit: () => void = () => {};
    const database: Copy = {
      ...copies.database,
      append: (id, entry, passed = () => {}) => {
        pass = () => (order.push('passed'), passed());
        return new Promise((resolve) => (commit = () => resolve(copies.database.append(id, entry))));
      },
    };
    const journal: Copy = {
      ...copies.journal,
      append: (id, entry) => (order.push('journal'), copies.journal.append(id, entry)),
    };
    const { log } = await openMirroredLog({ database, journal });
    await log.create(metaOf('one'));
    const writing = log.append('one', chain(1)[0]!);
    const turns = () => new Promise((turn) => setImmediate(turn));
    await turns();
    expect(order).toEqual([]);
    pass();
    await turns();
    expect(order).toEqual(['passed', 'journal']);
    commit();
    expect(await writing).toEqual({ ok: true, copies: 2 });
  });

  for (const name of names) {
    it(`[Z14] says "one copy" and why when the ${name} refuses, and makes up for it as soon as it can`, async () => {
      const copies = pair();
      const { spoilt, fault } = faulty(copies[name]);
      fault.on = false;
      const { log } = await openMirroredLog({ ...copies, [name]: spoilt });
      const entries = chain(4);
      await log.create(metaOf('one'));
      await log.append('one', entries[0] as never);
      fault.on = true;
      for (const entry of entries.slice(1, 3))
        expect(await log.append('one', entry)).toEqual({
          ok: true,
          copies: 1,
          missing: name,
          reason: { code: 'no-room' },
        });
      fault.on = false;
      expect(await log.append('one', entries[3] as never)).toEqual({ ok: true, copies: 2 });
      for (const each of names) expect(await entriesOf(copies[each])).toEqual(entries);
    });

    it(`[Z14] a ${name} that refuses from the start is named, and the other carries on`, async () => {
      const copies = pair();
      await fill(copies[otherOf(name)], chain(2));
      const { spoilt } = faulty(copies[name], { code: 'not-allowed', detail: 'here' });
      const { log, report, cases } = await openMirroredLog({ ...copies, [name]: spoilt });
      expect(report.refused).toEqual([{ copy: name, reason: { code: 'not-allowed', detail: 'here' } }]);
      expect(report.restored).toEqual([]);
      expect(cases[0]?.entries).toEqual(chain(2));
      expect(await log.append('one', chain(3)[2] as never)).toEqual({
        ok: true,
        copies: 1,
        missing: name,
        reason: { code: 'not-allowed', detail: 'here' },
      });
    });
  }

  it.each(names)('[Z14] a %s that refused at the start counts again only once it holds everything', async (name) => {
    const copies = pair();
    for (const each of names) await fill(copies[each], chain(1));
    await copies[otherOf(name)].append('one', chain(2)[1] as never);
    const { spoilt, fault } = faulty(copies[name], { code: 'journal-rests' });
    const { log } = await openMirroredLog({ ...copies, [name]: spoilt });
    const entries = chain(5);
    expect(await log.append('one', entries[2] as never)).toMatchObject({ copies: 1, missing: name });
    fault.on = false;
    expect(await log.append('one', entries[3] as never)).toEqual({ ok: true, copies: 2 });
    expect(await log.append('one', entries[4] as never)).toEqual({ ok: true, copies: 2 });
    for (const each of names) expect(await entriesOf(copies[each])).toEqual(entries);
  });

  it('[Z14] refuses when both refuse, and does not write that entry later behind the back of the user', async () => {
    const copies = pair();
    const [a, b] = [faulty(copies.database), faulty(copies.journal, { code: 'file-held' })];
    a.fault.on = b.fault.on = false;
    const { log } = await openMirroredLog({ database: a.spoilt, journal: b.spoilt });
    await log.create(metaOf('one'));
    a.fault.on = b.fault.on = true;
    const told = await log.append('one', next([], { type: 'remark', text: 'told as not recorded' }));
    expect(told).toEqual({
      ok: false,
      reason: { code: 'both', database: { code: 'no-room' }, journal: { code: 'file-held' } },
    });
    a.fault.on = b.fault.on = false;
    const again = next([], { type: 'remark', text: 'said again' });
    expect(await log.append('one', again)).toEqual({ ok: true, copies: 2 });
    for (const name of names) expect(await entriesOf(copies[name])).toEqual([again]);
  });
});

describe('the two copies, compared at the start', () => {
  for (const name of names) {
    it(`[Z14] an emptied ${name} is filled again from the other, and told`, async () => {
      const copies = pair();
      await fill(copies[otherOf(name)], chain(5));
      const { report, cases } = await openMirroredLog(copies);
      expect(report).toMatchObject({
        restored: [{ caseId: 'one', entries: 5, from: otherOf(name) }],
        disagreements: [],
        refused: [],
      });
      expect(cases[0]?.entries).toEqual(chain(5));
      expect(await entriesOf(copies[name])).toEqual(chain(5));
    });

    it(`[Z14] a ${name} that lost its tail, or an entry in the middle, gets it back`, async () => {
      for (const lost of [[4], [3, 4], [0], [1, 3]]) {
        const copies = pair();
        await fill(copies[otherOf(name)], chain(5));
        await fill(
          copies[name],
          chain(5).filter((_, i) => !lost.includes(i)),
        );
        const { report } = await openMirroredLog(copies);
        expect(report.restored).toEqual([{ caseId: 'one', entries: lost.length, from: otherOf(name) }]);
        expect(await entriesOf(copies[name])).toEqual(chain(5));
      }
    });

    it(`[Z22] a case wiped only from the ${name} is wiped from the other, not brought back`, async () => {
      const copies = pair();
      for (const each of names) await fill(copies[each], chain(3));
      await copies[name].remove('one');
      const { cases, report } = await openMirroredLog(copies);
      expect([cases, report.restored]).toEqual([[], []]);
      expect(await copies[otherOf(name)].list()).toEqual([]);
      expect((await copies[otherOf(name)].read()).removed).toEqual(['one']);
    });

    it(`[Z14] when the copies disagree and the ${name} has the longer chain, that is kept and the other set aside in both`, async () => {
      const copies = pair();
      const [long, short] = [chain(6, 'kept', 4, chain(3)), chain(5, 'branch', 4, chain(3))];
      await fill(copies[name], long);
      await fill(copies[otherOf(name)], short);
      const { report, cases } = await openMirroredLog(copies);
      expect(report.disagreements).toEqual([{ caseId: 'one', n: 4, kept: name, quarantined: short.slice(3) }]);
      expect(cases[0]?.entries).toEqual(long);
      for (const each of names) {
        const reading = await copies[each].read();
        expect(reading.cases[0]?.entries).toEqual(long);
        expect(reading.quarantined.map((a) => a.entry)).toEqual(short.slice(3));
      }
      const again = await openMirroredLog(copies);
      expect([again.report.disagreements, again.report.restored, again.report.quarantined.length]).toEqual([[], [], 2]);
    });
  }

  it('[Z15] an entry changed in one copy loses to the one whose seal holds, however long its chain', async () => {
    for (const name of names) {
      const copies = pair();
      const forged = chain(5).map((entry) =>
        entry.n === 2 ? ({ ...entry, text: 'never happened' } as typeof entry) : entry,
      );
      await fill(copies[name], forged);
      await fill(copies[otherOf(name)], chain(5).slice(0, 3));
      const { report, cases } = await openMirroredLog(copies);
      expect(cases[0]?.entries).toEqual(chain(5));
      expect(report.disagreements).toEqual([{ caseId: 'one', n: 2, kept: otherOf(name), quarantined: [forged[1]] }]);
    }
  });

  it('branches of equal length: the database is kept, the journal set aside', async () => {
    const copies = pair();
    await fill(copies.database, chain(3, 'a'));
    await fill(copies.journal, chain(3, 'b'));
    const { report } = await openMirroredLog(copies);
    expect(report.disagreements).toEqual([{ caseId: 'one', n: 1, kept: 'database', quarantined: chain(3, 'b') }]);
  });

  it("shows the database's cases while the journal is still read, and gives that very list back when both say the same", async () => {
    const copies = pair();
    for (const each of names) await fill(copies[each], chain(3));
    const longer = pair();
    for (const each of names) await fill(longer[each], chain(each === 'journal' ? 4 : 3));
    for (const [both, same] of [
      [copies, true],
      [longer, false],
    ] as const) {
      let answered = false;
      let answer = () => {};
      const held = new Promise<void>((go) => (answer = go));
      const journal: Copy = {
        ...both.journal,
        read: () => held.then(() => ((answered = true), both.journal.read())),
      };
      let shown: readonly StoredCase[] = [];
      const { cases } = await openMirroredLog(
        { ...both, journal },
        {
          whileWaiting: (early) => {
            expect(answered).toBe(false);
            shown = early;
            answer();
          },
        },
      );
      expect(shown[0]?.entries).toEqual(chain(3));
      expect(cases[0]?.entries).toEqual(chain(same ? 3 : 4));
      expect(cases[0]?.entries === shown[0]?.entries).toBe(same);
    }
  });

  it('begins a reading ahead once, and tells its failure to whoever asks', async () => {
    const copy = openMemory();
    let readings = 0;
    const counted = { ...copy, read: () => (readings++, copy.read()) };
    const ahead = prefetch(counted);
    expect(readings).toBe(1);
    await fill(copy, chain(2));
    expect([(await ahead.read()).cases, readings]).toEqual([[], 1]);
    expect([(await ahead.read()).cases.length, readings]).toEqual([1, 2]);
    const refusing = prefetch({ ...copy, read: () => Promise.reject(new Failed({ code: 'no-room' })) });
    await expect(refusing.read()).rejects.toMatchObject({ failure: { code: 'no-room' } });
  });

  it('[Z25] a window that only follows heals nothing', async () => {
    const copies = pair();
    await fill(copies.database, chain(3));
    const { cases } = await openMirroredLog(copies, { writer: false });
    expect(cases[0]?.entries).toEqual(chain(3));
    expect(await copies.journal.list()).toEqual([]);
  });

  it('with both copies refusing, says so of both and lets nothing pass as recorded', async () => {
    const [a, b] = [faulty(openMemory()), faulty(openMemory())];
    const { log, report } = await openMirroredLog({ database: a.spoilt, journal: b.spoilt });
    expect(report.refused.map((r) => r.copy)).toEqual(names);
    expect((await log.create(metaOf('one'))).ok).toBe(false);
    await expect(log.list()).rejects.toMatchObject({
      failure: { code: 'both', database: { code: 'no-room' }, journal: { code: 'no-room' } },
    });
  });

  it('[Z22] says which copy still holds a case that could not be wiped from it, and finishes at the next start', async () => {
    const copies = pair();
    for (const each of names) await fill(copies[each], chain(2));
    const { spoilt, fault } = faulty(copies.database, { code: 'no-room' });
    fault.on = false;
    const { log } = await openMirroredLog({ ...copies, database: spoilt });
    fault.on = true;
    await expect(log.remove('one')).rejects.toMatchObject({
      failure: { code: 'not-wiped', reason: { code: 'database', reason: { code: 'no-room' } } },
    });
    fault.on = false;
    expect((await openMirroredLog({ ...copies, database: spoilt })).cases).toEqual([]);
    expect(await copies.database.list()).toEqual([]);
  });
});
