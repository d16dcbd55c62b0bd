/** Lists of the device: what is kept is never lost because it could not be read. */
import 'fake-indexeddb/auto';
import { clear, get, set } from 'idb-keyval';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createKept } from '../../src/device/kept.ts';

const texts = (stored: unknown) => (Array.isArray(stored) ? (stored as string[]) : null);
const list = () => createKept<readonly string[]>('list', texts, []);
const more = (text: string) => (kept: readonly string[]) => [...kept, text];
const onDisk = () => get<unknown>('counterturn.list');

/** The database refuses to be read so many times. */
const unreadable = (times: number) => {
  const refuse = function (this: IDBObjectStore): never {
    if (--times === 0) spy.mockRestore();
    throw new DOMException('', 'UnknownError');
  };
  const spy = vi.spyOn(IDBObjectStore.prototype, 'get').mockImplementation(refuse);
};

beforeEach(() => clear());
afterEach(() => vi.restoreAllMocks());

describe('what is kept on the device', () => {
  it('is the fallback until it was read, then what was kept at an earlier start', async () => {
    await set('counterturn.list', ['plates']);
    const kept = list();
    expect([kept.value(), kept.ready()]).toEqual([[], false]);
    await vi.waitFor(() => expect([kept.value(), kept.ready()]).toEqual([['plates'], true]));
  });

  it('is changed, not replaced, before it was read', async () => {
    await set('counterturn.list', ['plates']);
    const kept = list();
    expect(await kept.change(more('nails'))).toEqual({ ok: true });
    expect([kept.value(), await onDisk()]).toEqual([
      ['plates', 'nails'],
      ['plates', 'nails'],
    ]);
    await vi.waitFor(() => expect(kept.ready()).toBe(true));
    expect(kept.value()).toEqual(['plates', 'nails']);
  });

  it('is changed, not replaced, after a reading that failed', async () => {
    await set('counterturn.list', ['plates']);
    unreadable(1);
    const kept = list();
    await vi.waitFor(() => expect(kept.ready()).toBe(true));
    expect(kept.value()).toEqual([]);
    expect(await kept.change(more('nails'))).toEqual({ ok: true });
    expect([kept.value(), await onDisk()]).toEqual([
      ['plates', 'nails'],
      ['plates', 'nails'],
    ]);
  });

  it('stays as it is while it cannot be read at all, and the change is refused with the reason', async () => {
    await set('counterturn.list', ['plates']);
    unreadable(2);
    const kept = list();
    await vi.waitFor(() => expect(kept.ready()).toBe(true));
    expect(await kept.change(more('nails'))).toMatchObject({
      ok: false,
      reason: { code: expect.any(String) as string },
    });
    expect([kept.value(), await onDisk()]).toEqual([[], ['plates']]);
    expect(await kept.change(more('nails'))).toEqual({ ok: true });
    expect(await onDisk()).toEqual(['plates', 'nails']);
  });

  it('takes two changes at once, one after the other', async () => {
    const kept = list();
    expect(await Promise.all([kept.change(more('plates')), kept.change(more('nails'))])).toEqual([
      { ok: true },
      { ok: true },
    ]);
    expect([kept.value(), await onDisk()]).toEqual([
      ['plates', 'nails'],
      ['plates', 'nails'],
    ]);
  });

  it('that makes no sense counts as never kept; what is put in its place is kept whatever was there', async () => {
    await set('counterturn.list', 'plates');
    const kept = list();
    expect(await kept.change(more('nails'))).toEqual({ ok: true });
    expect(await onDisk()).toEqual(['nails']);
    expect(await kept.keep(['screws'])).toEqual({ ok: true });
    expect([kept.value(), await onDisk()]).toEqual([['screws'], ['screws']]);
  });
});
