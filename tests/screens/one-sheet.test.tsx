/** By the second ladder no touch meets two sheets: whatever was told, at most one stands, and a start asks on one. */
import { cleanup, fireEvent, render } from '@solidjs/testing-library';
import fc from 'fast-check';
import { createMemo, createRoot, createSignal } from 'solid-js';
import { afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import type { EntryDraft } from '../../machines/entry.ts';
import { stateOf } from '../../machines/view.ts';
import { loadDeferred } from '../../src/deferred.ts';
import { AppContext, type App } from '../../src/screens/app.ts';
import { createSession } from '../../src/session/session.ts';
import type { OpenCase } from '../../src/session/session.ts';
import { openMemory } from '../../src/store/memory.ts';
import { Table } from '../../src/screens/table/Table.tsx';
import { Log } from '../machines/build.ts';
import { playedIn } from '../machines/generate.ts';
import { content, phrases, w } from './second.harness.tsx';

beforeAll(async () => {
  await loadDeferred();
  await loadDeferred();
}, 60_000);
let clock = 0;
beforeEach(() => {
  clock += 10_000;
  vi.spyOn(performance, 'now').mockImplementation(() => clock);
});
afterEach(cleanup);

const fresh = Number(process.env.SEED ?? 1);
const logs = [
  ...fc.sample(playedIn(content), { numRuns: 8, seed: 20260304 }),
  ...fc.sample(playedIn(content), { numRuns: 4, seed: fresh }),
];

/** The table over a log that grows, without a disk. */
function tableOver(log: Log) {
  const [now, setNow] = createSignal(log, { equals: false });
  const parts = { log: openMemory(), stored: [], pin: () => ({ contentVersion: content.version }) };
  const session = createSession({ ...parts, now: () => new Date(0).toISOString(), newId: () => 'one' });
  const open = () => ({
    ...({ meta: { caseId: 'one', contentVersion: content.version, demo: true, created: '' } } as object),
    entries: [...now().entries],
    folded: now().folded,
  });
  const view = createRoot(() => {
    const folded = createMemo(() => stateOf(now().folded));
    return folded;
  });
  const record = (draft: EntryDraft) => {
    setNow(log.write(draft));
    return Promise.resolve({ ok: true, entry: log.entries.at(-1) });
  };
  const at = () => Date.parse(log.entries.at(-1)?.logged ?? '2026-03-04T08:00:00Z');
  const app = {
    ...{ session: { ...session, open, record, takenUp: () => null }, content: () => content, w, open },
    view,
    ...{ tick: at, screen: () => 'table', go: () => undefined, writer: () => true },
    preferences: () => ({ theme: 'dark', pxPerMm: null, distance: 2 }),
    ...{ prefer: () => undefined, startTold: () => [], update: () => null, storage: () => 'kept' },
  } as unknown as App & { open: () => OpenCase };
  render(() => (
    <AppContext.Provider value={app}>
      <Table />
    </AppContext.Provider>
  ));
  return { app, told: () => setNow(log) };
}

const all = (selector: string) => [...document.querySelectorAll<HTMLElement>(selector)];
const sheets = () => all('.hold-panel, .table-sheet .sheet, .fact');
const clocks = [phrases.holds.tourniquet.label, phrases.holds.time.label];

/** At most one sheet and one row; beside a sheet that asks before a touch, of the rows the clocks' alone. */
function oneStands(): void {
  expect(sheets().length).toBeLessThanOrEqual(1);
  expect(all('.hold-row').length).toBeLessThanOrEqual(1);
  if (all('.hold-panel').length > 0)
    for (const row of all('.hold-row')) expect(clocks.some((label) => row.textContent?.includes(label))).toBe(true);
}

async function touch(element: HTMLElement): Promise<void> {
  clock += 1000;
  const event = new MouseEvent('click', { bubbles: true, detail: 0 });
  fireEvent(element, Object.defineProperty(event, 'timeStamp', { value: clock }));
  for (let turn = 0; turn < 60; turn++) await Promise.resolve();
  clock += 1000;
}

/** What leads on towards the start, whatever is asked. */
function onwards(): HTMLElement | undefined {
  const named = (...keys: string[]) =>
    all('.table-panel button').find((button) => keys.some((key) => button.textContent?.includes(w(key))));
  const [past] = all('.hold-answers .touch-consequential');
  const [reason] = all('.hold-reasons button');
  return past ?? reason ?? named('hold.reverse-yes', 'answer.go-on', 'answer.confirmed', 'fact.not-known');
}

/** The longest beginning of a log at whose end a screw has moves to start, with the one that has most. */
function calledIn(played: Log): { length: number; screw: string; moves: number } | null {
  for (let length = played.n; length > 3; length -= 3) {
    const log = new Log(undefined, content);
    for (const entry of played.entries.slice(0, length)) log.write(entry);
    const { phase, screws } = log.view;
    const [most] = Object.entries(screws)
      .filter(([, { move }]) => move === null)
      .map(([screw, { offered }]) => ({ length, screw, moves: offered.length - 1 }))
      .sort((a, b) => b.moves - a.moves);
    if (phase === 'working' && most && most.moves > 0) return most;
  }
  return null;
}

describe('whatever was told by the second ladder', () => {
  it('at most one sheet stands on the table, after every entry [Z5]', () => {
    let rows = 0;
    let panels = 0;
    for (const played of logs) {
      const log = new Log(undefined, content);
      const [first, ...rest] = played.entries;
      if (!first) continue;
      log.write(first);
      const table = tableOver(log);
      for (const entry of rest) {
        log.write(entry);
        table.told();
        oneStands();
        rows += all('.hold-row').length;
        panels += all('.hold-panel').length;
      }
      cleanup();
    }
    // What was never there would hold of everything.
    expect(rows).toBeGreaterThan(10);
    expect(panels).toBeGreaterThan(10);
  }, 60_000);

  it('a touch that starts a move opens one sheet at most before it is recorded [Z5]', async () => {
    let started = 0;
    let asked = 0;
    for (const played of logs) {
      const ready = calledIn(played);
      for (let card = 0; card < Math.min(3, ready?.moves ?? 0); card++) {
        const log = new Log(undefined, content);
        for (const entry of played.entries.slice(0, ready?.length)) log.write(entry);
        log.write({ type: 'screw-called', screw: ready?.screw ?? '' });
        tableOver(log);
        const first = all('.cards > button.card')[card];
        if (first) {
          const from = log.n;
          const panels = new Set<HTMLElement>();
          await touch(first);
          for (
            let step = 0;
            step < 12 && !log.entries.slice(from).some(({ type }) => type === 'move-started');
            step++
          ) {
            oneStands();
            for (const panel of all('.hold-panel')) panels.add(panel);
            const next = all('.hold-panel').length ? onwards() : (onwards() ?? all('.table-panel .cards button')[0]);
            if (!next) break;
            await touch(next);
          }
          expect(panels.size).toBeLessThanOrEqual(1);
          expect(log.entries.slice(from).map(({ type }) => type)).toContain('move-started');
          started++;
          asked += panels.size;
        }
        cleanup();
      }
    }
    expect(started).toBeGreaterThan(8);
    expect(asked).toBeGreaterThan(0);
  }, 60_000);
});
