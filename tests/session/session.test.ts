import { createRoot } from 'solid-js';
import { describe, expect, it } from 'vitest';
import type { Entry, EntryDraft } from '../../machines/entry.ts';
import { verify } from '../../machines/seal.ts';
import { openMemory } from '../../src/store/memory.ts';
import type { AppendResult, LogPort, StoredCase } from '../../src/store/port.ts';
import { createSession, openAhead, openStored, type Told } from '../../src/session/session.ts';

const opened = {
  type: 'case-opened',
  label: 'Theatre 1',
  zone: 'Europe/Oslo',
  side: 'left',
  bone: 'radius',
  construct: 'plate',
  planned: 'Removal of a plate',
} as const;
const screw = {
  type: 'screw-listed',
  screw: '1',
  diameter: 3.5,
  thread: 'cortical',
  locking: false,
  drive: 'hexagonal',
  material: 'steel',
  length: 16,
  cortices: 2,
} as const;

/** A session over a log, with a clock that the test sets. */
function make(log: LogPort = openMemory(), told: Told[] = []) {
  const clock = { now: '2026-03-02T23:59:30.000+01:00' };
  let ids = 0;
  const session = createRoot(() =>
    createSession({
      log,
      stored: [],
      now: () => clock.now,
      newId: () => `case-${++ids}`,
      tell: (message) => told.push(message),
    }),
  );
  return { session, clock, log, told };
}

/** A log whose next appends do what the test says. */
function obstinate(answers: (AppendResult | 'wait')[]) {
  const inner = openMemory();
  let release: () => void = () => {};
  let reach: () => void = () => {};
  /** The write that waits has come to the disk. */
  const reached = new Promise<void>((resolve) => (reach = resolve));
  const log: LogPort = {
    list: () => inner.list(),
    create: (meta) => inner.create(meta),
    heal: (stored, quarantined) => inner.heal(stored, quarantined),
    remove: (id) => inner.remove(id),
    close: () => inner.close(),
    async append(id, entry) {
      const answer = answers.shift();
      if (answer === 'wait') {
        reach();
        await new Promise<void>((resolve) => (release = resolve));
      }
      return answer && answer !== 'wait' && !answer.ok ? answer : inner.append(id, entry);
    },
  };
  return { log, reached, release: () => release() };
}

describe('the session', () => {
  it('shows an entry only once it is on disk [Z14]', async () => {
    const { log, reached, release } = obstinate([{ ok: true, copies: 2 }, 'wait']);
    const { session } = make(log);
    await session.create(opened);
    const pending = session.record(screw);
    await reached;
    // Whatever would follow without waiting for the disk has had its turn by then.
    await new Promise((turn) => setImmediate(turn));
    expect(session.open()?.entries).toHaveLength(1);
    release();
    expect((await pending).ok).toBe(true);
    expect(session.open()?.entries).toHaveLength(2);
    expect((await log.list())[0]?.entries).toHaveLength(2);
  });

  it('stops on a refused write, keeps the entry in view, and takes nothing more until it is settled [Z14]', async () => {
    const { log } = obstinate([
      { ok: true, copies: 2 },
      { ok: false, reason: { code: 'no-room' } },
    ]);
    const { session } = make(log);
    await session.create(opened);
    expect(await session.record(screw)).toEqual({ ok: false, reason: { code: 'no-room' } });
    expect(session.unsaved()?.entry).toMatchObject({ n: 2, type: 'screw-listed' });
    expect(session.open()?.entries).toHaveLength(1);
    expect((await session.record({ type: 'plate-off' })).ok).toBe(false);
    expect((await session.retry()).ok).toBe(true);
    expect(session.unsaved()).toBeNull();
    expect(session.open()?.entries.map(({ type }) => type)).toEqual(['case-opened', 'screw-listed']);
  });

  it('lets an unwritten entry go without a trace in the log', async () => {
    const { log } = obstinate([
      { ok: true, copies: 2 },
      { ok: false, reason: { code: 'no-room' } },
    ]);
    const { session } = make(log);
    await session.create(opened);
    await session.record(screw);
    session.giveUp();
    expect((await session.record({ type: 'remark', text: 'instead' })).ok).toBe(true);
    expect(session.open()?.entries.map(({ n, type }) => `${n} ${type}`)).toEqual(['1 case-opened', '2 remark']);
  });

  it('refuses what cannot have happened, and writes nothing', async () => {
    const { session, log } = make();
    await session.create(opened);
    await session.record(screw);
    const result = await session.record({ type: 'move-started', screw: '1', move: 'turn-out' });
    expect(result).toEqual({ ok: false, reason: { code: 'out-of-order' } });
    expect((await log.list())[0]?.entries).toHaveLength(2);
  });

  it('refuses a bore as wide as the bone in words that name the field', async () => {
    const { session } = make();
    await session.create(opened);
    await session.record(screw);
    await session.record({ type: 'work-started' });
    const bores = [{ wall: 'near' as const, diameter: 14 }];
    const result = await session.record({ type: 'move-started', screw: '1', move: 'turn-out', bores });
    expect(result.ok ? '' : JSON.stringify(result.reason)).toMatch(/bores\[0\]\.diameter.*bore-wide.*"bore":14/);
  });

  it('[Z25] of a window that does not hold the cases records nothing, whatever is touched, and says so', async () => {
    const log = openMemory();
    const holds = { now: true };
    const session = createRoot(() =>
      createSession({ log, stored: [], now: () => '2026-03-02T10:00:00.000Z', newId: String, holds: () => holds.now }),
    );
    await session.create(opened);
    const { meta, entries } = session.open()!;
    holds.now = false;
    const before = await log.read();
    expect(session.turnedAway()).toBe(false);
    const refusal = { ok: false, reason: { code: 'not-holder' } };
    expect(await session.record(screw)).toEqual(refusal);
    expect(session.turnedAway()).toBe(true);
    expect(await session.recordAll([screw])).toEqual(refusal);
    expect(await session.create(opened)).toEqual(refusal);
    expect(await session.take({ meta: { ...meta, caseId: 'two' }, entries: [...entries] })).toEqual(refusal);
    expect(await session.bringIn('2026.1', entries)).toMatchObject(refusal);
    await expect(session.remove(meta.caseId)).rejects.toMatchObject({ failure: refusal.reason });
    expect([await log.read(), session.open()?.entries, session.unsaved()]).toEqual([before, entries, null]);
  });

  it('[Z25] keeps no entry to be tried again that a copy refused because another window took over', async () => {
    const { log } = obstinate([
      { ok: true, copies: 2 },
      { ok: false, reason: { code: 'not-holder' } },
    ]);
    const { session } = make(log);
    await session.create(opened);
    expect(await session.record(screw)).toEqual({ ok: false, reason: { code: 'not-holder' } });
    expect([session.unsaved(), session.turnedAway(), session.open()?.entries.length]).toEqual([null, true, 1]);
  });

  it('goes on without seals in a case that came without, and one step writes a case that is brought in', async () => {
    const log = openMemory();
    const calls: string[] = [];
    const counting: LogPort = {
      ...log,
      create: (meta) => (calls.push('create'), log.create(meta)),
      append: (id, entry) => (calls.push('append'), log.append(id, entry)),
      heal: (one, beside) => (calls.push('heal'), log.heal(one, beside)),
    };
    const { session } = make(counting);
    const at = '2026-03-01T10:00:00.000+01:00';
    const unsealed = [opened, screw].map((draft, i) => ({ n: i + 1, at, logged: at, ...draft })) as Entry[];
    const { caseId } = await session.bringIn('2026.1', unsealed, false, undefined, 'the head did not fit');
    expect(calls).toEqual(['heal']);
    session.resume(caseId);
    await session.record({ type: 'remark', text: 'goes on' });
    expect(session.open()?.entries).toMatchObject([
      ...unsealed,
      { n: 3, type: 'remark' },
      // An old case that goes on says from where on it stands in the format of this build.
      { n: 4, type: 'format-raised', to: 2, rules: 2 },
      { n: 5, type: 'remark', text: 'goes on' },
    ]);
    await session.record({ type: 'remark', text: 'and on' });
    expect(
      session
        .open()
        ?.entries.map(({ type }) => type)
        .slice(3),
    ).toEqual(['format-raised', 'remark', 'remark']);
    expect(verify(session.open()?.entries ?? [])).toEqual({ seals: 'unsealed', brokenAt: null });
  });

  it('makes an entry that tells of those before it after what must be written ahead of it', async () => {
    const { session } = make(openMemory());
    const at = '2026-03-01T10:00:00.000+01:00';
    const old = [opened, screw].map((draft, i) => ({ n: i + 1, at, logged: at, ...draft })) as Entry[];
    const { caseId } = await session.bringIn('2026.1', old, false);
    session.resume(caseId);
    await session.record((before) => ({ type: 'remark', text: `after ${before.map(({ type }) => type).join(', ')}` }));
    expect(session.open()?.entries.at(-1)).toMatchObject({
      ...{ n: 4, text: 'after case-opened, screw-listed, format-raised' },
    });
  });

  it('writes a whole chain of seals', async () => {
    const { session } = make();
    await session.create(opened);
    await session.record(screw);
    await session.record({ type: 'remark', text: 'as planned' });
    expect(verify(session.open()?.entries ?? [])).toEqual({ seals: 'whole', brokenAt: null });
  });

  it('enters a late entry with both times, in the same offset, across midnight [Z16]', async () => {
    const { session, clock } = make();
    await session.create(opened);
    clock.now = '2026-03-03T00:03:00.000+01:00';
    const result = await session.record({ type: 'remark', text: 'earlier' }, { minutesAgo: 5 });
    expect(result.ok && result.entry).toMatchObject({ at: '2026-03-02T23:58:00.000+01:00', logged: clock.now });
    expect(session.open()?.folded.late).toEqual([2]);
  });

  it('lets the time of logging run backwards at the jump that says so, and at nothing else [Z13]', async () => {
    const { session, clock } = make();
    await session.create(opened);
    clock.now = '2026-03-02T22:59:40.000+01:00';
    await session.record({ type: 'clock-jumped', seconds: -3600 });
    clock.now = '2026-03-02T23:00:10.000+01:00';
    const result = await session.record({ type: 'work-started' });
    expect(session.open()?.entries[1]?.logged).toBe('2026-03-02T22:59:40.000+01:00');
    expect(result.ok && result.entry).toMatchObject({ at: clock.now, logged: clock.now });
    // A clock that fell behind without a word has the time of the entry before it.
    clock.now = '2026-03-02T22:30:00.000+01:00';
    const held = await session.record({ type: 'remark', text: 'held' });
    expect(held.ok && held.entry.logged).toBe('2026-03-02T23:00:10.000+01:00');
    expect(session.open()?.folded.outOfOrder).toEqual([]);
  });

  it('takes two taps at once one after the other, numbered without a gap', async () => {
    const { session } = make();
    await session.create(opened);
    await Promise.all(['a', 'b', 'c'].map((text) => session.record({ type: 'remark', text })));
    expect(session.open()?.entries.map(({ n }) => n)).toEqual([1, 2, 3, 4]);
  });

  it('tells the other windows what was recorded, and only that [Z25]', async () => {
    const { session, told } = make();
    await session.create(opened);
    await session.record(screw);
    await session.record({ type: 'move-started', screw: '1', move: 'turn-out' });
    expect(told.map((message) => (message.kind === 'entry' ? message.entry.type : message.kind))).toEqual([
      'opened',
      'case-opened',
      'screw-listed',
    ]);
  });

  it('follows another window entry by entry, and says when one is missing', async () => {
    const first = make();
    await first.session.create(opened);
    await first.session.record(screw);
    const second = make();
    const [stored] = await first.log.list();
    second.session.follow(stored ?? null);
    expect(second.session.open()?.entries).toHaveLength(2);
    await first.session.record({ type: 'remark', text: 'one' });
    await first.session.record({ type: 'remark', text: 'two' });
    const entries = first.session.open()?.entries ?? [];
    const meta = (stored as NonNullable<typeof stored>).meta;
    expect(second.session.followEntry(meta, entries[3] as never)).toBe(false);
    expect(second.session.followEntry(meta, entries[2] as never)).toBe(true);
    expect(second.session.followEntry(meta, entries[3] as never)).toBe(true);
    expect(second.session.open()?.folded.case.context).toEqual(first.session.open()?.folded.case.context);
  });

  it('resumes the case that is not closed and was written last [Z1]', async () => {
    const { session, clock } = make();
    await session.create(opened);
    await session.record({ type: 'case-closed' });
    clock.now = '2026-03-03T07:00:00.000+01:00';
    await session.create({ ...opened, label: 'Theatre 2' });
    session.leave();
    expect(session.unfinished()).toBe('case-2');
    session.resume('case-2');
    expect(session.open()?.folded.case.context.room.opened?.label).toBe('Theatre 2');
  });

  it('resumes a case whose closing was struck [Z1]', async () => {
    const { session } = make();
    await session.create(opened);
    await session.record({ type: 'case-closed' });
    expect(session.unfinished()).toBeNull();
    await session.record({ type: 'struck', entry: 2, reason: 'closed too early' });
    expect(session.lines()[0]?.closed).toBe(false);
    session.leave();
    expect(session.unfinished()).toBe('case-1');
  });
});

describe('a running case that is taken up again', () => {
  /** Screw 1 is called, and the window is killed; another one starts, on this clock. */
  const killed = async (now: string, drafts: readonly EntryDraft[] = [{ type: 'work-started' }]) => {
    const first = make();
    await first.session.create(opened);
    await first.session.recordAll([screw, ...drafts]);
    const clock = { now };
    const session = createRoot(() =>
      createSession({
        log: first.log,
        stored: first.session.all(),
        now: () => clock.now,
        newId: () => 'x',
        device: () => 'another tablet',
      }),
    );
    session.resume('case-1');
    const types = () => session.open()?.entries.map(({ type }) => type);
    return { session, clock, types };
  };
  const later = '2026-03-03T00:12:00.000+01:00';

  it('asks whether the time is right, once, and writes nothing before somebody touches', async () => {
    const { session, types } = await killed(later);
    expect([session.takenUp(), types()?.at(-1)]).toEqual([true, 'work-started']);
    await session.sayGap('known');
    expect(session.takenUp()).toBe(false);
    expect(session.open()?.entries.at(-1)).toMatchObject({ type: 'resumed', device: 'another tablet', gap: 'known' });
    await session.record({ type: 'washed-out' });
    expect(types()?.slice(3)).toEqual(['resumed', 'washed-out']);
  });

  it('says of itself that nobody knows, when the next entry comes first; a plan asks nothing', async () => {
    const { session, types } = await killed(later);
    await session.record({ type: 'screw-called', screw: '1' });
    expect(types()?.slice(3)).toEqual(['resumed', 'screw-called']);
    expect(session.open()?.entries[3]).toMatchObject({ n: 4, gap: 'not-known' });
    expect([session.takenUp(), verify(session.open()?.entries ?? []).seals]).toEqual([false, 'whole']);
    const plan = await killed(later, []);
    await plan.session.record({ type: 'remark', text: 'next morning' });
    expect([plan.session.takenUp(), plan.types()?.at(-2)]).toEqual([false, 'screw-listed']);
  });

  it('lets the clock run back where nobody watched it, and what follows stands after what stood before', async () => {
    const { session } = await killed('2026-03-02T20:00:00.000+01:00');
    await session.record({ type: 'screw-called', screw: '1' });
    const [before, resumed, after] = session.open()?.entries.slice(2) ?? [];
    expect([resumed?.logged, after?.logged]).toEqual(Array(2).fill('2026-03-02T20:00:00.000+01:00'));
    expect(Date.parse(before?.logged ?? '')).toBeGreaterThan(Date.parse(resumed?.logged ?? ''));
    expect(session.open()?.folded.case.context.workStarted).toBe(session.open()?.folded.latest);
  });

  it('is not asked of a case that was open here all the while, unless the clock was set while it was away', async () => {
    const { session } = await killed(later);
    await session.sayGap('known');
    session.leave();
    session.resume('case-1');
    expect(session.takenUp()).toBe(false);
    session.leave();
    session.clockMoved();
    session.resume('case-1');
    expect(session.takenUp()).toBe(true);
    session.leave();
    expect(session.takenUp()).toBe(false);
  });
});

describe('a case opened ahead', () => {
  const stored = async () => {
    const { session } = make();
    await session.create(opened);
    await session.record(screw);
    const first = session.stored('case-1') as StoredCase;
    await session.create({ ...opened, label: 'Theatre 2' });
    await session.record({ type: 'case-closed' });
    return [first, session.stored('case-2') as StoredCase] as const;
  };

  it('is the unfinished one, and is given once, for the very entries it was folded from', async () => {
    const [first, second] = await stored();
    const open = openAhead([first, second]);
    const got = open({ meta: first.meta, entries: first.entries });
    expect(got?.folded).toEqual(openStored(first)?.folded);
    expect(got?.entries).toBe(first.entries);
    expect(open(first)?.folded).not.toBe(got?.folded);
  });

  it('is not given for what the other copy says otherwise, nor for another case', async () => {
    const [first, second] = await stored();
    const shorter: StoredCase = { meta: first.meta, entries: first.entries.slice(0, 1) };
    expect(openAhead([first, second])(shorter)?.folded.screws.size).toBe(0);
    expect(openAhead([first, second])(second)?.meta.caseId).toBe('case-2');
    expect(openAhead([])(first)?.folded.screws.size).toBe(1);
  });

  it('is what a session resumes, once', async () => {
    const [first, second] = await stored();
    const ahead: (typeof first)[] = [];
    const open = openAhead([first, second]);
    const session = createRoot(() =>
      createSession({
        log: openMemory(),
        stored: [first, second],
        now: () => '2026-03-03T08:00:00.000+01:00',
        newId: () => 'x',
        openStored: (one) => (ahead.push(one), open(one)),
      }),
    );
    expect(session.unfinished()).toBe('case-1');
    session.resume('case-1');
    expect(ahead).toEqual([first]);
    expect(session.open()?.folded.screws.size).toBe(1);
  });
});
