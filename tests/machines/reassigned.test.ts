/** Entries that were made for one screw and were of another: all of them read as if they had been made for that one. */
import { describe, expect, it } from 'vitest';
import type { EntryOf } from '../../machines/entry.ts';
import { rowsOf } from '../../machines/trace.ts';
import { attempts, bothWays, faultsOf, fileOf, table2 } from './build-2.ts';
import type { Log } from './build.ts';

/** Two plain screws, "1" and "2", and a third. */
const three = () => table2().screw('2').screw('3');
const reassigns = (log: Log, entries: number[], screw: string) => log.write({ type: 'reassigned', entries, screw });
const swaps = (log: Log, swap: [string, string], from: number) => log.write({ type: 'reassigned', swap, from });
const stages = (log: Log) => Object.values(log.view.screws).map(({ stage }) => stage);
const slips = (log: Log) => Object.values(log.view.screws).map((screw) => screw.slips);

describe('entries that were of another screw', () => {
  it('count for that one, and for the first no more', () => {
    const log = three().tries('1', 'turn-out', 'slipped');
    const [start, end] = [log.n - 1, log.n];
    expect([stages(log), slips(log)]).toEqual([
      ['recess-stripped', 'seated', 'seated'],
      [1, 0, 0],
    ]);
    reassigns(log, [start, end], '2');
    expect([stages(log), slips(log)]).toEqual([
      ['seated', 'recess-stripped', 'seated'],
      [0, 1, 0],
    ]);
    expect(log.view.outOfOrder).toEqual([]);
    expect(log.of('2').holds).toEqual(['reassess']);
    expect(faultsOf(fileOf(log.entries))).toEqual([]);
  });

  it('take the end with the start that it belongs to', () => {
    const log = three().tries('1', 'turn-out', 'out', { recovered: 35.5, lengthHow: 'measured' });
    reassigns(log, [log.n - 1], '2');
    expect(attempts(log)).toEqual([['2', 'turn-out', 'out', 'seated', 'out']]);
    expect(log.of('2').metal).toMatchObject({ recovered: 35.5, closes: 'measured' });
    expect(log.of('1').metal).toMatchObject({ recovered: 0, closes: null });
    expect(log.view.outOfOrder).toEqual([]);
  });

  it('leave an end with its start where the end alone was named', () => {
    const log = three().tries('1', 'turn-out', 'slipped');
    reassigns(log, [log.n], '2');
    expect(log.view.outOfOrder).toEqual([]);
    expect(attempts(log)).toEqual([['1', 'turn-out', 'slipped', 'seated', 'recess-stripped']]);
  });

  it('leave what they do not name where it was', () => {
    const log = three().tries('1', 'turn-out', 'slipped').looksAgain('1').tries('1', 'reseat-driver', 'no-change');
    const second = log.n - 1;
    reassigns(log, [second], '2');
    expect(attempts(log).map(([screw, move]) => [screw, move])).toEqual([
      ['1', 'turn-out'],
      ['2', 'reseat-driver'],
    ]);
    expect(log.of('1')).toMatchObject({ stage: 'recess-stripped', slips: 1 });
  });

  it('take along the end that is told after, for whichever of the two it is entered', () => {
    for (const entered of ['1', '2']) {
      const log = three().begins('1', 'turn-out');
      reassigns(log, [log.n], '2').ends(entered, 'slipped');
      expect(attempts(log)).toEqual([['2', 'turn-out', 'slipped', 'seated', 'recess-stripped']]);
      expect(log.view.outOfOrder).toEqual([]);
      const [lived, whole] = bothWays(log);
      expect(lived).toEqual(whole);
    }
  });

  it('take pieces and findings with them', () => {
    const log = three().write({ type: 'piece-recovered', screw: '1', length: 9, lengthHow: 'measured' });
    log.finds('1', { tipProud: true });
    reassigns(log, [log.n - 1, log.n], '3');
    expect(['1', '3'].map((id) => log.of(id).metal.recovered)).toEqual([0, 9]);
    expect(log.folded.screws.get('3')?.context.found).toEqual({ tipProud: true });
    expect(log.folded.screws.get('1')?.context.found).toEqual({});
  });

  it('name the screw that they were entered for beside the one that they were of', () => {
    const log = three().tries('1', 'turn-out', 'slipped');
    const start = log.n - 1;
    reassigns(log, [start], '2');
    const rows = rowsOf(log.folded.trace)
      .slice(start - 1, start + 1)
      .map(({ entry, movedFrom }) => [(entry as EntryOf<'move-started'>).screw, movedFrom]);
    expect(rows).toEqual([
      ['2', '1'],
      ['2', '1'],
    ]);
    expect(rowsOf(log.folded.trace)[2]).toMatchObject({ movedFrom: null });
    expect(log.entries[start - 1]).toMatchObject({ screw: '1' });
  });

  it('are those of the last word on them', () => {
    const log = three().tries('1', 'turn-out', 'slipped');
    const start = log.n - 1;
    reassigns(reassigns(log, [start], '2'), [start], '3');
    expect(slips(log)).toEqual([0, 0, 1]);
    reassigns(log, [start], '1');
    expect(slips(log)).toEqual([1, 0, 0]);
    expect(rowsOf(log.folded.trace)[start - 1]).toMatchObject({ movedFrom: null });
  });

  it('go back where they were when the word is struck', () => {
    const log = three().tries('1', 'turn-out', 'slipped');
    const before = { stages: stages(log), slips: slips(log) };
    reassigns(log, [log.n - 1], '2');
    const word = log.n;
    expect(log.strikes(word).view).toMatchObject({ struck: [word], outOfOrder: [] });
    expect({ stages: stages(log), slips: slips(log) }).toEqual(before);
  });

  it('fall back to the word before when the last one is struck', () => {
    const log = three().tries('1', 'turn-out', 'slipped');
    const start = log.n - 1;
    reassigns(reassigns(log, [start], '2'), [start], '3');
    expect(slips(log.strikes(log.n))).toEqual([0, 1, 0]);
  });

  it('are none that were not yet there', () => {
    const log = three();
    reassigns(log, [log.n + 2, log.n + 3], '2').tries('1', 'turn-out', 'slipped');
    expect(slips(log)).toEqual([1, 0, 0]);
  });

  it('change the account after the case was closed too', () => {
    const log = three().tries('1', 'turn-out', 'out').write({ type: 'case-closed' });
    reassigns(log, [log.n - 2], '2');
    expect(stages(log)).toEqual(['seated', 'out', 'seated']);
    expect(log.view).toMatchObject({ phase: 'closed', outOfOrder: [] });
  });
});

describe('two screws that were confused', () => {
  it('change places from an entry on, up to the word itself', () => {
    const log = three().tries('1', 'turn-out', 'slipped');
    const from = log.n + 1;
    log.call('1').looksAgain('1').tries('1', 'reseat-driver', 'no-change').tries('2', 'turn-out', 'out');
    expect(stages(log)).toEqual(['recess-stripped', 'out', 'seated']);
    swaps(log, ['1', '2'], from);
    expect(attempts(log).map(([screw, move, outcome]) => [screw, move, outcome])).toEqual([
      ['1', 'turn-out', 'slipped'],
      ['2', 'reseat-driver', 'no-change'],
      ['1', 'turn-out', 'out'],
    ]);
    expect(stages(log)).toEqual(['out', 'seated', 'seated']);
    log.tries('2', 'turn-out', 'slipped');
    expect(stages(log)).toEqual(['out', 'recess-stripped', 'seated']);
    expect(log.view.outOfOrder).toEqual([]);
  });

  it('change who was called', () => {
    const log = three();
    const from = log.n + 1;
    log.call('1').begins('1', 'turn-out');
    expect(log.view.called).toBe('1');
    expect(swaps(log, ['1', '2'], from).view.called).toBe('2');
    expect([log.of('1').move, log.of('2').move]).toEqual([null, 'turn-out']);
  });

  it('keep their lists: what describes a screw stays with its name', () => {
    const log = three();
    const from = log.n + 1;
    log.screw('1', { length: 50 }).tries('1', 'turn-out', 'out');
    swaps(log, ['1', '2'], from);
    expect(['1', '2'].map((id) => log.of(id).metal.listed)).toEqual([50, 36]);
    expect(stages(log)).toEqual(['seated', 'out', 'seated']);
  });

  it('leave a third one alone', () => {
    const log = three();
    const from = log.n + 1;
    log.tries('3', 'turn-out', 'slipped').tries('1', 'turn-out', 'out');
    expect(stages(swaps(log, ['1', '2'], from))).toEqual(['seated', 'out', 'recess-stripped']);
  });

  it('twice are as they were', () => {
    const log = three();
    const from = log.n + 1;
    log.tries('1', 'turn-out', 'slipped');
    const before = stages(log);
    expect(stages(swaps(swaps(log, ['1', '2'], from), ['2', '1'], from))).toEqual(before);
  });

  it('take an end with its start, also when the start lies before and the end behind the entry', () => {
    const log = three().begins('1', 'turn-out').remarks();
    const from = log.n;
    log.ends('1', 'slipped');
    swaps(log, ['1', '2'], from);
    expect(attempts(log)).toEqual([['1', 'turn-out', 'slipped', 'seated', 'recess-stripped']]);
    expect(log.view.outOfOrder).toEqual([]);
  });

  it('may be struck', () => {
    const log = three();
    const from = log.n + 1;
    log.tries('1', 'turn-out', 'slipped');
    swaps(log, ['1', '2'], from);
    expect(stages(log.strikes(log.n))).toEqual(['recess-stripped', 'seated', 'seated']);
  });

  it('and single entries of them read in the order of the words', () => {
    const log = three();
    const from = log.n + 1;
    log.tries('1', 'turn-out', 'slipped');
    swaps(log, ['1', '2'], from);
    reassigns(log, [from], '3');
    expect(slips(log)).toEqual([0, 0, 1]);
    swaps(log, ['3', '1'], from);
    expect(slips(log)).toEqual([1, 0, 0]);
  });
});

it('what was moved reads the same entry by entry and all at once', () => {
  const log = three().tries('1', 'turn-out', 'slipped').looksAgain('1');
  const from = log.n;
  log.tries('1', 'reseat-driver', 'no-change').tries('2', 'turn-out', 'out');
  for (const word of [
    () => swaps(log, ['1', '2'], from),
    () => reassigns(log, [from - 2], '3'),
    () => log.strikes(log.n),
  ]) {
    word();
    const [lived, whole] = bothWays(log);
    expect(lived).toEqual(whole);
  }
});

describe('moves that were told of another screw later', () => {
  it('were asked for the screw that they were entered for: what was offered then stays offered', () => {
    const log = table2({ stage: 'recess-stripped' }).screw('2');
    log.tries('1', 'grip-head', 'no-change');
    expect(log.view.unoffered).toEqual([]);
    expect(log.of('2').offered.map(({ move }) => move)).not.toContain('grip-head');
    reassigns(log, [log.n - 1], '2');
    expect(attempts(log)[0]?.[0]).toBe('2');
    expect(log.view).toMatchObject({ unoffered: [], unanswered: [] });
  });

  it('leave unanswered what was not answered for the screw that it was asked for', () => {
    const log = three().tries('1', 'turn-out', 'slipped').begins('1', 'pack-recess');
    const start = log.n;
    expect(log.view.unanswered).toEqual([{ hold: 'reassess', entry: start }]);
    reassigns(log, [start], '2');
    expect(log.view).toMatchObject({ unanswered: [{ hold: 'reassess', entry: start }], unoffered: [start] });
    const [lived, whole] = bothWays(log);
    expect(lived).toEqual(whole);
  });

  it('are asked about by what was said before them', () => {
    const log = three().tries('1', 'turn-out', 'slipped');
    reassigns(log, [log.n - 1], '2');
    log.looksAgain('2').begins('2', 'grip-head');
    expect(log.view.unoffered).toEqual([]);
    log.begins('1', 'grip-head');
    expect(log.view.unoffered).toEqual([log.n]);
    const [lived, whole] = bothWays(log);
    expect(lived).toEqual(whole);
  });

  it('were offered by the stage that the screw had then, whatever is answered of the slip since', () => {
    const log = three().tries('1', 'turn-out', 'slipped');
    const of = log.n - 1;
    log.looksAgain('1').tries('1', 'grip-head', 'no-change');
    expect(log.view.unoffered).toEqual([]);
    log.write({ type: 'move-answered', of, recess: 'sound' });
    expect(log.view.unoffered).toEqual([]);
    const [lived, whole] = bothWays(log);
    expect(lived).toEqual(whole);
  });
});
