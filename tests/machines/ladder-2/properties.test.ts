/** What holds for every log under the second ladder, played, scrambled or told late. Seeded. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fold, step, unfolded } from '../../../machines/fold.ts';
import { isWorking } from '../../../machines/screw.context.ts';
import { view } from '../../../machines/view.ts';
import { explore } from '../../explore.ts';
import type { Log } from '../build.ts';
import { toldFrom } from '../generate-2.ts';
import { playedIn, scrambledIn } from '../generate.ts';
import { atTable, second } from './build.ts';

const runs = { numRuns: 40, endOnFailure: true };
const any: fc.Arbitrary<Log> = fc.oneof(
  toldFrom(() => atTable()),
  playedIn(second),
  scrambledIn(second),
);

describe('any log under the second ladder', { timeout: 60_000 }, () => {
  it('comes to the same entry by entry as all at once, and is JSON', () => {
    explore(
      fc.property(any, ({ entries }) => {
        const live = entries.reduce((state, entry, i) => step(state, entry, entries.slice(0, i)), unfolded(second));
        const whole = fold(entries, second);
        expect(view(live)).toEqual(view(whole));
        expect([...live.screws].map(([, { context }]) => context)).toEqual(
          [...whole.screws].map(([, { context }]) => context),
        );
        expect(JSON.parse(JSON.stringify(view(whole)))).toEqual(view(whole));
      }),
      { ...runs, numRuns: 20 },
    );
  });

  it('offers or closes each move of a stage once, with its reason, and always offers to stop', () => {
    explore(
      fc.property(any, (log) => {
        for (const { stage, offered, withdrawn } of Object.values(log.view.screws)) {
          const all = [...offered.map(({ move }) => move), ...withdrawn.map(({ move }) => move)];
          expect(new Set(all).size).toBe(all.length);
          if (!isWorking(stage)) {
            expect(all).toEqual([]);
            continue;
          }
          expect(all).toContain('leave-in');
          // What needs no opening is there whenever its stage is.
          const made = second.moves.filter(({ fits, opens }) => fits.includes(stage) && opens.length === 0);
          expect(all).toEqual(expect.arrayContaining(made.map(({ id }) => id)));
          for (const { why, missing } of withdrawn) {
            expect(second.ids.closed).toContain(why);
            expect(why === 'tool-missing').toBe(missing.length > 0);
          }
        }
      }),
      runs,
    );
  });

  it('shows a figure of bone before a move exactly where it shows one after it, and never less of it lost', () => {
    explore(
      fc.property(any, (log) => {
        for (const { offered } of Object.values(log.view.screws))
          for (const { cortexLost, cortexLostBefore } of offered) {
            expect(cortexLost === null).toBe(cortexLostBefore === null);
            if (cortexLost !== null) expect(cortexLost).toBeGreaterThanOrEqual((cortexLostBefore as number) - 1e-9);
          }
      }),
      runs,
    );
  });

  it('says of a move that would open by waiting that it is not offered, and names no screw that has ended', () => {
    let rows = 0;
    explore(
      fc.property(any, (log) => {
        const { screws } = log.view;
        for (const [id, { stage, offered, ifYouWait = [] }] of Object.entries(screws)) {
          expect(ifYouWait.length).toBeLessThanOrEqual(isWorking(stage) ? 1 : 0);
          for (const row of ifYouWait) {
            rows++;
            expect(offered.map(({ move }) => move)).not.toContain(row.opens);
            expect(row.screws ?? []).not.toContain(id);
            for (const other of row.screws ?? []) expect(isWorking(screws[other]?.stage ?? 'out')).toBe(true);
          }
        }
      }),
      runs,
    );
    expect(rows).toBeGreaterThan(10);
  });

  it('strips no recess at the first slip that was looked at, and every one at the second', () => {
    explore(
      fc.property(any, (log) => {
        for (const { slips, stage } of Object.values(log.view.screws))
          if (stage === 'seated') expect(slips).toBeLessThan(2);
      }),
      runs,
    );
  });

  it('keeps the shank, the moves tried and what is reamed as the first ladder reads them', () => {
    explore(
      fc.property(any, (log) => {
        for (const { context } of log.folded.screws.values()) {
          const { climb, shankProud, usedUp, reamed } = context;
          expect(shankProud).toBe(climb?.shank === true);
          expect([...usedUp].sort()).toEqual([...new Set(climb?.tries.map(({ move }) => move))].sort());
          expect(reamed).toBe(climb?.reaming !== null);
        }
      }),
      runs,
    );
  });
});
