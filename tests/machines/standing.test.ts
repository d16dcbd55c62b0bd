/** What stands open of one screw and of the case, and what lies under the heads. */
import { describe, expect, it } from 'vitest';
import type { EntryDraft } from '../../machines/entry.ts';
import {
  calledScrew,
  closingHolds,
  hasPartsUnderHeads,
  screwHolds,
  screwLines,
  screwStops,
  situationOf,
} from '../../machines/standing.ts';
import type { ScrewSnapshot } from '../../machines/folded.ts';
import { table2 } from './build-2.ts';
import { atTheTable, inTheRoom, Log } from './build.ts';
import { atTable } from './ladder-2/build.ts';

type Kind = Extract<EntryDraft, { type: 'part-listed' }>['kind'];
const listed = (log: Log, kind: Kind, part: string = kind) => log.write({ type: 'part-listed', part, kind });
const under = ({ folded }: Log) => hasPartsUnderHeads(folded);

describe('something lies under a head', () => {
  it.each<[Kind, boolean]>([
    ['washer', true],
    ['barrel', true],
    ['plate', false],
    ['nail', false],
    ['cable', false],
    ['nut', false],
    ['other', false],
  ])('while a %s is listed: %s', (kind, is) => expect(under(listed(table2(), kind))).toBe(is));

  it('not where nothing is listed', () => expect(under(table2())).toBe(false));

  it('while one of several is not off', () => {
    const log = listed(listed(listed(table2(), 'cable'), 'washer', 'a'), 'washer', 'b');
    expect(under(log)).toBe(true);
    expect(under(log.write({ type: 'part-ended', part: 'a', end: 'out' }))).toBe(true);
    expect(under(log.write({ type: 'part-ended', part: 'b', end: 'out' }))).toBe(false);
  });

  it('not once it was said to be off the bone, out or not', () => {
    const log = listed(table2(), 'barrel');
    expect(under(log.fork().write({ type: 'plate-off', part: 'barrel' }))).toBe(false);
    expect(under(log.write({ type: 'plate-off' }))).toBe(true);
  });

  it('is asked for by the second ladder alone, and said where it is so', () => {
    const around = (log: Log) => situationOf(log.folded, '1')?.around;
    expect(around(listed(table2(), 'washer'))).toBeUndefined();
    expect(around(atTable())).toBeUndefined();
    const log = listed(atTable(), 'washer');
    expect(around(log)).toBe(true);
    expect(situationOf(atTable().folded, '1')).not.toHaveProperty('around');
    expect(around(log.write({ type: 'part-ended', part: 'washer', end: 'out' }))).toBeUndefined();
  });
});

describe('the screw that is worked on', () => {
  it('is none before one was called, nor one that nobody listed', () => {
    expect(calledScrew(atTheTable().folded)).toBeNull();
    const { folded } = atTheTable();
    const { case: snapshot } = folded;
    const wrong = { ...snapshot, context: { ...snapshot.context, called: '9' } } as typeof snapshot;
    expect(calledScrew({ ...folded, case: wrong })).toBeNull();
  });

  it('is the one called last, also by a move on it, until it is out or stays', () => {
    const log = atTheTable().screw('2').call('1');
    expect(calledScrew(log.folded)).toBe('1');
    expect(calledScrew(log.begins('2', 'turn-out').folded)).toBe('2');
    expect(calledScrew(log.fork().leaves('2').folded)).toBeNull();
    expect(calledScrew(log.ends('2', 'out').folded)).toBeNull();
    expect(calledScrew(log.call('1').folded)).toBe('1');
  });
});

describe('holds of a screw', () => {
  const holds = (log: Log) => screwHolds(log.folded.screws.get('1') as ScrewSnapshot);

  it('are both where somebody has to look again and nothing was gained, looking again first', () => {
    const log = atTheTable().tries('1', 'turn-out', 'no-change');
    expect(holds(log)).toEqual([]);
    expect(holds(log.tries('1', 'turn-out', 'slipped'))).toEqual(['reassess', 'second-surgeon']);
    expect(holds(log.looksAgain('1'))).toEqual(['second-surgeon']);
  });

  it('are none once it is out or stays', () => {
    const log = () => atTheTable().tries('1', 'turn-out', 'no-change').tries('1', 'turn-out', 'slipped');
    expect(holds(log().leaves('1'))).toEqual([]);
    expect(holds(log().tries('1', 'grip-head', 'out'))).toEqual([]);
  });
});

describe('a look that is asked for again', () => {
  const snapshot = (log: Log) => log.folded.screws.get('1') as ScrewSnapshot;
  const said = (log: Log) => ({ stops: screwStops(snapshot(log)), lines: screwLines(snapshot(log)) });
  /** A slip under the driver, looked at, then one under the pliers. */
  const twice = (log: Log, between: (log: Log) => Log = (same) => same) =>
    between(log.tries('1', 'turn-out', 'slipped').looksAgain('1')).tries('1', 'grip-head', 'slipped');
  const called = (log: Log) => log.write({ type: 'colleague-called' });

  it('stops as long as nobody has spoken of a second surgeon', () => {
    expect(said(atTable().tries('1', 'turn-out', 'slipped'))).toEqual({ stops: ['reassess'], lines: [] });
    expect(said(twice(atTable()))).toEqual({ stops: ['reassess', 'second-surgeon'], lines: [] });
    expect(situationOf(twice(atTable()).folded, '1')?.reassess).toBe(true);
  });

  it('is a line once one was called, and closes no move', () => {
    const log = twice(atTable(), called);
    expect(said(log)).toEqual({ stops: [], lines: ['reassess'] });
    expect(screwHolds(snapshot(log))).toEqual(['reassess']);
    expect(situationOf(log.folded, '1')?.reassess).toBe(false);
    expect(said(log.looksAgain('1'))).toEqual({ stops: [], lines: [] });
  });

  it('is no line any more once the screw is out', () =>
    expect(said(twice(atTable(), called).tries('1', 'grip-head', 'out'))).toEqual({ stops: [], lines: [] }));

  it('always stops by the first ladder', () =>
    expect(said(twice(atTheTable(), called))).toEqual({ stops: ['reassess'], lines: [] }));
});

describe('holds at the end of the work', () => {
  const cut = () => atTheTable({ stage: 'recess-stripped' }).tries('1', 'slot-head', 'out');
  const counted = (log: Log) => log.write({ type: 'count-answered', by: ['scrub', 'circulating'] });

  it('are the shavings and the count, each until it is answered', () => {
    expect(closingHolds(cut().folded)).toEqual(['shavings', 'count']);
    const ended = () => cut().write({ type: 'work-ended' });
    expect(closingHolds(ended().folded)).toEqual(['shavings', 'count']);
    expect(closingHolds(ended().write({ type: 'washed-out' }).folded)).toEqual(['count']);
    const all = atTheTable().tries('1', 'turn-out', 'out', { recovered: 36 }).write({ type: 'work-ended' });
    expect(closingHolds(counted(all).folded)).toEqual([]);
  });

  it('are none before the work began, nor once the case is closed', () => {
    expect(closingHolds(new Log().folded)).toEqual([]);
    expect(closingHolds(inTheRoom().folded)).toEqual([]);
    expect(closingHolds(cut().write({ type: 'case-closed' }).folded)).toEqual([]);
  });
});
