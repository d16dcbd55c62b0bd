/**
 * The hard screw, played by both ladders: a 3.5 mm locking screw of a radius plate that takes everything. Thirteen stops
 * by the first one; each is kept, merged into another, a line, or dropped by the second, with the hazard that covers it.
 */
import { describe, expect, it } from 'vitest';
import { riskFileOf } from '../../../content/risk.ts';
import type { HoldId, MoveId, Outcome, ToolId } from '../../../content/ids.ts';
import type { Content } from '../../../content/types.ts';
import type { EntryOf } from '../../../machines/entry.ts';
import { offer, type Log } from '../build.ts';
import { atTable, everyTool, first, second } from './build.ts';

interface Step {
  move: MoveId;
  tool: ToolId;
  outcome: Outcome;
  more?: Partial<EntryOf<'move-ended'>>;
  /** Written before the move is wanted. */
  ahead?: (log: Log) => Log;
}

const plateOff = (log: Log) => log.write({ type: 'plate-off' }).finds('1', { shankStands: 5 });
const hard: readonly Step[] = [
  { move: 'turn-out', tool: 'driver-hexagonal', outcome: 'slipped' },
  { move: 'reseat-driver', tool: 'driver-hexagonal', outcome: 'slipped' },
  { move: 'pack-recess', tool: 'driver-hexagonal', outcome: 'slipped' },
  { move: 'drive-oversize', tool: 'driver-hexalobular', outcome: 'slipped' },
  { move: 'conical-extractor', tool: 'conical-extractor', outcome: 'no-change' },
  { move: 'reverse-tap', tool: 'reverse-tap', outcome: 'tool-broke' },
  { move: 'drill-head-off', tool: 'hard-metal-drill', outcome: 'set-up-done', more: { head: 'shavings' } },
  { move: 'grip-shank', tool: 'locking-pliers', outcome: 'slipped', ahead: plateOff },
  {
    ...{ move: 'gouge-and-grip', tool: 'gouge', outcome: 'no-change' },
    more: { bores: [{ wall: 'near', diameter: 6 }] },
  },
  { move: 'hollow-ream', tool: 'hollow-reamer', outcome: 'set-up-done' },
  {
    ...{ move: 'extraction-sleeve', tool: 'extraction-sleeve', outcome: 'out' },
    more: { recovered: 30, lengthHow: 'measured' },
  },
];

/** One thing that is said at a step: a stop waits for an answer before the next touch, a line waits for nobody. */
interface Said {
  at: string;
  holds: HoldId[];
  as: 'stop' | 'line' | 'start touch';
}

type Answer = EntryOf<'hold-answered'>['answer'];

/** Plays the steps, answers every stop as it comes, and tells what came. */
function play(content: Content, steps: readonly Step[], facts: object, second: Answer = 'called') {
  const tools = everyTool(content);
  const log = atTable({ content, tools, facts: { length: 30, ...facts }, opened: { bone: 'radius' } }).bone(14, 3);
  const said: Said[] = [];
  const answer = (hold: HoldId) => {
    if (hold === 'reassess') return log.looksAgain('1');
    if (hold === 'find-tip') return log.answers(hold, { answer: 'found', tool: 'reverse-tap' });
    return log.answers(hold, { screw: '1', answer: hold === 'second-surgeon' ? second : 'go-on' });
  };
  /** What stands, one sheet after another. */
  const settle = (at: string) => {
    const known = new Set<HoldId>();
    for (;;) {
      const { screws, holds } = log.view;
      const { holds: own = [], lines = [] } = screws['1'] ?? {};
      for (const line of lines) if (!known.has(line)) said.push({ at, holds: [line], as: 'line' });
      lines.forEach((line) => known.add(line));
      const hold = [...holds, ...own.filter((one) => !lines.includes(one))][0];
      if (hold === undefined) return;
      said.push({ at, holds: [hold], as: 'stop' });
      answer(hold);
    }
  };
  for (const { move, tool, outcome, more, ahead } of steps) {
    ahead?.(log);
    const at = `before ${move}`;
    settle(at);
    const before = offer(log.of('1'), move)?.holds ?? [];
    // By the second ladder the reverse is the start touch itself; by the first it was a sheet of its own.
    const alone = content.ladder === 2 && before.every((hold) => hold === 'reverse');
    if (before.length) said.push({ at, holds: before, as: alone ? 'start touch' : 'stop' });
    for (const hold of before) if (hold !== 'reverse') answer(hold);
    log.begins('1', move, { tool, ...(before.includes('reverse') && { reverseConfirmed: true }) });
    log.ends('1', outcome, more);
    settle(`after ${move}`);
  }
  return { log, said, stops: said.filter(({ as }) => as === 'stop') };
}

const upTo = (move: MoveId) =>
  hard.slice(
    0,
    hard.findIndex((step) => step.move === move),
  );
const locking = { diameter: 3.5, locking: true };
const before = play(first, hard, locking);
const now = play(second, hard, locking);

type Fate = 'kept' | 'merged' | 'line' | 'start touch' | 'dropped';
/** Where each stop of 2026.1 stands, what has become of it, and the row of the risk file that covers it. */
const thirteen: readonly { at: string; hold: HoldId; fate: Fate; into?: HoldId; hazard: string }[] = [
  { at: 'after turn-out', hold: 'reassess', fate: 'kept', hazard: 'Z10' },
  { at: 'after reseat-driver', hold: 'reassess', fate: 'merged', into: 'second-surgeon', hazard: 'Z31' },
  { at: 'after reseat-driver', hold: 'second-surgeon', fate: 'kept', hazard: 'Z35' },
  { at: 'after pack-recess', hold: 'reassess', fate: 'dropped', hazard: 'Z31' },
  { at: 'after drive-oversize', hold: 'reassess', fate: 'dropped', hazard: 'Z31' },
  { at: 'after drive-oversize', hold: 'second-surgeon', fate: 'dropped', hazard: 'Z35' },
  { at: 'before reverse-tap', hold: 'reverse', fate: 'start touch', hazard: 'Z46' },
  { at: 'after reverse-tap', hold: 'second-surgeon', fate: 'merged', into: 'find-tip', hazard: 'Z37' },
  { at: 'after grip-shank', hold: 'reassess', fate: 'line', hazard: 'Z10' },
  { at: 'before gouge-and-grip', hold: 'bone-stop', fate: 'kept', hazard: 'Z35' },
  { at: 'after gouge-and-grip', hold: 'second-surgeon', fate: 'dropped', hazard: 'Z35' },
  { at: 'before hollow-ream', hold: 'reverse', fate: 'start touch', hazard: 'Z46' },
  { at: 'before extraction-sleeve', hold: 'reverse', fate: 'start touch', hazard: 'Z46' },
];

describe('the hard screw', () => {
  it('had the thirteen stops that are listed here by the first ladder', () => {
    expect(before.stops.flatMap(({ at, holds }) => holds.map((hold) => [at, hold]))).toEqual(
      thirteen.map(({ at, hold }) => [at, hold]),
    );
  });

  it('[Z31] has at most four by the second, each of another thing: the driver, the colleague, the tip, the bone', () => {
    expect(now.stops.map(({ at, holds }) => [at, ...holds])).toEqual([
      ['after turn-out', 'reassess'],
      ['after reseat-driver', 'second-surgeon'],
      ['after reverse-tap', 'find-tip'],
      ['before gouge-and-grip', 'bone-stop'],
    ]);
    expect(now.log.view.unanswered).toEqual([]);
    expect(now.log.of('1').stage).toBe('out');
  });

  it.each(thirteen)('$at, $hold: $fate, covered by $hazard', ({ at, hold, fate, into, hazard }) => {
    const here = now.said.filter((one) => one.at === at);
    const of = (as: Said['as']) => here.filter((one) => one.as === as).flatMap(({ holds }) => holds);
    const found: Fate = of('stop').includes(hold)
      ? 'kept'
      : of('line').includes(hold)
        ? 'line'
        : of('start touch').includes(hold)
          ? 'start touch'
          : of('stop').length > 0
            ? 'merged'
            : 'dropped';
    expect(found).toBe(fate);
    if (into) expect(of('stop')).toEqual([into]);
    const row = riskFileOf('2026.2-draft')?.rows.find(({ id }) => id === hazard);
    const proven = row?.controls.filter(({ kind, tests }) => kind !== 'information' && tests.includes(hazard)) ?? [];
    expect(proven.length, hazard).toBeGreaterThan(0);
  });

  it('has as many where no second surgeon is to be had, and one more where the word was to go on: it asks once more', () => {
    expect(play(second, hard, locking, 'not-available').stops).toHaveLength(4);
    const gone = play(second, hard, locking, 'go-on')
      .stops.map(({ holds }) => holds)
      .flat();
    expect(gone.filter((hold) => hold === 'second-surgeon')).toHaveLength(2);
    expect(gone).toHaveLength(5);
  });

  it('[Z46] has the reverse on the start touch of tap, reamer and sleeve; a start without it stands as passed over', () => {
    const { log } = play(second, upTo('reverse-tap'), locking);
    expect(offer(log.of('1'), 'reverse-tap')?.holds).toEqual(['reverse']);
    log.begins('1', 'reverse-tap', { tool: 'reverse-tap' });
    expect(log.view.unanswered).toEqual([{ hold: 'reverse', entry: log.n }]);
  });

  it('has one sheet for one touch', () => {
    const touches = now.stops.map(({ at }) => at);
    expect(new Set(touches).size).toBe(touches.length);
  });
});

describe('an easy screw', () => {
  const easy: readonly Step[] = [
    { move: 'turn-out', tool: 'driver-hexagonal', outcome: 'out', more: { recovered: 30, lengthHow: 'measured' } },
  ];

  it('has no stop and no line by either ladder', () => {
    expect(play(first, easy, {}).said).toEqual([]);
    expect(play(second, easy, {}).said).toEqual([]);
  });
});

describe('a look that is a line', () => {
  const upTo = (move: MoveId) =>
    hard.slice(
      0,
      hard.findIndex((step) => step.move === move),
    );
  /** Up to the slip of the pliers, with the answers given so far, and the slip not answered. */
  const slipped = (answer: Answer = 'called') => {
    const { log } = play(second, upTo('conical-extractor'), locking, answer);
    return log.begins('1', 'grip-head', { tool: 'locking-pliers' }).ends('1', 'slipped');
  };

  it('stands in the holds with its id, closes no move, and a start past it is noted nowhere', () => {
    const log = slipped();
    expect(log.of('1')).toMatchObject({ holds: ['reassess'], lines: ['reassess'] });
    const open = log.of('1').withdrawn.filter(({ why }) => why === 'hold-open');
    expect(open).toEqual([]);
    log.begins('1', 'conical-extractor', { tool: 'conical-extractor' });
    expect(log.view.unanswered).toEqual([]);
    expect(log.view.unoffered).toEqual([]);
  });

  it('can be answered, by a look or a word, and then stands no more', () => {
    expect(slipped().looksAgain('1', { jawsSquare: true }).of('1')).toMatchObject({ holds: [], lines: [] });
    expect(slipped().answers('reassess', { screw: '1' }).of('1')).toMatchObject({ holds: [], lines: [] });
  });

  it('is a stop while nobody was asked about a second surgeon, or nobody has answered', () => {
    const plain = atTable({ facts: { underPlate: false, stage: 'recess-stripped' } });
    plain.begins('1', 'grip-head', { tool: 'head-gripper' }).ends('1', 'slipped');
    expect(plain.of('1')).toMatchObject({ holds: ['reassess'], lines: [] });
    plain.looksAgain('1').begins('1', 'drive-oversize', { tool: 'driver-hexalobular' }).ends('1', 'slipped');
    expect(plain.of('1')).toMatchObject({ holds: ['reassess', 'second-surgeon'], lines: [] });
    plain.answers('second-surgeon', { screw: '1', answer: 'called' });
    expect(plain.of('1')).toMatchObject({ holds: ['reassess'], lines: [] });
    plain.begins('1', 'conical-extractor');
    expect(plain.view.unanswered.map(({ hold }) => hold)).toEqual(['reassess']);
  });

  it('is a stop at the first slip on a screw, also once a colleague was called to another one', () => {
    const log = slipped().screw('2', { underPlate: false });
    log.begins('2', 'turn-out', { tool: 'driver-hexagonal' }).ends('2', 'slipped');
    expect(log.of('2')).toMatchObject({ holds: ['reassess'], lines: [] });
    log.looksAgain('2').begins('2', 'grip-head', { tool: 'locking-pliers' }).ends('2', 'slipped');
    expect(log.of('2')).toMatchObject({ holds: ['reassess'], lines: ['reassess'] });
  });

  it('has none by the first ladder', () => {
    expect(before.log.of('1').lines).toBeUndefined();
  });
});
