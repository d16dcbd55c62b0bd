/** What holds for every log, plausible or scrambled. Seeded, so that a failure can be seen again. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { moveIds } from '../ids.ts';
import { acrossEntries } from '../../machines/case-file.ts';
import { checkEntry, type Entry } from '../../machines/entry.ts';
import { entryShapes } from '../../machines/formats.ts';
import { fold, step, unfolded } from '../../machines/fold.ts';
import type { Folded } from '../../machines/folded.ts';
import { view } from '../../machines/view.ts';
import type { CaseView } from '../../machines/view.types.ts';
import { explore } from '../explore.ts';
import { times } from '../lengths.ts';
import { content, type Log } from './build.ts';
import { anyLog, games, scrambled } from './generate.ts';

const runs = { numRuns: 120, endOnFailure: true };
const stepwise = (entries: readonly Entry[]): Folded =>
  entries.reduce((state, entry, i) => step(state, entry, entries.slice(0, i)), unfolded(content));
const contexts = (state: Folded) => [...state.screws].map(([id, { value, context }]) => [id, value, context]);

describe.each([
  ['played', games],
  ['scrambled', scrambled],
] as const)('any log that is %s', (_, logs) => {
  it('is well-formed', () => {
    explore(
      fc.property(logs, ({ entries }) => {
        expect(
          entries.flatMap((entry, i) =>
            'faults' in checkEntry(entry, `entries[${i}]`, entryShapes(content.ids, 1)) ? [entry] : [],
          ),
        ).toEqual([]);
        expect(acrossEntries(entries, content)).toEqual([]);
      }),
      runs,
    );
  });

  it('folds without a throw and keeps every entry: each is in force, struck or out of order, none twice', () => {
    explore(
      fc.property(logs, ({ entries }) => {
        const { outOfOrder, struck, late, unoffered, unanswered } = fold(entries, content);
        const listed = [...outOfOrder, ...struck];
        expect(new Set(listed).size).toBe(listed.length);
        const all = [...listed, ...late, ...unoffered, ...unanswered.map(({ entry }) => entry)];
        expect(all.every((n) => entries[n - 1]?.n === n)).toBe(true);
        expect(unoffered.every((n) => entries[n - 1]?.type === 'move-started')).toBe(true);
      }),
      runs,
    );
  });

  it('comes to the same entry by entry as all at once', () => {
    explore(
      fc.property(logs, ({ entries }) => {
        const [live, replayed] = [stepwise(entries), fold(entries, content)];
        expect(view(live)).toEqual(view(replayed));
        expect(contexts(live)).toEqual(contexts(replayed));
        expect(live.case.context).toEqual(replayed.case.context);
      }),
      runs,
    );
  });

  it('gives a state that is JSON, without a figure that is none', () => {
    explore(
      fc.property(logs, (log) => {
        const state = log.view;
        expect(JSON.parse(JSON.stringify(state))).toEqual(state);
        expect(numbersOf(state).every(Number.isFinite)).toBe(true);
      }),
      runs,
    );
  });
});

function numbersOf(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(numbersOf) : [];
}

describe('the offer of any screw', () => {
  it('offers nothing that is withdrawn, leaves out no move of its stage, and always offers to stop [Z10]', () => {
    explore(
      fc.property(anyLog, (log) => {
        const { screws } = log.view;
        for (const [id, { stage, offered, withdrawn }] of Object.entries(screws)) {
          const open = offered.map(({ move }) => move);
          const shut = withdrawn.map(({ move }) => move);
          const all = [...open, ...shut];
          expect(new Set(all).size).toBe(all.length);
          if (stage === 'out' || stage === 'left-in') {
            expect(all).toEqual([]);
            continue;
          }
          const jammed = log.folded.screws.get(id)?.context.jammedSeat === true;
          const made = content.moves.filter(
            (move) => move.fits.includes(stage) || (stage === 'seated' && move.fitsJammedSeat && jammed),
          );
          expect([...all].sort()).toEqual(made.map((move) => move.id).sort());
          expect(open).toContain('leave-in');
          expect(withdrawn.every(({ why, missing }) => (why === 'tool-missing') === missing.length > 0)).toBe(true);
        }
      }),
      runs,
    );
  });

  it('stands in the order of the ladder, leaving in first or last', () => {
    explore(
      fc.property(anyLog, (log) => {
        for (const { offered } of Object.values(log.view.screws)) {
          const places = offered.filter(({ move }) => move !== 'leave-in').map(({ move }) => moveIds.indexOf(move));
          expect(places).toEqual([...places].sort((a, b) => a - b));
          const at = offered.findIndex(({ move }) => move === 'leave-in');
          const others = offered.filter(({ move }) => move !== 'leave-in');
          const last = others.length === 0 || !others.every(({ holds }) => holds.includes('bone-stop'));
          if (offered.length) expect(at).toBe(last ? offered.length - 1 : 0);
        }
      }),
      runs,
    );
  });

  it('has no plain driver move after two slips, whatever happened since [Z10]', () => {
    explore(
      fc.property(anyLog, (log) => {
        for (const { slips, stage, offered } of Object.values(log.view.screws))
          if (slips >= 2 && stage !== 'seated')
            expect(offered.map(({ move }) => move)).not.toEqual(expect.arrayContaining(['reseat-driver']));
      }),
      runs,
    );
  });

  it('never shows less bone lost after a move than before it [Z9]', () => {
    explore(
      fc.property(anyLog, (log) => {
        for (const { offered } of Object.values(log.view.screws))
          for (const { cortexLost, cortexLostBefore } of offered) {
            expect(cortexLost === null).toBe(cortexLostBefore === null);
            if (cortexLost !== null) expect(cortexLost).toBeGreaterThanOrEqual((cortexLostBefore as number) - 1e-9);
          }
      }),
      runs,
    );
  });
});

const strike = (n: number, entry: number, after: Entry): Entry => ({
  n,
  at: after.logged,
  logged: after.logged,
  type: 'struck',
  entry,
  reason: 'typing error',
});
const blank = ({ n, at, logged }: Entry): Entry => ({ n, at, logged, type: 'remark', text: 'blank' });

/** The same log as if entry `k` had never been written, with a blank remark for its strike. */
function without(entries: readonly Entry[], k: number): Entry[] {
  const moved = (n: number) => (n > k ? n - 1 : n);
  return entries
    .filter(({ n }) => n !== k)
    .map((entry) => (entry.type === 'struck' ? { ...entry, entry: moved(entry.entry) } : entry))
    .map((entry) => ({ ...entry, n: moved(entry.n) }));
}

/** A pack of foil is named by the number of the move that packed it. */
const movedPart = (id: string, move: (n: number) => number) =>
  id.replace(/^(foil-.*-)(\d+)$/, (_, name: string, n: string) => `${name}${move(Number(n))}`);

/** A state in the numbering of a log without entry `k`; `last` is the strike itself. */
function renumbered(state: CaseView, k: number, last: number) {
  const move = (n: number) => (n > k ? n - 1 : n);
  const list = (ns: number[]) => ns.filter((n) => n !== k && n !== last).map(move);
  const { clocks: _, ...rest } = state;
  return {
    ...rest,
    parts: Object.fromEntries(Object.entries(state.parts).map(([id, part]) => [movedPart(id, move), part])),
    toolTips: state.toolTips.map((tip) => ({ ...tip, entry: move(tip.entry) })),
    outOfOrder: list(state.outOfOrder),
    unoffered: list(state.unoffered),
    struck: list(state.struck),
    late: list(state.late),
    unanswered: state.unanswered.map(({ hold, entry }) => ({ hold, entry: move(entry) })),
  };
}

describe('a struck entry', () => {
  const logAndEntry = anyLog
    .filter((log: Log) => log.n > 1)
    .chain((log) => fc.tuple(fc.constant(log), fc.integer({ min: 1, max: log.n })))
    .filter(
      ([{ entries }, k]) =>
        entries[k - 1]?.type !== 'struck' && !entries.some((entry) => entry.type === 'struck' && entry.entry === k),
    );

  it('says nothing, whatever it said [Z3]', () => {
    explore(
      fc.property(logAndEntry, ([{ entries }, k]) => {
        const last = strike(entries.length + 1, k, entries.at(-1) as Entry);
        const said = fold([...entries, last], content);
        if (!said.struck.includes(k)) return;
        const silent = fold([...entries.map((entry) => (entry.n === k ? blank(entry) : entry)), last], content);
        if (!silent.struck.includes(k)) return;
        expect(view(said)).toEqual(view(silent));
      }),
      { ...runs, numRuns: 200 },
    );
  });

  it('leaves the state as if it were not there', () => {
    let compared = 0;
    explore(
      fc.property(logAndEntry, ([{ entries }, k]) => {
        const n = entries.length + 1;
        const last = strike(n, k, entries.at(-1) as Entry);
        const said = view(fold([...entries, last], content));
        if (!said.struck.includes(k)) return;
        const gone = without([...entries, blank(last)], k);
        expect(renumbered(said, k, n)).toEqual(renumbered(view(fold(gone, content)), Infinity, n - 1));
        compared++;
      }),
      { ...runs, numRuns: 200 },
    );
    expect(compared).toBeGreaterThan(times(80));
  });
});
