/** What is told of metal later on: a break, all of it, why it was short, where the tip of a tool is. */
import { describe, expect, it } from 'vitest';
import type { EntryOf } from '../../machines/entry.ts';
import { faultsOf, fileOf, isCounted, table2 } from './build-2.ts';
import type { Log } from './build.ts';
import { told, out, breaks, shears, write, piece, allOfIt, plateOut, stays, image, type Do } from './metal.told.ts';

describe('a break that is told late of a screw that is out', () => {
  const day = (time: string) => `2026-03-04T${time}Z`;
  const late = (log: Log) =>
    log
      .begins('1', 'turn-out', { at: day('09:00:00'), logged: day('10:20:00') })
      .ends('1', 'shank-broke', { reachable: true, at: day('09:01:00'), logged: day('10:20:30') });
  const whole = (more: object) =>
    table2()
      .begins('1', 'turn-out', { at: day('10:00:00') })
      .ends('1', 'out', { at: day('10:02:00'), ...more });

  it('opens the account of one that was called whole, until somebody says that it is all of it', () => {
    const log = whole({ recovered: 36, lengthHow: 'measured', whole: true });
    expect(log.of('1').metal.closes).toBe('measured');
    expect(late(log).of('1')).toMatchObject({ stage: 'out', metal: { closes: 'open' } });
    expect(allOfIt()(log).of('1')).toMatchObject({ stage: 'out', metal: { recovered: 36, closes: 'measured' } });
  });

  it('opens the account of one that nobody measured, until it is called complete', () => {
    const log = late(whole({}));
    expect(log.of('1').metal.closes).toBe('open');
    expect(allOfIt()(log).of('1').metal).toMatchObject({ recovered: null, closes: 'assumed' });
  });
});

describe('all of it', () => {
  it('ends a screw as out, also one that was said to stay', () => {
    expect(told(breaks(20), piece(15), allOfIt()).of('1').stage).toBe('out');
    const left = told(stays(null));
    expect(left.of('1').stage).toBe('left-in');
    expect(allOfIt()(left).of('1')).toMatchObject({ stage: 'out', metal: { closes: 'assumed' } });
  });

  it('is said by somebody: what adds up ends nothing', () => {
    const log = told(breaks(20), piece(16));
    expect(log.of('1')).toMatchObject({ stage: 'fragment-retained', metal: { recovered: 36, closes: 'open' } });
    expect(piece(0, 'measured', { complete: false })(log).of('1').stage).toBe('fragment-retained');
  });

  it('brings the move that runs to its end', () => {
    const log = allOfIt()(told().begins('1', 'turn-out'));
    expect(log.of('1')).toMatchObject({ stage: 'out', move: null });
  });
});

describe('a screw that came out short', () => {
  const short = (more: Do = (log) => log, recovered = 20) => out(recovered)(more(table2()));
  const why = (answer: EntryOf<'length-answered'>['answer'], reachable?: boolean): Do =>
    write({ type: 'length-answered', screw: '1', answer, ...(reachable !== undefined && { reachable }) });

  it('counts as in, in the stage that it was in, until somebody says why', () => {
    const log = short();
    expect(log.of('1')).toMatchObject({
      ...{ stage: 'seated', lengthAsked: log.n, move: null },
      metal: { recovered: 20, unaccounted: 16, closes: 'open' },
    });
    expect(log.of('1').offered.length).toBeGreaterThan(0);
    expect(log.view.outOfOrder).toEqual([]);
    expect(isCounted(log)).toBe(false);
    const stripped = short((before) => before.tries('1', 'turn-out', 'slipped').looksAgain('1'));
    expect(stripped.of('1')).toMatchObject({ stage: 'recess-stripped', lengthAsked: stripped.n });
  });

  it.each<[string, Do, object]>([
    ['broke, and the stump can be reached', why('broke', true), { stage: 'head-sheared', metal: { closes: 'open' } }],
    [
      'broke, and only a fragment is left',
      why('broke', false),
      { stage: 'fragment-retained', metal: { closes: 'open' } },
    ],
    ['was listed wrong', why('listed-wrong'), { stage: 'out', metal: { recovered: 20, closes: 'measured' } }],
    ['lost its rest', why('lost'), { stage: 'out', metal: { unaccounted: 16, closes: 'open' } }],
  ])('%s', (_, answer, said) => {
    const log = answer(short());
    expect(log.of('1')).toMatchObject({ ...said, lengthAsked: null });
    expect(faultsOf(fileOf(log.entries))).toEqual([]);
  });

  it('that broke goes on as a broken one: the rest that comes out makes up its length', () => {
    const log = out(15.5)(why('broke', true)(short()));
    expect(log.of('1')).toMatchObject({
      stage: 'out',
      lengthAsked: null,
      metal: { recovered: 35.5, closes: 'measured' },
    });
    const inside = stays(null, image)(why('broke', false)(short()));
    expect(inside.of('1')).toMatchObject({ stage: 'left-in', metal: { left: 16, closes: 'difference' } });
  });

  it('is all of it after all, when it was seen to be whole', () => {
    const log = write({ type: 'piece-recovered', screw: '1', whole: true })(short());
    expect(log.of('1')).toMatchObject({
      stage: 'out',
      lengthAsked: null,
      metal: { recovered: 20, closes: 'measured' },
    });
  });

  it('is asked about once its length is asked for, and is not answered before', () => {
    const log = why('listed-wrong')(told(out(36)));
    expect(log.view.outOfOrder).toEqual([log.n]);
  });

  it.each<[string, () => Log]>([
    ['within the tolerance', () => told(out(35))],
    ['seen to be whole', () => told(out(20, 'measured', { whole: true }))],
    ['unmeasured', () => told(out())],
    ['of unknown length', () => out(20)(table2({ length: null }))],
    ['short by what was said of its head', () => told(shears({ head: 'shavings' }), out(29))],
  ])('is not asked about %s', (_, log) => expect(log().of('1')).toMatchObject({ stage: 'out', lengthAsked: null }));

  it('and was known to have broken is out, and open', () => {
    const log = short(shears());
    expect(log.of('1')).toMatchObject({ stage: 'out', metal: { recovered: 20, unaccounted: 16, closes: 'open' } });
  });
});

describe('the tip of a broken tool', () => {
  const damaged = (length?: number): Do =>
    write({
      ...{ type: 'tool-damaged', tool: 'gouge', how: 'tip gone', tipMissing: true },
      ...(length !== undefined && { length, lengthHow: 'measured' }),
    });
  const found = (more: object): Do => write({ type: 'piece-recovered', tool: 'gouge', ...more });
  const left = (more: object = {}): Do =>
    write({ type: 'left-in', tool: 'gouge', length: null, where: 'canal', reason: 'deep', ...more });
  const tips = (log: Log) => log.view.toolTips.map(({ closes }) => closes);
  /** Two tips of one tool, and the numbers of their breaking. */
  const two = () => {
    const log = told(out(), plateOut, damaged(4), damaged(6));
    return { log, first: log.n - 1, second: log.n };
  };

  it('is the one that the answer names by its breaking, whichever came first', () => {
    const { log, first, second } = two();
    expect(tips(log)).toEqual(['open', 'open']);
    const at = (tip: number, length: number) => found({ length, lengthHow: 'measured', tip })(log.fork());
    expect(tips(at(second, 6))).toEqual(['open', 'measured']);
    expect(tips(at(first, 4))).toEqual(['measured', 'open']);
    expect(tips(at(second, 4))).toEqual(['open', 'open']);
    expect(tips(left({ tip: second, ...image })(log.fork()))[0]).toBe('open');
    expect(faultsOf(fileOf(at(second, 6).entries))).toEqual([]);
  });

  it('is named by the end of the move that it broke under, also once its damage was described', () => {
    const log = table2().begins('1', 'gouge-and-grip', { tool: 'gouge' }).ends('1', 'tool-broke');
    const broke = log.n;
    expect(tips(found({ complete: true, tip: broke })(log.fork()))).toEqual(['assumed']);
    const described = damaged(4)(log);
    expect(tips(described)).toEqual(['open']);
    expect(tips(found({ length: 4, lengthHow: 'measured', tip: broke })(described))).toEqual(['measured']);
  });

  it('found and called all of it is assumed; found in a piece of which nobody said so it is open', () => {
    expect(tips(told(damaged(), found({ complete: true })))).toEqual(['assumed']);
    expect(tips(told(damaged(), found({ complete: false, length: 3, lengthHow: 'measured' })))).toEqual(['open']);
    expect(tips(told(damaged(), found({ length: 3, lengthHow: 'measured' })))).toEqual(['open']);
    expect(tips(told(damaged(6), found({ complete: true })))).toEqual(['assumed']);
    expect(tips(told(damaged(6), found({ complete: true, length: 2, lengthHow: 'measured' })))).toEqual(['open']);
  });

  it('known by an image alone closes as the difference at best', () => {
    expect(tips(told(damaged(4), found({ length: 3, lengthHow: 'image' })))).toEqual(['difference']);
    expect(tips(told(damaged(6), found({ length: 2, lengthHow: 'image' })))).toEqual(['open']);
  });

  it('found in part stays with an image as the difference, without one it is open', () => {
    const part = found({ length: 2, lengthHow: 'measured' });
    expect(tips(told(damaged(6), part, left(image)))).toEqual(['difference']);
    expect(tips(told(damaged(6), part, left()))).toEqual(['open']);
  });
});

describe('a word of format 1', () => {
  it('on what stays, without where its length comes from, is the difference', () => {
    const log = (more: object) => {
      const old = table2({}, { rules: undefined });
      old.tries('1', 'turn-out', 'shank-broke', { reachable: false, recovered: 20 });
      return old.leaves('1', { length: 9, ...more }).of('1').metal;
    };
    expect(log(image)).toMatchObject({ left: 16, unaccounted: 0, closes: 'difference' });
    expect(log({})).toMatchObject({ left: null, unaccounted: 16, closes: 'open' });
  });
});
