import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { describe, expect, it } from 'vitest';
import { openDatabase } from '../../src/log/indexed-db.ts';
import { chain, metaOf } from './chain.ts';

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
      const db = request.result as unknown as IDBDatabase;
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
    expect(result).toEqual({ ok: false, reason: expect.stringMatching(/./) });
    spoil = false;
    expect((await log.list())[0]?.entries).toEqual([]);
  });

  it('leaves nothing behind of an entry whose case is not there, or was wiped', async () => {
    const log = openDatabase({ factory: new IDBFactory() });
    const [first] = chain(1);
    expect(await log.append('nowhere', first as never)).toEqual({ ok: false, reason: 'this case is not in the log' });
    await log.create(metaOf('one'));
    await log.remove('one');
    expect(await log.append('one', first as never)).toEqual({ ok: false, reason: 'this case was wiped' });
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
      reason: 'the connection to the store was closed (the database connection is closing)',
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
      reason: 'no room left: the storage quota is used up',
    });
  });

  it('[Z14] never waits for ever: neither for an opening that is not answered nor for a transaction', async () => {
    const deaf = { open: () => ({}) } as unknown as IDBFactory;
    expect(await openDatabase({ factory: deaf, patience: 20 }).create(metaOf('one'))).toEqual({
      ok: false,
      reason: 'the database did not open within 0.02 s',
    });
    const { factory } = spoiled((tx) => Object.defineProperty(tx, 'oncomplete', { set: () => {} }));
    expect(await openDatabase({ factory, patience: 50 }).create(metaOf('one'))).toEqual({
      ok: false,
      reason: 'the database did not answer within 0.05 s',
    });
  });

  it('says that a newer version has changed the store, and that an older window blocks', async () => {
    const factory = new IDBFactory();
    const raw = (version: number) =>
      new Promise<IDBDatabase>((resolve) => {
        const request = factory.open('counterturn', version);
        request.onsuccess = () => resolve(request.result as unknown as IDBDatabase);
      });
    (await raw(9)).close();
    expect(await openDatabase({ factory }).create(metaOf('one'))).toEqual({
      ok: false,
      reason: 'a newer version of this tool has changed the store',
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
    expect(await log.create(metaOf('one'))).toEqual({ ok: false, reason: 'this browser has no database' });
    await expect(log.list()).rejects.toThrow('this browser has no database');
  });
});
