import { describe, expect, it, vi } from 'vitest';
import { watchIdle } from '../../src/device/idle.ts';
import { openMemory } from '../../src/store/memory.ts';
import { openMirroredLog } from '../../src/store/mirrored-log.ts';
import { monthsBefore, oldCases } from '../../src/session/retention.ts';
import { createSession, type CaseLine } from '../../src/session/session.ts';
import { createPrivacy } from '../../src/session/privacy.ts';
import { openVault } from '../../src/store/encrypted/vault.ts';
import { cheap, shelfStore, type Shelf } from '../store/vaults.ts';

const passcode = 'four plain words here';
const opening = {
  type: 'case-opened',
  label: 'Theatre 2, first',
  zone: 'UTC',
  side: 'left',
  bone: 'tibia',
  construct: 'plate',
  planned: '',
} as const;

/** A device that can be started again and again, as `main` does it. */
function device() {
  const shelf: Shelf = { keyWrap: null, kept: null, tries: null };
  const copies = { database: openMemory(), journal: openMemory() };
  let ids = 0;
  let seconds = 0;
  const start = async () => {
    const vault = await openVault({ copies, store: shelfStore(shelf), kdf: cheap });
    const { log, report, cases } = await openMirroredLog(vault.copies);
    const newId = () => `case-${++ids}`;
    const now = () => new Date(Date.UTC(2026, 1, 17, 8, 0, seconds++)).toISOString();
    const session = createSession({ log, stored: cases, now, newId });
    const privacy = createPrivacy({ vault, session, report, writer: () => true, newId, idleMinutes: () => 5 });
    const unfinished = session.unfinished();
    if (unfinished) session.resume(unfinished);
    const end = privacy.watch();
    return { session, privacy, end };
  };
  return { start, shelf };
}
/** The key of the case in work lies on the device, or no key does. */
const keyKept = (shelf: { kept: unknown }) => vi.waitFor(() => expect(shelf.kept).not.toBeNull(), { timeout: 20_000 });
const keyGone = (shelf: { kept: unknown }) => vi.waitFor(() => expect(shelf.kept).toBeNull(), { timeout: 20_000 });
const close = async ({ session }: Awaited<ReturnType<ReturnType<typeof device>['start']>>) =>
  session.recordAll([{ type: 'work-started' }, { type: 'work-ended' }, { type: 'case-closed' }]);

describe('the passcode and the case in work', () => {
  it('[Z23] a restart in a case resumes it, asks nothing, and goes on writing; once it is left, the passcode is asked for', async () => {
    const { start, shelf } = device();
    const first = await start();
    await first.privacy.set(passcode);
    await first.session.create(opening);
    await keyKept(shelf);
    expect(shelf.kept?.caseId).toBe(first.session.open()?.meta.caseId);

    const second = await start();
    expect([second.privacy.locked(), second.session.open()?.entries.length]).toEqual([false, 1]);
    expect(await second.session.record({ type: 'remark', text: 'went on' })).toMatchObject({ ok: true });
    second.session.leave();
    await keyGone(shelf);
    expect([second.privacy.locked(), second.session.lines(), shelf.kept]).toEqual([true, [], null]);
    expect(await second.privacy.unlock(passcode)).toEqual({ ok: true });
    expect(second.session.lines().map(({ label, entries }) => [label, entries])).toEqual([['Theatre 2, first', 2]]);
  });

  it('[Z22] closing the case takes its key off the device; the next start is locked and shows nothing', async () => {
    const { start, shelf } = device();
    const first = await start();
    await first.privacy.set(passcode);
    await first.session.create(opening);
    await close(first);
    await keyGone(shelf);
    expect(shelf.kept).toBeNull();
    const second = await start();
    expect([second.privacy.locked(), second.session.lines(), second.session.all(), second.session.open()]).toEqual([
      true,
      [],
      [],
      null,
    ]);
  });

  it('[Z23] the record of a case just closed can be filled in without the passcode', async () => {
    const { start, shelf } = device();
    const first = await start();
    await first.privacy.set(passcode);
    await first.session.create(opening);
    await keyKept(shelf);
    const second = await start();
    await close(second);
    await keyGone(shelf);
    expect(second.privacy.locked()).toBe(false);
    expect(await second.session.record({ type: 'remark', text: 'after the fact', kind: 'addendum' })).toMatchObject({
      ok: true,
    });
  });

  it('[Z22] locked by hand or idle time, nothing of a case stays in memory', async () => {
    const { start } = device();
    const { privacy, session } = await start();
    await privacy.set(passcode);
    await session.create(opening);
    await privacy.lock();
    expect([privacy.locked(), session.open() !== null]).toEqual([false, true]);
    await close({ session } as never);
    await privacy.lock();
    expect([privacy.locked(), session.open(), session.lines(), session.all()]).toEqual([true, null, [], []]);
    expect(JSON.stringify(privacy.report())).not.toContain('Theatre');
    await privacy.unlock(passcode);
    expect(session.lines()).toHaveLength(1);
    expect(session.open()).toBeNull();
  });

  it('[Z23] without a passcode nothing ever locks', async () => {
    const { start, shelf } = device();
    const { privacy, session } = await start();
    await session.create(opening);
    await session.record({ type: 'remark', text: 'still open' });
    session.leave();
    await privacy.lock();
    expect([privacy.locked(), session.lines().length, shelf.kept]).toEqual([false, 1, null]);
  });

  it('set while a case is in work keeps that case open over a restart too', async () => {
    const { start, shelf } = device();
    const first = await start();
    await first.session.create(opening);
    await first.privacy.set(passcode);
    await keyKept(shelf);
    const second = await start();
    expect([second.privacy.locked(), second.session.open()?.entries.length]).toEqual([false, 1]);
  });

  it('a forgotten one: everything is wiped, and the device starts anew', async () => {
    const { start, shelf } = device();
    const first = await start();
    await first.privacy.set(passcode);
    await first.session.create(opening);
    await keyKept(shelf);
    first.session.leave();
    await keyGone(shelf);
    const second = await start();
    expect(await second.privacy.cases()).toHaveLength(1);
    expect(await second.privacy.wipeForgotten()).toEqual([]);
    expect([second.privacy.on(), second.privacy.locked(), shelf.keyWrap]).toEqual([false, false, null]);
    expect(await second.session.create(opening)).toMatchObject({ ok: true });
  });
});

describe('idle time', () => {
  const page = () => {
    const heard = new Map<string, () => void>();
    return {
      addEventListener: (kind: string, listener: unknown) => void heard.set(kind, listener as () => void),
      removeEventListener: (kind: string) => void heard.delete(kind),
      heard,
    };
  };
  const watch = (limit: () => number | null) => {
    vi.useFakeTimers();
    const [here, clock, told] = [page(), { monotonic: 0, wall: 0 }, vi.fn()];
    const end = watchIdle(limit, told, {
      page: here,
      monotonic: () => clock.monotonic,
      wall: () => clock.wall,
    });
    const pass = (ms: number, asleep = false) => {
      if (!asleep) clock.monotonic += ms;
      clock.wall += ms;
      vi.advanceTimersByTime(1000);
    };
    return { here, told, pass, end: () => (end(), vi.useRealTimers()) };
  };

  it('[Z22] is told once it is over, also when the device slept through it; a touch or a key starts it anew', () => {
    const { here, told, pass, end } = watch(() => 300_000);
    pass(299_000);
    here.heard.get('pointerdown')?.();
    pass(299_000);
    here.heard.get('keydown')?.();
    pass(299_000);
    expect(told).not.toHaveBeenCalled();
    pass(1000);
    expect(told).toHaveBeenCalledTimes(1);
    pass(300_000, true);
    expect(told).toHaveBeenCalledTimes(2);
    end();
    expect(here.heard.size).toBe(0);
  });

  it('[Z23] does not run while it does not matter, and starts from nothing after', () => {
    let limit: number | null = null;
    const { told, pass, end } = watch(() => limit);
    pass(3_600_000);
    limit = 300_000;
    pass(299_000);
    expect(told).not.toHaveBeenCalled();
    end();
  });
});

describe('old cases', () => {
  const at = Date.parse('2026-03-31T12:00:00Z');
  it.each([
    [1, '2026-02-28T12:00:00.000Z'],
    [13, '2025-02-28T12:00:00.000Z'],
    [3, '2025-12-31T12:00:00.000Z'],
    [12, '2025-03-31T12:00:00.000Z'],
    [25, '2024-02-29T12:00:00.000Z'],
  ])('%i months before the last of March is %s', (months, wanted) => {
    expect(new Date(monthsBefore(at, months)).toISOString()).toBe(wanted);
  });

  it('are those whose last entry lies further back, and none while that is off', () => {
    const line = (lastAt: string | null, created = '2020-01-01T00:00:00Z') =>
      ({ lastAt, meta: { created } }) as CaseLine;
    const lines = [
      line('2025-03-31T11:59:59Z'),
      line('2025-03-31T12:00:01Z'),
      line(null),
      line(null, '2026-01-01T00:00:00Z'),
    ];
    expect(oldCases(lines, 12, at)).toEqual([lines[0], lines[2]]);
    expect(oldCases(lines, null, at)).toEqual([]);
  });
});
