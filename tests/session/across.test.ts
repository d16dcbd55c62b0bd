/** The department's numbers on the device: from its closed cases, beside everything else. */
import 'fake-indexeddb/auto';
import { describe, expect, it, vi } from 'vitest';
import { currentVersion } from '../../content/releases/index.ts';
import type { Entry } from '../../machines/entry.ts';
import { sealAll } from '../../machines/seal.ts';
import { openMemory } from '../../src/store/memory.ts';
import type { StoredCase } from '../../src/store/port.ts';
import { acrossOf } from '../../src/session/across.ts';
import { demoDrafts } from '../../src/session/demo.ts';
import { forecastRates, keepRates } from '../../src/session/rates.ts';
import { createSession } from '../../src/session/session.ts';
import { Log, atTheTable, content } from '../machines/build.ts';

const finished = (label: string, end: 'out' | 'no-change' = 'out') =>
  atTheTable({}, { label }).tries('1', 'turn-out', end).write({ type: 'work-ended' }).write({ type: 'case-closed' });
let ids = 0;
const stored = (entries: readonly Entry[], demo = false): StoredCase => ({
  meta: { caseId: `case-${++ids}`, contentVersion: currentVersion, demo, created: '2026-03-04T08:00:00Z' },
  entries: sealAll(entries),
});
const sessionOf = (...cases: StoredCase[]) =>
  createSession({ log: openMemory(), stored: cases, now: () => new Date().toISOString(), newId: () => `new-${++ids}` });
const tries = (numbers: { report: { moves: { tries: number }[] } } | null) => numbers?.report.moves[0]?.tries;

describe('the numbers across cases', () => {
  it('count the closed cases of the device, and say what they leave out', async () => {
    const across = acrossOf(sessionOf(stored(finished('a').entries), stored(atTheTable().entries)));
    expect(across.numbers()).toBeNull();
    await vi.waitFor(() => expect(tries(across.numbers())).toBe(1), { timeout: 15_000 });
    expect(across.numbers()?.report.cases.not).toMatchObject({ open: 1, invented: 0 });
    expect(across.progress()).toEqual({ done: 2, of: 2 });
  });

  it('count invented cases only when asked, by the mark of the device or of the label', async () => {
    const demo = new Log();
    for (const draft of demoDrafts()) demo.write(draft);
    demo.start().tries('1', 'turn-out', 'out').write({ type: 'work-ended' }).write({ type: 'case-closed' });
    const across = acrossOf(
      sessionOf(stored(finished('a').entries), stored(finished('b').entries, true), stored(demo.entries)),
    );
    await vi.waitFor(() => expect(tries(across.numbers())).toBe(1), { timeout: 15_000 });
    expect(across.numbers()?.report.cases.not.invented).toBe(2);
    expect(tries(across.withInvented())).toBe(3);
  });

  it('leave out a case whose seals are broken', async () => {
    const whole = stored(finished('a').entries);
    const broken = stored(finished('b').entries);
    broken.entries[3] = { ...broken.entries[3], calledBy: 'scrub' } as Entry;
    const across = acrossOf(sessionOf(whole, broken));
    await vi.waitFor(() => expect(across.numbers()?.report.cases).toMatchObject({ counted: 1, not: { broken: 1 } }), {
      timeout: 15_000,
    });
  });

  it('follow when a case comes in, and when one goes', async () => {
    const first = stored(finished('a').entries);
    const session = sessionOf(first);
    const across = acrossOf(session);
    await vi.waitFor(() => expect(tries(across.numbers())).toBe(1), { timeout: 15_000 });
    const brought = await session.bringIn(currentVersion, sealAll(finished('b').entries));
    expect(brought.ok).toBe(true);
    await vi.waitFor(() => expect(tries(across.numbers())).toBe(2), { timeout: 15_000 });
    await session.remove(first.meta.caseId);
    await vi.waitFor(() => expect(tries(across.numbers())).toBe(1), { timeout: 15_000 });
  });

  it('are made once for a session', () => {
    const session = sessionOf();
    expect(acrossOf(session)).toBe(acrossOf(session));
  });
});

describe('the rates of a forecast', () => {
  it('are the released ones brought up to date, but for a move with a share put in by hand', async () => {
    const session = sessionOf(stored(finished('a', 'no-change').entries));
    const app = { content: () => content, session };
    const row = (outcome: string) =>
      forecastRates(app).find((rate) => rate.move === 'turn-out' && rate.outcome === outcome);
    expect(forecastRates(app)).toEqual([]);
    // From memory: four tries, beside the slips, which were counted in 198 screws.
    const memory = ((4 * 0.01) / 0.995 + 1) / 5;
    const rest = (198 * 0.995 + 1) / 199;
    await vi.waitFor(() => expect(row('no-change')?.value).toBeCloseTo(rest * memory, 12), { timeout: 15_000 });
    expect(row('no-change')?.status).toContain('here 1 of 1');
    await keepRates([{ move: 'turn-out', outcome: 'out', value: 0.5, status: 'ours' }]);
    expect(forecastRates(app)).toEqual([{ move: 'turn-out', outcome: 'out', value: 0.5, status: 'ours' }]);
    await keepRates([]);
  });
});
