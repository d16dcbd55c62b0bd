/** The case file as a whole: what stands at its top, its head, and what only shows between entries. */
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import { acrossEntries, againstRoom, readCase } from '../../machines/case-file.ts';
import type { Entry } from '../../machines/entry.ts';
import { sealAll } from '../../machines/seal.ts';
import { Log, atTheTable, content, inTheRoom } from './build.ts';

const opened = new Log().opened().entries;
const fileOf = (entries: readonly unknown[], more: object = {}) => ({
  ...{ format: 'counterturn-case', formatVersion: 1, contentVersion: '2026.1', entries },
  ...more,
});
const faults = (value: unknown): string[] => {
  const read = readCase(value, loadContent);
  return 'faults' in read ? read.faults.map(({ path, message }) => `${path}: ${message}`) : [];
};
const between = (log: Log) => acrossEntries(log.entries, content).map(({ path, message }) => `${path}: ${message}`);

describe('the top of a file', () => {
  it('says that it is a case, in which format and of which content', () => {
    for (const none of [null, [], 'x', 3]) expect(faults(none)).toEqual(['file: expected an object']);
    const { format: _, ...unnamed } = fileOf(opened);
    expect(faults(unnamed)).toEqual(['format: null is not "counterturn-case"']);
    expect(faults(fileOf(opened, { format: 'x' }))).toEqual(['format: "x" is not "counterturn-case"']);
    const { formatVersion: _f, ...unversioned } = fileOf(opened);
    const known = 'is not known; this build reads version 1, 2';
    expect(faults(unversioned)).toEqual([`formatVersion: version null ${known}`]);
    expect(faults(fileOf(opened, { formatVersion: '1' }))).toEqual([`formatVersion: version "1" ${known}`]);
    const { contentVersion: _c, ...of } = fileOf(opened);
    expect(faults(of)).toEqual(['contentVersion: this build has no content null']);
    expect(faults(fileOf(opened, { contentVersion: 2026.1 }))).toEqual([
      'contentVersion: this build has no content 2026.1',
    ]);
  });

  it('holds nothing else', () =>
    expect(faults(fileOf(opened, { patient: 'x', head: undefined }))).toEqual(['patient: unknown field']));

  it('is read with its content, its seals and no more than it said', () => {
    const read = readCase(fileOf(opened), loadContent);
    expect(read).toEqual({
      file: { format: 'counterturn-case', formatVersion: 1, contentVersion: '2026.1', entries: opened },
      content,
      seals: { seals: 'unsealed', brokenAt: null },
    });
    expect('file' in read && Object.keys(read.file)).not.toContain('head');
  });

  it('names every fault of it together', () => {
    const broken = fileOf([{ ...opened[0], side: 'up' }, { type: 'x' }], { contentVersion: '2031.4', patient: 'x' });
    expect(faults(broken).map((line) => line.split(':')[0])).toEqual([
      ...['patient', 'contentVersion', 'entries[0].side', 'entries[1].type'],
    ]);
    expect(faults({ ...broken, entries: {}, head: 3 })).toEqual([
      'patient: unknown field',
      'contentVersion: this build has no content "2031.4"',
      'head: expected an object',
      'entries: expected a list',
    ]);
  });

  it('without a content that is known is still refused where it names what no release has', () => {
    const log = atTheTable().begins('1', 'turn-out');
    const unknown = fileOf([...log.entries.slice(0, -1), { ...log.entries.at(-1), move: 'dig' }], {
      contentVersion: '2031.4',
    });
    expect(faults(unknown).map((line) => line.split(':')[0])).toEqual(['contentVersion', `entries[${log.n - 1}].move`]);
    expect(faults({ ...unknown, entries: log.entries })).toEqual([
      'contentVersion: this build has no content "2031.4"',
    ]);
  });

  it('is faulty in the format of the file throughout, where the log names none', () => {
    expect(faults(fileOf([opened[0], 5, { ...opened[0], n: 3, writtenIn: 2 }]))).toEqual([
      'entries[1]: expected an object',
      'entries[2].writtenIn: unknown field',
    ]);
  });
});

describe('the head of a file', () => {
  const sealed = sealAll(atTheTable().entries);
  const seal = sealed.at(-1)?.seal as string;
  const headed = (head: unknown) => faults(fileOf(sealed, { head }));

  it('is the number and the seal of the last entry, and is read back', () => {
    const head = { n: sealed.length, seal };
    expect(readCase(fileOf(sealed, { head }), loadContent)).toMatchObject({
      file: { head },
      seals: { seals: 'whole', brokenAt: null },
    });
    expect(readCase(fileOf(sealed.slice(0, -1), { head }), loadContent)).toMatchObject({
      seals: { seals: 'broken', brokenAt: sealed.length },
    });
  });

  it('is refused where it is another thing', () => {
    for (const none of [null, [], 'x']) expect(headed(none)).toEqual(['head: expected an object']);
    const whole = 'head.n: expected a whole number from 1';
    const digits = 'head.seal: expected 64 lower-case hexadecimal digits';
    expect(headed({})).toEqual([whole, digits]);
    for (const n of [0, 1.5, -1, -1.5, '1', null, Infinity]) expect(headed({ n, seal })).toEqual([whole]);
    for (const wrong of [seal.slice(1), `${seal}0`, `0${seal}`, seal.toUpperCase().replace(/\d/g, 'A'), 5, ''])
      expect(headed({ n: 1, seal: wrong })).toEqual([digits]);
    expect(headed({ n: 1, seal, at: 3 })).toEqual(['head.at: unknown field']);
  });
});

describe('numbers and times', () => {
  const at = (n: number, time: string, logged = time) => ({ n, at: time, logged, type: 'plate-off' }) as Entry;
  const first = { ...opened[0], at: '2026-03-04T08:00:00Z', logged: '2026-03-04T08:00:00Z' } as Entry;
  const said = (...rest: Entry[]) => faults(fileOf([first, ...rest]));

  it('run on without gaps, and never backwards', () => {
    expect(said(at(2, '2026-03-04T08:00:00Z'), at(3, '2026-03-04T08:00:00Z'))).toEqual([]);
    expect(said(at(3, '2026-03-04T09:00:00Z'))).toEqual(['entries[1].n: expected 2, the numbers run without gaps']);
    expect(said(at(2, '2026-03-04T09:00:00Z'), at(2, '2026-03-04T09:00:00Z'))).toEqual([
      'entries[2].n: expected 3, the numbers run without gaps',
    ]);
  });

  it('are measured against the latest that was logged, not against the last alone', () => {
    const noon = at(2, '2026-03-04T12:00:00Z');
    expect(said(noon, at(3, '2026-03-04T11:00:00Z'), at(4, '2026-03-04T11:30:00Z'))).toEqual([
      'entries[2].logged: earlier than the entry before',
      'entries[3].logged: earlier than the entry before',
    ]);
    expect(said(at(2, '2026-03-04T12:00:01Z', '2026-03-04T12:00:00Z'))).toEqual([
      'entries[1].at: later than it was logged',
    ]);
  });
});

describe('screws', () => {
  const many = (count: number) => {
    const log = new Log().opened();
    for (let id = 1; id <= count; id++) log.screw(String(id));
    return log;
  };

  it('are a thousand at most, told once; one listed again is no other', () => {
    const log = many(1000).screw('7').screw('1000');
    expect(between(log)).toEqual([]);
    log.screw('one more');
    const fault = `entries[${log.n - 1}].screw: more than 1000 screws in one case`;
    expect(between(log)).toEqual([fault]);
    expect(between(log.screw('and another'))).toEqual([fault]);
    expect(between(log.finds('x', {}))).toEqual([fault]);
  });
});

describe('limits and bores against what is in force', () => {
  const limits = (more: object) => ({ type: 'limits-set', ...more }) as const;
  const bore = (...diameters: number[]) => ({
    bores: diameters.map((diameter) => ({ wall: 'near' as const, diameter })),
  });

  it('limits do not cross those in force; the one that was set is named', () => {
    const said = (more: object) => between(inTheRoom().write(limits(more)));
    const { n } = inTheRoom();
    expect(said({ boneConsider: 0.3 })).toEqual([]);
    expect(said({ boneConsider: 0.31 })).toEqual([
      `entries[${n}].boneConsider: consider limit 0.31 is greater than stop limit 0.3 in force`,
    ]);
    expect(said({ boneStop: 0.2 })).toEqual([]);
    expect(said({ boneStop: 0.19 })).toEqual([
      `entries[${n}].boneStop: consider limit 0.2 is greater than stop limit 0.19 in force`,
    ]);
    expect(said({ boneConsider: 0.5, boneStop: 0.6 })).toEqual([]);
    expect(said({ theatreMinutes: 60 })).toEqual([]);
  });

  it('limits are those set before, not those set after or struck', () => {
    const log = inTheRoom()
      .write(limits({ boneStop: 0.6 }))
      .write(limits({ boneConsider: 0.5 }));
    expect(between(log)).toEqual([]);
    const struck = inTheRoom().write(limits({ boneStop: 0.6 }));
    struck.strikes(struck.n).write(limits({ boneConsider: 0.5 }));
    expect(between(struck)).toEqual([
      `entries[${struck.n - 1}].boneConsider: consider limit 0.5 is greater than stop limit 0.3 in force`,
    ]);
    const remarked = inTheRoom()
      .write(limits({ boneStop: 0.6 }))
      .remarks()
      .write(limits({ boneConsider: 0.5 }));
    expect(between(remarked)).toEqual([]);
    const twice = inTheRoom()
      .write(limits({ boneStop: 0.6 }))
      .remarks();
    twice
      .strikes(twice.n)
      .write(limits({ boneConsider: 0.5 }))
      .write(limits({ boneConsider: 0.7 }));
    expect(between(twice)).toEqual([
      `entries[${twice.n - 1}].boneConsider: consider limit 0.7 is greater than stop limit 0.6 in force`,
    ]);
  });

  it('limits that cross are told although a later entry would have let them', () => {
    const crossed = (log: Log) =>
      `entries[${log.n - 1}].boneConsider: consider limit 0.5 is greater than stop limit 0.3 in force`;
    const log = inTheRoom().write(limits({ boneConsider: 0.5 }));
    const fault = crossed(log);
    expect(between(log.write(limits({ boneStop: 0.6 })))).toEqual([fault]);
    const after = inTheRoom().remarks();
    after.strikes(after.n).write(limits({ boneConsider: 0.5 }));
    const again = crossed(after);
    expect(between(after.write(limits({ boneStop: 0.6 })))).toEqual([again]);
  });

  it('a log with too many corrections is given up, at the first entry that would have to be weighed, once', () => {
    const log = inTheRoom();
    const crossing = () => log.write(limits({ theatreMinutes: 60 })).n - 1;
    log.remarks().strikes(log.n);
    const first = crossing();
    log.remarks().strikes(log.n).remarks();
    const second = crossing();
    log.strikes(log.n);
    const third = crossing();
    const said = (most: number) =>
      acrossEntries(log.entries, content, { most }).map(({ path, message }) => `${path}: ${message}`);
    const fault = (index: number) =>
      `entries[${index}]: too many entries would have to be read again for the corrections before it`;
    expect(said(first + second + third)).toEqual([]);
    expect(said(first + second + third - 1)).toEqual([fault(third)]);
    expect(said(first + second)).toEqual([fault(third)]);
    expect(said(first + second - 1)).toEqual([fault(second)]);
    expect(said(first - 1)).toEqual([fault(first)]);
    const whole = inTheRoom()
      .write(limits({ boneStop: 0.6 }))
      .write(limits({ boneConsider: 0.5 }));
    expect(acrossEntries(whole.entries, content, { most: 0 })).toEqual([]);
    const idle = inTheRoom().remarks();
    idle.strikes(idle.n).remarks().begins('1', 'turn-out').start().begins('1', 'grip-head');
    expect(acrossEntries(idle.entries, content, { most: 0 })).toEqual([]);
  });

  it('a bore is narrower than the bone at its level', () => {
    const said = (...diameters: number[]) => between(atTheTable().begins('1', 'burr-out', bore(...diameters)));
    const { n } = atTheTable();
    expect(said(26.9)).toEqual([]);
    expect(said()).toEqual([]);
    const fault = (i: number, mm: number) =>
      `entries[${n}].bores[${i}].diameter: a bore of ${mm} mm is as wide as the bone of 27 mm`;
    expect(said(27)).toEqual([fault(0, 27)]);
    expect(said(3, 40, 27.5)).toEqual([fault(1, 40), fault(2, 27.5)]);
    const ended = atTheTable().tries('1', 'burr-out', 'moving', bore(30));
    expect(between(ended)).toEqual([
      `entries[${n + 1}].bores[0].diameter: a bore of 30 mm is as wide as the bone of 27 mm`,
    ]);
  });

  it('any bore is taken where no bone is known, and an entry without bores has none', () => {
    const unknown = new Log().opened({ bone: 'carpus' }).screw('1').start().begins('1', 'burr-out', bore(60));
    expect(between(unknown)).toEqual([]);
    const { room } = atTheTable().folded.case.context;
    const entry = (log: Log) => log.entries.at(-1) as Entry;
    expect(againstRoom(entry(atTheTable()), room, content, 'x')).toEqual([]);
    expect(againstRoom(entry(atTheTable().begins('1', 'turn-out')), room, content, 'x')).toEqual([]);
  });
});
