/** What each entry was, worked out once: rows, attempts, and the few facts of a case in a list. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { headlineOf, headlineOfFolded } from '../../machines/case-line.ts';
import type { Entry } from '../../machines/entry.ts';
import { fold, step, unfolded } from '../../machines/fold.ts';
import { attemptsOf, effectiveEntries, leftFrom, rowOf, rowsOf } from '../../machines/trace.ts';
import { explore } from '../explore.ts';
import { length } from '../lengths.ts';
import { content, atTheTable } from './build.ts';
import { anyLog as logs } from './generate.ts';

const start = (move: string, more = {}) => ({ type: 'move-started', screw: '1', move, ...more }) as const;
const end = (outcome: string, more = {}) => ({ type: 'move-ended', screw: '1', outcome, ...more }) as const;
const strike = (entry: number) => ({ type: 'struck', entry, reason: 'wrong touch' }) as const;

/** A case at work on screw 1, then these, a minute apart. Numbers in `rows` count from the first of these. */
function played(...rows: object[]) {
  const log = atTheTable();
  const first = log.entries.length;
  const entries = [...log.entries];
  for (const row of rows) {
    const at = new Date(Date.parse((entries.at(-1) as Entry).at) + 60_000).toISOString();
    const own = 'entry' in row ? { ...row, entry: first + (row.entry as number) } : row;
    entries.push({ ...own, n: entries.length + 1, at, logged: at } as Entry);
  }
  const folded = fold(entries, content);
  return {
    entries,
    folded,
    first,
    row: (n: number) => rowOf(folded.trace, first + n),
    attempts: attemptsOf(folded.trace),
  };
}

describe('an attempt', () => {
  it('goes from its start to its end, with the stage before and after and the minutes between', () => {
    const { attempts, row, first } = played(start('turn-out'), end('slipped'));
    expect(attempts).toHaveLength(1);
    expect(attempts[0]).toMatchObject({
      screw: '1',
      move: 'turn-out',
      outcome: 'slipped',
      gained: false,
      minutes: 1,
      stageBefore: 'seated',
      stageAfter: 'recess-stripped',
    });
    expect(attempts[0]?.start.n).toBe(first + 1);
    expect(attempts[0]?.end?.n).toBe(first + 2);
    expect(row(2)?.ended).toBe(attempts[0]);
  });

  it('that runs has no end, no outcome and no minutes', () => {
    const [attempt] = played(start('turn-out')).attempts;
    expect(attempt).toMatchObject({ end: null, outcome: null, minutes: null, gained: false });
  });

  it('that another start ends has an end that nobody told an outcome of', () => {
    const { attempts, first } = played(start('turn-out'), start('grip-head'), end('moving'));
    expect(attempts.map(({ move, outcome }) => [move, outcome])).toEqual([
      ['turn-out', null],
      ['grip-head', 'moving'],
    ]);
    expect(attempts[0]?.end?.n).toBe(first + 2);
    expect(attempts[1]?.gained).toBe(true);
  });

  it('that leaving the screw in ends is told no outcome; the stage it was left from is kept', () => {
    const { attempts, folded } = played(start('turn-out'), end('slipped'), start('grip-head'), {
      type: 'left-in',
      screw: '1',
      length: null,
      where: 'canal',
      reason: 'deep',
    });
    expect(attempts[1]).toMatchObject({ move: 'grip-head', outcome: null, stageAfter: 'left-in' });
    expect(leftFrom(folded.trace).get('1')).toBe('recess-stripped');
  });

  it('names the bores that it left, and whether somebody entered them', () => {
    const made = [{ wall: 'near', diameter: 8 }];
    const { attempts } = played(
      start('turn-out'),
      end('head-sheared'),
      start('gouge-and-grip'),
      end('no-change'),
      start('gouge-and-grip'),
      end('moving', { bores: made }),
    );
    expect(attempts.map(({ bores, boresEntered }) => [bores.length > 0, boresEntered])).toEqual([
      [false, false],
      [true, false],
      [true, true],
    ]);
    expect(attempts[2]?.bores).toEqual(made);
  });

  it('names the holds that nobody had answered as it began', () => {
    const { attempts, row } = played(start('turn-out'), end('slipped'), start('turn-out'));
    expect(attempts[1]?.holds).toEqual(['reassess']);
    expect(row(3)).toMatchObject({ unanswered: ['reassess'], unoffered: true });
  });
});

describe('a row', () => {
  it('says of a struck end which move it was told for, and counts for nothing', () => {
    const { row, attempts } = played(start('turn-out'), end('slipped'), strike(2));
    expect(row(2)).toMatchObject({ struck: true, heard: false, ended: null });
    expect(row(2)?.toldOf?.move).toBe('turn-out');
    expect(attempts[0]).toMatchObject({ move: 'turn-out', end: null });
  });

  it('of an end without a move that runs names the start told last, and has no effect', () => {
    const { row } = played(start('turn-out'), end('slipped'), end('slipped'));
    expect(row(3)).toMatchObject({ heard: false, struck: false, ended: null });
    expect(row(3)?.toldOf?.move).toBe('turn-out');
    expect(played(end('slipped')).row(1)?.toldOf).toBeNull();
  });

  it('says that a screw was listed before only when that listing stands', () => {
    const again = {
      type: 'screw-listed',
      screw: '9',
      diameter: 3.5,
      thread: 'cortical',
      locking: true,
      drive: 'unknown',
      material: 'steel',
      length: 20,
      cortices: 2,
    };
    expect(played(again, again).row(2)?.again).toBe(true);
    expect(played(again, strike(1), again).row(3)?.again).toBe(false);
  });

  it('knows what was missing once a move had ended, and only then', () => {
    const { row } = played(start('turn-out'), end('slipped'));
    expect(row(1)?.left).toBeNull();
    expect(row(2)?.left?.situation.screw.stage).toBe('recess-stripped');
  });
});

describe('a start', () => {
  const drilled = [{ wall: 'near', diameter: 6 }];

  it('names its tool and the time of it, and that its bores were entered', () => {
    const [attempt] = played(start('turn-out', { tool: 'driver-hexagonal', bores: drilled })).attempts;
    expect(attempt).toMatchObject({
      ...{ screw: '1', tool: 'driver-hexagonal', outcome: null, end: null, to: null, holds: [], bores: [] },
      ...{ stageBefore: 'seated', stageAfter: 'seated', boresEntered: true },
    });
    expect(attempt?.from).toBe(Date.parse(attempt?.start.at ?? ''));
    expect(played(start('turn-out')).attempts[0]?.boresEntered).toBe(false);
    const ended = played(start('turn-out', { bores: drilled }), end('moving')).attempts[0];
    expect(ended).toMatchObject({ bores: drilled, boresEntered: true });
    expect(ended?.to).toBe(Date.parse(ended?.end?.at ?? ''));
  });

  it('of a screw that is not listed is told, and had no effect', () => {
    const { row, attempts } = played(
      { type: 'move-started', screw: '9', move: 'turn-out' },
      { type: 'move-ended', screw: '9', outcome: 'out' },
    );
    expect(attempts).toEqual([]);
    expect(row(1)).toMatchObject({ heard: false, began: null, stageBefore: null, unanswered: [], unoffered: false });
    expect(row(2)?.toldOf).toMatchObject({ screw: '9', move: 'turn-out', stageBefore: 'seated' });
  });

  it('that still runs is what an end after closing was told for, not the start entered after it', () => {
    const { row } = played(start('turn-out'), { type: 'case-closed' }, start('grip-head'), end('moving'));
    expect(row(4)).toMatchObject({ heard: false, ended: null });
    expect(row(4)?.toldOf?.move).toBe('turn-out');
  });

  it('is what nothing but an end is told for', () => {
    const { row } = played(start('turn-out'), { type: 'found', screw: '1' }, end('moving'));
    expect([1, 2, 3].map((n) => row(n)?.toldOf)).toEqual([null, null, null]);
    expect([1, 2, 3].map((n) => row(n)?.began?.move)).toEqual(['turn-out', undefined, undefined]);
  });

  it('runs on each screw for itself', () => {
    const second = atTheTable().screw('2').begins('1', 'turn-out').begins('2', 'grip-head').ends('2', 'moving');
    expect(attemptsOf(second.folded.trace).map(({ screw, outcome }) => [screw, outcome])).toEqual([
      ['1', null],
      ['2', 'moving'],
    ]);
  });
});

describe('a screw that was left in', () => {
  const leave = { type: 'left-in', screw: '1', length: null, where: 'canal', reason: 'deep' } as const;

  it('is so from the stage in which it was, by the word that had effect', () => {
    const left = (...rows: object[]) => [...leftFrom(played(...rows).folded.trace)];
    expect(left()).toEqual([]);
    expect(left(leave, leave)).toEqual([['1', 'seated']]);
    expect(left(start('turn-out'), end('out'), leave)).toEqual([]);
    expect(left(leave, { type: 'struck', entry: 1, reason: 'wrong screw' })).toEqual([]);
    expect(left({ ...leave, screw: undefined, tool: 'pick' })).toEqual([]);
    expect(left({ type: 'found', screw: '1' })).toEqual([]);
  });

  it('has its stage before it in the row, and no situation left over', () => {
    const { row } = played(start('turn-out'), leave);
    expect(row(2)).toMatchObject({ heard: true, stageBefore: 'seated', left: null });
    expect(row(2)?.ended).toMatchObject({ outcome: null, gained: false, stageAfter: 'left-in' });
  });
});

describe('rows', () => {
  it('are none of no log, and none of a number that it lacks', () => {
    expect(rowsOf(null)).toEqual([]);
    expect(rowOf(null, 1)).toBeUndefined();
    expect(attemptsOf(null)).toEqual([]);
    const { folded, entries } = played();
    expect(rowOf(folded.trace, 0)).toBeUndefined();
    expect(rowOf(folded.trace, entries.length + 1)).toBeUndefined();
    expect(rowOf(folded.trace, 1)?.entry).toBe(entries[0]);
  });

  it('are listed once, and the newest is found without a look at those before it', () => {
    const { folded, entries } = played(start('turn-out'));
    const trace = folded.trace as NonNullable<typeof folded.trace>;
    expect(rowsOf(trace)).toBe(rowsOf(trace));
    const newest: typeof trace = Object.create(trace, {
      before: {
        get: () => {
          throw new Error('looked further back');
        },
      },
    }) as typeof trace;
    expect(rowOf(newest, entries.length)).toBe(trace.row);
  });

  it('say of a listing that is refused that nothing was listed again', () => {
    const sheared = atTheTable({ stage: 'head-sheared' }).screw('1', { stage: 'recess-stripped' });
    expect(rowOf(sheared.folded.trace, sheared.n)).toMatchObject({ heard: false, again: false });
    const again = sheared.screw('1', { stage: 'head-sheared' });
    expect(rowOf(again.folded.trace, again.n)).toMatchObject({ heard: true, again: true });
    const found = again.finds('1', {});
    expect(rowOf(found.folded.trace, found.n)?.again).toBe(false);
  });

  it('say of an entry about no screw that it has no stage', () => {
    const { row } = played({ type: 'remark', text: 'all well' });
    expect(row(1)).toMatchObject({ heard: true, stageBefore: null, began: null, ended: null, left: null });
  });
});

describe('in any log', () => {
  const anyLog = (check: (entries: readonly Entry[]) => void) =>
    explore(
      fc.property(logs, ({ entries }) => check(entries)),
      { numRuns: 150 },
    );

  it('there is one row an entry, and it says what the lists of the state say', () => {
    anyLog((entries) => {
      const folded = fold(entries, content);
      const rows = rowsOf(folded.trace);
      expect(rows.map(({ entry }) => entry.n)).toEqual(entries.map(({ n }) => n));
      const of = (keep: (row: (typeof rows)[number]) => boolean) => rows.filter(keep).map(({ entry }) => entry.n);
      expect(of(({ struck }) => struck)).toEqual(folded.struck);
      expect(of(({ heard, struck }) => !heard && !struck)).toEqual(folded.outOfOrder);
      expect(of(({ late }) => late)).toEqual(folded.late);
      expect(of(({ unoffered }) => unoffered)).toEqual(folded.unoffered);
      expect(rows.flatMap(({ entry, unanswered }) => unanswered.map((hold) => ({ hold, entry: entry.n })))).toEqual(
        folded.unanswered,
      );
      expect(effectiveEntries(folded.trace).map(({ n }) => n)).toEqual(of(({ heard }) => heard));
    });
  });

  it('as many attempts end as the screws count, and each ends in one entry', () => {
    let ended = 0;
    anyLog((entries) => {
      const folded = fold(entries, content);
      const attempts = attemptsOf(folded.trace);
      const ends = attempts.flatMap(({ end }) => (end ? [end.n] : []));
      expect(new Set(ends).size).toBe(ends.length);
      for (const [id, { context }] of folded.screws) {
        const own = attempts.filter(({ screw }) => screw === id);
        expect(own.filter(({ end }) => end !== null)).toHaveLength(context.ends);
        expect(own.filter(({ end }) => end === null).map(({ move }) => move)).toEqual(
          [...(context.running ? [context.running] : []), ...context.lateOpen]
            .sort((a, b) => a.entry - b.entry)
            .map(({ move }) => move),
        );
      }
      ended += ends.length;
    });
    expect(ended).toBeGreaterThan(30 * Math.min(length, 1));
  });

  it('entry by entry the trace is that of the whole log, and a case in a list says what its fold says', () => {
    anyLog((entries) => {
      let state = unfolded(content);
      for (const [i, entry] of entries.entries()) state = step(state, entry, entries.slice(0, i));
      const folded = fold(entries, content);
      expect(rowsOf(state.trace)).toEqual(rowsOf(folded.trace));
      expect(headlineOf(entries)).toEqual(headlineOfFolded(entries, folded));
    });
  });
});
