/** What a passing second, and one more entry, draw anew on the main screen: the clocks, and what has changed. */
import { cleanup, render, screen } from '@solidjs/testing-library';
import { createSignal } from 'solid-js';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { demoDrafts } from '../../src/session/demo.ts';
import { App } from '../../src/screens/App.tsx';
import type { Preferences } from '../../src/screens/app.ts';
import { createSession } from '../../src/session/session.ts';
import type { DevicePrivacy } from '../../src/screens/privacy.ts';
import { openMemory } from '../../src/store/memory.ts';

const noon = Date.parse('2026-03-02T12:00:00Z');

beforeEach(() => void vi.useFakeTimers({ now: noon }));
afterEach(() => {
  cleanup();
  vi.useRealTimers();
});

async function atTheTable() {
  let ids = 0;
  const session = createSession({
    log: openMemory(),
    stored: [],
    now: () => new Date().toISOString(),
    newId: () => `00000000-0000-4000-8000-${String(++ids).padStart(12, '0')}`,
  });
  const [first, ...rest] = demoDrafts('UTC');
  if (first?.type !== 'case-opened') throw new Error('the case has to be opened first');
  await session.create(first);
  await session.recordAll([...rest, { type: 'work-started' }, { type: 'screw-called', screw: '3' }]);
  const [preferences] = createSignal<Preferences>({ theme: 'dark', pxPerMm: 4, distance: 2 });
  const nothing = () => null;
  render(() => (
    <App
      session={session}
      writer={() => true}
      wall={false}
      nowMs={() => Date.now()}
      preferences={preferences}
      prefer={() => {}}
      startTold={() => []}
      update={nothing}
      storage={() => 'kept'}
      silentSince={nothing}
      gap={nothing}
      awake={() => {}}
      awakeTold={nothing}
      privacy={{ locked: () => false, retentionMonths: () => null } as unknown as DevicePrivacy}
    />
  ));
  return session;
}

/** Every change of the page while some work is done. */
async function changes(work: () => unknown): Promise<MutationRecord[]> {
  const seen: MutationRecord[] = [];
  const observer = new MutationObserver((records) => seen.push(...records));
  observer.observe(document.body, { subtree: true, childList: true, characterData: true, attributes: true });
  await work();
  seen.push(...observer.takeRecords());
  observer.disconnect();
  return seen;
}
const elementOf = ({ target }: MutationRecord) => (target instanceof Element ? target : target.parentElement);

it('touches nothing but text in the clocks and the time left to take back, over ten seconds at rest', async () => {
  await atTheTable();
  // Nothing can be taken back any more, and the quiet second hand runs.
  await vi.advanceTimersByTimeAsync(12_000);
  const seen = await changes(() => vi.advanceTimersByTimeAsync(10_000));
  expect(seen.length).toBeGreaterThanOrEqual(10);
  expect(seen.length).toBeLessThanOrEqual(12);
  expect(seen.filter((record) => !elementOf(record)?.closest('.bar-clocks'))).toEqual([]);
});

it('keeps map, pictures and foot when one more entry comes that does not concern them', async () => {
  const session = await atTheTable();
  await vi.advanceTimersByTimeAsync(2000);
  const kept = [
    '.map-touch, .map-drawing',
    '.pictures svg *, .stage-section svg *',
    '.table-foot > .touch',
    '.card',
  ].map((of) => [...document.querySelectorAll(of)]);
  expect(kept.every((all) => all.length > 0)).toBe(true);
  const seen = await changes(() => session.record({ type: 'remark', text: 'Invented' }));
  expect(screen.getByText(/Invented/)).toBeTruthy();
  expect(kept.flat().filter((one) => !one.isConnected)).toEqual([]);
  expect(
    seen.filter((record) => elementOf(record)?.closest('.table-map, .table-pictures, .stage-section, .cards')),
  ).toEqual([]);
});
