/** From what each case brought to what is printed: which cases make one row, and in which order rows stand. */
import { describe, expect, it } from 'vitest';
import { aimOf } from '../../machines/across/aim.ts';
import { courseOf } from '../../machines/across/course.ts';
import { wilson } from '../../machines/across/intervals.ts';
import { inOrder } from '../../machines/across/order.ts';
import type { CaseOutcome, Try } from '../../machines/across/outcome.ts';
import { ownRates, updatedRates } from '../../machines/across/rates.ts';
import { figures, report, type MoveRow } from '../../machines/across/report.ts';
import { addCase, addOutcome, emptyTally, passOver, type Cell } from '../../machines/across/tally.ts';
import { Log, atTheTable, content } from './build.ts';

let cases = 0;
/** A closed case that brought nothing but this. */
const brought = (more: Partial<CaseOutcome> = {}): CaseOutcome => ({
  ...{ id: `case ${++cases}`, phase: 'closed', day: '2026-03-04', facts: {} },
  ...{ tries: [], left: [], stillIn: [], deadEnds: [], missing: [], broke: [], damaged: [], answers: [], passed: [] },
  ...{ uses: [], wears: [], course: courseOf(new Log().folded) },
  ...more,
});

const steel = { diameter: 4.5, locking: false, material: 'steel' } as const;
const tryOf = (more: Partial<Try> = {}): Try => ({
  ...{ screw: '1', move: 'turn-out', stage: 'seated', end: 'out', gain: true, minutes: 1 },
  ...more,
});
const tried = (one: Partial<Try>, facts: CaseOutcome['facts'][string] = steel) =>
  brought({ tries: [tryOf(one)], facts: { 1: facts } });

function summed(...outcomes: CaseOutcome[]) {
  const tally = emptyTally();
  for (const outcome of outcomes) addOutcome(tally, outcome);
  return tally;
}
const printed = (...outcomes: CaseOutcome[]) => report(summed(...outcomes), content);

describe('the days counted', () => {
  const days = (...opened: (string | null)[]) => summed(...opened.map((day) => brought({ day }))).days;

  it('run from the first case to the last, in whatever order they come', () => {
    expect(days('2026-03-04')).toEqual({ from: '2026-03-04', to: '2026-03-04' });
    expect(days('2026-03-04', '2026-03-09', '2026-03-06')).toEqual({ from: '2026-03-04', to: '2026-03-09' });
    expect(days('2026-03-09', '2026-03-04', '2026-03-06')).toEqual({ from: '2026-03-04', to: '2026-03-09' });
  });

  it('leave out a case without a day', () => {
    expect(days(null)).toBeNull();
    expect(days(null, '2026-03-04', null)).toEqual({ from: '2026-03-04', to: '2026-03-04' });
  });
});

describe('a case that is in none of the figures', () => {
  it('is noted by its reason, and brings no row', () => {
    const tally = emptyTally();
    const tries = [tryOf()];
    expect(addOutcome(tally, brought({ phase: 'open', tries, facts: { 1: steel } }))).toBe('open');
    expect(addOutcome(tally, brought({ phase: 'unopened', tries, facts: { 1: steel } }))).toBe('unopened');
    const twice = brought();
    expect([addOutcome(tally, twice), addOutcome(tally, twice)]).toEqual(['counted', 'twice']);
    expect(passOver(tally, 'unreadable')).toBe('unreadable');
    passOver(tally, 'broken');
    passOver(tally, 'broken');
    const { cases: of, moves } = report(tally, content);
    expect(of.not).toEqual({ open: 1, unopened: 1, twice: 1, invented: 0, broken: 2, unreadable: 1 });
    expect(of.counted).toBe(1);
    expect(moves).toEqual([]);
  });

  it('is so from its log on: only one that was opened and closed is counted', () => {
    const tally = emptyTally();
    const log = atTheTable().tries('1', 'turn-out', 'out');
    expect(addCase(tally, [], content)).toBe('unopened');
    expect(addCase(tally, log.entries, content)).toBe('open');
    log.write({ type: 'work-ended' }).write({ type: 'case-closed' });
    expect(addCase(tally, log.entries, content)).toBe('counted');
    expect(report(tally, content).moves).toMatchObject([{ move: 'turn-out', stage: 'seated', tries: 1 }]);
  });

  it('of nothing counted there is nothing but noughts', () =>
    expect(report(emptyTally(), content)).toMatchObject({
      cases: {
        ...{ counted: 0, days: null },
        not: { open: 0, unopened: 0, twice: 0, invented: 0, broken: 0, unreadable: 0 },
      },
      level: 0.95,
      ...{ moves: [], kinds: [], left: [], stillIn: [], quarters: [], deadEnds: [], tools: [], holds: [] },
    }));
});

describe('tries', () => {
  it('make one row by move, stage, diameter, locking and material', () => {
    const kinds = [
      tried({}),
      tried({}),
      tried({ move: 'grip-head' }),
      tried({ stage: 'recess-stripped' }),
      tried({}, { ...steel, diameter: 5 }),
      tried({}, { ...steel, locking: true }),
      tried({}, { ...steel, material: 'titanium' }),
    ];
    expect(printed(...kinds).kinds.map(({ tries }) => tries)).toEqual([2, 1, 1, 1, 1, 1].sort((a, b) => b - a));
    expect(printed(...kinds).moves.map(({ move, stage, tries }) => [move, stage, tries])).toEqual([
      ['turn-out', 'seated', 5],
      ['grip-head', 'seated', 1],
      ['turn-out', 'recess-stripped', 1],
    ]);
  });

  it('stand by stage, then by the ladder, then by diameter, plain before locking, and material by name', () => {
    const rows = [
      tried({ stage: 'head-sheared', move: 'gouge-and-grip' }),
      tried({ stage: 'recess-stripped', move: 'pack-recess' }),
      tried({ stage: 'recess-stripped', move: 'reseat-driver' }),
      tried({}, { ...steel, diameter: 10 }),
      tried({}, { ...steel, material: 'unknown' }),
      tried({}, { ...steel, material: 'titanium' }),
      tried({}, { ...steel, locking: true }),
      tried({}),
      tried({}, { ...steel, diameter: 2.7, locking: true }),
    ];
    const expected = [
      ['seated', 'turn-out', 2.7, true, 'steel'],
      ['seated', 'turn-out', 4.5, false, 'steel'],
      ['seated', 'turn-out', 4.5, false, 'titanium'],
      ['seated', 'turn-out', 4.5, false, 'unknown'],
      ['seated', 'turn-out', 4.5, true, 'steel'],
      ['seated', 'turn-out', 10, false, 'steel'],
      ['recess-stripped', 'reseat-driver', 4.5, false, 'steel'],
      ['recess-stripped', 'pack-recess', 4.5, false, 'steel'],
      ['head-sheared', 'gouge-and-grip', 4.5, false, 'steel'],
    ];
    for (const order of [rows, [...rows].reverse()])
      expect(
        printed(...order).kinds.map(({ stage, move, diameter, locking, material }) => [
          ...[stage, move, diameter, locking, material],
        ]),
      ).toEqual(expected);
  });

  it('of a move that the release lacks come after its own', () => {
    const foreign = tried({ move: 'warm-head' as never });
    expect(printed(foreign, tried({ move: 'grip-head' })).moves.map(({ move }) => move)).toEqual([
      'grip-head',
      'warm-head',
    ]);
  });

  it('count as gain but where they only came thread by thread', () => {
    const slip = tried({ end: 'slipped', gain: false });
    const [row] = printed(tried({}), tried({}), tried({ end: 'moving' }), slip).moves;
    expect(row).toMatchObject({ tries: 3, wentOn: 1, gain: { count: 2, of: 3 }, slipped: { count: 1, of: 3 } });
    expect(row?.ends).toEqual({ out: 2, moving: 1, slipped: 1 });
  });

  it('name every end in the order of the outcomes, the stop last', () => {
    const ends = ['stopped', 'slipped', 'no-change', 'out', 'moving'] as const;
    const [row] = printed(...ends.map((end) => tried({ end, gain: false }))).moves;
    expect(Object.keys(row?.ends ?? {})).toEqual([
      ...content.ids.outcomes.filter((id) => ends.includes(id as 'out')),
      'stopped',
    ]);
    expect(row).toMatchObject({ tries: 4, out: { count: 1, of: 4 } });
  });

  it('are timed to the tenth of a minute, those that nobody timed left out', () => {
    const [row] = printed(tried({ minutes: 1.26 }), tried({ minutes: 1.34 }), tried({ minutes: null })).moves;
    expect(row?.minutes).toEqual({ n: 2, q1: 1.3, median: 1.3, q3: 1.3 });
    expect(printed(tried({ minutes: 0 })).moves[0]?.minutes).toEqual({ n: 1, q1: 0, median: 0, q3: 0 });
    expect(printed(tried({ minutes: null })).moves[0]?.minutes).toBeNull();
  });

  it('of several kinds of screw have their minutes and ends taken together', () => {
    const titanium = { ...steel, material: 'titanium' } as const;
    const logs = [tried({ minutes: 1 }), tried({ minutes: 1 }, titanium), tried({ minutes: 4 }, titanium)];
    const { moves, kinds } = printed(...logs);
    expect(moves[0]).toMatchObject({ tries: 3, minutes: { n: 3, median: 1 }, out: { count: 3, of: 3 } });
    expect(kinds.map(({ tries, minutes }) => [tries, minutes?.n])).toEqual([
      [1, 1],
      [2, 2],
    ]);
  });

  it('are few below what the release says, not at it', () => {
    const { value } = content.rates.fewTries;
    const few = (count: number) => printed(...Array.from({ length: count }, () => tried({}))).moves[0]?.few;
    expect([few(value - 1), few(value), few(value + 1)]).toEqual([true, false, false]);
  });

  it('that broke head, shank or tool count as broken, a head drilled off on purpose does not', () => {
    const { broke } = printed(
      tried({ end: 'head-sheared' }),
      tried({ end: 'shank-broke' }),
      tried({ end: 'tool-broke' }),
      tried({ end: 'tool-jammed' }),
    ).moves[0] as MoveRow;
    expect(broke).toMatchObject({ count: 3, of: 4 });
    const drilled = { move: 'drill-head-off', stage: 'recess-stripped' } as const;
    const [row] = printed(
      tried({ ...drilled, end: 'head-sheared' }),
      tried({ ...drilled, end: 'head-sheared' }),
      tried({ ...drilled, end: 'tool-broke' }),
    ).moves;
    expect(row?.broke).toMatchObject({ count: 1, of: 3 });
    expect(printed(tried({ ...drilled, end: 'slipped' })).moves[0]?.broke).toMatchObject({ count: 0, of: 1 });
  });

  it('give shares with Wilson’s interval, and none where nothing was tried', () => {
    const [row] = printed(tried({}), tried({ end: 'slipped' }), tried({ end: 'slipped' })).moves;
    expect(row?.slipped).toEqual({ count: 2, of: 3, ...wilson(2, 3) });
    expect(printed(tried({ end: 'moving' })).moves[0]?.out).toEqual({ count: 0, of: 0, low: null, high: null });
  });

  it('of a move that no release has are figures all the same', () => {
    const cell: Cell = {
      ...{ move: 'dig' as never, stage: 'seated', ...steel },
      ...{ ends: new Map([['head-sheared', 1]]), gain: 0, minutes: new Map() },
    };
    expect(figures([cell], content)).toMatchObject({ tries: 1, broke: { count: 1, of: 1 } });
  });
});

describe('the one share a card has room for', () => {
  const row = (move: string) => ({ ...(printed(tried({})).moves[0] as MoveRow), move: move as 'turn-out' });

  it('is how often the screw came out, for a move made to get it out', () => {
    const turned = row('turn-out');
    expect(aimOf(turned, content)).toBe(turned.out);
  });

  it('is how often the job went further, for a move that only prepares, or that no release has', () => {
    for (const move of ['drill-head-off', 'dig']) {
      const one = row(move);
      expect(aimOf(one, content)).toBe(one.gain);
    }
  });
});

describe('screws that stayed in', () => {
  const left = (...rows: CaseOutcome['left']) => printed(brought({ left: rows })).left;
  const one = (stage: CaseOutcome['left'][number]['stage'], reason: string) => ({ screw: '1', stage, reason });

  it('make one row by stage and reason, by stage, the most first, then by name', () => {
    const rows = [
      one('fragment-retained', 'deep'),
      one('seated', 'risk'),
      one('seated', 'bone'),
      one('seated', 'deep'),
      one('seated', 'deep'),
    ];
    const expected = [
      { stage: 'seated', reason: 'deep', screws: 2 },
      { stage: 'seated', reason: 'bone', screws: 1 },
      { stage: 'seated', reason: 'risk', screws: 1 },
      { stage: 'fragment-retained', reason: 'deep', screws: 1 },
    ];
    expect(left(...rows)).toEqual(expected);
    expect(left(...rows.reverse())).toEqual(expected);
  });

  it('with nothing said are counted by stage, in the order of the stages', () =>
    expect(
      printed(
        brought({ stillIn: [{ screw: '2', stage: 'head-sheared' }] }),
        brought({
          stillIn: [
            { screw: '1', stage: 'seated' },
            { screw: '2', stage: 'head-sheared' },
          ],
        }),
      ).stillIn,
    ).toEqual([
      { stage: 'seated', screws: 1 },
      { stage: 'head-sheared', screws: 2 },
    ]));
});

describe('dead ends', () => {
  it('make one row by stage and by what was missing, by stage, the most first, then by name', () => {
    const met = (stage: CaseOutcome['deadEnds'][number]['stage'], ...missing: CaseOutcome['broke']) => ({
      ...{ screw: '1', stage, missing },
    });
    const rows = [
      met('fragment-retained', 'hollow-reamer'),
      met('head-sheared', 'punch'),
      met('head-sheared', 'gouge', 'pick'),
      met('head-sheared', 'gouge'),
      met('head-sheared'),
      met('head-sheared', 'punch'),
    ];
    const expected = [
      { stage: 'head-sheared', missing: ['punch'], screws: 2 },
      { stage: 'head-sheared', missing: [], screws: 1 },
      { stage: 'head-sheared', missing: ['gouge'], screws: 1 },
      { stage: 'head-sheared', missing: ['gouge', 'pick'], screws: 1 },
      { stage: 'fragment-retained', missing: ['hollow-reamer'], screws: 1 },
    ];
    expect(printed(brought({ deadEnds: rows })).deadEnds).toEqual(expected);
    expect(printed(brought({ deadEnds: rows.reverse() })).deadEnds).toEqual(expected);
  });
});

describe('tools', () => {
  it('that were missing, broke or were damaged stand in the order of the release, each counted for itself', () => {
    const { tools } = printed(
      brought({ damaged: ['pick'], broke: ['mallet', 'pick'], missing: [{ screw: '1', tool: 'pick' }] }),
      brought({ damaged: ['pick'], broke: ['pick', 'pick'] }),
    );
    const order = content.ids.tools.filter((id) => id === 'pick' || id === 'mallet');
    expect(tools.map(({ tool }) => tool)).toEqual(order);
    expect(tools).toContainEqual({ tool: 'pick', missing: 1, broke: 3, damaged: 2 });
    expect(tools).toContainEqual({ tool: 'mallet', missing: 0, broke: 1, damaged: 0 });
  });
});

describe('holds', () => {
  const answered = (hold: 'count' | 'time' | 'reassess', answer: string) => ({ hold, answer });

  it('stand in the order of the release, each with its answers by name', () => {
    const { holds } = printed(
      brought({
        answers: [
          answered('count', 'stop'),
          answered('time', 'go-on'),
          answered('count', 'go-on'),
          answered('count', 'stop'),
          answered('count', 'called'),
        ],
      }),
    );
    const order = content.ids.holds.filter((id) => id === 'count' || id === 'time');
    expect(holds.map(({ hold }) => hold)).toEqual(order);
    const count = holds.find(({ hold }) => hold === 'count');
    expect(Object.entries(count?.answers ?? {})).toEqual([
      ['called', 1],
      ['go-on', 1],
      ['stop', 2],
    ]);
    const none = { out: 0, gain: 0, 'no-gain': 0, nothing: 0 };
    expect(count?.passed).toEqual({ times: 0, next: none, fate: { out: 0, 'left-in': 0, 'still-in': 0 } });
    expect(holds.find(({ hold }) => hold === 'time')?.answers).toEqual({ 'go-on': 1 });
  });

  it('that were passed tell the next end and the fate, each hold for itself', () => {
    const passed = (hold: 'time' | 'reassess', next: 'out' | 'gain' | 'no-gain' | 'nothing', fate: string | null) => ({
      ...{ hold, screw: fate === null ? null : '1', next, fate: fate as 'out' },
    });
    const { holds } = printed(
      brought({ passed: [passed('reassess', 'out', 'out'), passed('reassess', 'no-gain', 'left-in')] }),
      brought({ passed: [passed('reassess', 'no-gain', 'still-in'), passed('reassess', 'gain', 'out')] }),
      brought({ passed: [passed('time', 'nothing', null), passed('reassess', 'no-gain', 'left-in')] }),
    );
    expect(holds.find(({ hold }) => hold === 'reassess')).toEqual({
      ...{ hold: 'reassess', answers: {} },
      passed: {
        times: 5,
        next: { out: 1, gain: 1, 'no-gain': 3, nothing: 0 },
        fate: { out: 2, 'left-in': 2, 'still-in': 1 },
      },
    });
    expect(holds.find(({ hold }) => hold === 'time')?.passed).toEqual({
      times: 1,
      next: { out: 0, gain: 0, 'no-gain': 0, nothing: 1 },
      fate: { out: 0, 'left-in': 0, 'still-in': 0 },
    });
  });
});

describe('what is few', () => {
  it('comes with its source in words, or by its id where the release does not list it', () => {
    const { source } = content.rates.fewTries;
    const cite = content.sources.find(({ id }) => id === source)?.cite;
    expect(report(emptyTally(), content).few).toEqual({ below: content.rates.fewTries.value, source: cite });
    expect(report(emptyTally(), { ...content, sources: [] }).few.source).toBe(source);
  });
});

describe('rates brought up to date', () => {
  const rates = (...outcomes: CaseOutcome[]) => updatedRates(summed(...outcomes), content);
  const small = { ...steel, diameter: 3.5, locking: true } as const;
  const released = content.rates.moves;

  it('count the tries of their own move and kind of screw alone, but no stop and nothing that only went on', () => {
    const counted = rates(
      tried({}),
      tried({ end: 'slipped' }),
      tried({ end: 'stopped' }),
      tried({ end: 'moving' }),
      tried({}, small),
      tried({ move: 'grip-head' }),
    ).filter(({ of }) => of > 0);
    const seen = counted.map(({ move, when, outcome, count, of }) => [move, when, outcome, count, of]);
    expect(seen.filter(([, , , count]) => count !== 0)).toEqual([
      ['turn-out', { locking: true, upTo: 3.5 }, 'out', 1, 1],
      ['turn-out', undefined, 'out', 1, 2],
      ['turn-out', undefined, 'slipped', 1, 2],
      ['grip-head', undefined, 'out', 1, 1],
    ]);
    expect(counted.map(({ outcome }) => outcome as string)).not.toContain('stopped');
    expect(counted.map(({ outcome }) => outcome)).not.toContain('moving');
  });

  it('name released outcomes that never came, and of the others those that came', () => {
    const row = released.find(({ move }) => move === 'reseat-driver');
    const named = (...outcomes: CaseOutcome[]) =>
      rates(...outcomes).flatMap(({ move, outcome }) => (move === 'reseat-driver' ? [outcome] : []));
    const own = row?.outcomes.map(({ outcome }) => outcome) ?? [];
    expect(named()).toEqual(own);
    const recess = { move: 'reseat-driver', stage: 'recess-stripped' } as const;
    expect(named(tried({ ...recess, end: 'tool-broke' }), tried({ ...recess, end: 'half-out' as never }))).toEqual([
      ...content.ids.outcomes.filter((id) => own.includes(id) || id === 'tool-broke'),
      'half-out',
    ]);
  });

  it('give an outcome that was not released no share to begin with', () => {
    const recess = { move: 'reseat-driver', stage: 'recess-stripped' } as const;
    const found = rates(tried({ ...recess, end: 'tool-broke' }), tried(recess));
    expect(found.find(({ move, outcome }) => move === 'reseat-driver' && outcome === 'tool-broke')).toEqual({
      ...{ move: 'reseat-driver', when: undefined, outcome: 'tool-broke', released: 0, status: 'from-memory' },
      ...{ count: 1, of: 2, prior: 4, value: expect.closeTo(1 / 6, 12) as number },
      ...{ alpha: expect.closeTo(1, 9) as number, beta: expect.closeTo(5, 9) as number },
    });
  });

  it('add up to 1 in every row that was tried', () => {
    const sums = new Map<string, number>();
    for (const { move, when, of, value } of rates(tried({}), tried({ end: 'slipped' }), tried({}, small)))
      if (of > 0) {
        const key = JSON.stringify([move, when]);
        sums.set(key, (sums.get(key) ?? 0) + value);
      }
    expect(sums.size).toBe(2);
    for (const sum of sums.values()) expect(sum).toBeCloseTo(1, 12);
  });

  it('have the status of the source that is listed, and are from memory where it is not', () => {
    const statuses = (sources: typeof content.sources) =>
      new Set(updatedRates(emptyTally(), { ...content, sources }).map(({ status }) => status));
    const used = released.flatMap(({ outcomes }) => outcomes.map(({ source }) => source));
    expect(statuses(content.sources)).toEqual(
      new Set(content.sources.flatMap(({ id, status }) => (used.includes(id) ? [status] : []))),
    );
    expect(statuses([])).toEqual(new Set(['from-memory']));
  });

  it('say in words what they were counted from, with the kind of screw', () => {
    const own = (facts: CaseOutcome['facts'][string], move: Try['move'] = 'turn-out') =>
      ownRates(rates(tried({ move }, facts)), content).find(({ outcome }) => outcome === 'out');
    const source = (when?: object) =>
      rates().find(
        ({ move, outcome, when: of }) =>
          move === 'turn-out' && outcome === 'out' && JSON.stringify(of) === JSON.stringify(when),
      );
    const said = (kind: string, tries: number, when?: object) =>
      `here 1 of 1${kind}, with the released ${source(when)?.released} (${source(when)?.status}) as ${tries} tries`;
    expect(own(small)?.status).toBe(said(' (locking, to 3.5 mm)', 248, { locking: true, upTo: 3.5 }));
    expect(own({ ...small, diameter: 5 })?.status).toBe(said(' (locking)', 153, { locking: true }));
    expect(own(steel)?.status).toBe(said('', 4));
    expect([own(small)?.when, own(steel)?.when]).toEqual([{ locking: true, upTo: 3.5 }, {}]);
  });

  it('say so of screws that do not lock as well', () => {
    const [rate] = rates(tried({}));
    const plain = { ...(rate as NonNullable<typeof rate>), when: { locking: false }, of: 1 };
    expect(ownRates([plain], content)[0]?.status).toContain('(not locking)');
  });

  it('name the kind of screw only for a move that has several', () => {
    const of = (move: Try['move']) => ownRates(rates(tried({ move })), content).map((row) => 'when' in row);
    expect(new Set(of('turn-out'))).toEqual(new Set([true]));
    expect(new Set(of('grip-head'))).toEqual(new Set([false]));
  });
});

describe('ids of several releases', () => {
  it('stand in the order of the own release, once each, and what it lacks by name behind them', () => {
    expect(inOrder(['out', 'slipped', 'jammed'], ['tilted', 'slipped', 'bent', 'slipped', 'out', 'tilted'])).toEqual([
      ...['out', 'slipped', 'bent', 'tilted'],
    ]);
    expect(inOrder(['out'], [])).toEqual([]);
  });
});

describe('an interval', () => {
  it('reaches 0 or 1 exactly where none or all were counted, and nowhere else', () => {
    for (let of = 1; of <= 200; of++) {
      expect(wilson(0, of)?.low).toBe(0);
      expect(wilson(of, of)?.high).toBe(1);
      expect(wilson(of, of)?.low).toBeGreaterThan(0);
      expect(wilson(0, of)?.high).toBeLessThan(1);
    }
    expect(wilson(1, 2)?.low).toBeGreaterThan(0);
    expect(wilson(1, 2)?.high).toBeLessThan(1);
  });

  it('is nothing out of fewer than none', () => expect(wilson(0, -1)).toBeNull());
});
