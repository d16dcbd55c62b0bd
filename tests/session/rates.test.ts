import 'fake-indexeddb/auto';
import { clear } from 'idb-keyval';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import type { Content } from '../../content/types.ts';
import type { OwnRate } from '../../machines/own-rates.ts';
import { inSlices } from '../../src/session/time-slicing.ts';

const content = loadContent('2026.1') as Content;
const app = { content: () => content };
const rate: OwnRate = { move: 'turn-out', outcome: 'out', value: 0.9, status: 'ours' };

/** The module as a start of the app finds it: nothing remembered but what the browser kept. */
const started = async () => {
  vi.resetModules();
  return import('../../src/session/rates.ts');
};
beforeEach(() => clear());

describe('the rates of a device', () => {
  it('are the released ones until others are kept, and those after a start anew', async () => {
    const first = await started();
    expect(first.ratesInUse(app)).toEqual({ rates: [], from: 'released' });
    expect(await first.keepRates([rate])).toEqual({ ok: true });
    expect(first.ratesInUse(app)).toEqual({ rates: [rate], from: 'device' });
    const second = await started();
    second.ratesInUse(app);
    await vi.waitFor(() => expect(second.ratesInUse(app)).toEqual({ rates: [rate], from: 'device' }));
  });

  it('are the released ones where what was kept makes no sense', async () => {
    const first = await started();
    await first.keepRates([{ ...rate, value: 7 }]);
    expect(first.ratesInUse(app)).toEqual({ rates: [], from: 'released' });
  });

  it('stay as they were, with the reason, where the browser cannot keep them', async () => {
    const rates = await started();
    const kept = await rates.keepRates([{ ...rate, status: (() => 'no plain data') as never }]);
    expect(kept).toMatchObject({
      ok: false,
      reason: { code: 'other', detail: expect.stringMatching(/clone/i) as string },
    });
    expect(rates.ratesInUse(app).from).toBe('released');
  });

  it('take one share more beside those that are kept, also before these were read; too much is refused', async () => {
    await (await started()).keepRates([rate]);
    const rates = await started();
    const slipped = { move: 'turn-out', outcome: 'slipped', value: 0.05, status: 'ours' } as const;
    expect(await rates.keepRate(slipped, content)).toEqual({ ok: true });
    expect(rates.ratesInUse(app).rates).toEqual([rate, slipped]);
    const more = await rates.keepRate({ ...slipped, value: 0.2 }, content);
    expect('faults' in more && more.faults.map(({ path }) => path)).toEqual(['[1].value']);
    expect(rates.ratesInUse(app).rates).toEqual([rate, slipped]);
  });

  it('take one share more, or another in its place, and no more than all of a move', async () => {
    const { withRate } = await started();
    const one = { move: 'turn-out', outcome: 'out', value: 0.9, status: 'ours' } as const;
    expect(withRate([], one, content)).toEqual({ rates: [one] });
    expect(withRate([one], { ...one, value: 0.7 }, content)).toEqual({ rates: [{ ...one, value: 0.7 }] });
    const more = withRate([one], { ...one, outcome: 'slipped', value: 0.2 }, content);
    expect('faults' in more && more.faults.map(({ path }) => path)).toEqual(['[1].value']);
  });

  it('come back from the file they went out in, and are refused with the path', async () => {
    const { ratesFile, readRatesFile } = await started();
    const bytes = (text: string) => new TextEncoder().encode(text);
    expect(readRatesFile(bytes(ratesFile([rate]).content), content)).toEqual({ rates: [rate] });
    const bad = readRatesFile(bytes('[{"move":"turn-out","outcome":"out","value":2}]'), content);
    expect('faults' in bad && bad.faults[0]?.path).toBe('[0].value');
    const broken = readRatesFile(bytes('['), content);
    expect('faults' in broken && broken.faults[0]?.message).toBe('broken JSON');
  });
});

describe('a computation in slices', () => {
  function* counting(to: number, seen: number[]) {
    for (let i = 0; i < to; i++) {
      seen.push(i);
      // Long enough that one slice cannot take them all.
      const until = performance.now() + 1;
      while (performance.now() < until);
      yield;
    }
    return to;
  }

  it('comes to its end, and lets others go first in between', async () => {
    let others = 0;
    const timer = setInterval(() => others++, 0);
    const seen: number[] = [];
    expect(await inSlices(counting(60, seen), () => true)).toBe(60);
    clearInterval(timer);
    expect(seen).toHaveLength(60);
    expect(others).toBeGreaterThan(0);
  });

  it('is dropped once it is no longer wanted', async () => {
    const seen: number[] = [];
    expect(await inSlices(counting(1000, seen), () => false)).toBeNull();
    expect(seen.length).toBeLessThan(1000);
  });
});
