/** How a log says which format it stands in, and what each format lets it do. */
import { describe, expect, it } from 'vitest';
import { acrossEntries, readCase, startOf } from '../../machines/case-file.ts';
import { loadContent } from '../../content/catalog.ts';
import type { EntryDraft } from '../../machines/entry.ts';
import { fold } from '../../machines/fold.ts';
import { attemptsOf, rowsOf } from '../../machines/trace.ts';
import { view } from '../../machines/view.ts';
import { bothWays, faultsOf, fileOf, table2 } from './build-2.ts';
import { Log, atTheTable, content } from './build.ts';

const raise = (log: Log) => log.write({ type: 'format-raised', to: 2, rules: 2 });
const formatsOf = (log: Log) => rowsOf(log.folded.trace).map(({ format }) => format);
const lengthHow = 'required with a length: was it measured, read from an image, or left by difference?';

describe('an old case that is continued', () => {
  const out = { recovered: 36 } as const;

  it('stands in format 1 until it is raised, and in format 2 from that entry on', () => {
    const log = raise(atTheTable());
    const raised = log.n;
    log.tries('1', 'turn-out', 'out', { ...out, lengthHow: 'measured' });
    expect(formatsOf(log)).toEqual(log.entries.map(({ n }) => (n < raised ? 1 : 2)));
    expect(log.folded).toMatchObject({ began: 1, format: 2 });
    expect(faultsOf(fileOf(log.entries))).toEqual([]);
    expect(log.view.outOfOrder).toEqual([]);
  });

  it('is read in a file of format 2 alone', () => {
    const log = raise(atTheTable());
    expect(faultsOf(fileOf(log.entries, { formatVersion: 1 }))).toEqual([
      `entries[${log.n - 1}].type: unknown entry type "format-raised"`,
    ]);
  });

  it('may hold before it what format 1 allowed, and after it no more', () => {
    const before = raise(atTheTable().tries('1', 'turn-out', 'out', out));
    expect(faultsOf(fileOf(before.entries))).toEqual([]);
    const after = raise(atTheTable()).tries('1', 'turn-out', 'out', out);
    expect(faultsOf(fileOf(after.entries))).toEqual([`entries[${after.n - 1}].lengthHow: ${lengthHow}`]);
    const reamer = { inner: 7, outer: 7 };
    expect(faultsOf(fileOf(raise(atTheTable().tool('hollow-reamer', reamer)).entries))).toEqual([]);
    const thick = raise(atTheTable()).tool('hollow-reamer', reamer);
    expect(faultsOf(fileOf(thick.entries))).toEqual([
      `entries[${thick.n - 1}].inner: is not less than the outer diameter`,
    ]);
  });

  it('may hold after it what format 2 brought, and before it nothing of it', () => {
    const stop = { type: 'stopped', reason: 'time' } as const;
    expect(faultsOf(fileOf(raise(atTheTable()).write(stop).entries))).toEqual([]);
    const early = raise(atTheTable().write(stop));
    expect(faultsOf(fileOf(early.entries))).toEqual([`entries[${early.n - 2}].type: unknown entry type "stopped"`]);
    const wide = raise(atTheTable().write({ type: 'plate-off', part: 'plate' }));
    expect(faultsOf(fileOf(wide.entries))).toEqual([`entries[${wide.n - 2}].part: unknown field`]);
  });

  it('keeps what its first part left unsaid as format 1 meant it: the plate is out, taken as whole', () => {
    expect(raise(atTheTable().write({ type: 'plate-off' })).view.parts.plate).toMatchObject({
      ...{ end: 'out', closes: 'assumed' },
    });
    expect(raise(atTheTable()).write({ type: 'plate-off' }).view.parts.plate).toMatchObject({
      ...{ end: null, closes: null },
    });
  });

  it('knows of nobody who said so in its first part, whatever stands there, and of those in its second [Z40]', () => {
    const said = { calledBy: 'surgeon', loggedBy: 'circulating' } as const;
    const log = atTheTable().begins('1', 'turn-out', said).ends('1', 'no-change', said);
    raise(log).begins('1', 'grip-head', said);
    const starts = attemptsOf(log.folded.trace).map(({ start }) => [start.calledBy, start.loggedBy]);
    expect(starts).toEqual([
      [undefined, undefined],
      ['surgeon', 'circulating'],
    ]);
    expect(log.entries[log.n - 4]).toMatchObject(said);
  });

  it('asks why a screw is short only of what came out in its second part', () => {
    const short = { recovered: 20 } as const;
    expect(raise(atTheTable().tries('1', 'turn-out', 'out', short)).of('1')).toMatchObject({
      ...{ stage: 'out', lengthAsked: null },
    });
    const log = raise(atTheTable()).tries('1', 'turn-out', 'out', { ...short, lengthHow: 'measured' });
    expect(log.of('1')).toMatchObject({ stage: 'seated', lengthAsked: log.n });
  });

  it('is raised by its own entry, not by one that only looks like the new format', () =>
    expect(formatsOf(atTheTable().write({ type: 'plate-off', part: 'plate' }))).not.toContain(2));
});

describe('a new case', () => {
  it.each<[string, object]>([
    ['its rules', { rules: 2 }],
    ['its content', { contentVersion: '2026.1' }],
    ['both', { rules: 2, contentVersion: '2026.1' }],
  ])('that says %s stands in format 2 throughout', (_, opened) => {
    const log = atTheTable({}, opened);
    expect(new Set(formatsOf(log))).toEqual(new Set([2]));
    expect(faultsOf(fileOf(log.entries))).toEqual([]);
    expect(faultsOf(fileOf(log.entries, { formatVersion: 1 })).length).toBeGreaterThan(0);
    expect(startOf(log.entries, 2)).toBe(1);
  });

  it('carries its rules at the top of the file too, and is read with them', () => {
    const read = readCase(fileOf(table2().entries, { rules: 2 }), loadContent);
    expect(read).toMatchObject({ file: { formatVersion: 2, rules: 2 } });
    const without = readCase(fileOf(table2().entries), loadContent);
    expect('file' in without && 'rules' in without.file).toBe(false);
    expect(faultsOf(fileOf(atTheTable().entries, { formatVersion: 1, rules: 2 }))).toEqual(['rules: unknown field']);
  });
});

describe('a file of format 2 written by hand', () => {
  const log = () => atTheTable().write({ type: 'plate-off' }).write({ type: 'stopped' });

  it('may say neither its rules nor its content: all of it stands in format 2', () => {
    expect(faultsOf(fileOf(log().entries))).toEqual([]);
    expect(startOf(log().entries, 2)).toBe(2);
    expect(startOf(log().entries, 1)).toBe(1);
    expect(startOf([], 2)).toBe(2);
    const folded = fold(log().entries, content, undefined, startOf(log().entries, 2));
    expect(folded).toMatchObject({ began: 2, format: 2, rules: { number: 2 } });
    expect(view(folded).parts.plate).toMatchObject({ end: null });
  });

  it('is held to format 2 from its first entry on', () => {
    const short = atTheTable().tries('1', 'turn-out', 'out', { recovered: 36 });
    expect(faultsOf(fileOf(short.entries))).toEqual([`entries[${short.n - 1}].lengthHow: ${lengthHow}`]);
    expect(faultsOf(fileOf(short.entries, { formatVersion: 1 }))).toEqual([]);
  });
});

describe('rules and content that disagree', () => {
  const file = (opened: object, top: object = {}) => faultsOf(fileOf(atTheTable({}, opened).entries, top));

  it('are a fault at the opening', () => {
    expect(file({ contentVersion: '2026.2' })).toEqual([
      'entries[0].contentVersion: is not 2026.1, which the file names',
    ]);
    expect(file({ rules: 2 }, { rules: 1 })).toEqual(['entries[0].rules: is not 1, which the file names']);
    expect(file({ rules: 1 }, { rules: 2 })).toEqual(['entries[0].rules: is not 2, which the file names']);
    expect(file({ rules: 2, contentVersion: '2026.1' }, { rules: 2 })).toEqual([]);
    expect(file({ contentVersion: '2026.1' }, { rules: 2 })).toEqual([]);
  });

  it('are a fault where this build lacks them', () => {
    expect(file({ rules: 9 })).toEqual(['entries[0].rules: this build has no rules 9']);
    for (const [rules, shown] of [
      [9, '9'],
      [0, '0'],
      ['2', '"2"'],
      [null, 'null'],
    ])
      expect(file({ contentVersion: '2026.1' }, { rules })).toEqual([`rules: this build has no rules ${shown}`]);
  });

  it('are a fault where a case is raised', () => {
    const raised = atTheTable().write({ type: 'format-raised', to: 2, rules: 1 });
    expect(faultsOf(fileOf(raised.entries, { rules: 2 }))).toEqual([
      `entries[${raised.n - 1}].rules: is not 2, which the file names`,
    ]);
    expect(faultsOf(fileOf(raised.entries))).toEqual([]);
  });
});

describe('the time of logging', () => {
  const day = (time: string) => `2026-03-04T${time}Z`;
  const entry = (time: string, draft: EntryDraft = { type: 'remark', text: 'x' }) => ({ ...draft, at: day(time) });
  const jumped = (time: string, seconds: number) => entry(time, { type: 'clock-jumped', seconds });
  const resumed = (time: string, gap: 'known' | 'not-known') => entry(time, { type: 'resumed', device: 'tablet', gap });
  /** What is said of entries at these times, by their place behind the opening. */
  function said(opened: object, ...rest: readonly (EntryDraft & { at: string })[]): string[] {
    const log = new Log(day('08:00:00')).opened({ ...opened, at: day('08:00:00') });
    const entries = [...log.entries, ...rest.map((one, i) => ({ ...one, n: i + 2, logged: one.at }))];
    return acrossEntries(entries, content).map(({ path, message }) => `${path}: ${message}`);
  }
  const early = (n: number) => `entries[${n}].logged: earlier than the entry before`;
  const two = { rules: 2 };

  it('runs back at a jump of the clock, by as much', () => {
    expect(said(two, entry('12:00:00'), jumped('11:00:00', -3600))).toEqual([]);
    expect(said(two, entry('12:00:00'), jumped('11:00:30', -3600))).toEqual([]);
    expect(said(two, entry('12:00:00'), jumped('10:59:00', -3600))).toEqual([early(2)]);
    expect(said(two, entry('12:00:00'), jumped('11:00:00', 3600))).toEqual([early(2)]);
    expect(said(two, entry('12:00:00'), jumped('11:00:00', 0))).toEqual([early(2)]);
  });

  it('runs back at nothing else, also not behind a jump', () => {
    expect(said(two, entry('12:00:00'), entry('11:59:59'))).toEqual([early(2)]);
    expect(said(two, entry('12:00:00'), jumped('11:00:00', -3600), entry('10:59:00'))).toEqual([early(3)]);
    expect(said(two, entry('12:00:00'), entry('11:00:00'), jumped('11:00:00', -3600))).toEqual([early(2)]);
  });

  it('goes on from where the clock stands then', () => {
    expect(said(two, entry('12:00:00'), jumped('11:00:00', -3600), entry('11:00:30'))).toEqual([]);
    expect(said(two, entry('12:00:00'), resumed('09:00:00', 'not-known'), entry('09:00:30'))).toEqual([]);
    expect(said(two, entry('12:00:00'), resumed('09:00:00', 'not-known'), entry('08:59:00'))).toEqual([early(3)]);
  });

  it('runs back where the work at the tablet is taken up again', () => {
    for (const gap of ['known', 'not-known'] as const)
      expect(said(two, entry('12:00:00'), resumed('08:00:00', gap))).toEqual([]);
  });

  it('never runs back in format 1, nor before a case is raised', () => {
    expect(said({}, entry('12:00:00'), jumped('11:00:00', -3600))).toEqual([early(2)]);
    const raised = (time: string) => entry(time, { type: 'format-raised', to: 2, rules: 2 });
    expect(said({}, entry('12:00:00'), jumped('11:00:00', -3600), raised('12:00:00'))).toEqual([early(2)]);
    expect(said({}, entry('12:00:00'), raised('11:00:00'))).toEqual([early(2)]);
    expect(said({}, entry('12:00:00'), raised('12:00:30'), jumped('11:00:30', -3600))).toEqual([]);
  });
});

describe('work taken up again', () => {
  const at = (time: string) => ({ at: `2026-03-04T${time}Z` });
  const begun = () => table2().begins('1', 'turn-out', at('12:00:00'));
  const again = (gap: 'known' | 'not-known', time: string) =>
    begun()
      .write({ type: 'resumed', device: 'tablet', gap, ...at(time) })
      .ends('1', 'moving', at(time));

  it('after a gap of unknown length stands after all that stood before it', () => {
    const log = again('not-known', '09:00:00');
    const [start, resumed, end] = rowsOf(log.folded.trace)
      .slice(-3)
      .map(({ corrected }) => corrected);
    expect(resumed).toBeGreaterThanOrEqual(start as number);
    expect(end).toBeGreaterThanOrEqual(resumed as number);
    expect(log.view.impossibleTimes).toEqual([]);
  });

  it('finds the cuff as it was left: what is told of it after is told after', () => {
    const log = table2().write({ type: 'tourniquet', to: 'up', ...at('12:00:00') });
    log.write({ type: 'resumed', device: 'tablet', gap: 'not-known', ...at('09:00:00') });
    log.write({ type: 'tourniquet', to: 'up', ...at('09:10:00') });
    expect(log.view.outOfOrder).toEqual([log.n]);
    expect(log.view.clocks.tourniquetUp).toBe(true);
    const [lived, whole] = bothWays(log);
    expect(lived).toEqual(whole);
  });

  it('is not moved where the clock shows a later time', () => {
    const log = again('not-known', '15:00:00');
    expect(rowsOf(log.folded.trace).at(-1)?.corrected).toBe(Date.UTC(2026, 2, 4, 15));
  });

  it('after a gap that is known stands at its own time, and an end before its start is impossible', () => {
    const log = again('known', '09:00:00');
    expect(rowsOf(log.folded.trace).at(-1)?.corrected).toBe(Date.UTC(2026, 2, 4, 9));
    expect(log.view.impossibleTimes).toEqual([log.n]);
  });
});

describe('a strike', () => {
  const jump = (log: Log) => log.write({ type: 'clock-jumped', seconds: 60 });

  it('cannot be of what says how the log is to be read', () => {
    const raised = raise(atTheTable());
    for (const [log, n] of [
      [table2(), 1],
      [raised, raised.n],
      [jump(table2()), table2().n + 1],
      [table2().write({ type: 'resumed', device: 'tablet', gap: 'known' }), table2().n + 1],
    ] as const) {
      const before = log.view;
      const after = log.fork().strikes(n);
      expect(after.view).toMatchObject({ struck: [], outOfOrder: [after.n] });
      expect(after.view.clocks).toEqual(before.clocks);
      expect(after.folded.format).toBe(2);
    }
  });

  it('could be of an opening and of a jump in format 1', () => {
    const log = jump(atTheTable());
    const struck = log.n;
    expect(log.fork().strikes(struck).view).toMatchObject({ struck: [struck], outOfOrder: [] });
    expect(atTheTable().strikes(1).view.struck).toEqual([1]);
  });

  it('cannot be of them once the case is raised, wherever they stand', () => {
    const log = raise(jump(atTheTable()));
    for (const n of [1, log.n - 1]) {
      const after = log.fork().strikes(n);
      expect(after.view).toMatchObject({ struck: [], outOfOrder: [after.n] });
    }
  });

  it('may follow the closing, and then all reads as if what it strikes had never stood there', () => {
    const log = table2().tries('1', 'turn-out', 'out', { recovered: 36, lengthHow: 'measured' });
    const end = log.n;
    log.write({ type: 'case-closed' }).strikes(end);
    expect(log.view).toMatchObject({ phase: 'closed', struck: [end], outOfOrder: [] });
    expect(log.of('1')).toMatchObject({ stage: 'seated', metal: { recovered: 0 } });
  });

  it('could not follow the closing in format 1, nor does it in a case that was closed before it was raised', () => {
    const closed = atTheTable().remarks().write({ type: 'case-closed' });
    const remark = closed.n - 1;
    const old = closed.fork().strikes(remark);
    expect(old.view).toMatchObject({ struck: [], outOfOrder: [old.n] });
  });

  it('of the closing opens the case again', () => {
    const log = table2().write({ type: 'case-closed' });
    const closing = log.n;
    expect(log.strikes(closing).view).toMatchObject({ phase: 'working', struck: [closing], outOfOrder: [] });
  });
});

describe('a case that was closed in format 1', () => {
  it('is raised for what is found after, which is heard', () => {
    const log = raise(
      atTheTable().tries('1', 'turn-out', 'out').write({ type: 'work-ended' }).write({ type: 'case-closed' }),
    );
    expect(log.view.outOfOrder).toEqual([]);
    log.write({ type: 'tool-damaged', tool: 'gouge', how: 'tip gone', tipMissing: true });
    expect(log.view).toMatchObject({ phase: 'closed', outOfOrder: [], toolTips: [{ tool: 'gouge', closes: 'open' }] });
  });
});
