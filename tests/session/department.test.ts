import { createRoot } from 'solid-js';
import { describe, expect, it } from 'vitest';
import { openMemory } from '../../src/store/memory.ts';
import { caseFile } from '../../src/session/case-file.ts';
import { readIncoming } from '../../src/session/case-import.ts';
import { departmentFile, readDepartmentFile, shortName, withVersion } from '../../src/session/department-file.ts';
import { createDepartment } from '../../src/session/department.ts';
import { createSession } from '../../src/session/session.ts';
import { everything, overlayWith, release } from '../content/overlays.ts';

/** A store of the browser, and one that refuses to write. */
function box(start: Record<string, string> = {}) {
  const held = new Map(Object.entries(start));
  return {
    held,
    getItem: (key: string) => held.get(key) ?? null,
    setItem: (k: string, v: string) => void held.set(k, v),
  };
}
const bytesOf = (value: unknown) => new TextEncoder().encode(typeof value === 'string' ? value : JSON.stringify(value));

const opening = {
  type: 'case-opened',
  label: 'Invented',
  zone: 'UTC',
  side: 'left',
  bone: 'tibia',
  construct: 'plate',
  planned: '',
} as const;
const first = overlayWith(everything);
const second = overlayWith({ ...everything, limits: { boneConsider: 0.15 } }, 2);

describe('the versions kept on a device', () => {
  it('new cases get the release until a version is put in use, and again once it is taken out', () => {
    const own = createDepartment(() => box());
    expect(own.pin()).toEqual({ contentVersion: '2026.1' });
    expect(own.keep(first)).toEqual({ ok: true });
    expect(own.content()).toBe(release);
    own.use(first.version);
    expect(own.pin()).toEqual({ contentVersion: first.version, overlay: first });
    expect(own.content().limits.boneConsider.value).toBe(0.18);
    own.use(null);
    expect(own.content()).toBe(release);
  });

  it('are there after a start, each once', () => {
    const store = box();
    const before = createDepartment(() => store);
    for (const one of [first, second, first]) before.keep(one);
    before.use(second.version);
    const after = createDepartment(() => store);
    expect(after.versions()).toEqual([first, second]);
    expect(after.inUse()).toEqual(second);
  });

  it('[Z29] [Z45] a version that was changed in the store is not used, and is named', () => {
    const store = box();
    const before = createDepartment(() => store);
    before.keep(first);
    before.use(first.version);
    store.held.set('counterturn.department', (store.held.get('counterturn.department') ?? '').replace('0.18', '0.28'));
    const after = createDepartment(() => store);
    expect([after.versions(), after.inUse(), after.unreadable()]).toEqual([[], null, first.version]);
    expect(after.pin()).toEqual({ contentVersion: '2026.1' });
  });

  it.each(['', '7', '{"versions":7}', '{"versions":[null,7]}', 'not JSON'])(
    '%j in the store is nothing kept',
    (text) => {
      const own = createDepartment(() => box({ 'counterturn.department': text }));
      expect([own.versions(), own.inUse()]).toEqual([[], null]);
    },
  );

  it('says when the browser keeps nothing, and then shows nothing as kept', () => {
    const full = {
      ...box(),
      setItem: () => {
        throw new Error('full');
      },
    };
    const own = createDepartment(() => full);
    expect(own.keep(first)).toEqual({ ok: false, reason: { code: 'other', detail: 'Error: full' } });
    expect(own.versions()).toEqual([]);
  });
});

describe('a new version', () => {
  const { version: _, ...draft } = first;

  it('counts up by its short name, and never takes a number again', () => {
    const one = withVersion({ ...draft, name: 'Theatre 2, trauma' }, []);
    expect(one.version).toMatch(/^2026\.1\+theatre-2-trauma-1\.[0-9a-f]{8}$/);
    const two = withVersion({ ...draft, name: 'Theatre 2, trauma' }, [one, first]);
    expect(two.version).toMatch(/\+theatre-2-trauma-2\./);
  });

  it.each([
    ['Station Süd', 'station-sud'],
    ['3rd floor', 'rd-floor'],
    ['手術室', 'department'],
    ['A very long name of a very large department', 'a-very-long-name-of'],
  ])('%s is called %s', (name, short) => {
    expect(shortName(name)).toBe(short);
    const made = withVersion({ ...draft, name }, []);
    expect(readDepartmentFile(bytesOf(made))).toEqual({ overlay: made, content: expect.anything() as unknown });
  });

  it('comes back from its file as it went', () => {
    const file = departmentFile(first);
    expect(file.name).toMatch(/^counterturn-2026\.1-ward-1\.[0-9a-f]{8}\.content\.json$/);
    expect(readDepartmentFile(bytesOf(file.content))).toMatchObject({ overlay: first });
  });

  it.each([
    ['{', '1:2'],
    ['{"format":"a","format":"b"}', 'format'],
    [JSON.stringify({ ...first, limits: { boneStop: 7 } }), 'limits.boneStop'],
    [JSON.stringify({ ...first, reason: 'another' }), 'version'],
  ])('a file with a fault is refused with its place', (text, path) => {
    const read = readDepartmentFile(bytesOf(text));
    expect('faults' in read && read.faults.map((fault) => fault.path)).toContain(path);
  });
});

describe('[Z29] a case keeps the content it was opened with', () => {
  async function played() {
    const own = createDepartment(() => box());
    own.keep(first);
    own.keep(second);
    own.use(first.version);
    const log = openMemory();
    let ids = 0;
    const parts = { log, now: () => '2026-03-02T10:00:00.000Z', newId: () => `case-${++ids}`, pin: own.pin };
    const session = createRoot(() => createSession({ ...parts, stored: [] }));
    await session.create(opening);
    return { own, log, parts, session };
  }

  it('when another version is put in use, and after a start', async () => {
    const { own, log, parts, session } = await played();
    own.use(second.version);
    await session.record({ type: 'remark', text: 'x' });
    expect(session.open()?.folded.content.version).toBe(first.version);
    const again = createRoot(() => createSession({ ...parts, stored: [] }));
    again.adopt(await log.list());
    again.resume('case-1');
    expect(again.open()?.folded.case.context.room.limits.boneConsider).toBe(0.18);
    await again.create(opening);
    expect(again.open()?.folded.case.context.room.limits.boneConsider).toBe(0.15);
  });

  it('even when the device has forgotten the version', async () => {
    const { log } = await played();
    const bare = createRoot(() =>
      createSession({ log, stored: [], now: () => '2026-03-02T10:00:00.000Z', newId: () => 'x' }),
    );
    bare.adopt(await log.list());
    bare.resume('case-1');
    expect(bare.open()?.folded.content.version).toBe(first.version);
  });

  it('is read on another device by the file of that content, and refused by name without it [Z45]', async () => {
    const { log } = await played();
    const [stored] = await log.list();
    const file = bytesOf(caseFile(stored!.meta, stored!.entries));
    expect(readIncoming(file, [])).toEqual({
      kind: 'faults',
      faults: [
        {
          path: 'contentVersion',
          message: `this build has no content "${first.version}"`,
          code: 'no-content',
          values: { version: `"${first.version}"` },
        },
      ],
    });
    // A case with that content lies here already.
    const other = [{ meta: { ...stored!.meta, caseId: 'other' }, entries: [] }];
    const read = readIncoming(file, other);
    expect(read).toMatchObject({ kind: 'new', pin: { contentVersion: first.version, overlay: first } });
  });
});
