/** The rooms before the table, rendered over a log in memory, with a finger that counts its touches. */
import { fireEvent, render, screen, waitFor } from '@solidjs/testing-library';
import { createSignal, type Component } from 'solid-js';
import { beforeAll, vi } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import { currentVersion } from '../../content/releases/index.ts';
import type { Content } from '../../content/types.ts';
import type { EntryDraft } from '../../machines/entry.ts';
import { stateOf } from '../../machines/view.ts';
import { loadDeferred } from '../../src/deferred.ts';
import { openMemory } from '../../src/store/memory.ts';
import type { StoredCase } from '../../src/store/port.ts';
import { AppContext, type App, type Preferences, type ScreenName } from '../../src/screens/app.ts';
import { department } from '../../src/session/department.ts';
import { createSession } from '../../src/session/session.ts';
import { messagesOf } from '../../src/format/messages.ts';

export const content = loadContent(currentVersion) as Content;
export const w = messagesOf(content);

// As in the app, where every part is in memory right after the first screen is drawn.
beforeAll(() => loadDeferred(), 60_000);

// The tap guard of the app outlives a test, so the clock of the tests only goes forward.
let clock = 0;
export function steadyFingers(): void {
  clock += 10_000;
  vi.spyOn(performance, 'now').mockImplementation(() => clock);
}

export const opening: Extract<EntryDraft, { type: 'case-opened' }> = {
  type: 'case-opened',
  label: 'Theatre 2, first',
  zone: 'Europe/Oslo',
  side: 'left',
  bone: 'tibia',
  construct: 'plate',
  planned: '',
};

const start = Date.parse('2026-02-17T08:00:00Z');

export interface Room {
  app: App;
  /** Touches made so far. */
  touches: () => number;
  /** Touches the one that bears this name; waits until what it started is done. */
  touch: (name: string | RegExp, nth?: number) => Promise<void>;
  entries: () => NonNullable<ReturnType<App['open']>>['entries'];
  stored: () => Promise<StoredCase[]>;
}

/** Renders a screen of the app; with drafts a case is open and holds them, taken up again in another session if so said. */
export async function room(
  Screen: Component,
  { drafts = [] as readonly EntryDraft[], demo = false, more = {}, takenUp = false, parts: own = {} } = {},
): Promise<Room> {
  let ids = 0;
  let ticks = 0;
  const log = openMemory();
  const parts = {
    log,
    stored: [],
    pin: () => department().pin(),
    now: () => new Date(start + ticks++ * 1000).toISOString(),
    newId: () => `00000000-0000-4000-8000-${String(++ids).padStart(12, '0')}`,
    ...own,
  };
  let session = createSession(parts);
  const [first, ...rest] = drafts;
  if (first?.type === 'case-opened') {
    const made = await session.create(first, demo);
    const all = rest.length > 0 ? await session.recordAll(rest) : made;
    if (!made.ok || !all.ok) throw new Error(`the drafts were refused: ${JSON.stringify([made, all])}`);
  }
  if (takenUp) {
    // As after a kill, or in the window that takes over: another session reads what the first one left.
    const [one] = session.all();
    session = createSession({ ...parts, stored: session.all(), device: () => 'another tablet' });
    session.resume(one?.meta.caseId ?? '');
  }
  const [name, setName] = createSignal<ScreenName>('cases');
  const [preferences, setPreferences] = createSignal<Preferences>({ theme: 'dark', pxPerMm: null, distance: 2.5 });
  const app: App = {
    session,
    content: () => session.open()?.folded.content ?? content,
    w: (key, fill) => messagesOf(session.open()?.folded.content ?? content)(key, fill),
    open: session.open,
    view: () => {
      const open = session.open();
      return open && stateOf(open.folded);
    },
    tick: () => start + ticks * 1000,
    screen: name,
    go: setName,
    writer: () => true,
    preferences,
    prefer: (change) => setPreferences((now) => ({ ...now, ...change })),
    startTold: () => [],
    update: () => null,
    storage: () => 'kept',
    ...more,
  };
  render(() => (
    <AppContext.Provider value={app}>
      <Screen />
    </AppContext.Provider>
  ));
  let count = 0;
  const touch = async (label: string | RegExp, nth = 0) => {
    const found = await waitFor(() => {
      const all = screen.getAllByRole('button', { name: label });
      const one = all[nth];
      if (!one) throw new Error(`no touch ${String(label)}`);
      return one;
    });
    if (found.getAttribute('aria-disabled') === 'true')
      throw new Error(`${String(label)} is closed: ${found.textContent}`);
    clock += 1000;
    count++;
    fireEvent(
      found,
      Object.defineProperty(new MouseEvent('click', { bubbles: true, detail: 0 }), 'timeStamp', { value: clock }),
    );
    // The session writes one entry after another; a record that is refused or done settles within these turns.
    for (let turn = 0; turn < 400; turn++) await Promise.resolve();
    clock += 1000;
  };
  return {
    app,
    touches: () => count,
    touch,
    entries: () => session.open()?.entries ?? [],
    stored: () => log.list(),
  };
}
