/** What is said a second time of the same metal, and what is measured after it came out. */
import { describe, expect, it } from 'vitest';
import { leftFrom } from '../../machines/trace.ts';
import { bothWays, table2 } from './build-2.ts';
import { atTheTable, type Log } from './build.ts';

const same = (log: Log) => {
  const [lived, whole] = bothWays(log);
  expect(lived).toEqual(whole);
  return log;
};

describe('a screw that was left in, and of which more is said', () => {
  const broken = () => table2().tries('1', 'turn-out', 'shank-broke', { recovered: 20, lengthHow: 'measured' });

  it('stays by the last word; both are in the log', () => {
    const log = broken().leaves('1', { length: 9, lengthHow: 'measured' });
    log.leaves('1', { length: 16, lengthHow: 'measured', reason: 'near the nerve', imageTaken: true });
    expect(log.view.outOfOrder).toEqual([]);
    expect(log.of('1')).toMatchObject({ stage: 'left-in', metal: { left: 16, unaccounted: 0, closes: 'measured' } });
    expect(leftFrom(log.folded.trace).get('1')).toBe('head-sheared');
    same(log);
    log.strikes(log.n);
    expect(log.of('1').metal).toMatchObject({ left: 9, unaccounted: 7, closes: 'open' });
  });

  it('is out of order once it is out', () => {
    const log = table2().tries('1', 'turn-out', 'out').leaves('1');
    expect(log.view.outOfOrder).toEqual([log.n]);
  });
});

describe('a screw left in by a word of format 1', () => {
  const left = (more: object, opened: object) => atTheTable({}, opened).leaves('1', more).of('1').metal.closes;

  it('is open without an image, although nothing tells of a break; in format 2 one that never broke is whole', () => {
    expect(left({}, {})).toBe('open');
    expect(left({ length: 36 }, {})).toBe('open');
    expect(left({ imageTaken: true }, {})).toBe('assumed');
    expect(left({}, { rules: 2 })).toBe('assumed');
  });

  it('is whole once it was said in format 2', () => {
    const log = atTheTable().leaves('1').write({ type: 'format-raised', to: 2, rules: 2 });
    expect(log.of('1').metal.closes).toBe('open');
    expect(log.leaves('1').of('1').metal.closes).toBe('assumed');
    same(log);
  });
});

describe('a screw that came out unmeasured, and is measured short', () => {
  const measured = (length: number, more: object = {}) =>
    ({ type: 'piece-recovered', screw: '1', length, lengthHow: 'measured', ...more }) as const;
  const isOut = () => table2().tries('1', 'turn-out', 'out');

  it('is asked about like one that came out short', () => {
    const log = isOut().write(measured(20));
    expect(log.of('1')).toMatchObject({ stage: 'out', lengthAsked: log.n, metal: { closes: 'open', unaccounted: 16 } });
    same(log);
    log.write({ type: 'length-answered', screw: '1', answer: 'broke', reachable: false });
    expect(log.of('1')).toMatchObject({ stage: 'fragment-retained', lengthAsked: null });
    same(log);
  });

  it('is as long as it was measured where it was listed wrong', () => {
    const log = isOut().write(measured(20)).write({ type: 'length-answered', screw: '1', answer: 'listed-wrong' });
    expect(log.of('1')).toMatchObject({ stage: 'out', lengthAsked: null, metal: { closes: 'measured' } });
  });

  it('of no known length is whole, by the one measure there is of it', () => {
    const log = table2({ length: null }).tries('1', 'turn-out', 'out').write(measured(20));
    expect(log.of('1').metal).toMatchObject({ recovered: 20, closes: 'assumed' });
  });

  it.each([
    ['within the tolerance', () => isOut().write(measured(35))],
    ['seen whole', () => isOut().write(measured(34, { whole: true }))],
    ['called complete', () => isOut().write(measured(20, { complete: true }))],
    ['only reckoned', () => isOut().write(measured(20, { lengthHow: 'difference' }))],
    [
      'broken',
      () =>
        table2()
          .tries('1', 'turn-out', 'shank-broke', { recovered: 5, lengthHow: 'measured' })
          .tries('1', 'gouge-and-grip', 'out')
          .write(measured(20)),
    ],
    ['of no known length', () => table2({ length: null }).tries('1', 'turn-out', 'out').write(measured(20))],
  ])('is not asked about: %s', (_, log) => expect(log().of('1').lengthAsked).toBeNull());
});

describe('metal that was put in today and taken out again', () => {
  const put = (what: object) => ({ type: 'put-in', kind: 'plate', where: 'tibia', ...what }) as const;
  const out = (part: string, more: object = {}) => ({ type: 'part-ended', part, end: 'out', ...more }) as const;

  it('stands once, with its end', () => {
    const log = table2().write(put({ part: 'new' }));
    expect(log.view.parts['new']).toEqual({ kind: 'other', end: 'put-in', pieces: 1, closes: 'assumed' });
    log.write(out('new'));
    expect(log.view.parts['new']).toEqual({ kind: 'other', end: 'out', pieces: 1, closes: 'assumed' });
    expect(Object.keys(log.view.parts)).toEqual(['plate', 'new']);
    same(log);
  });

  it('stands once with what it was listed as since', () => {
    const log = table2()
      .write(put({ part: 'new' }))
      .write({ type: 'part-listed', part: 'new', kind: 'wire', pieces: 2 });
    expect(log.view.parts['new']).toEqual({ kind: 'wire', end: 'put-in', pieces: 2, closes: 'assumed' });
    log.write(out('new'));
    expect(log.view.parts['new']).toEqual({ kind: 'wire', end: 'out', pieces: 2, closes: 'open' });
    expect(Object.keys(log.view.parts)).toEqual(['plate', 'new']);
  });

  it('is another one than what bore its name before and is out', () => {
    const log = table2()
      .write(out('plate'))
      .write(put({ part: 'plate' }));
    const id = `put-in-${log.n}`;
    expect(log.view.parts[id]?.end).toBe('put-in');
    log.write(out('plate'));
    expect(log.view.parts).toMatchObject({ plate: { end: 'out' }, [id]: { end: 'out', closes: 'assumed' } });
    same(log);
  });

  it('is the old one that is out while nobody spoke of that', () => {
    const log = table2().write(put({ part: 'plate' }));
    const id = `put-in-${log.n}`;
    log.write(out('plate'));
    expect(log.view.parts).toMatchObject({ plate: { end: 'out' }, [id]: { end: 'put-in' } });
  });

  it('a screw stands among the screws once it is out, and stays as it was said until then', () => {
    const log = table2()
      .write(put({ screw: 'new', kind: 'screw' }))
      .screw('new')
      .write({ type: 'work-ended' });
    expect(log.view.parts['new']?.end).toBe('put-in');
    expect(log.of('new').metal.closes).toBe('assumed');
    log.tries('new', 'turn-out', 'out');
    expect(log.view.parts['new']).toBeUndefined();
    expect(log.of('new').stage).toBe('out');
    same(log);
  });

  it('a screw put in where one of its name was listed is another one', () => {
    const log = table2()
      .tries('1', 'turn-out', 'out')
      .write(put({ screw: '1', kind: 'screw' }));
    expect(log.view.parts['1']?.end).toBe('put-in');
  });
});
