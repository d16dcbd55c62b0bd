/** What a passcode leaves on the device beside the cases, and what of it opens nothing any more. */
import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { describe, expect, it } from 'vitest';
import { safeParse } from 'valibot';
import { Failed } from '../../src/failure.ts';
import { type CaseKeys, caseKeys, dataKeyFrom, halfBytes } from '../../src/store/encrypted/aes-gcm.ts';
import { openKeyStore } from '../../src/store/encrypted/key-store.ts';
import { keyWrapOnDisk, keyWrapShape, wrap } from '../../src/store/encrypted/passcode.ts';
import { decryptRow, encryptRow } from '../../src/store/encrypted/row-codec.ts';
import { openVault } from '../../src/store/encrypted/vault.ts';
import { openMemory } from '../../src/store/memory.ts';
import { chain } from './chain.ts';
import { cheap } from './vaults.ts';

const right = 'frühe Schicht 7';

/** One record of the key store's database, as it lies there. */
const kept = async <T>(factory: IDBFactory, work: (store: IDBObjectStore) => IDBRequest<T>): Promise<T> => {
  const db = await new Promise<IDBDatabase>((resolve, reject) => {
    const opening = factory.open('counterturn-vault', 1);
    opening.onsuccess = () => resolve(opening.result);
    opening.onerror = () => reject(opening.error ?? new Error('not opened'));
  });
  const request = work(db.transaction('kept', 'readwrite').objectStore('kept'));
  await new Promise((done) => (request.transaction!.oncomplete = done));
  db.close();
  return request.result;
};
const recordIn = (factory: IDBFactory, key: string) => kept(factory, (store) => store.get(key) as IDBRequest<unknown>);
const putInto = (factory: IDBFactory, key: string, value: unknown) => kept(factory, (store) => store.put(value, key));

describe('what a passcode leaves on the device', () => {
  const boxOf = () => {
    const map = new Map<string, string>();
    return {
      getItem: (key: string) => map.get(key) ?? null,
      setItem: (key: string, value: string) => void map.set(key, value),
      removeItem: (key: string) => void map.delete(key),
      map,
    };
  };
  const head = () => wrap(new Uint8Array(32).fill(9), right, 1, cheap);

  it('[Z14] is in two places, and comes back from either when the other is emptied', async () => {
    const made = await head();
    const [factory, box] = [new IDBFactory(), boxOf()];
    await openKeyStore({ factory, settings: () => box }).writeKeyWrap(made);
    expect(await openKeyStore({ factory: new IDBFactory(), settings: () => box }).readKeyWrap()).toEqual(made);
    box.map.clear();
    expect(await openKeyStore({ factory, settings: () => box }).readKeyWrap()).toEqual(made);
    expect(box.map.size).toBe(1);
    const emptied = new IDBFactory();
    await openKeyStore({ factory: emptied, settings: () => box }).readKeyWrap();
    box.map.clear();
    expect(await openKeyStore({ factory: emptied, settings: () => box }).readKeyWrap()).toEqual(made);
  });

  it('is the newer of the two when they differ', async () => {
    const made = await head();
    const [factory, box] = [new IDBFactory(), boxOf()];
    const store = openKeyStore({ factory, settings: () => box });
    await store.writeKeyWrap({ ...made, revision: 2 });
    box.setItem('counterturn.lock', JSON.stringify(keyWrapOnDisk(made)));
    expect((await store.readKeyWrap())?.revision).toBe(2);
    box.setItem('counterturn.lock', JSON.stringify({ ...keyWrapOnDisk(made), turn: 3 }));
    expect((await store.readKeyWrap())?.revision).toBe(3);
  });

  it('refuses to be set where the database does not take it, and keeps nothing then', async () => {
    const box = boxOf();
    const closed = Object.assign(new IDBFactory(), {
      open: () => {
        throw new DOMException('', 'SecurityError');
      },
    });
    const store = openKeyStore({ factory: closed, settings: () => box });
    const vault = await openVault({ copies: { database: openMemory(), journal: openMemory() }, store, kdf: cheap });
    expect(await vault.set(right)).toMatchObject({ ok: false, why: 'failed' });
    expect([vault.on(), box.map.size]).toEqual([false, 0]);
  });

  /** A file that is overwritten in place. */
  const placeOf = () => {
    const place = { bytes: new Uint8Array(), refuses: false };
    return {
      place,
      overwritten: async () => place.bytes.slice(),
      async overwrite(bytes: Uint8Array) {
        if (place.refuses) throw new Failed({ code: 'file-held' });
        place.bytes = Uint8Array.from(bytes);
      },
    };
  };
  const keysOfCase = async () => caseKeys(await dataKeyFrom(new Uint8Array(32).fill(9)), 'one', true);
  const rowUnder = async (keys: CaseKeys) => encryptRow(keys, 'one', chain(1)[0]!);

  it('[Z22] holds the keys of the case in work, not extractable, and lets them go', async () => {
    const half = placeOf();
    const store = openKeyStore({ factory: new IDBFactory(), settings: boxOf, half });
    const keys = await keysOfCase();
    await store.write({ caseId: 'one', keys });
    const kept = await store.read();
    expect([kept?.caseId, kept?.keys.encryption.extractable, kept?.keys.mac.extractable]).toEqual([
      'one',
      false,
      false,
    ]);
    expect(await decryptRow(kept!.keys, 'one', await rowUnder(keys))).toEqual(chain(1)[0]);
    expect((await rowUnder(kept!.keys)).seal).toBe((await rowUnder(keys)).seal);
    await store.clear();
    expect([await store.read(), half.place.bytes]).toEqual([null, new Uint8Array(halfBytes)]);
  });

  it('[Z22] of a case that was put away opens nothing, even where every record of it is still there', async () => {
    const [factory, half] = [new IDBFactory(), placeOf()];
    const store = openKeyStore({ factory, settings: boxOf, half });
    await store.write({ caseId: 'one', keys: await keysOfCase() });
    const record = await recordIn(factory, 'case');
    await store.clear();
    await putInto(factory, 'case', record);
    expect(await recordIn(factory, 'case')).toMatchObject({ caseId: 'one' });
    expect(await store.read()).toBeNull();
  });

  it('[Z22] overwrites the half before the record goes, so that a kill in between leaves no two halves', async () => {
    const [factory, half] = [new IDBFactory(), placeOf()];
    const store = openKeyStore({ factory, settings: boxOf, half });
    await store.write({ caseId: 'one', keys: await keysOfCase() });
    let release: () => void = () => {};
    const overwrite = half.overwrite.bind(half);
    half.overwrite = async (bytes) => {
      await new Promise<void>((done) => (release = done));
      return overwrite(bytes);
    };
    const clearing = store.clear();
    for (let turn = 0; turn < 20; turn++) await new Promise((done) => setImmediate(done));
    expect(await recordIn(factory, 'case')).toMatchObject({ caseId: 'one' });
    release();
    await clearing;
    expect([await recordIn(factory, 'case'), half.place.bytes]).toEqual([undefined, new Uint8Array(halfBytes)]);
  });

  it('[Z22] says that the keys are left where their half cannot be overwritten', async () => {
    const half = placeOf();
    const store = openKeyStore({ factory: new IDBFactory(), settings: boxOf, half });
    await store.write({ caseId: 'one', keys: await keysOfCase() });
    half.place.refuses = true;
    await expect(store.clear()).rejects.toMatchObject({ failure: { code: 'file-held' } });
    half.place.refuses = false;
    await store.clear();
    expect(half.place.bytes).toEqual(new Uint8Array(halfBytes));
  });

  it('keeps the half in the settings where the browser gives no files', async () => {
    const box = boxOf();
    const none = () => Promise.reject(new Failed({ code: 'no-sync-files' }));
    const half = { overwrite: none, overwritten: none };
    const store = openKeyStore({ factory: new IDBFactory(), settings: () => box, half });
    await store.write({ caseId: 'one', keys: await keysOfCase() });
    expect([...box.map.keys()]).toEqual(['counterturn.half']);
    expect((await store.read())?.caseId).toBe('one');
    await store.clear();
    expect([box.map.size, await store.read()]).toEqual([0, null]);
  });

  it('[Z23] reads the keys of a case in work as they lay before, and makes the database anew once it is put away', async () => {
    const [factory, half, box] = [new IDBFactory(), placeOf(), boxOf()];
    const store = openKeyStore({ factory, settings: () => box, half });
    const made = await head();
    await store.writeKeyWrap(made);
    const { encryption, mac } = await keysOfCase();
    await putInto(factory, 'case', { caseId: 'one', keys: { box: encryption, tag: mac } });
    expect((await store.read())?.keys).toEqual({ encryption, mac });
    const dropped: string[] = [];
    const real = factory.deleteDatabase.bind(factory);
    factory.deleteDatabase = (name) => (dropped.push(name), real(name));
    await store.clear();
    expect(dropped.filter((name) => name === 'counterturn-vault')).toHaveLength(1);
    expect([await store.read(), (await store.readKeyWrap())?.wrapped]).toEqual([null, made.wrapped]);
    await store.clear();
    expect(dropped.filter((name) => name === 'counterturn-vault')).toHaveLength(1);
  });

  it('is not taken when it asks for all memory, or lacks a part', async () => {
    const made = keyWrapOnDisk(await head());
    for (const spoilt of [
      { ...made, kdf: { ...made.kdf, memoryKiB: 4_000_000 } },
      { ...made, kdf: { ...made.kdf, passes: 0 } },
      { ...made, salt: 'AAAA' },
      { ...made, wrapped: undefined },
      { ...made, formatVersion: 2 },
    ])
      expect(safeParse(keyWrapShape, spoilt).success).toBe(false);
    expect(safeParse(keyWrapShape, made).success).toBe(true);
  });
});
