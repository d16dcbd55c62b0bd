import { cleanup, fireEvent, screen, waitFor } from '@solidjs/testing-library';
import { createSignal, type Component } from 'solid-js';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { openMemory } from '../../src/store/memory.ts';
import { openMirroredLog } from '../../src/store/mirrored-log.ts';
import { Cases } from '../../src/screens/Cases.tsx';
import { Lock } from '../../src/screens/Lock.tsx';
import { Settings } from '../../src/screens/Settings.tsx';
import { PrivacyContext, type DevicePrivacy } from '../../src/screens/privacy.ts';
import { createSession } from '../../src/session/session.ts';
import { createPrivacy } from '../../src/session/privacy.ts';
import { openVault } from '../../src/store/encrypted/vault.ts';
import { cheap, shelfStore } from '../store/vaults.ts';
import { content, opening, room, steadyFingers, w } from './rooms.harness.tsx';

const passcode = 'four plain words here';
const saved: Blob[] = [];
/** A slow, busy machine is no fault of the screens. */
const patiently = (check: () => void) => waitFor(check, { timeout: 15_000 });

beforeEach(() => {
  steadyFingers();
  saved.length = 0;
  vi.spyOn(URL, 'createObjectURL').mockImplementation((blob) => {
    saved.push(blob as Blob);
    return 'blob:here';
  });
});
afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

/** A screen on a whole device; `cases` were recorded and put away before, the passcode is set after them. */
async function deviceRoom(
  Screen: Component,
  { cases = 0, locked = false, open = false, passcodeSet = false, later = 0 } = {},
) {
  const copies = { database: openMemory(), journal: openMemory() };
  const clock = { now: Date.parse('2026-02-17T08:00:00Z') };
  const vault = await openVault({ copies, store: shelfStore(), kdf: cheap, now: () => clock.now });
  const { log, report } = await openMirroredLog(vault.copies);
  let ids = 0;
  const session = createSession({
    log,
    stored: [],
    now: () => new Date((clock.now += 1000)).toISOString(),
    newId: () => `case-${++ids}`,
  });
  for (let i = 0; i < cases; i++) {
    await session.create({ ...opening, label: `Theatre ${i + 1}` });
    session.leave();
  }
  if (passcodeSet || locked) await vault.set(passcode);
  const [idle, setIdle] = createSignal(5);
  const [months, setMonths] = createSignal<number | null>(null);
  const newId = () => `0000000${++ids}-0000-4000-8000-000000000000`;
  const parts = { vault, session, report, writer: () => true, newId };
  const privacy: DevicePrivacy = {
    ...createPrivacy({ ...parts, idleMinutes: idle }),
    idleMinutes: idle,
    setIdleMinutes: setIdle,
    retentionMonths: months,
    setRetentionMonths: setMonths,
  };
  if (locked) await privacy.lock();
  if (open) session.resume('case-1');
  clock.now += later;
  const here = await room(
    () => (
      <PrivacyContext.Provider value={privacy}>
        <Screen />
      </PrivacyContext.Provider>
    ),
    { more: { session, open: session.open, view: () => null, tick: () => clock.now } },
  );
  const type = (label: string, text: string) =>
    fireEvent.input(screen.getByLabelText(label), { target: { value: text } });
  return { ...here, session, privacy, type, copies, clock, setMonths };
}
const button = (name: string | RegExp) => screen.getByRole('button', { name });
const isClosed = (name: string | RegExp) => button(name).getAttribute('aria-disabled') === 'true';

describe('the privacy page', () => {
  it('says before it is set what a forgotten passcode costs, and wants it typed twice the same', async () => {
    const { touch, type, privacy } = await deviceRoom(Settings, { cases: 1 });
    await touch(w('privacy.title'));
    expect(screen.getByText(w('privacy.off'))).toBeTruthy();
    for (const fact of ['privacy.trade', 'privacy.before', 'privacy.visible'])
      expect(screen.getByText(w(fact))).toBeTruthy();
    await touch(w('privacy.set'));
    expect(screen.getByText(w('privacy.forgotten'))).toBeTruthy();
    type(w('privacy.new'), '12345');
    expect(button(new RegExp(w('privacy.set-yes'))).textContent).toContain(w('lock.short', { count: 6 }));
    type(w('privacy.new'), passcode);
    type(w('privacy.again'), `${passcode}.`);
    expect(button(new RegExp(w('privacy.set-yes'))).textContent).toContain(w('privacy.differ'));
    expect(privacy.on()).toBe(false);
    type(w('privacy.again'), passcode);
    await touch(w('privacy.set-yes'));
    await patiently(() => expect(screen.getByText(w('privacy.done-set'))).toBeTruthy());
    expect(privacy.on()).toBe(true);
    expect(screen.getByText(w('privacy.on'))).toBeTruthy();
  });

  it('changes it and takes it off by the passcode of now alone', async () => {
    const { touch, type, privacy, clock } = await deviceRoom(Settings, { cases: 1, passcodeSet: true });
    await touch(w('privacy.title'));
    await touch(w('privacy.take-off'));
    type(w('privacy.now'), 'not the passcode');
    await touch(w('privacy.take-off-yes'));
    await patiently(() => expect(screen.getByText(w('lock.wrong', { seconds: 1 }))).toBeTruthy());
    clock.now += 1000;
    await patiently(() =>
      expect(button(new RegExp(w('privacy.take-off-yes'))).textContent).not.toContain(w('lock.wait', { seconds: 1 })),
    );
    type(w('privacy.now'), passcode);
    await touch(w('privacy.take-off-yes'));
    await patiently(() => expect(screen.getByText(w('privacy.done-take-off'))).toBeTruthy());
    expect(privacy.on()).toBe(false);
  });

  it('[Z23] does nothing of it while a case is open, and says so', async () => {
    const { touch } = await deviceRoom(Settings, { cases: 1, open: true });
    await touch(w('privacy.title'));
    expect(screen.getByText(w('privacy.in-case'))).toBeTruthy();
    expect(isClosed(new RegExp(w('privacy.set')))).toBe(true);
    expect(document.querySelector('input[type=password]')).toBeNull();
  });

  it('sets idle time and the age of old cases in one touch each', async () => {
    const { touch, privacy } = await deviceRoom(Settings);
    await touch(w('privacy.title'));
    await touch(w('privacy.minutes', { minutes: 10 }));
    await touch(w('privacy.months', { months: 12 }));
    expect([privacy.idleMinutes(), privacy.retentionMonths()]).toEqual([10, 12]);
    await touch(w('privacy.never'));
    expect(privacy.retentionMonths()).toBeNull();
  });
});

describe('the lock screen', () => {
  it('[Z22] shows nothing of a case; the cautions can be read; the right passcode opens', async () => {
    const { type, touch, privacy, session } = await deviceRoom(Lock, { cases: 2, locked: true });
    expect(document.body.textContent).not.toMatch(/Theatre \d|LEFT|tibia/);
    for (const line of content.phrases.cautions) expect(screen.getByText(line)).toBeTruthy();
    type(w('lock.passcode'), passcode);
    await touch(w('lock.open'));
    await patiently(() => expect(privacy.locked()).toBe(false));
    expect(session.lines()).toHaveLength(2);
  });

  it('[Z22] a wrong one is told and keeps the next try waiting; nothing typed stays', async () => {
    const { type, touch, privacy, clock } = await deviceRoom(Lock, { cases: 1, locked: true });
    type(w('lock.passcode'), 'not the passcode');
    await touch(w('lock.open'));
    await patiently(() => expect(screen.getByText(w('lock.wrong', { seconds: 1 }))).toBeTruthy());
    expect(screen.getByLabelText<HTMLInputElement>(w('lock.passcode')).value).toBe('');
    await patiently(() =>
      expect(button(new RegExp(w('lock.open'))).textContent).toContain(w('lock.wait', { seconds: 1 })),
    );
    clock.now += 1000;
    type(w('lock.passcode'), passcode);
    await patiently(() => expect(isClosed(new RegExp(w('lock.open')))).toBe(false));
    await touch(w('lock.open'));
    await patiently(() => expect(privacy.locked()).toBe(false));
  });

  it('takes digits by touch, the last one back', async () => {
    const { touch } = await deviceRoom(Lock, { locked: true });
    for (const digit of ['0', '7', '7', '3']) await touch(digit);
    await touch(w('lock.rub-out'));
    expect(screen.getByLabelText<HTMLInputElement>(w('lock.passcode')).value).toBe('077');
  });

  it('wipes everything only after saying what goes and asking twice', async () => {
    const { touch, privacy, copies } = await deviceRoom(Lock, { cases: 3, locked: true });
    await touch(w('lock.forgotten'));
    await patiently(() => expect(screen.getByText(w('lock.forgotten-lead', { count: 3 }))).toBeTruthy());
    await touch(w('lock.wipe', { count: 3 }));
    await touch(w('lock.keep'));
    expect((await copies.database.read()).cases).toHaveLength(3);
    await touch(w('lock.forgotten'));
    await touch(w('lock.wipe', { count: 3 }));
    await touch(w('lock.wipe-yes', { count: 3 }));
    await patiently(() => expect(privacy.on()).toBe(false));
    for (const copy of Object.values(copies)) expect((await copy.read()).cases).toEqual([]);
  });
});

describe('the data of this device', () => {
  const hand = (bytes: BlobPart) => {
    const input = document.querySelector<HTMLInputElement>('input[type=file]')!;
    const file = new File([bytes], 'x.backup.jsonl');
    Object.defineProperty(input, 'files', { value: [file], configurable: true });
    fireEvent.change(input);
  };

  it('is saved whole, wiped after asking twice, and brought back', async () => {
    const { touch, session } = await deviceRoom(Cases, { cases: 3 });
    await touch(new RegExp(`^${w('cases.data')}`));
    await touch(w('data.wipe', { count: 3 }));
    expect(screen.getByText(w('data.wipe-not-saved'), { exact: false })).toBeTruthy();
    await touch(w('data.save-first'));
    await patiently(() => expect(screen.getByText(w('data.saved', { count: 3 }))).toBeTruthy());
    expect(session.lines()).toHaveLength(3);
    await touch(w('data.wipe-yes', { count: 3 }));
    await patiently(() => expect(screen.getByText(w('data.wiped'))).toBeTruthy());
    expect(session.lines()).toEqual([]);
    hand(await saved[0]!.text());
    await patiently(() => expect(screen.getByText(w('data.taken', { new: 3, longer: 0, known: 0 }))).toBeTruthy());
    expect(session.lines().map(({ label }) => label)).toEqual(['Theatre 1', 'Theatre 2', 'Theatre 3']);
  });

  it('encrypted in a backup asks for the passcode of the backup', async () => {
    const from = await deviceRoom(Cases, { cases: 2, passcodeSet: true });
    await from.touch(new RegExp(`^${w('cases.data')}`));
    await from.touch(new RegExp(w('data.save', { count: 2 }).replace(/[()]/g, '\\$&')));
    await patiently(() => expect(saved).toHaveLength(1));
    expect(await saved[0]!.text()).not.toContain('Theatre');
    cleanup();
    steadyFingers();
    const to = await deviceRoom(Cases);
    await to.touch(new RegExp(`^${w('cases.data')}`));
    hand(await saved[0]!.text());
    await patiently(() => expect(screen.getByText(w('data.locked'))).toBeTruthy());
    to.type(w('data.passcode'), 'another passcode');
    await to.touch(w('data.open'));
    await patiently(() => expect(screen.getByText(w('data.wrong'))).toBeTruthy());
    to.type(w('data.passcode'), passcode);
    await to.touch(w('data.open'));
    await patiently(() => expect(screen.getByText(w('data.taken', { new: 2, longer: 0, known: 0 }))).toBeTruthy());
  });

  it('[Z15] changed in a plain backup is named before anything is taken, and comes only when told to', async () => {
    const from = await deviceRoom(Cases, { cases: 2 });
    await from.touch(new RegExp(`^${w('cases.data')}`));
    await from.touch(new RegExp(w('data.save', { count: 2 }).replace(/[()]/g, '\\$&')));
    await patiently(() => expect(saved).toHaveLength(1));
    const changed = (await saved[0]!.text()).replace('Theatre 2', 'Theatre 9');
    cleanup();
    steadyFingers();
    const to = await deviceRoom(Cases);
    await to.touch(new RegExp(`^${w('cases.data')}`));
    hand(changed);
    await patiently(() => expect(screen.getByText(w('data.changed', { count: 1 }))).toBeTruthy());
    expect(screen.getByText(/Theatre 9/)).toBeTruthy();
    expect(to.session.lines()).toEqual([]);
    await to.touch(w('data.changed-leave'));
    await patiently(() => expect(screen.getByText(w('data.changed-left', { count: 1 }))).toBeTruthy());
    expect(to.session.lines().map(({ label }) => label)).toEqual(['Theatre 1']);
    hand(changed);
    await to.touch(w('data.changed-take'));
    await patiently(() => expect(to.session.lines()).toHaveLength(2));
  });

  it('is not taken from a bad file, whose faults are named with their place', async () => {
    const { touch, session } = await deviceRoom(Cases, { cases: 1 });
    await touch(new RegExp(`^${w('cases.data')}`));
    hand('{"format":"other"}');
    await patiently(() => expect(screen.getByText('line 1: format')).toBeTruthy());
    expect(session.lines()).toHaveLength(1);
  });

  it('[Z23] is neither wiped nor brought in while a case is open', async () => {
    const { touch } = await deviceRoom(Cases, { cases: 1, open: true });
    await touch(new RegExp(`^${w('cases.data')}`));
    expect([isClosed(new RegExp(w('data.bring'))), isClosed(/^Wipe all cases/)]).toEqual([true, true]);
  });

  it('that is old is named on the list, leads to saving, and is never wiped by itself', async () => {
    const { session, setMonths, touch } = await deviceRoom(Cases, { cases: 2, later: 400 * 86_400_000 });
    const line = w('data.old', { count: 2, months: 12 });
    expect(screen.queryByText(line)).toBeNull();
    setMonths(12);
    await touch(line);
    expect(screen.getByText(w('data.save', { count: 2 }))).toBeTruthy();
    expect(session.lines()).toHaveLength(2);
  });
});

describe('a branch that was set aside', () => {
  it('is named with its case, and both go into one file', async () => {
    const { touch, session } = await deviceRoom(Cases, { cases: 2 });
    const one = session.stored('case-2')!;
    const other = { ...one.entries[0]!, label: 'Another branch' } as (typeof one.entries)[number];
    expect(await session.take(one, [other])).toMatchObject({ ok: true });
    await touch(new RegExp(w('cases.data')));
    await patiently(() => expect(screen.getByText(w('data.branch', { label: 'Theatre 2', count: 1 }))).toBeTruthy());
    await touch(w('data.branch-save'));
    await patiently(() => expect(saved).toHaveLength(1));
    const [head, ...lines] = (await saved[0]!.text())
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line) as unknown);
    expect(head).toMatchObject({ cases: 1 });
    expect(lines).toMatchObject([{ case: { entries: one.entries }, aside: [other] }]);
  });

  it('is not spoken of where there is none', async () => {
    const { touch, privacy } = await deviceRoom(Cases, { cases: 1 });
    expect(await privacy.branches()).toEqual([]);
    await touch(new RegExp(w('cases.data')));
    expect(screen.queryByText(w('data.branch-save'))).toBeNull();
  });
});
