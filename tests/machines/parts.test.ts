/** The account of plate, nail, foil and every other part: where each of its pieces is, as far as anybody said. */
import { describe, expect, it } from 'vitest';
import { partAccounts } from '../../machines/compute/parts.ts';
import type { EntryDraft, EntryOf } from '../../machines/entry.ts';
import { bothWays, faultsOf, fileOf, isCounted, table2 } from './build-2.ts';
import { atTheTable, offered, type Log } from './build.ts';

const parts = (log: Log) => log.view.parts;
const ended = (log: Log, part: string, end: EntryOf<'part-ended'>['end'], more: object = {}) =>
  log.write({ type: 'part-ended', part, end, ...more });
const listed = (log: Log, part: string, kind: EntryOf<'part-listed'>['kind'], more: object = {}) =>
  log.write({ type: 'part-listed', part, kind, ...more });
const over = (log: Log) => log.write({ type: 'work-ended' });
const counts = (log: Log) => log.write({ type: 'count-answered', by: ['scrub', 'circulating'] });
const isOpen = (log: Log) => log.view.holds.includes('count');
/** The screw is out, so that parts alone stand open. */
const out = (log: Log) => log.tries('1', 'turn-out', 'out', { recovered: 36, lengthHow: 'measured' });
const plate = { kind: 'plate', pieces: 1 } as const;

describe('the parts of a case', () => {
  it.each(['plate', 'nail'] as const)('are the %s that it is about, by itself', (construct) => {
    expect(parts(table2({}, { construct }))).toEqual({
      [construct]: { kind: construct, end: null, pieces: 1, closes: null },
    });
  });

  it('are none where it is about screws alone', () => expect(parts(table2({}, { construct: 'screws' }))).toEqual({}));

  it('are what was listed besides, in the order in which it was spoken of, the own one first', () => {
    const log = listed(listed(table2(), 'washer 1', 'washer'), 'cable', 'cable', { pieces: 3, length: 120 });
    ended(log, 'plate', 'out');
    expect(Object.entries(parts(log)).map(([id, { kind, pieces }]) => [id, kind, pieces])).toEqual([
      ['plate', 'plate', 1],
      ['washer 1', 'washer', 1],
      ['cable', 'cable', 3],
    ]);
    expect(faultsOf(fileOf(log.entries))).toEqual([]);
  });

  it('are also those that were only said to have come out', () =>
    expect(parts(ended(table2(), 'a wire', 'out'))['a wire']).toEqual({
      ...{ kind: 'other', end: 'out', pieces: 1, closes: 'assumed' },
    }));

  it('keep what was said of them when they are listed again', () => {
    const log = ended(listed(table2(), 'cable', 'cable', { pieces: 2 }), 'cable', 'out', { piece: 1 });
    expect(parts(listed(log, 'cable', 'wire')).cable).toMatchObject({ kind: 'wire', pieces: 2, end: 'out' });
  });
});

describe('a plate that nobody spoke of', () => {
  it('closes nothing, and is open once the work has ended', () => {
    expect(parts(table2()).plate).toEqual({ ...plate, end: null, closes: null });
    expect(parts(over(table2())).plate).toEqual({ ...plate, end: null, closes: 'open' });
  });

  it('holds the count open, until somebody says where it is, or looks for it with an image', () => {
    const log = over(out(table2()));
    expect(isOpen(counts(log.fork()))).toBe(true);
    expect(isOpen(counts(ended(log.fork(), 'plate', 'out')))).toBe(false);
    expect(isOpen(counts(ended(log.fork(), 'plate', 'left-in')))).toBe(false);
    expect(isOpen(counts(ended(log.fork(), 'plate', 'not-found')))).toBe(true);
    const said = { by: ['scrub', 'surgeon'] as const, discrepancy: 'the plate was not counted' };
    const looked = (more: object) =>
      isOpen(log.fork().write({ type: 'count-answered', ...said, ...more } as unknown as EntryDraft));
    expect([looked({}), looked({ image: 'clear' }), looked({ image: 'not-taken' })]).toEqual([true, false, true]);
  });

  it('was not asked for in format 1, whose count stands without it', () => {
    const log = over(out(atTheTable()));
    expect(parts(log).plate).toMatchObject({ end: null, closes: 'open' });
    expect(isOpen(counts(log))).toBe(false);
  });
});

describe('a part that is spoken of once the count is answered', () => {
  const counted = () => counts(over(ended(out(table2()), 'plate', 'out')));

  it('opens the count again when it is open itself', () => {
    expect(isOpen(counted())).toBe(false);
    expect(isOpen(listed(counted(), 'drain clip', 'other'))).toBe(true);
    expect(isOpen(ended(counted(), 'drain clip', 'not-found'))).toBe(true);
    expect(isOpen(ended(counted(), 'plate', 'not-found'))).toBe(true);
  });

  it('leaves it answered when somebody says where it is', () => {
    expect(isOpen(ended(counted(), 'drain clip', 'out'))).toBe(false);
    expect(isOpen(counted().write({ type: 'put-in', part: 'new plate', kind: 'plate', where: 'tibia' }))).toBe(false);
  });
});

describe('the pieces of a part', () => {
  const cut = (pieces = 2) => listed(table2(), 'plate', 'plate', { pieces });
  type End = EntryOf<'part-ended'>['end'];
  const rows: [said: string, ends: readonly [piece: number, end: End, more?: object][], end: End, closes: string][] = [
    ['one of two out', [[1, 'out']], 'out', 'open'],
    [
      'both out',
      [
        [1, 'out'],
        [2, 'out'],
      ],
      'out',
      'assumed',
    ],
    [
      'half of it stays',
      [
        [1, 'out'],
        [2, 'left-in'],
      ],
      'left-in',
      'difference',
    ],
    [
      'both stay',
      [
        [1, 'left-in'],
        [2, 'left-in'],
      ],
      'left-in',
      'assumed',
    ],
    [
      'one out, one not found',
      [
        [1, 'out'],
        [2, 'not-found'],
      ],
      'not-found',
      'open',
    ],
    ['one out, which was all of it', [[1, 'out', { complete: true }]], 'out', 'assumed'],
    ['one out, which was not all of it', [[1, 'out', { complete: false }]], 'out', 'open'],
    [
      'one that was said to stay came out after all',
      [
        [1, 'out'],
        [2, 'left-in'],
        [2, 'out'],
      ],
      'out',
      'assumed',
    ],
    [
      'one that was said to be out stays',
      [
        [1, 'out'],
        [2, 'out'],
        [1, 'left-in'],
      ],
      'left-in',
      'difference',
    ],
    [
      'called complete, and one not found',
      [
        [1, 'not-found'],
        [2, 'out', { complete: true }],
      ],
      'not-found',
      'open',
    ],
  ];
  it.each(rows)('%s', (_, ends, end, closes) => {
    const log = ends.reduce((so, [piece, how, more]) => ended(so, 'plate', how, { piece, ...more }), cut());
    expect(parts(log).plate).toEqual({ kind: 'plate', end, pieces: 2, closes });
    expect(faultsOf(fileOf(log.entries))).toEqual([]);
    expect(isCounted(out(log))).toBe(closes !== 'open');
  });

  it('are one unless somebody says that there are more: cut later, it is open again', () => {
    const log = ended(table2(), 'plate', 'out');
    expect(parts(log).plate).toMatchObject({ pieces: 1, closes: 'assumed' });
    expect(parts(listed(log, 'plate', 'plate', { pieces: 3 })).plate).toMatchObject({ pieces: 3, closes: 'open' });
  });

  it('are as many as were spoken of, when those are more than were listed', () => {
    const log = ended(ended(table2(), 'plate', 'out', { piece: 1 }), 'plate', 'out', { piece: 2 });
    expect(parts(log).plate).toMatchObject({ pieces: 2, closes: 'assumed' });
  });
});

describe('a plate off the bone', () => {
  const off = (more: object = {}) => table2().write({ type: 'plate-off', ...more });

  it('is out only when somebody says so', () => {
    expect(off().folded.case.context.room.plateOff).toBe(true);
    expect(parts(off()).plate).toEqual({ ...plate, end: null, closes: null });
    expect(parts(over(off())).plate).toEqual({ ...plate, end: null, closes: 'open' });
    expect(parts(ended(off(), 'plate', 'out')).plate).toEqual({ ...plate, end: 'out', closes: 'assumed' });
  });

  it('was out with that word in format 1, taken as whole', () =>
    expect(parts(atTheTable().write({ type: 'plate-off' })).plate).toEqual({
      ...plate,
      end: 'out',
      closes: 'assumed',
    }));

  it('is the one that is named: another one stays on', () => {
    const log = off({ part: 'second plate' });
    expect(log.folded.case.context.room.plateOff).toBe(false);
    expect(parts(over(log))).toMatchObject({ plate: { end: null }, 'second plate': { end: null, closes: 'open' } });
    expect(off({ part: 'plate' }).folded.case.context.room.plateOff).toBe(true);
  });
});

describe('a move of a part', () => {
  const moved = (move: EntryOf<'part-move'>['move'], more: object = {}, part = 'plate') =>
    table2({}, part === 'nail' ? { construct: 'nail' } : {}).write({ type: 'part-move', part, move, ...more });
  const stands = (log: Log, id = 'plate') => [log.folded.case.context.room.plateOff, parts(log)[id]?.end];

  it('that lifts it leaves it off the bone, and no more', () => {
    expect(stands(moved('lift'))).toEqual([true, null]);
    expect(parts(over(moved('lift'))).plate?.closes).toBe('open');
    expect(stands(moved('lift', { outcome: 'no-change' }))).toEqual([false, null]);
  });

  it('that ends with it out leaves it off the bone and out', () => {
    expect(stands(moved('lever-plate', { outcome: 'out' }))).toEqual([true, 'out']);
    expect(parts(moved('lever-plate', { outcome: 'out' })).plate?.closes).toBe('assumed');
    expect(stands(moved('hammer-nail', { outcome: 'out' }, 'nail'), 'nail')).toEqual([false, 'out']);
  });

  it.each(['moving', 'no-change', 'bone-broke'] as const)('that ends as %s leaves it where it is', (outcome) =>
    expect(stands(moved('lever-plate', { outcome }))).toEqual([false, null]),
  );

  it('that breaks its tool leaves a tip to be found', () => {
    const log = moved('lever-plate', { outcome: 'tool-broke', tool: 'mallet' });
    expect(log.view.toolTips).toMatchObject([{ tool: 'mallet', entry: log.n, closes: 'open' }]);
  });
});

describe('foil', () => {
  const packs = (log: Log, screw = '1') => log.begins(screw, 'pack-recess');
  const foils = (log: Log) => Object.keys(parts(log)).filter((id) => id.startsWith('foil-'));

  it('is a part of its own for each pack, open until somebody says where it is', () => {
    const log = packs(table2({ stage: 'recess-stripped' }));
    const first = log.n;
    packs(log.ends('1', 'no-change'));
    const second = log.n;
    expect(foils(log)).toEqual([`foil-1-${first}`, `foil-1-${second}`]);
    out(ended(log, 'plate', 'out').ends('1', 'moving'));
    expect(isCounted(log)).toBe(false);
    ended(log, `foil-1-${first}`, 'out');
    expect(parts(log)).toMatchObject({
      [`foil-1-${first}`]: { kind: 'foil', end: 'out', closes: 'assumed' },
      [`foil-1-${second}`]: { kind: 'foil', end: null, closes: null },
    });
    expect(isCounted(log)).toBe(false);
    expect(isCounted(ended(log, `foil-1-${second}`, 'out'))).toBe(true);
  });

  it('was never there when its pack is struck', () => {
    const log = packs(table2({ stage: 'recess-stripped' }));
    expect(foils(log.strikes(log.n))).toEqual([]);
  });

  it('belongs to the screw that it was packed on', () => {
    const log = packs(table2({ stage: 'recess-stripped' }).screw('2', { stage: 'recess-stripped' }), '2');
    expect(foils(log)).toEqual([`foil-2-${log.n}`]);
  });

  it('is there also when its pack is told late', () => {
    const day = (time: string) => `2026-03-04T${time}Z`;
    const log = table2({ stage: 'recess-stripped' })
      .begins('1', 'grip-head', { at: day('10:00:00') })
      .ends('1', 'out', { at: day('10:02:00') });
    const told = { logged: day('10:20:00') };
    log.begins('1', 'pack-recess', { at: day('09:50:00'), ...told });
    const pack = log.n;
    log.ends('1', 'no-change', { at: day('09:52:00'), ...told, start: pack });
    expect(log.view.outOfOrder).toEqual([]);
    expect(foils(log)).toEqual([`foil-1-${pack}`]);
  });
});

describe('what was put in today', () => {
  const put = (log: Log, more: object) =>
    log.write({ type: 'put-in', kind: 'plate', where: 'tibia', ...more } as unknown as EntryDraft);

  it('counts as staying', () => {
    const log = put(put(table2(), { part: 'new plate' }), { screw: 'N1', kind: 'locking screw', length: 40 });
    expect(parts(log)).toMatchObject({
      'new plate': { end: 'put-in', pieces: 1, closes: 'assumed' },
      N1: { end: 'put-in', pieces: 1, closes: 'assumed' },
    });
    expect(Object.keys(log.view.screws)).toEqual(['1']);
    expect(faultsOf(fileOf(log.entries))).toEqual([]);
    expect(isCounted(out(ended(log, 'plate', 'out')))).toBe(true);
  });

  it('hides nothing that was there before, whatever its name', () => {
    const log = put(over(out(table2())), { part: 'plate' });
    expect(isOpen(counts(log.fork()))).toBe(true);
    expect(Object.values(parts(log)).map(({ end }) => end)).toEqual([null, 'put-in']);
  });
});

describe('the account of a part', () => {
  const account = (log: Log) => partAccounts(log.folded.case.context);

  it('tells what it is, how long, and which entries told of it', () => {
    const log = listed(table2(), 'cable', 'cable', { what: 'braided', length: 120 });
    log.write({ type: 'plate-off' });
    const off = log.n;
    log.write({ type: 'put-in', part: 'new', kind: 'locking plate', length: 90, where: 'tibia' });
    const unsaid = { what: null, length: null, off: null, putIn: null };
    expect(account(log)).toEqual([
      { id: 'plate', kind: 'plate', pieces: 1, end: null, closes: null, ...unsaid, off },
      { id: 'cable', kind: 'cable', pieces: 1, end: null, closes: null, ...unsaid, what: 'braided', length: 120 },
      {
        ...{ id: 'new', kind: 'other', pieces: 1, end: 'put-in', closes: 'assumed' },
        ...{ ...unsaid, what: 'locking plate', length: 90, putIn: log.n },
      },
    ]);
  });

  it('of a plate that nobody spoke of is the plate alone', () =>
    expect(account(table2())).toEqual([
      { ...plate, id: 'plate', what: null, length: null, end: null, closes: null, off: null, putIn: null },
    ]));

  it('of what was put in is as long as was said of it since, where nothing was said as it went in', () => {
    const log = table2().write({ type: 'put-in', part: 'new', kind: 'wire', where: 'tibia' });
    expect(account(listed(log, 'new', 'wire', { length: 80, pieces: 2 })).at(-1)).toEqual({
      ...{ id: 'new', kind: 'wire', what: 'wire', length: 80, pieces: 2, end: 'put-in', closes: 'assumed' },
      ...{ off: null, putIn: log.n - 1 },
    });
    ended(log, 'new', 'out', { piece: 1 });
    expect(account(log).at(-1)).toMatchObject({ id: 'new', end: 'out', closes: 'open', pieces: 2 });
    expect(account(ended(log, 'new', 'out', { piece: 2 })).at(-1)).toMatchObject({ end: 'out', closes: 'assumed' });
  });

  it('of two that were put in under one name are two', () => {
    const put = (log: Log) => log.write({ type: 'put-in', part: 'new', kind: 'wire', where: 'tibia' });
    const log = put(put(table2({}, { construct: 'screws' })));
    expect(account(log).map(({ id, end, putIn }) => [id, end, putIn])).toEqual([
      ['new', 'put-in', log.n - 1],
      [`put-in-${log.n}`, 'put-in', log.n],
    ]);
  });
});

describe('work that is stopped', () => {
  const stop = (log: Log) => log.write({ type: 'stopped' });

  it('leaves in what nobody had moved, taken as whole', () => {
    const log = stop(listed(table2(), 'washer 1', 'washer'));
    for (const id of ['plate', 'washer 1']) expect(parts(log)[id]).toMatchObject({ end: 'left-in', closes: 'assumed' });
    expect(isCounted(log)).toBe(true);
  });

  it('says nothing of what was off the bone already, or in pieces of which only one was spoken of', () => {
    expect(parts(over(stop(table2().write({ type: 'plate-off' })))).plate).toMatchObject({ end: null, closes: 'open' });
    const half = ended(listed(table2(), 'plate', 'plate', { pieces: 2 }), 'plate', 'out', { piece: 1 });
    expect(parts(over(stop(half))).plate).toMatchObject({ closes: 'open' });
  });

  it('leaves out what was out before', () =>
    expect(parts(stop(ended(table2(), 'plate', 'out'))).plate).toMatchObject({ end: 'out', closes: 'assumed' }));

  it('says nothing of what was brought in today to turn a screw: foil and guide wire are looked for', () => {
    for (const kind of ['foil', 'guide-wire'] as const)
      expect(parts(over(stop(listed(table2(), 'x', kind)))).x).toMatchObject({ end: null, closes: 'open' });
    expect(parts(over(stop(listed(table2(), 'x', 'wire')))).x).toMatchObject({ end: 'left-in', closes: 'assumed' });
  });

  it('says nothing of what was found only after', () => {
    const log = listed(stop(table2()), 'clip', 'other');
    expect(parts(over(log))).toMatchObject({
      plate: { end: 'left-in', closes: 'assumed' },
      clip: { end: null, closes: 'open' },
    });
  });

  it('is taken back by the next move', () =>
    expect(parts(stop(table2()).begins('1', 'turn-out')).plate).toMatchObject({ end: null, closes: null }));
});

describe('a part after the case was closed', () => {
  it('changes the account, and no stage', () => {
    const log = over(out(table2())).write({ type: 'case-closed' });
    expect(parts(log).plate).toMatchObject({ closes: 'open' });
    ended(log, 'plate', 'out');
    listed(log, 'clip', 'other');
    expect(parts(log)).toMatchObject({ plate: { end: 'out', closes: 'assumed' }, clip: { end: null, closes: 'open' } });
    expect(log.view).toMatchObject({ phase: 'closed', outOfOrder: [] });
  });
});

it('parts read the same entry by entry and all at once, and leave the offer alone', () => {
  const log = table2({ stage: 'recess-stripped' });
  const before = offered(log.of('1'));
  listed(log, 'cable', 'cable', { pieces: 2 });
  ended(log, 'cable', 'out', { piece: 1 });
  expect(offered(log.of('1'))).toEqual(before);
  log.begins('1', 'pack-recess');
  log.strikes(log.n);
  ended(log, 'plate', 'out').write({ type: 'stopped', reason: 'time' });
  const [lived, whole] = bothWays(log);
  expect(lived).toEqual(whole);
});
