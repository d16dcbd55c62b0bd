/** Uses of drills, taps and reamers, and damage to them: only what entries say. */
import { describe, expect, it } from 'vitest';
import { caseOutcome } from '../../machines/across/outcome.ts';
import { report } from '../../machines/across/report.ts';
import { addCase, emptyTally } from '../../machines/across/tally.ts';
import { Log, atTheTable, content } from './build.ts';

const closed = (log: Log) => log.write({ type: 'work-ended' }).write({ type: 'case-closed' });
const bare = (label = 'bare') =>
  new Log().opened({ label }).screw('1', { stage: 'head-sheared' }).screw('2', { stage: 'head-sheared' });
const uses = (log: Log) => caseOutcome(log.entries, content).uses;
const rows = (...logs: Log[]) => {
  const tally = emptyTally();
  for (const log of logs) addCase(tally, closed(log).entries, content);
  return report(tally, content).uses;
};

describe('a use', () => {
  it('is of the tool that the entry names, or of the only one that a move is made with', () => {
    const log = bare()
      .tool('hollow-reamer', { fits: [4.5], outer: 6 })
      .tool('hard-metal-drill')
      .start();
    log
      .tries('1', 'hollow-ream', 'slipped')
      .begins('2', 'grip-shank', { tool: 'hard-metal-drill' })
      .ends('2', 'no-change');
    expect(uses(log)).toEqual([
      { tool: 'hollow-reamer', measures: { fits: [4.5], outer: 6 }, screw: '1', named: false, end: 'slipped' },
      { tool: 'hard-metal-drill', measures: {}, screw: '2', named: true, end: 'other' },
    ]);
  });

  it('is put down to neither of two of a kind, nor to one that nobody listed', () => {
    const two = bare()
      .tool('hollow-reamer', { fits: [4.5] })
      .tool('hollow-reamer', { fits: [3.5] })
      .start();
    expect(uses(two.tries('1', 'hollow-ream', 'set-up-done'))[0]?.measures).toBeNull();
    expect(uses(bare().start().tries('1', 'hollow-ream', 'set-up-done'))[0]?.measures).toBeNull();
  });

  it('is none of a gripper, a driver, or a move that leaves the tool open', () => {
    const log = atTheTable({ stage: 'head-sheared' }).tries('1', 'grip-shank', 'no-change');
    expect(uses(log.begins('1', 'gouge-and-grip', { tool: 'gouge' }).ends('1', 'out'))).toEqual([]);
  });

  it.each([
    ['tool-broke', {}, 'broke'],
    ['tool-jammed', {}, 'jammed'],
    ['out', { toolJammed: true }, 'jammed'],
    ['out', {}, 'other'],
    ['no-change', {}, 'other'],
  ] as const)('that ended %s %j counts as %s', (outcome, more, end) => {
    const log = atTheTable({ stage: 'recess-stripped' }).begins('1', 'reverse-tap').ends('1', outcome, more);
    expect(uses(log)).toMatchObject([{ tool: 'reverse-tap', end }]);
  });

  it('counts too when the move was broken off', () => {
    const log = atTheTable({ stage: 'head-sheared' }).begins('1', 'hollow-ream').leaves('1');
    expect(uses(log)).toMatchObject([{ tool: 'hollow-reamer', end: 'other' }]);
  });

  it('that was struck is none', () => {
    const log = atTheTable({ stage: 'head-sheared' }).begins('1', 'hollow-ream');
    expect(uses(log.strikes(log.n))).toEqual([]);
  });
});

describe('the rows', () => {
  const reamed = (fits: number, how = 'blunt') =>
    bare(`reamed ${fits}`)
      .tool('hollow-reamer', { fits: [fits] })
      .tool('reverse-tap')
      .start()
      .tries('1', 'hollow-ream', 'slipped')
      .tries('1', 'hollow-ream', 'set-up-done')
      .tries('2', 'hollow-ream', 'tool-broke')
      .write({ type: 'tool-damaged', tool: 'hollow-reamer', how, tipMissing: true, length: 3 });

  it('add up uses and damage by kind and size, screws once a case', () => {
    expect(rows(reamed(4.5), reamed(4.5).remarks(), reamed(5, 'Zahn verbogen'))).toMatchObject([
      {
        ...{ tool: 'hollow-reamer', measures: { fits: [4.5] }, uses: 3, named: 0, screws: 2, slipped: 1, broke: 1 },
        ...{ jammed: 0, damage: { blunt: 1 }, tipMissing: 1 },
      },
      { tool: 'hollow-reamer', measures: { fits: [5] }, uses: 3, screws: 2, damage: { 'own-words': 1 }, tipMissing: 1 },
    ]);
  });

  it('add up over cases, drills before taps before reamers, those not told apart last of their kind', () => {
    const other = atTheTable({ stage: 'recess-stripped' }, { label: 'other' }).tries('1', 'reverse-tap', 'out');
    const second = reamed(4.5);
    const third = new Log('2026-04-01T08:00:00Z').opened({ label: 'third' }).screw('1', { stage: 'head-sheared' });
    third
      .tool('hollow-reamer', { fits: [4.5] })
      .start()
      .tries('1', 'hollow-ream', 'set-up-done');
    const fourth = new Log('2026-04-02T08:00:00Z').opened({ label: 'fourth' }).screw('1', { stage: 'head-sheared' });
    const found = rows(other, second, third, fourth.start().tries('1', 'hollow-ream', 'set-up-done'));
    expect(found.map(({ tool, measures, uses: count, screws }) => [tool, measures, count, screws])).toEqual([
      ['reverse-tap', {}, 1, 1],
      ['hollow-reamer', { fits: [4.5] }, 4, 3],
      ['hollow-reamer', null, 1, 1],
    ]);
  });

  it('are none where nothing of the kind was used', () =>
    expect(rows(atTheTable().tries('1', 'turn-out', 'out'))).toEqual([]));

  it('have damage to a tool that was never used', () => {
    const log = atTheTable().write({ type: 'tool-damaged', tool: 'reverse-tap', how: ' bent ', tipMissing: false });
    log.write({ type: 'tool-damaged', tool: 'pick', how: 'bent', tipMissing: false });
    expect(rows(log)).toMatchObject([{ tool: 'reverse-tap', uses: 0, screws: 0, damage: { bent: 1 }, tipMissing: 0 }]);
  });
});
