import { fireEvent, render } from '@solidjs/testing-library';
import { createMemo, createSignal, type JSX } from 'solid-js';
import { vi } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import type { Content } from '../../content/types.ts';
import type { EntryDraft } from '../../machines/entry.ts';
import { stateOf } from '../../machines/view.ts';
import { openMemory } from '../../src/store/memory.ts';
import type { LogPort } from '../../src/store/port.ts';
import { AppContext, type App, type ScreenName } from '../../src/screens/app.ts';
import { createSession } from '../../src/session/session.ts';
import { messagesOf } from '../../src/format/messages.ts';

const released = loadContent('2026.1') as Content;
export { released as content };
export const w = messagesOf(released);

const start = Date.UTC(2026, 1, 17, 9, 0, 0);
/** The one clock of the tests: the guard against bounces outlives a test, so it only goes forward. */
let passed = 0;
export const wait = (ms: number) => (passed += ms);
export const useClock = () => {
  wait(10_000);
  vi.spyOn(performance, 'now').mockImplementation(() => passed);
};

/** An invented case: two screws of a plate on a right fibula. */
export const opening: EntryDraft[] = [
  {
    type: 'case-opened',
    label: 'Theatre 2, second case',
    zone: 'Europe/Oslo',
    side: 'right',
    bone: 'fibula',
    construct: 'plate',
    planned: 'Removal of a plate and two screws',
  },
  { type: 'person-listed', role: 'surgeon', who: 'Surgeon A' },
  { type: 'bone-measured', outer: 15, cortex: 3, source: 'measured' },
  ...(['1', '2'] as const).map((screw): EntryDraft => ({
    type: 'screw-listed',
    screw,
    diameter: 3.5,
    thread: 'cortical',
    locking: false,
    drive: 'hexagonal',
    material: 'steel',
    length: screw === '1' ? 14 : 16,
    cortices: 2,
  })),
  { type: 'work-started' },
];
export const moves = (screw: string, outcome: 'out' | 'slipped', more: { recovered?: number } = {}): EntryDraft[] => [
  { type: 'move-started', screw, move: 'turn-out' },
  { type: 'move-ended', screw, outcome, ...more, ...(more.recovered !== undefined && { lengthHow: 'measured' }) },
];
export const broke = (screw: string, recovered: number): EntryDraft[] => [
  { type: 'move-started', screw, move: 'turn-out' },
  { type: 'move-ended', screw, outcome: 'shank-broke', reachable: false, recovered, lengthHow: 'measured' },
];

/** A running app over a log in memory, with the case brought to where `drafts` lead. */
export async function caseWith(
  drafts: readonly EntryDraft[],
  log: LogPort = openMemory(),
  writer = true,
  content: Content = released,
) {
  const w = messagesOf(content);
  const session = createSession({
    log,
    stored: [],
    pin: () => ({ contentVersion: content.version }),
    now: () => new Date(start + passed).toISOString(),
    newId: () => '6f1d2c3b-0000-4000-8000-000000000001',
  });
  const [first, ...rest] = drafts;
  if (first?.type !== 'case-opened') throw new Error('a case begins with its opening');
  const created = await session.create(first);
  if (!created.ok) throw new Error(created.reason.code);
  for (const draft of rest) {
    wait(60_000);
    const outcome = await session.record(draft);
    if (!outcome.ok) throw new Error(`${draft.type}: ${outcome.reason.code}`);
  }
  wait(60_000);
  const went: ScreenName[] = [];
  const [tick, setTick] = createSignal(start + passed);
  /** Lets the clock that the screen shows go on. */
  const later = (ms: number) => setTick(start + wait(ms));
  const show = (screen: () => JSX.Element) =>
    render(() => {
      const view = createMemo(() => {
        const open = session.open();
        return open ? stateOf(open.folded) : null;
      });
      const app: App = {
        session,
        content: () => content,
        w,
        open: session.open,
        view,
        tick,
        screen: () => 'closing',
        go: (name) => void went.push(name),
        writer: () => writer,
        preferences: () => ({ theme: 'dark', pxPerMm: null, distance: 2 }),
        prefer: () => undefined,
        startTold: () => [],
        update: () => null,
        storage: () => '',
      };
      return <AppContext.Provider value={app}>{screen()}</AppContext.Provider>;
    });
  const entries = () => session.open()?.entries ?? [];
  return { session, show, later, went, entries, types: () => entries().map(({ type }) => type) };
}

/** One touch by key, as a screen reader or a foot switch gives it, long enough after the last. */
export async function touch(button: Element): Promise<void> {
  wait(1000);
  fireEvent(
    button,
    Object.defineProperty(new MouseEvent('click', { bubbles: true, detail: 0 }), 'timeStamp', { value: passed }),
  );
  await settled();
}

/** Lets writes that are under way come to their end. */
export const settled = () => new Promise<void>((done) => setTimeout(done, 0));
