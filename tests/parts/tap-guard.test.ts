import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeTapGuard, quietMs } from '../../src/parts/tap-guard.ts';
import { explore } from '../explore.ts';

describe('which taps count', () => {
  it('ignores a second tap within 400 ms and takes one after it [Z6]', () => {
    const guard = makeTapGuard();
    expect([1000, 1399, 1400, 1401, 1800].map((now) => guard.allowTap(now))).toEqual([true, false, true, false, true]);
  });

  it('does not let refused bounces keep it shut [Z6]', () => {
    const guard = makeTapGuard();
    expect([0, 150, 300, 450].map((now) => guard.allowTap(now))).toEqual([true, false, false, true]);
  });

  it('takes fast taps on two keys, but not a bounce on one key [Z6]', () => {
    const guard = makeTapGuard();
    const [three, six] = [{}, {}];
    expect(guard.allowTap(0, { on: three })).toBe(true);
    expect(guard.allowTap(120, { on: three })).toBe(false);
    expect(guard.allowTap(150, { on: six })).toBe(true);
  });

  it('ignores taps within 400 ms of a change of layout [Z7]', () => {
    const guard = makeTapGuard();
    guard.layoutChanged(5000);
    expect(guard.allowTap(5399)).toBe(false);
    expect(guard.allowTap(5400)).toBe(true);
  });

  it('ignores a tap that began before the layout changed, however late it is released [Z7]', () => {
    const guard = makeTapGuard();
    guard.layoutChanged(5000);
    expect(guard.allowTap(9000, { down: 4990 })).toBe(false);
    expect(guard.allowTap(9000, { down: 5300 })).toBe(false);
    expect(guard.allowTap(9000, { down: 5400 })).toBe(true);
  });

  it('never accepts two taps closer than the quiet time, nor one that began within it of a change [Z6] [Z7]', () => {
    const step = fc.record({
      wait: fc.integer({ min: 0, max: 700 }),
      layout: fc.boolean(),
      held: fc.integer({ min: 0, max: 900 }),
    });
    explore(
      fc.property(fc.array(step, { maxLength: 60 }), (steps) => {
        const guard = makeTapGuard();
        let now = 0;
        let layout = -Infinity;
        let last = -Infinity;
        for (const { wait, layout: changes, held } of steps) {
          now += wait;
          if (changes) {
            guard.layoutChanged(now);
            layout = now;
          } else if (guard.allowTap(now, { down: now - held })) {
            expect(now - last).toBeGreaterThanOrEqual(quietMs);
            expect(now - held - layout).toBeGreaterThanOrEqual(quietMs);
            last = now;
          }
        }
      }),
    );
  });
});
