import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { isTime, epoch } from '../../machines/time.ts';
import { now, watchJumps } from '../../src/device/clock.ts';
import { watchPainting } from '../../src/device/heartbeat.ts';
import { upkeep } from '../../src/device/quiet.ts';
import { defaults, readSettings, saveSettings } from '../../src/device/settings.ts';
import { claimWriter, holderId, isHeldBy, openLine, whenWriterGone } from '../../src/device/single-writer.ts';
import { askToPersist, room } from '../../src/device/storage.ts';
import { watchUpdates } from '../../src/device/update.ts';
import { keepAwake } from '../../src/device/wake-lock.ts';

/** A page that can be hidden. */
const pageOf = () => Object.assign(new EventTarget(), { hidden: false });
const hide = (page: ReturnType<typeof pageOf>, hidden: boolean) => {
  page.hidden = hidden;
  page.dispatchEvent(new Event('visibilitychange'));
};
const settled = () => new Promise((wake) => setTimeout(wake, 0));

describe('the time now', () => {
  it('[Z13] is RFC 3339 with milliseconds and the offset of the zone, in summer and in winter, east and west', () => {
    const ms = Date.UTC(2026, 6, 1, 12, 30, 15, 42);
    expect(now('Europe/Oslo', ms)).toBe('2026-07-01T14:30:15.042+02:00');
    expect(now('Europe/Oslo', Date.UTC(2026, 0, 1, 12, 30, 15, 42))).toBe('2026-01-01T13:30:15.042+01:00');
    expect(now('America/St_Johns', ms)).toBe('2026-07-01T10:00:15.042-02:30');
    expect(now('Asia/Kathmandu', ms)).toBe('2026-07-01T18:15:15.042+05:45');
    expect(now('UTC', ms)).toBe('2026-07-01T12:30:15.042+00:00');
  });

  it('[Z13] names one instant, also in the hour that comes twice', () => {
    for (let minute = 0; minute < 180; minute += 7) {
      const ms = Date.UTC(2026, 9, 25, 0, minute, 1, 999);
      const text = now('Europe/Oslo', ms);
      expect([isTime(text), epoch(text)]).toEqual([true, ms]);
    }
  });

  it('refuses a zone that does not exist', () => {
    expect(() => now('Nowhere/Town', 0)).toThrow(RangeError);
  });
});

describe('with the clocks in hand', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  function clocks() {
    const at = { wall: 1_000_000, monotonic: 5_000 };
    const pass = (ms: number) => {
      at.wall += ms;
      at.monotonic += ms;
      vi.advanceTimersByTime(ms);
    };
    return { at, pass, wall: () => at.wall, monotonic: () => at.monotonic };
  }

  it('[Z13] a wall clock set forward or back by more than 2 s is told once, with seconds and sign', () => {
    const { at, pass, wall, monotonic } = clocks();
    const jumps: unknown[] = [];
    const stop = watchJumps((jump) => jumps.push(jump), { wall, monotonic, page: pageOf() });
    pass(60_000);
    at.wall += 1_900;
    pass(5_000);
    expect(jumps).toEqual([]);
    at.wall += 3_600_000 - 1_900;
    pass(5_000);
    at.wall -= 7_200_500;
    pass(5_000);
    expect(jumps).toEqual([
      { seconds: 3600, maybeSlept: false },
      { seconds: -7200.5, maybeSlept: false },
    ]);
    stop();
    at.wall += 9_999_000;
    pass(5_000);
    expect(jumps).toHaveLength(2);
  });

  it('[Z13] a jump forward while the page was hidden may have been sleep, a jump back never', () => {
    const { at, pass, wall, monotonic } = clocks();
    const page = pageOf();
    const jumps: unknown[] = [];
    watchJumps((jump) => jumps.push(jump), { wall, monotonic, page });
    hide(page, true);
    at.wall += 600_000;
    hide(page, false);
    expect(jumps).toEqual([{ seconds: 600, maybeSlept: true }]);
    pass(3_000);
    hide(page, true);
    at.wall -= 60_000;
    hide(page, false);
    expect(jumps[1]).toEqual({ seconds: -60, maybeSlept: false });
  });

  it('[Z4] a screen that stood still for more than 2 s is told at the next paint', () => {
    const { at, pass, wall, monotonic } = clocks();
    const gaps: unknown[] = [];
    let beats = 0;
    let frozen: (() => void) | undefined;
    let freeze = false;
    const frame = (painted: () => void) => (freeze ? void (frozen = painted) : painted());
    watchPainting(
      (gap) => gaps.push(gap),
      () => beats++,
      { wall, monotonic, frame, page: pageOf() },
    );
    for (let i = 0; i < 10; i++) pass(500);
    expect([gaps, beats]).toEqual([[], 11]);
    freeze = true;
    for (let i = 0; i < 10; i++) pass(500);
    expect(gaps).toEqual([]);
    freeze = false;
    frozen?.();
    expect(gaps).toEqual([{ seconds: 5, hidden: false }]);
    at.wall += 60_000;
    for (let i = 0; i < 2; i++) pass(500);
    expect(gaps[1], 'slept with the monotonic clock stopped').toMatchObject({ seconds: 60.5 });
  });

  it('does not wait for a browser that never answers about its room', async () => {
    const never = { estimate: () => new Promise<StorageEstimate>(() => {}) };
    const asked = room(never, 2000);
    await vi.advanceTimersByTimeAsync(2000);
    expect(await asked).toBeNull();
    expect(await room({ estimate: async () => ({ usage: 5, quota: 90 }) })).toEqual({ used: 5, quota: 90 });
  });
});

describe('asking to keep the data', () => {
  it('[Z14] returns at once and tells the answer when it comes', async () => {
    const told: string[] = [];
    askToPersist((kept) => told.push(kept), { persist: () => new Promise(() => {}) });
    askToPersist((kept) => told.push(kept), { persist: async () => true });
    askToPersist((kept) => told.push(kept), { persist: async () => false });
    askToPersist((kept) => told.push(kept), { persist: () => Promise.reject(new Error()) });
    expect(told).toEqual([]);
    await settled();
    expect(told).toEqual(['kept', 'may-be-evicted', 'unknown']);
  });
});

describe('keeping the screen on', () => {
  const lockOf = () => Object.assign(new EventTarget(), { release: async () => {} });

  it('[Z4] takes the lock again when the page comes back', async () => {
    const page = pageOf();
    const locks: ReturnType<typeof lockOf>[] = [];
    const states: unknown[] = [];
    const stop = keepAwake((state) => states.push(state), {
      page,
      wakeLock: { request: async () => (locks.push(lockOf()), locks.at(-1)!) },
    });
    await settled();
    hide(page, true);
    locks[0]?.dispatchEvent(new Event('release'));
    await settled();
    expect([states, locks.length]).toEqual([[{ held: true }, { held: false }], 1]);
    hide(page, false);
    await settled();
    expect([states.at(-1), locks.length]).toEqual([{ held: true }, 2]);
    stop();
    hide(page, false);
    await settled();
    expect(locks).toHaveLength(2);
  });

  it('says why the screen may go dark', async () => {
    const states: unknown[] = [];
    keepAwake((state) => states.push(state), {
      page: pageOf(),
      wakeLock: { request: () => Promise.reject(new Error('battery low')) },
    });
    keepAwake((state) => states.push(state), { page: pageOf(), wakeLock: undefined as never });
    await settled();
    expect(states).toContainEqual({ held: false, why: 'refused' });
  });
});

/**
 * Locks as the standard describes them, in one process, each window with its own. `grantMs`: how long the browser takes
 * to hand one out; `tellMs`: how much later the window hears of it.
 */
function browserLocks({ grantMs = 0, tellMs = 0 } = {}) {
  const tails = new Map<string, Promise<unknown>>();
  const held = new Set<{ name: string; clientId: string }>();
  const sleep = (ms: number) => (ms ? new Promise((wake) => setTimeout(wake, ms)) : undefined);
  return (clientId: string) =>
    ({
      query: async () => ({ held: [...held], pending: [] }),
      request(name: string, ...rest: [{ signal?: AbortSignal }, () => unknown] | [() => unknown]) {
        const [{ signal }, work] = rest.length === 2 ? rest : [{}, rest[0]];
        const row = { name, clientId };
        const slow = name === 'counterturn-writer';
        const before = tails.get(name);
        const aborted = new Promise<never>((_, reject) =>
          signal?.addEventListener('abort', () => reject(new DOMException('', 'AbortError'))),
        );
        const granted = (async () => {
          await before;
          if (slow) await sleep(grantMs);
          if (signal?.aborted) throw new DOMException('', 'AbortError');
          held.add(row);
          if (slow) await sleep(tellMs);
        })();
        const done = Promise.race([granted, aborted])
          .then(work)
          .finally(() => held.delete(row));
        tails.set(
          name,
          Promise.allSettled([before, done]).then(() => {}),
        );
        return done;
      },
    }) as unknown as LockManager;
}
const locksOf = () => browserLocks()('window');

describe('one window writes', () => {
  it('[Z25] the second window does not, until the first lets go', async () => {
    const windows = browserLocks();
    const first = await claimWriter(20, windows('first'));
    const second = await claimWriter(20, windows('second'));
    expect([first.writer, second.writer]).toEqual([true, false]);
    let gone = 0;
    whenWriterGone(() => gone++, windows('second'));
    await settled();
    expect(gone).toBe(0);
    first.release();
    await settled();
    expect(gone).toBe(1);
    expect((await claimWriter(20, windows('second'))).writer).toBe(true);
  });

  it.each([
    ['hand the lock out', { grantMs: 100 }],
    ['say that it has handed it out', { tellMs: 100 }],
  ])('[Z25] writes where no other window does, however slow the browser is to %s', async (_, slow) => {
    const windows = browserLocks(slow);
    const first = await claimWriter(20, windows('first'));
    expect([first.writer, first.holds()]).toEqual([true, true]);
    const second = windows('second');
    const looks = vi.spyOn(second, 'query');
    expect((await claimWriter(20, second)).writer).toBe(false);
    expect(looks).toHaveBeenCalledTimes(1);
    await new Promise((wake) => setTimeout(wake, 60));
    expect(first.holds()).toBe(true);
  });

  it('[Z25] gives up after a while where the lock never comes, and at once where nobody can say who holds it', async () => {
    const refusing = (query: () => Promise<unknown>) =>
      ({
        query,
        request: (_: string, how: { signal: AbortSignal } | (() => unknown)) =>
          typeof how === 'function'
            ? how()
            : new Promise((_resolve, reject) =>
                how.signal.addEventListener('abort', () => reject(new DOMException('', 'AbortError'))),
              ),
      }) as unknown as LockManager;
    const looks = vi.fn(() => Promise.reject(new Error('no')));
    expect((await claimWriter(2, refusing(looks))).writer).toBe(false);
    expect(looks).toHaveBeenCalledTimes(1);
    const idle = vi.fn(async () => ({ held: [], pending: [] }));
    expect((await claimWriter(2, refusing(idle))).writer).toBe(false);
    expect(idle.mock.calls.length).toBeGreaterThan(1);
    expect(
      (
        await claimWriter(
          2,
          refusing(() => new Promise(() => {})),
        )
      ).writer,
    ).toBe(false);
  });

  it('[Z25] knows from the moment on at which the lock is taken away that it holds nothing more', async () => {
    let takeAway: (reason: unknown) => void = () => {};
    const locks = {
      request: (_: string, __: unknown, work: () => Promise<void>) =>
        Promise.race([work(), new Promise((_resolve, reject) => (takeAway = reject))]),
    } as unknown as LockManager;
    const claim = await claimWriter(20, locks);
    let lost = 0;
    claim.onLost(() => lost++);
    expect([claim.writer, claim.holds()]).toEqual([true, true]);
    takeAway(new DOMException('', 'AbortError'));
    await settled();
    expect([claim.holds(), lost]).toEqual([false, 1]);
    claim.onLost(() => lost++);
    expect(lost).toBe(2);
  });

  it('[Z25] released by itself is not lost', async () => {
    const claim = await claimWriter(20, locksOf());
    let lost = 0;
    claim.onLost(() => lost++);
    claim.release();
    await settled();
    expect([claim.holds(), lost]).toEqual([false, 0]);
  });

  it('[Z25] tells a thread which window the lock belongs to, and lets it write where nobody can say', async () => {
    const held = [{ name: 'counterturn-writer', clientId: 'mine', mode: 'exclusive' }];
    const locks = { query: async () => ({ held, pending: [] }) } as unknown as LockManager;
    expect(await holderId(locks)).toBe('mine');
    expect([await isHeldBy('mine', locks), await isHeldBy('other', locks)]).toEqual([true, false]);
    const silent = { query: () => Promise.reject(new Error('no')) } as unknown as LockManager;
    expect([await isHeldBy('other', silent), await holderId(silent)]).toEqual([true, undefined]);
  });

  it('[Z25] says when nothing guards against a second one', async () => {
    expect(await claimWriter(20, null as never)).toMatchObject({ writer: true, unguarded: true });
  });

  it('[Z25] tells the others, and does not hear itself', async () => {
    const heard: unknown[] = [];
    const [a, b] = [openLine<number>((m) => heard.push(['a', m])), openLine<number>((m) => heard.push(['b', m]))];
    a.post(7);
    await vi.waitFor(() => expect(heard).toEqual([['b', 7]]));
    a.close();
    b.close();
  });
});

describe('a new version of the app', () => {
  const workerOf = (state: string) => Object.assign(new EventTarget(), { state, postMessage: vi.fn() });
  function containerOf(registration: object, controller: unknown = {}) {
    return Object.assign(new EventTarget(), { controller, register: vi.fn(async () => registration) }) as never;
  }

  it('[Z12] that waits is told, and taken only when asked', async () => {
    const waiting = workerOf('installed');
    const container = containerOf(
      Object.assign(new EventTarget(), { waiting, installing: null }),
    ) as unknown as EventTarget;
    const [told, reload] = [vi.fn(), vi.fn()];
    const updates = watchUpdates(told, () => {}, { container: container as never, reload });
    expect(updates.apply()).toBe(false);
    await settled();
    expect(told).toHaveBeenCalledOnce();
    container.dispatchEvent(new Event('controllerchange'));
    expect([reload.mock.calls.length, waiting.postMessage.mock.calls.length]).toEqual([0, 0]);
    expect(updates.apply()).toBe(true);
    expect(waiting.postMessage).toHaveBeenCalledWith({ type: 'SKIP_WAITING' });
    expect(reload).not.toHaveBeenCalled();
    container.dispatchEvent(new Event('controllerchange'));
    expect(reload).toHaveBeenCalledOnce();
  });

  it('that is found later is told once installed; the very first is not news', async () => {
    for (const [controller, times] of [
      [{}, 1],
      [null, 0],
    ] as const) {
      const workers: { waiting: null; installing: unknown } = { waiting: null, installing: null };
      const registration = Object.assign(new EventTarget(), workers);
      const told = vi.fn();
      watchUpdates(told, () => {}, { container: containerOf(registration, controller), reload: () => {} });
      await settled();
      const worker = workerOf('installing');
      registration.installing = worker;
      registration.dispatchEvent(new Event('updatefound'));
      expect(told).not.toHaveBeenCalled();
      worker.state = 'installed';
      worker.dispatchEvent(new Event('statechange'));
      expect(told).toHaveBeenCalledTimes(times);
    }
  });

  it('[Z26] says when the app is not kept for work without a network', async () => {
    const problem = vi.fn();
    watchUpdates(() => {}, problem, {
      container: { ...(containerOf({}) as object), register: () => Promise.reject(new Error('refused')) } as never,
    });
    await settled();
    expect(problem).toHaveBeenCalledWith({ code: 'not-offline', detail: 'refused' });
  });
});

describe('settings of the device', () => {
  const boxOf = (kept?: string) => {
    const box = new Map(kept === undefined ? [] : [['counterturn.settings', kept]]);
    return () => ({
      getItem: (key: string) => box.get(key) ?? null,
      setItem: (key: string, value: string) => void box.set(key, value),
    });
  };

  it('are kept, one beside the other', () => {
    const box = boxOf();
    expect(saveSettings({ pixelsPerMm: 5.2 }, box)).toBe(true);
    expect(saveSettings({ distance: 3 }, box)).toBe(true);
    expect(readSettings(box)).toEqual({ ...defaults, pixelsPerMm: 5.2, distance: 3 });
  });

  it('[Z8] that make no sense are the defaults, and are not kept', () => {
    for (const kept of [
      'null',
      '[]',
      '7',
      '{',
      '{"pixelsPerMm":"5","distance":-1,"theme":"pink","language":7,"caseId":"x"}',
    ])
      expect(readSettings(boxOf(kept))).toEqual(defaults);
    expect(saveSettings({ distance: NaN }, boxOf())).toBe(false);
    expect(saveSettings({ caseId: 'x' } as never, boxOf())).toBe(false);
  });

  it('are the defaults where storage is not allowed', () => {
    const refused = () => {
      throw new DOMException('', 'SecurityError');
    };
    expect([readSettings(refused), saveSettings({ theme: 'light' }, refused)]).toEqual([defaults, false]);
  });
});

describe('upkeep', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  it('does piece after piece until there is none, looks again a minute later, and outlives a piece that fails', async () => {
    const left = [true, true, false, true, false];
    let pieces = 0;
    const end = upkeep(async () => {
      pieces++;
      if (pieces === 6) throw new Error('the store is away');
      return left[pieces - 1] ?? false;
    });
    await vi.advanceTimersByTimeAsync(59_000);
    expect(pieces).toBe(0);
    await vi.advanceTimersByTimeAsync(2_000);
    expect(pieces).toBe(3);
    await vi.advanceTimersByTimeAsync(60_000);
    expect(pieces).toBe(5);
    await vi.advanceTimersByTimeAsync(120_000);
    expect(pieces).toBe(7);
    end();
    await vi.advanceTimersByTimeAsync(120_000);
    expect(pieces).toBe(7);
  });
});
