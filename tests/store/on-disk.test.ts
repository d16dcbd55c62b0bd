/** The names that stand on disk and in backups are those of the first version: what is in the field stays readable. */
import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { safeParse } from 'valibot';
import { describe, expect, it } from 'vitest';
import { openKeyStore } from '../../src/store/encrypted/key-store.ts';
import { keyWrapOnDisk, keyWrapShape, unwrap } from '../../src/store/encrypted/passcode.ts';
import { encryptMeta, encryptRow } from '../../src/store/encrypted/row-codec.ts';
import { caseKeys, dataKeyFrom } from '../../src/store/encrypted/aes-gcm.ts';
import { openDatabase } from '../../src/store/indexeddb/log.ts';
import { crc32, decode, encode } from '../../src/store/opfs/journal-codec.ts';
import { chain, metaOf } from './chain.ts';

const utf8 = new TextEncoder();
const framed = (json: string) => `{"sum":"${crc32(utf8.encode(json))}","line":${json}}\n`;

describe('the journal', () => {
  const [entry] = chain(1);
  const json = JSON.stringify(entry);
  const text = [
    `{"kind":"anew","turn":3,"lines":4}`,
    `{"kind":"removed","caseId":"gone"}`,
    `{"kind":"case","meta":${JSON.stringify(metaOf('one'))}}`,
    `{"kind":"entry","caseId":"one","entry":${json}}`,
    `{"kind":"aside","caseId":"one","entry":${json}}`,
  ]
    .map(framed)
    .join('');
  const start = { kind: 'generation', generation: 3, lines: 4 } as const;
  const lines = [
    { kind: 'removed', caseId: 'gone' },
    { kind: 'case', meta: metaOf('one') },
    { kind: 'entry', caseId: 'one', entry },
    { kind: 'quarantined', caseId: 'one', entry },
  ] as const;

  it('reads `anew`, `turn` and `aside` as a generation and a quarantined entry', () => {
    expect(decode(utf8.encode(text))).toEqual({ start, lines, kept: text.length, damaged: 0, unreadable: [] });
  });

  it('writes them byte for byte as they were', () => {
    expect(new TextDecoder().decode(encode([start, ...(lines as unknown as Parameters<typeof encode>[0])]))).toBe(text);
  });
});

describe('the database', () => {
  it('[Z14] of its first version is read as it is, and goes on in the present one', async () => {
    const factory = new IDBFactory();
    const [first, second] = chain(2);
    await new Promise<void>((done) => {
      const request = factory.open('counterturn', 1);
      request.onupgradeneeded = () => {
        const db = request.result;
        db.createObjectStore('cases', { keyPath: 'caseId' }).put(metaOf('one'));
        const rows = db.createObjectStore('entries', { keyPath: ['caseId', 'n'] });
        rows.put({ caseId: 'one', n: 1, entry: first });
        db.createObjectStore('removed', { keyPath: 'caseId' });
        db.createObjectStore('aside', { keyPath: ['caseId', 'n', 'seal'] });
      };
      request.onsuccess = () => {
        request.result.close();
        done();
      };
    });
    const database = openDatabase({ factory });
    expect(await database.append('one', second!)).toEqual({ ok: true, copies: 1 });
    expect(await database.list()).toEqual([{ meta: metaOf('one'), entries: [first, second] }]);
  });

  it('keeps a quarantined entry in the store `aside`, under case, number and seal', async () => {
    const factory = new IDBFactory();
    const log = openDatabase({ factory });
    const [entry] = chain(1);
    await log.heal({ meta: metaOf('one'), entries: [] }, [entry!]);
    await log.close();
    const db = await new Promise<IDBDatabase>((resolve) => {
      const request = factory.open('counterturn');
      request.onsuccess = () => resolve(request.result);
    });
    expect([...db.objectStoreNames]).toEqual(['aside', 'cases', 'entries', 'holder', 'removed']);
    const rows = await new Promise((resolve) => {
      const request = db.transaction('aside').objectStore('aside').getAll();
      request.onsuccess = () => resolve(request.result);
    });
    expect(rows).toEqual([{ caseId: 'one', n: 1, seal: entry!.seal, entry }]);
  });
});

describe('under a passcode', () => {
  /** Made by the first version of the passcode: 32 bytes of 9 under "correct horse", at the least cost. */
  const kept = {
    format: 'counterturn-passcode',
    formatVersion: 1,
    turn: 2,
    kdf: { name: 'argon2id', version: 19, memoryKiB: 8192, passes: 1, lanes: 1 },
    salt: 'OcWKbE5RqtTBt8qiADkFmA==',
    wrapped: 'Tg1gzqOh13EQ/6O4/uCuOiXPdlWe2MDHeNf7PUMx/zoHC9+Nz/kEiXUjmv+l8LFjEQgfBXa/wpok36by',
  };

  it('a wrapped key has its revision as `turn`, and still opens', async () => {
    const read = safeParse(keyWrapShape, kept);
    expect(read.success && read.output.revision).toBe(2);
    if (!read.success) return;
    expect(await unwrap(read.output, 'correct horse')).toEqual(new Uint8Array(32).fill(9));
    expect(JSON.stringify(keyWrapOnDisk(read.output))).toBe(JSON.stringify(kept));
  });

  it('rows are `{ n, seal, box }`, and an opening has its MAC as `created`', async () => {
    const keys = await caseKeys(await dataKeyFrom(new Uint8Array(32).fill(1)), 'one');
    expect(Object.keys(await encryptRow(keys, 'one', chain(1)[0]!))).toEqual(['n', 'seal', 'box']);
    expect(Object.keys(await encryptMeta(keys, metaOf('one')))).toEqual([
      ...['caseId', 'contentVersion', 'demo', 'created', 'box'],
    ]);
  });

  it('the keys of the case in work lie wrapped as `box` and `tag`, with `half`; those of before lay in `keys`', async () => {
    const factory = new IDBFactory();
    const dataKey = await dataKeyFrom(new Uint8Array(32).fill(1));
    const settings = () => ({ getItem: () => null, setItem: () => {}, removeItem: () => {} });
    const store = openKeyStore({ factory, settings });
    await store.write({ caseId: 'one', keys: await caseKeys(dataKey, 'one', true) });
    const db = await new Promise<IDBDatabase>((resolve) => {
      const request = factory.open('counterturn-vault');
      request.onsuccess = () => resolve(request.result);
    });
    const kept = () => db.transaction('kept', 'readwrite').objectStore('kept');
    const row = await new Promise<object>((resolve) => {
      const request = kept().get('case');
      request.onsuccess = () => resolve(request.result as object);
    });
    expect(Object.keys(row)).toEqual(['caseId', 'half', 'box', 'tag']);
    const keys = await caseKeys(dataKey, 'one');
    await new Promise((done) => {
      const request = kept().put({ caseId: 'one', keys: { box: keys.encryption, tag: keys.mac } }, 'case');
      request.onsuccess = done;
    });
    db.close();
    expect(await store.read()).toEqual({ caseId: 'one', keys });
  });

  it.each([[undefined], [null], [{ caseId: 'one' }], [{ caseId: 'one', keys: { box: 'no key', tag: {} } }], [7]])(
    'keys that could not be used count as none: %j',
    async (row) => {
      const factory = new IDBFactory();
      const settings = () => ({ getItem: () => null, setItem: () => {}, removeItem: () => {} });
      const store = openKeyStore({ factory, settings });
      const db = await new Promise<IDBDatabase>((resolve) => {
        const request = factory.open('counterturn-vault', 1);
        request.onupgradeneeded = () => request.result.createObjectStore('kept');
        request.onsuccess = () => resolve(request.result);
      });
      await new Promise<void>((resolve) => {
        const writing = db.transaction('kept', 'readwrite');
        writing.objectStore('kept').put(row, 'case');
        writing.oncomplete = () => resolve();
      });
      db.close();
      expect(await store.read()).toBeNull();
    },
  );

  it.each([
    ['null', { wrong: 0, last: 0 }],
    ['no JSON', { wrong: 0, last: 0 }],
    ['[]', { wrong: 0, last: 0 }],
    ['{"wrong":2,"last":1700000000000}', { wrong: 2, last: 1_700_000_000_000 }],
    ['{"wrong":"2","last":-1}', { wrong: 0, last: 0 }],
    ['{"wrong":3}', { wrong: 3, last: 0 }],
  ])('the wrong tries read from %s are %j', (kept, tries) => {
    const settings = () => ({ getItem: () => kept, setItem: () => {}, removeItem: () => {} });
    expect(openKeyStore({ factory: new IDBFactory(), settings }).tries()).toEqual(tries);
  });
});
