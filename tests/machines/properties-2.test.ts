/** What holds for every log of format 2. Seeded, so that a failure can be seen again. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openKeys, partAccounts } from '../../machines/account.ts';
import { fold } from '../../machines/fold.ts';
import { attemptsOf, rowsOf } from '../../machines/trace.ts';
import { view } from '../../machines/view.ts';
import { explore } from '../explore.ts';
import { bothWays, faultsOf, fileOf } from './build-2.ts';
import { content, type Log } from './build.ts';
import { told2 } from './generate-2.ts';

const runs = { numRuns: 60, endOnFailure: true };

describe('any log of format 2', () => {
  it('is well-formed', () => {
    explore(
      fc.property(told2, ({ entries }) => {
        expect(faultsOf(fileOf(entries))).toEqual([]);
      }),
      runs,
    );
  });

  it('keeps every entry: each is in force, struck or out of order, none twice', () => {
    explore(
      fc.property(told2, ({ entries }) => {
        const { outOfOrder, struck, trace } = fold(entries, content);
        const listed = [...outOfOrder, ...struck];
        expect(new Set(listed).size).toBe(listed.length);
        expect(rowsOf(trace).map(({ entry }) => entry.n)).toEqual(entries.map(({ n }) => n));
        expect(rowsOf(trace).flatMap(({ heard, entry }) => (heard ? [] : [entry.n]))).toEqual(
          listed.sort((a, b) => a - b),
        );
      }),
      runs,
    );
  });

  it('comes to the same entry by entry as all at once', () => {
    explore(
      fc.property(told2, (log) => {
        const [lived, whole] = bothWays(log);
        expect(lived).toEqual(whole);
      }),
      runs,
    );
  });

  it('gives a state that is JSON', () => {
    explore(
      fc.property(told2, (log) => {
        const state = view(fold(log.entries, content));
        expect(JSON.parse(JSON.stringify(state))).toEqual(state);
      }),
      runs,
    );
  });

  it('has each move begin once and end once at most, on one screw', () => {
    explore(
      fc.property(told2, ({ entries }) => {
        const attempts = attemptsOf(fold(entries, content).trace);
        const starts = attempts.map(({ start }) => start.n);
        expect(new Set(starts).size).toBe(starts.length);
        const ends = attempts.flatMap(({ end }) => (end?.type === 'move-ended' ? [end.n] : []));
        expect(new Set(ends).size).toBe(ends.length);
        for (const { screw, start, end } of attempts) {
          expect(start.screw).toBe(screw);
          if (end?.type === 'move-ended') expect(end.screw).toBe(screw);
        }
      }),
      runs,
    );
  });

  it('is open in its account where a screw, a tip or a part is', () => {
    explore(
      fc.property(told2, ({ entries }) => {
        const state = fold(entries, content);
        const { screws, toolTips } = view(state);
        const all = [...Object.values(screws).map(({ metal }) => metal), ...toolTips, ...partAccounts(state)];
        expect(openKeys(state).length > 0).toBe(all.some(({ closes }) => closes === null || closes === 'open'));
      }),
      runs,
    );
  });

  it('stretches nothing that was measured', () => {
    explore(
      fc.property(told2, ({ entries }) => {
        const state = fold(entries, content);
        const { screws } = view(state);
        for (const [id, { context }] of state.screws) {
          const measured = context.pieces.reduce((sum, length) => sum + length, 0);
          expect([null, measured]).toContain(screws[id]?.metal.recovered);
        }
      }),
      runs,
    );
  });
});

describe('a word on other entries that is struck', () => {
  const last = (log: Log) => log.entries.findLast(({ type }) => type === 'reassigned' || type === 'move-answered');

  it('leaves all as if a blank remark had stood there', () => {
    let compared = 0;
    explore(
      fc.property(told2, (log) => {
        const word = last(log);
        if (!word || log.entries.some((one) => one.type === 'struck' && one.entry === word.n)) return;
        const { n, at, logged } = word;
        const end = { n: log.n + 1, at: log.entries.at(-1)?.logged ?? at, logged: log.entries.at(-1)?.logged ?? at };
        const strike = { ...end, type: 'struck', entry: n, reason: 'typing error' } as const;
        const blank = { n, at, logged, type: 'remark', text: 'blank' } as const;
        const said = fold([...log.entries, strike], content);
        const silent = fold([...log.entries.map((one) => (one.n === n ? blank : one)), strike], content);
        if (!said.struck.includes(n) || !silent.struck.includes(n)) return;
        expect(view(said)).toEqual(view(silent));
        compared++;
      }),
      runs,
    );
    expect(compared).toBeGreaterThan(10);
  });
});
