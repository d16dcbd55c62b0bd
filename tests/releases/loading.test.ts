/** Releases side by side: each is checked by its own ids, and none touches another's loading. */
import { describe, expect, it } from 'vitest';
import { addRelease, contentVersions, everyId, loadContent } from '../../content/catalog.ts';
import { checkContent } from '../../content/check.ts';
import { moveOfAny, wordsOfAny } from '../../content/names.ts';
import { currentVersion } from '../../content/releases/index.ts';
import type { Content } from '../../content/types.ts';
import { readCase } from '../../machines/case-file.ts';
import { fold, ruleVersions } from '../../machines/fold.ts';
import type { Entry } from '../../machines/entry.ts';
import {
  addFormat,
  asNewest,
  between,
  entryShapes,
  formatFrom,
  formatOf,
  formatOfLog,
  formatVersion,
  formatVersions,
  newestFormat,
} from '../../machines/formats.ts';
import { cases as golden } from '../machines/golden.cases.ts';
import { printedByRules1, type StateOfRules1 } from '../machines/golden.rules-1.ts';
import { readiness } from '../../machines/readiness.ts';
import { view } from '../../machines/view.ts';
import { readFileSync } from 'node:fs';
import { invented, inventedFormat, inventedRules, inventedVersion } from './invented.ts';
import { LooseLog, fileOf, inventedCase, inventedFile, knownCase, knownFile, plain, plate } from './cases.ts';

const known = loadContent(currentVersion) as Content;
const other = loadContent(inventedVersion) as Content;
const faultsOf = (file: unknown) => {
  const read = readCase(plain(file), loadContent);
  return 'faults' in read ? read.faults.map(({ path, message }) => ({ path, message })) : [];
};

describe('two releases in one build', () => {
  it('are both loaded, each with its own ids, each once', () => {
    expect(contentVersions()).toEqual([currentVersion, inventedVersion]);
    expect(other.ids.moves).toContain('warm-head');
    expect(other.ids.moves).not.toContain('push-through');
    expect(known.ids.moves).toContain('push-through');
    expect(known.ids.moves).not.toContain('warm-head');
    expect(loadContent(inventedVersion)).toBe(other);
    expect(loadContent(currentVersion)).toBe(known);
  });

  it('are shown with the same words of the screens', () => {
    const key = 'table.take-back';
    expect(other.phrases.words[key]).toMatch(/\w/);
    expect(other.phrases.words[key]).toBe(known.phrases.words[key]);
  });

  it('know together every id once, in the order of the releases', () => {
    const { tools } = everyId();
    expect(tools.slice(0, known.ids.tools.length)).toEqual(known.ids.tools);
    expect(tools.slice(known.ids.tools.length)).toEqual(['warming-iron']);
  });

  it('give words for what only one of them has', () => {
    expect(wordsOfAny(known, 'moves', 'warm-head')?.label).toBe('Warm the head');
    expect(wordsOfAny(other, 'tools', 'punch')?.label).toBe(known.phrases.tools.punch.label);
    expect(wordsOfAny(known, 'moves', 'turn-out')).toBe(known.phrases.moves['turn-out']);
    expect(wordsOfAny(known, 'moves', 'nothing')).toBeUndefined();
    expect(moveOfAny(known, 'warm-head')?.needs).toEqual([{ anyOf: ['warming-iron'] }]);
    expect(moveOfAny(known, 'nothing')).toBeUndefined();
  });

  it('never take the place of one another', () => {
    expect(() => addRelease({ ...invented, version: currentVersion })).toThrow(/already/);
  });
});

describe('a release that is not whole', () => {
  const faults = (spoil: (copy: typeof invented) => object) => {
    const copy = structuredClone(invented);
    const checked = checkContent(spoil(copy));
    return 'faults' in checked ? checked.faults : [];
  };
  const spoilt: [string, (copy: typeof invented) => object, string][] = [
    [
      'lacks words for its own move',
      (c) => (Reflect.deleteProperty(c.phrases.moves, 'warm-head'), c),
      'phrases.moves.warm-head',
    ],
    [
      'has words for a move of another release',
      (c) => ({
        ...c,
        phrases: { ...c.phrases, moves: { ...c.phrases.moves, 'push-through': c.phrases.moves['warm-head'] } },
      }),
      'phrases.moves.push-through',
    ],
    [
      'needs a tool of another release',
      (c) => ({ ...c, moves: c.moves.map((m) => ({ ...m, needs: [{ anyOf: ['punch'] }] })) }),
      'moves[0].needs[0].anyOf[0]',
    ],
    [
      'has rates for a move of another release',
      (c) => ({ ...c, rates: { ...c.rates, moves: c.rates.moves.map((r) => ({ ...r, move: 'push-through' })) } }),
      'rates.moves[0].move',
    ],
    ['lacks a move that it names', (c) => ({ ...c, moves: c.moves.filter(({ id }) => id !== 'warm-head') }), 'moves'],
    ['has its tools in another order', (c) => ({ ...c, tools: [...c.tools].reverse() }), 'tools[0].id'],
    ['names an id twice', (c) => ({ ...c, ids: { ...c.ids, tools: [...c.ids.tools, 'pick'] } }), 'ids.tools'],
    ['lacks an id that the rules name', (c) => ({ ...c, ids: { ...c.ids, outcomes: ['out'] } }), 'ids.outcomes'],
    ['lacks a kind of id', (c) => ({ ...c, ids: { moves: c.ids.moves } }), 'ids.tools'],
  ];
  it.each(spoilt)('is refused when it %s', (_, spoil, path) => {
    expect(faults(spoil).map((fault) => fault.path)).toContain(path);
  });

  it('throws when it is loaded, and leaves the others as they are', () => {
    addRelease({ ...invented, version: '2099.2', moves: [] } as never);
    expect(() => loadContent('2099.2')).toThrow(/content 2099.2 is faulty:\nmoves: lacks turn-out/);
    expect(loadContent(currentVersion)).toBe(known);
    expect(loadContent(inventedVersion)).toBe(other);
  });
});

describe('a case', () => {
  it('of either release is read with its own ids', () => {
    expect(faultsOf(knownFile())).toEqual([]);
    expect(faultsOf(inventedFile())).toEqual([]);
  });

  const lone: [string, object, string][] = [
    ['a move', { type: 'move-started', screw: '1', move: 'warm-head' }, 'move'],
    ['a tool', { type: 'tool-in-room', tool: 'warming-iron', present: true }, 'tool'],
    ['an outcome', { type: 'move-ended', screw: '1', outcome: 'half-out' }, 'outcome'],
    ['a hold', { type: 'hold-answered', hold: 'second-look', answer: 'go-on' }, 'hold'],
    ['a point of the consent', { type: 'consent-point', point: 'may-be-warmed', confirmed: true }, 'point'],
    ['a field of the note', { type: 'note-field', field: 'skin-marks', text: 'none' }, 'field'],
  ];
  it.each(lone)('of 2026.1 is refused with the path where it names %s of another release', (_, entry, key) => {
    const file = fileOf(plate('refused', [entry as { type: string }]), currentVersion);
    expect(faultsOf(file).map(({ path }) => path)).toEqual([`entries[${file.entries.length - 1}].${key}`]);
  });

  it('of 2026.1 with an unknown move is refused in the words it always was', () => {
    const entries = [{ type: 'move-started', screw: '1', move: 'warm-head' }];
    const [fault] = faultsOf(fileOf(plate('refused', entries), currentVersion));
    expect(fault).toEqual({
      path: 'entries[8].move',
      message: `unknown value "warm-head", expected one of ${known.ids.moves.join(', ')}`.slice(0, 300),
    });
  });

  it('of the invented release is refused where it names what that one dropped', () => {
    const entries = [{ type: 'move-started', screw: '1', move: 'push-through', tool: 'punch' }];
    expect(
      faultsOf(fileOf(plate('refused', entries, { writtenIn: 3 }), inventedVersion)).map(({ path }) => path),
    ).toEqual(['entries[9].move', 'entries[9].tool']);
  });
});

describe('the format that follows on', () => {
  it('is read beside those before, and a newer one is refused by its number', () => {
    expect(formatVersions()).toEqual([1, 2, 3]);
    expect([knownFile(), inventedFile()].map(({ formatVersion }) => formatVersion)).toEqual([1, 3]);
    expect(faultsOf({ ...knownFile(), formatVersion: 4 })).toEqual([
      { path: 'formatVersion', message: 'version 4 is not known; this build reads version 1, 2, 3' },
    ]);
  });

  it('has its own type of entry, which those before refuse', () => {
    const photo = plate('photo', [{ type: 'photo-taken', of: 'the plate' }]);
    expect(faultsOf(fileOf(photo, currentVersion))).toEqual([
      { path: 'entries[8].type', message: 'unknown entry type "photo-taken"' },
    ]);
    expect(faultsOf({ ...fileOf(photo, currentVersion), formatVersion: 2, head: undefined })).toEqual([
      { path: 'entries[8].type', message: 'unknown entry type "photo-taken"' },
    ]);
    expect(faultsOf({ ...fileOf(photo, currentVersion), formatVersion: 3, head: undefined })).toEqual([]);
    expect(faultsOf(inventedFile())).toEqual([]);
    const photoAt = inventedFile().entries.findIndex(({ type }) => (type as string) === 'photo-taken');
    for (const formatVersion of [1, 2])
      expect(faultsOf({ ...inventedFile(), formatVersion })).toEqual([
        { path: 'entries[0].writtenIn', message: 'unknown field' },
        { path: `entries[${photoAt}].type`, message: 'unknown entry type "photo-taken"' },
      ]);
  });

  it('is in force from the entry on that begins it, not before', () => {
    const photo = { type: 'photo-taken', of: 'the plate' };
    const log = (opening: object) => new LooseLog().add(photo).opened(opening).add(photo);
    const read = (opening: object) =>
      faultsOf({ ...fileOf(log(opening), currentVersion), formatVersion: 3, head: undefined }).map(({ path }) => path);
    expect(read({ writtenIn: 3 })).toEqual(['entries[0].type']);
    expect(read({})).toEqual([]);
  });

  it('is what a log says that it stands in', () => {
    expect(formatOfLog(knownCase().entries)).toBe(1);
    expect(formatOfLog(inventedCase().entries)).toBe(3);
    expect(formatOfLog([{ type: 'case-opened', rules: 2 }])).toBe(2);
    expect(formatOfLog([])).toBe(1);
  });

  it('is reached from the one before by a named conversion, which the fold goes through', () => {
    expect(between(2, 3).map(({ name }) => name)).toEqual(['drugs by their short names']);
    expect(
      between(1, 3)
        .map(({ name }) => name)
        .slice(1),
    ).toEqual(['drugs by their short names']);
    expect(between(1, 3)).toHaveLength(2);
    const drug = (opening: object) =>
      fold(plate('drug', [{ type: 'antibiotic', drug: 'cefazolinum' }], opening).entries, known).case.context.lastDose
        ?.drug;
    expect(drug({})).toBe('cefazolin');
    expect(drug({ rules: 2 })).toBe('cefazolin');
    expect(drug({ writtenIn: 3 })).toBe('cefazolinum');
    const [entry] = knownCase().entries;
    expect(entry && asNewest(entry, 1)).toBe(entry);
  });

  it('leaves no number out and has its conversion', () => {
    expect(() => addFormat({ ...inventedFormat, number: 5 })).toThrow('format 5 does not follow on format 3');
    expect(() => addFormat({ ...inventedFormat, number: 3 })).toThrow('format 3 does not follow on format 3');
    expect(() => addFormat({ ...inventedFormat, number: 4, from: undefined })).toThrow(
      'format 4 has no conversion from format 3',
    );
    expect(() => entryShapes(known.ids, 9)).toThrow('this build has no format 9');
    expect([formatVersions(), newestFormat()]).toEqual([[1, 2, 3], 3]);
  });

  it('is in force from the entry that begins it, and never gives way to an older one', () => {
    const begins = { type: 'case-opened', writtenIn: 3 };
    const plainOpening = { type: 'case-opened' };
    for (const before of [1, 2, 3]) expect(formatFrom(begins, before)).toBe(3);
    for (const most of [1, 2]) expect(formatFrom(begins, 1, most)).toBe(1);
    expect(formatFrom({ ...begins, rules: 3 }, 1, 2)).toBe(2);
    for (const before of [1, 2, 3]) expect(formatFrom(plainOpening, before)).toBe(before);
    expect(formatOfLog([plainOpening, begins, plainOpening])).toBe(3);
  });

  it('is found by its number alone, with fields of its own for the ids of each release', () => {
    expect([1, 2, 3, 4, '1', undefined].map((number) => formatOf(number)?.number)).toEqual([
      ...[1, 2, 3],
      ...[undefined, undefined, undefined],
    ]);
    expect(formatOf(1)?.header).toEqual(['contentVersion', 'entries', 'head']);
    expect(entryShapes(known.ids)).toBe(entryShapes(known.ids, 2));
    expect(new Set([1, 2, 3].map((number) => entryShapes(known.ids, number))).size).toBe(3);
    expect(entryShapes(other.ids, 1)).not.toBe(entryShapes(known.ids, 1));
    expect(formatVersion).toBe(2);
  });

  it('is converted to by the steps that lie between, none where there are none', () => {
    expect([between(1, 1), between(2, 2), between(3, 3), between(3, 1)]).toEqual([[], [], [], []]);
    expect(between(0, 3)).toEqual(between(1, 3));
    const dose = { type: 'antibiotic', drug: 'cefazolinum' } as unknown as Entry;
    for (const format of [1, 2]) expect(asNewest(dose, format)).toMatchObject({ drug: 'cefazolin' });
    expect(asNewest(dose, 3)).toBe(dose);
  });
});

describe('the rules that follow on', () => {
  it('are numbered without gaps; the newest are those in force', () => {
    expect(ruleVersions.numbers()).toEqual([1, 2, 3]);
    expect(ruleVersions.current()).toBe(inventedRules);
    expect(ruleVersions.of(4)).toBeUndefined();
    expect(() => ruleVersions.add({ ...inventedRules, number: 5 })).toThrow(/do not follow/);
  });

  it('hear what the first do not, and the first still say what they said', () => {
    const { entries } = inventedCase();
    const photo = entries.findIndex(({ type }) => (type as string) === 'photo-taken') + 1;
    expect(fold(entries, other).outOfOrder).toEqual([]);
    expect(fold(entries, other, ruleVersions.of(1)).outOfOrder).toEqual([photo]);
  });
});

describe.each(Object.entries(golden))('the golden case %s beside all that', (name, make) => {
  const stored = (part: string) => readFileSync(new URL(`../golden/${name}.${part}.json`, import.meta.url), 'utf8');
  const json = (value: unknown) => `${JSON.stringify(value, null, 2)}\n`;

  it.each(ruleVersions.numbers())('has under rules %i the state and the readiness that it had', (number) => {
    const read = readCase(plain(make()), loadContent);
    if ('faults' in read) throw new Error(JSON.stringify(read.faults));
    const state = fold(read.file.entries, read.content, ruleVersions.of(number));
    const text = stored(number === 1 ? 'state' : 'state-2');
    const now = view(state, undefined, read.seals);
    const printed = number === 1 ? printedByRules1(state, read.seals, JSON.parse(text) as StateOfRules1) : now;
    expect(json(printed)).toBe(text);
    expect(json(readiness(state))).toBe(stored('ready'));
  });
});
