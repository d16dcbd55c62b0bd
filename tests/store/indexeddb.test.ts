import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { describe, expect, it } from 'vitest';
import { openDatabase } from '../../src/store/indexeddb/log.ts';
import { chain, metaOf, next } from './chain.ts';

type Spoil = (tx: IDBTransaction) => unknown;

/** A factory whose transactions pass through `spoil`, and which counts the connections that were opened. */
function spoiled(spoil: Spoil = () => {}) {
  const factory = new IDBFactory();
  const seen = { opened: 0, modes: [] as unknown[] };
  const open = factory.open.bind(factory);
  factory.open = (name, version) => {
    const request = open(name, version);
    request.addEventListener('success', () => {
      seen.opened++;
      const db = request.result;
      const transaction = db.transaction.bind(db);
      db.transaction = (stores, mode, options) => {
        seen.modes.push([mode, options?.durability]);
        const tx = transaction(stores, mode, options);
        spoil(tx);
        return tx;
      };
    });
    return request;
  };
  return { factory, seen };
}

/** Runs `then` once an `add` of the transaction went well: all that is left to it is to complete. */
function afterAdd(tx: IDBTransaction, then: () => void): void {
  const store = tx.objectStore.bind(tx);
  tx.objectStore = (name) => {
    const real = store(name);
    const add = real.add.bind(real);
    real.add = (value, key) => {
      const request = add(value, key);
      request.addEventListener('success', then);
      return request;
    };
    return real;
  };
}

describe('the database copy', () => {
  it('[Z14] asks for strict durability in every transaction', async () => {
    const { factory, seen } = spoiled();
    const log = openDatabase({ factory });
    await log.create(metaOf('one'));
    await log.append('one', chain(1)[0] as never);
    expect(seen.modes).toEqual([
      ['readwrite', 'strict'],
      ['readwrite', 'strict'],
    ]);
  });

  it('[Z14] does not say yes on the success of a request when the transaction is given up after it', async () => {
    let spoil = false;
    const { factory } = spoiled((tx) => spoil && afterAdd(tx, () => tx.abort()));
    const log = openDatabase({ factory });
    await log.create(metaOf('one'));
    spoil = true;
    const result = await log.append('one', chain(1)[0] as never);
    expect(result).toEqual({ ok: false, reason: { code: expect.stringMatching(/./) } });
    spoil = false;
    expect((await log.list())[0]?.entries).toEqual([]);
  });

  it('leaves nothing behind of an entry whose case is not there, or was wiped', async () => {
    const log = openDatabase({ factory: new IDBFactory() });
    const [first] = chain(1);
    expect(await log.append('nowhere', first as never)).toEqual({ ok: false, reason: { code: 'case-unknown' } });
    await log.create(metaOf('one'));
    await log.remove('one');
    expect(await log.append('one', first as never)).toEqual({ ok: false, reason: { code: 'case-wiped' } });
    expect((await log.read()).cases).toEqual([]);
  });

  it('[Z14] opens a connection that was closed under it again, once', async () => {
    const { factory, seen } = spoiled();
    let close = () => {};
    const open = factory.open;
    factory.open = (name, version) => {
      const request = open(name, version);
      request.addEventListener('success', () => (close = () => request.result.close()));
      return request;
    };
    const log = openDatabase({ factory });
    await log.create(metaOf('one'));
    close();
    expect(await log.append('one', chain(1)[0] as never)).toEqual({ ok: true, copies: 1 });
    expect(seen.opened).toBe(2);
  });

  it('does not open for ever: a connection that closes every time is a refusal in words', async () => {
    const { factory, seen } = spoiled(() => {
      throw new DOMException('the database connection is closing', 'InvalidStateError');
    });
    const log = openDatabase({ factory });
    expect(await log.create(metaOf('one'))).toEqual({
      ok: false,
      reason: { code: 'connection-closed', detail: 'the database connection is closing' },
    });
    expect(await log.create(metaOf('one'))).toMatchObject({ ok: false });
    expect(seen.opened).toBeLessThanOrEqual(3);
  });

  it('[Z14] names a used-up quota', async () => {
    let full = false;
    const giveUp = (tx: IDBTransaction) =>
      (tx as unknown as { _abort(name: string): void })._abort('QuotaExceededError');
    const { factory } = spoiled((tx) => full && afterAdd(tx, () => giveUp(tx)));
    const log = openDatabase({ factory });
    await log.create(metaOf('one'));
    full = true;
    expect(await log.append('one', chain(1)[0] as never)).toEqual({
      ok: false,
      reason: { code: 'no-room' },
    });
  });

  it('[Z14] never waits for ever: neither for an opening that is not answered nor for a transaction', async () => {
    const deaf = { open: () => ({}) } as unknown as IDBFactory;
    expect(await openDatabase({ factory: deaf, timeoutMs: 20 }).create(metaOf('one'))).toEqual({
      ok: false,
      reason: { code: 'database-slow-open', seconds: 0.02 },
    });
    const { factory } = spoiled((tx) => Object.defineProperty(tx, 'oncomplete', { set: () => {} }));
    expect(await openDatabase({ factory, timeoutMs: 50 }).create(metaOf('one'))).toEqual({
      ok: false,
      reason: { code: 'database-slow', seconds: 0.05 },
    });
  });

  it('says that a newer version has changed the store, and that an older window blocks', async () => {
    const factory = new IDBFactory();
    const raw = (version: number) =>
      new Promise<IDBDatabase>((resolve) => {
        const request = factory.open('counterturn', version);
        request.onsuccess = () => resolve(request.result);
      });
    (await raw(9)).close();
    expect(await openDatabase({ factory }).create(metaOf('one'))).toEqual({
      ok: false,
      reason: { code: 'newer-store' },
    });
  });

  it('lets go of the connection when a newer version wants to change the store', async () => {
    const factory = new IDBFactory();
    const log = openDatabase({ factory });
    await log.create(metaOf('one'));
    const upgraded = await new Promise<string>((resolve) => {
      const request = factory.open('counterturn', 2);
      request.onblocked = () => resolve('blocked');
      request.onsuccess = () => resolve('upgraded');
    });
    expect(upgraded).toBe('upgraded');
  });

  it('says so where there is no database at all', async () => {
    const log = openDatabase({ factory: null as unknown as IDBFactory });
    expect(await log.create(metaOf('one'))).toEqual({ ok: false, reason: { code: 'no-database' } });
    await expect(log.list()).rejects.toMatchObject({ failure: { code: 'no-database' } });
  });
});

/** The database behind the copy's back. */
const lying = (factory: IDBFactory) =>
  new Promise<IDBDatabase>((resolve) => {
    const request = factory.open('counterturn');
    request.onsuccess = () => resolve(request.result);
  });

describe('rows that are gathered', () => {
  /** A case of so many entries, gathered; and how the rows lie. */
  async function gathered(count: number, factory = new IDBFactory(), many = 3) {
    const log = openDatabase({ factory, many });
    await log.create(metaOf('one'));
    for (const entry of chain(count)) await log.append('one', entry);
    const done = await log.gather();
    const rows = async (): Promise<[number, number][]> => {
      const db = await lying(factory);
      const all = await new Promise<{ n: number; more?: unknown[] }[]>((resolve) => {
        const request = db.transaction('entries').objectStore('entries').getAll();
        request.onsuccess = () => resolve(request.result);
      });
      db.close();
      return all.map(({ n, more }) => [n, 1 + (more?.length ?? 0)]);
    };
    const entries = async () => (await openDatabase({ factory }).list())[0]?.entries;
    return { log, factory, done, rows, entries };
  }
  const other = next(chain(2), { type: 'remark', text: 'another third entry' });

  it('lie in one, the last by itself, and read as before', async () => {
    const { log, done, rows, entries } = await gathered(9);
    expect([done, await rows()]).toEqual([
      true,
      [
        [1, 8],
        [9, 1],
      ],
    ]);
    expect(await entries()).toEqual(chain(9));
    expect(await log.gather()).toBe(false);
    for (const entry of chain(14).slice(9)) expect((await log.append('one', entry)).ok).toBe(true);
    expect([await log.gather(), await rows()]).toEqual([
      true,
      [
        [1, 8],
        [9, 5],
        [14, 1],
      ],
    ]);
    expect(await entries()).toEqual(chain(14));
  });

  it('stay as they are while few stand singly; a new start counts them anew', async () => {
    const { done, rows, factory } = await gathered(3);
    expect([done, (await rows()).length]).toEqual([false, 3]);
    const later = openDatabase({ factory, many: 2 });
    expect(await later.gather()).toBe(false);
    await later.read();
    expect([await later.gather(), (await rows()).length]).toEqual([true, 2]);
  });

  it('[Z6] [Z15] take the very same entry again as recorded, once, and refuse another of the same n', async () => {
    for (const n of [1, 3, 8, 9]) {
      const { log, entries, rows } = await gathered(9);
      const lying = await rows();
      expect(await log.append('one', chain(9)[n - 1] as never)).toEqual({ ok: true, copies: 1 });
      expect(await log.append('one', { ...(chain(9)[n - 1] as object), text: 'not this' } as never)).toEqual({
        ok: false,
        reason: { code: 'entry-there', n },
      });
      expect([await entries(), await rows()]).toEqual([chain(9), lying]);
    }
  });

  it('[Z14] are healed like single ones: what stands in the way goes aside, what lacks is put in its place', async () => {
    const { log, entries } = await gathered(9);
    const branch = [...chain(2), other, ...chain(6, 'branch', 4, [...chain(2), other]).slice(3)];
    expect((await log.heal({ meta: metaOf('one'), entries: branch }, [])).ok).toBe(true);
    expect((await entries())?.slice(0, 6)).toEqual(branch);
    expect((await log.read()).quarantined.map(({ entry }) => entry)).toEqual(chain(9).slice(2, 6));

    const gap = openDatabase({ factory: new IDBFactory(), many: 1 });
    await gap.create(metaOf('one'));
    for (const entry of chain(9).filter(({ n }) => n !== 5)) await gap.append('one', entry);
    expect(await gap.gather()).toBe(true);
    expect((await gap.heal({ meta: metaOf('one'), entries: chain(9) }, [])).ok).toBe(true);
    expect((await gap.list())[0]?.entries).toEqual(chain(9));
    expect((await gap.read()).quarantined).toEqual([]);
  });

  it('[Z14] in which an entry also lies singly are healed to hold it once', async () => {
    const { log, factory, entries } = await gathered(9);
    const db = await lying(factory);
    const tx = db.transaction('entries', 'readwrite');
    const doubled = [other, ...chain(5).slice(3)];
    for (const entry of doubled) tx.objectStore('entries').put({ caseId: 'one', n: entry.n, entry });
    await new Promise((done) => (tx.oncomplete = done));
    db.close();
    expect(await entries()).toHaveLength(12);
    expect((await log.heal({ meta: metaOf('one'), entries: chain(9) }, [])).ok).toBe(true);
    expect(await entries()).toEqual(chain(9));
    expect((await log.read()).quarantined.map(({ entry }) => entry)).toEqual([other]);
  });

  it('[Z22] go with their case when it is wiped', async () => {
    const { log, rows } = await gathered(9);
    await log.remove('one');
    expect([await rows(), (await log.read()).cases]).toEqual([[], []]);
  });

  it('[Z14] are as they were when the gathering is given up half-way', async () => {
    let spoil = false;
    const { factory } = spoiled((tx) => spoil && afterAdd(tx, () => tx.abort()));
    const { log, rows, entries } = await gathered(9, factory, 20);
    const eager = openDatabase({ factory, many: 3 });
    await eager.read();
    spoil = true;
    expect(await eager.gather()).toBe(false);
    spoil = false;
    expect([(await rows()).length, await entries()]).toEqual([9, chain(9)]);
    await log.close();
  });
});

describe('a window that does not hold the cases', () => {
  const [one, two, three] = chain(3) as [ReturnType<typeof next>, ReturnType<typeof next>, ReturnType<typeof next>];
  const refusal = { ok: false, reason: { code: 'not-holder' } };
  /** Windows on one database, each with a token of its own as long as it believes to hold the cases. */
  async function windows() {
    const factory = new IDBFactory();
    const believes = { first: true, second: true };
    const first = openDatabase({ factory, holder: () => (believes.first ? 'first' : null) });
    const second = openDatabase({ factory, holder: () => (believes.second ? 'second' : null) });
    await first.claim();
    await first.create(metaOf('one'));
    await first.append('one', one);
    return { factory, believes, first, second };
  }

  it('[Z25] writes nothing, whatever is asked of it', async () => {
    const { believes, first } = await windows();
    believes.first = false;
    const before = await first.read();
    expect(await first.append('one', two)).toEqual(refusal);
    expect(await first.create(metaOf('two'))).toEqual(refusal);
    expect(await first.heal({ meta: metaOf('two'), entries: [one] }, [])).toEqual(refusal);
    await expect(first.remove('one')).rejects.toMatchObject({ failure: refusal.reason });
    await expect(first.replace(before)).rejects.toMatchObject({ failure: refusal.reason });
    await expect(first.claim()).rejects.toMatchObject({ failure: refusal.reason });
    expect(await first.gather()).toBe(false);
    expect(await first.read()).toEqual(before);
  });

  it('[Z14] [Z25] that another one took over from is refused within its own transaction, though it does not know', async () => {
    const { first, second } = await windows();
    await second.read();
    const underWay = first.append('one', two);
    const taking = second.claim();
    const late = first.append('one', next([one, two], { type: 'remark', text: 'late' }));
    const read = second.read();
    expect(await underWay).toEqual({ ok: true, copies: 1 });
    await taking;
    // What was under way when it was taken over is in what the other one reads; what came later is refused.
    expect((await read).cases[0]?.entries).toEqual([one, two]);
    expect(await late).toEqual(refusal);
    expect(await second.append('one', three)).toEqual({ ok: true, copies: 1 });
    expect(await first.append('one', next([one, two, three]))).toEqual(refusal);
    expect((await second.list())[0]?.entries).toEqual([one, two, three]);
  });

  it('[Z25] of a database that was emptied meanwhile, the one that holds the cases goes on', async () => {
    const { factory, first } = await windows();
    await first.close();
    await new Promise((done) => (factory.deleteDatabase('counterturn').onsuccess = done));
    expect(await first.heal({ meta: metaOf('one'), entries: [one] }, [])).toEqual({ ok: true, copies: 1 });
    expect(await first.append('one', two)).toEqual({ ok: true, copies: 1 });
  });
});
