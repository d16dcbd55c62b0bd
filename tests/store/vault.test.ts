import { describe, expect, it } from 'vitest';
import { Failed } from '../../src/failure.ts';
import { openMemory } from '../../src/store/memory.ts';
import { type Copy, type CopyName } from '../../src/store/port.ts';
import { openMirroredLog } from '../../src/store/mirrored-log.ts';
import { passcodeKey, unwrap, wrap } from '../../src/store/encrypted/passcode.ts';
import { openVault, waitAfter } from '../../src/store/encrypted/vault.ts';
import { chain, metaOf } from './chain.ts';
import { cheap, shelfStore, type Shelf } from './vaults.ts';

const right = 'frühe Schicht 7';
const wrong = 'späte Schicht 7';

/** A device: what lies on it outlives each start. */
function device(copies: Record<CopyName, Copy> = { database: openMemory(), journal: openMemory() }) {
  const shelf: Shelf = { keyWrap: null, kept: null, tries: null };
  const clock = { now: Date.parse('2026-02-17T08:00:00Z') };
  const start = async (writer = true) => {
    const vault = await openVault({ copies, store: shelfStore(shelf), now: () => clock.now, kdf: cheap, writer });
    return { vault, ...(await openMirroredLog(vault.copies, { writer })) };
  };
  const lying = async () =>
    JSON.stringify(await Promise.all([copies.database.read(), copies.journal.read()]), (key, value) =>
      key === 'damaged' ? undefined : value,
    );
  return { shelf, clock, copies, start, lying };
}
async function fill(log: Awaited<ReturnType<ReturnType<typeof device>['start']>>['log'], caseId = 'one', count = 3) {
  await log.create(metaOf(caseId));
  for (const entry of chain(count, caseId))
    expect(await log.append(caseId, entry)).toMatchObject({ ok: true, copies: 2 });
}

describe('without a passcode', () => {
  it('leaves the device as it is and keeps nothing locked', async () => {
    const { start, shelf, lying } = device();
    const { vault, log } = await start();
    await fill(log);
    await vault.keep('one');
    expect([vault.on(), vault.full(), shelf]).toEqual([false, true, { keyWrap: null, kept: null, tries: null }]);
    expect(await lying()).not.toContain('"box"');
    expect((await start()).cases[0]?.entries).toHaveLength(3);
  });
});

describe('what the device keeps', () => {
  it('is asked for once a reading, not once a case, and not at all without a passcode', async () => {
    const shelf: Shelf = { keyWrap: null, kept: null, tries: null };
    const copies = { database: openMemory(), journal: openMemory() };
    let asked = 0;
    const start = async () => {
      const store = shelfStore(shelf);
      const counting = { ...store, read: () => (asked++, store.read()) };
      const vault = await openVault({ copies, store: counting, kdf: cheap });
      return { vault, ...(await openMirroredLog(vault.copies)) };
    };
    const first = await start();
    for (const id of ['one', 'two', 'three']) await fill(first.log, id, 1);
    asked = 0;
    expect((await start()).cases).toHaveLength(3);
    expect(asked).toBe(0);
    expect(await first.vault.set(right)).toEqual({ ok: true, partly: [] });
    await first.vault.keep('two');
    asked = 0;
    expect((await start()).cases.map(({ meta }) => meta.caseId)).toEqual(['two']);
    expect(asked).toBeLessThanOrEqual(2);
  });
});

describe('a passcode', () => {
  it('[Z22] asked for twice at once is set once, and opens everything', async () => {
    const { start } = device();
    const { vault, log } = await start();
    await fill(log);
    expect(await Promise.all([vault.set(right), vault.set(wrong)])).toMatchObject([
      { ok: true, partly: [] },
      { ok: false, reason: { code: 'passcode-set' } },
    ]);
    const later = await start();
    expect(await later.vault.unlock(right)).toEqual({ ok: true });
    expect((await openMirroredLog(later.vault.copies)).cases[0]?.entries).toHaveLength(3);
  });

  it('[Z22] encrypts what is stored and what comes, asks at the next start, and opens with the right one only', async () => {
    const { start, lying, clock } = device();
    const first = await start();
    await fill(first.log);
    expect(await first.vault.set(right)).toEqual({ ok: true, partly: [] });
    await fill(first.log, 'two');
    expect(await lying()).not.toMatch(/remark|one 1|two 3|2026\.1/);

    const second = await start();
    expect([second.vault.on(), second.vault.full(), second.cases]).toEqual([true, false, []]);
    expect(await second.vault.unlock(wrong)).toEqual({ ok: false, why: 'wrong', seconds: 1 });
    expect(await second.log.list()).toEqual([]);
    clock.now += 1000;
    expect(await second.vault.unlock(right)).toEqual({ ok: true });
    expect((await second.log.list()).map(({ entries }) => entries)).toEqual([chain(3, 'one'), chain(3, 'two')]);
    await second.vault.lock();
    expect([second.vault.full(), await second.log.list()]).toEqual([false, []]);
  });

  it('[Z22] is kept nowhere, neither itself nor its key, and shows in no reason', async () => {
    const { start, shelf, lying } = device();
    const { vault, log } = await start();
    await vault.set(right);
    await fill(log);
    await vault.keep('one');
    const refusals = [await vault.unlock(wrong), await vault.change(wrong, 'other one'), await vault.set('another')];
    const everything = JSON.stringify([shelf, refusals]) + (await lying());
    for (const words of [right, wrong, 'Schicht']) expect(everything).not.toContain(words);
    expect(shelf.kept?.keys.encryption.extractable).toBe(false);
    await expect(crypto.subtle.exportKey('raw', shelf.kept!.keys.encryption)).rejects.toThrow();
  });

  it('too short is refused, and a second one beside it too', async () => {
    const { vault } = await device().start();
    expect(await vault.set('12345')).toMatchObject({ ok: false, why: 'failed' });
    expect(vault.on()).toBe(false);
    await vault.set('123456');
    expect(await vault.set('1234567')).toMatchObject({ ok: false });
  });

  it('changed, wraps the same key anew: no row changes, and the old one opens nothing any more', async () => {
    const { start, lying, clock } = device();
    const { vault, log } = await start();
    await vault.set(right);
    await fill(log);
    const before = await lying();
    expect(await vault.change(right, 'a new one')).toEqual({ ok: true, partly: [] });
    expect(await lying()).toBe(before);
    const next = await start();
    expect(await next.vault.unlock(right)).toMatchObject({ ok: false, why: 'wrong' });
    clock.now += 1000;
    expect(await next.vault.unlock('a new one')).toEqual({ ok: true });
    expect((await next.log.list())[0]?.entries).toEqual(chain(3, 'one'));
  });

  it('taken off, lays everything open again and leaves nothing behind', async () => {
    const { start, shelf, lying, clock } = device();
    const { vault, log } = await start();
    await vault.set(right);
    await fill(log);
    expect(await vault.takeOff(wrong)).toMatchObject({ ok: false, why: 'wrong' });
    clock.now += 1000;
    expect(await vault.takeOff(right)).toEqual({ ok: true, partly: [] });
    expect(await lying()).not.toContain('"box"');
    expect(shelf).toEqual({ keyWrap: null, kept: null, tries: null });
    expect((await start()).cases[0]?.entries).toEqual(chain(3, 'one'));
  });

  it('[Z14] stays on while a copy cannot be laid open', async () => {
    const here = device();
    const journal = { ...here.copies.journal };
    const { vault, log } = await device({ ...here.copies, journal }).start();
    await vault.set(right);
    await fill(log);
    journal.replace = () => Promise.reject(new Failed({ code: 'no-room' }));
    expect(await vault.takeOff(right)).toEqual({
      ok: false,
      why: 'failed',
      reason: { code: 'journal', reason: { code: 'no-room' } },
    });
    expect(vault.on()).toBe(true);
    expect(await here.lying()).not.toMatch(/remark/);
  });

  it('[Z14] set while a copy refuses, says which, and encrypts it at the next unlocked start', async () => {
    const here = device();
    const refusing = { on: false };
    const journal: Copy = {
      ...here.copies.journal,
      replace: (reading) =>
        refusing.on ? Promise.reject(new Failed({ code: 'file-held' })) : here.copies.journal.replace(reading),
    };
    const away = device({ ...here.copies, journal });
    const { vault, log } = await away.start();
    await fill(log);
    refusing.on = true;
    expect(await vault.set(right)).toEqual({ ok: true, partly: [{ code: 'journal', reason: { code: 'file-held' } }] });
    expect(await here.lying()).toMatch(/remark/);
    refusing.on = false;
    const next = await away.start();
    await next.vault.unlock(right);
    expect(await here.lying()).not.toMatch(/remark/);
    expect((await next.log.list())[0]?.entries).toEqual(chain(3, 'one'));
  });
});

describe('wrong passcodes', () => {
  it('wait 1, 2, 4 … and at most 60 s', () => {
    expect([0, 1, 2, 3, 4, 5, 6, 7, 8, 50].map(waitAfter)).toEqual([0, 1, 2, 4, 8, 16, 32, 60, 60, 60]);
  });

  it('[Z22] are counted over restarts, before the answer is known, and forgotten by the right one', async () => {
    const { start, clock, shelf } = device();
    await (await start()).vault.set(right);
    for (const seconds of [1, 2, 4]) {
      expect(await (await start()).vault.unlock(wrong)).toEqual({ ok: false, why: 'wrong', seconds });
      clock.now += seconds * 1000 - 1;
      expect(await (await start()).vault.unlock(right)).toMatchObject({ ok: false, why: 'wait', seconds: 1 });
      clock.now += 1;
    }
    // Left in the middle of a try: it counts all the same.
    const cutOff = (await start()).vault.unlock(wrong);
    expect(shelf.tries?.wrong).toBe(4);
    await cutOff;
    clock.now += 8000;
    expect(await (await start()).vault.unlock(right)).toEqual({ ok: true });
    expect(shelf.tries).toBeNull();
  });

  it('wait no longer than that when the clock is set back', async () => {
    const { start, clock } = device();
    const { vault } = await start();
    await vault.set(right);
    await vault.unlock(wrong);
    clock.now -= 86_400_000;
    expect(vault.secondsLeft()).toBe(1);
  });
});

describe('a case in work', () => {
  it('[Z23] is there again after a kill with no passcode, alone, and takes entries; the others stay encrypted', async () => {
    const { start, shelf } = device();
    const first = await start();
    await first.vault.set(right);
    await fill(first.log, 'earlier');
    await fill(first.log, 'now');
    await first.vault.keep('now');

    const second = await start();
    expect(second.vault.full()).toBe(false);
    expect(second.cases.map(({ meta }) => meta)).toEqual([metaOf('now')]);
    expect(await second.log.append('now', chain(4, 'now')[3]!)).toEqual({ ok: true, copies: 2 });
    expect((await second.log.append('earlier', chain(4, 'earlier')[3]!)).ok).toBe(false);

    await second.vault.release();
    expect(shelf.kept).toBeNull();
    const third = await start();
    expect(third.cases).toEqual([]);
    await third.vault.unlock(right);
    expect((await third.log.list()).map(({ entries }) => entries.length).sort()).toEqual([3, 4]);
  });

  it('[Z14] [Z23] is healed at that start from the copy that still has it', async () => {
    const { start, copies } = device();
    const first = await start();
    await first.vault.set(right);
    await fill(first.log, 'now', 5);
    await first.vault.keep('now');
    await copies.database.replace({ cases: [], removed: [], quarantined: [], damaged: [] });
    const { cases, report } = await start();
    expect(cases[0]?.entries).toEqual(chain(5, 'now'));
    expect(report.restored).toMatchObject([{ entries: 5, from: 'journal' }]);
  });

  it('[Z25] is followed by a window that was never unlocked, as long as it is in work', async () => {
    const { start } = device();
    const first = await start();
    const wall = await start(false);
    await first.vault.set(right);
    await fill(first.log, 'earlier');
    await fill(first.log, 'now');
    expect(await wall.log.list()).toEqual([]);
    await first.vault.keep('now');
    expect((await wall.log.list()).map(({ meta }) => meta.caseId)).toEqual(['now']);
  });
});

describe('what lay plain before a passcode', () => {
  /** Notes which copies were rewritten so that nothing is left. */
  const noting = (copy: Copy, name: string, told: string[]): Copy => ({
    ...copy,
    replace: (contents, how) => (
      told.push(`${name} ${how?.leaveNothing ? 'anew' : 'over'}`),
      copy.replace(contents, how)
    ),
  });

  it('[Z22] goes with the database that is made anew once, behind the journal, and not again', async () => {
    const told: string[] = [];
    const here = device();
    const { copies, shelf } = here;
    const both = {
      database: noting(copies.database, 'database', told),
      journal: noting(copies.journal, 'journal', told),
    };
    const away = device(both);
    Object.assign(away.shelf, shelf);
    const { vault, log } = await away.start();
    await fill(log);
    await vault.set(right);
    expect(told).toEqual(['journal over', 'database anew']);
    await (await away.start()).vault.unlock(right);
    expect(told).toHaveLength(2);
    delete away.shelf.leftNothing;
    await (await away.start()).vault.unlock(right);
    expect(told.slice(2)).toEqual(['database anew']);
  });

  it('[Z14] stays while the journal lacks an entry or refuses: the database is rewritten as it stands then', async () => {
    const told: string[] = [];
    const refusing = { on: false };
    const here = device();
    const journal: Copy = {
      ...here.copies.journal,
      append: (id, entry) =>
        refusing.on
          ? Promise.resolve({ ok: false, reason: { code: 'no-room' } })
          : here.copies.journal.append(id, entry),
    };
    const away = device({ database: noting(here.copies.database, 'database', told), journal });
    const { vault, log } = await away.start();
    await fill(log, 'one', 2);
    refusing.on = true;
    expect(await log.append('one', chain(3, 'one')[2]!)).toMatchObject({ copies: 1, missing: 'journal' });
    await vault.set(right);
    expect([told, away.shelf.leftNothing]).toEqual([['database over'], undefined]);
    refusing.on = false;
    const next = await away.start();
    await next.vault.unlock(right);
    expect((await next.log.list())[0]?.entries).toEqual(chain(3, 'one'));
  });
});

describe('a forgotten passcode', () => {
  it('lets everything be wiped, and nothing be read', async () => {
    const { start, lying } = device();
    const first = await start();
    await first.vault.set(right);
    await fill(first.log);
    await fill(first.log, 'two');
    const { vault, log } = await start();
    const all = await vault.everyCase();
    expect(all.sort()).toEqual(['one', 'two']);
    for (const caseId of all) await log.remove(caseId);
    await vault.forget();
    expect([vault.on(), await log.list()]).toEqual([false, []]);
    expect(await lying()).not.toContain('"box"');
    await fill(log, 'three');
    expect((await start()).cases.map(({ meta }) => meta.caseId)).toEqual(['three']);
  });
});

describe('the wrapped data key', () => {
  it('opens with the passcode however its letters were composed, and not when the head was changed', async () => {
    const made = await wrap(new Uint8Array(32).fill(9), right.normalize('NFD'), 1, cheap);
    expect(await unwrap(made, right.normalize('NFC'))).toEqual(new Uint8Array(32).fill(9));
    expect(await unwrap(made, wrong)).toBeNull();
    expect(await unwrap({ ...made, kdf: { ...made.kdf, passes: 2 } }, right)).toBeNull();
    expect(await passcodeKey(right, cheap, new Uint8Array(16)).then((key) => key.extractable)).toBe(false);
  });
});
