/** What fails and what is faulty: each code has its words in every language, every word its code, and none is read back. */
import englishFaults from '../../content/words/en/faults.json' with { type: 'json' };
import { readFileSync } from 'node:fs';
import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { german } from '../content/german.ts';
import { loadContent } from '../../content/catalog.ts';
import { fault, faultTexts, type Fault, type FaultCode } from '../../content/fault.ts';
import { currentVersion } from '../../content/releases/index.ts';
import { faultsOf } from '../../content/shape.ts';
import { languages } from '../../content/languages.ts';
import { translated } from '../../content/translation.ts';
import type { Content } from '../../content/types.ts';
import type { EntryDraft, Entry } from '../../machines/entry.ts';
import { Failed, failureOf, type Failure, type FailureCode } from '../../src/failure.ts';
import { failureWords, faultWords, outcomeWords, startWords } from '../../src/screens/failure-words.ts';
import { demoDrafts, isInvented } from '../../src/session/demo.ts';
import { messagesOf } from '../../src/format/messages.ts';
import { filesBelow, isCode } from '../floors.code.ts';

const english = loadContent(currentVersion, 'en') as Content;
const en = messagesOf(english);
const de = messagesOf(translated(english, german));
const spoken = { en: english, de: translated(english, german) };

const reason: Failure = { code: 'reads-only' };
const detail = 'said by 7';
/** One of each. The compiler asks for every code. */
const each: { [C in FailureCode]: Extract<Failure, { code: C }> } = {
  both: { code: 'both', database: reason, journal: reason },
  database: { code: 'database', reason },
  journal: { code: 'journal', reason },
  'not-wiped': { code: 'not-wiped', reason },
  'wipe-unfinished': { code: 'wipe-unfinished', reason },
  'not-stored': { code: 'not-stored', reason },
  'no-room': { code: 'no-room' },
  'newer-store': { code: 'newer-store' },
  'connection-closed': { code: 'connection-closed', detail },
  'file-held': { code: 'file-held' },
  'not-allowed': { code: 'not-allowed', detail },
  'no-reason': { code: 'no-reason' },
  other: { code: 'other', detail },
  locked: { code: 'locked' },
  'not-holder': { code: 'not-holder' },
  'not-fetched': { code: 'not-fetched' },
  'case-wiped': { code: 'case-wiped' },
  'case-there': { code: 'case-there' },
  'case-unknown': { code: 'case-unknown' },
  'entry-there': { code: 'entry-there', n: 7 },
  'no-database': { code: 'no-database' },
  'database-slow-open': { code: 'database-slow-open', seconds: 7 },
  'database-not-open': { code: 'database-not-open' },
  'database-old': { code: 'database-old' },
  'database-slow': { code: 'database-slow', seconds: 7 },
  'database-gave-up': { code: 'database-gave-up' },
  'journal-failed': { code: 'journal-failed', detail },
  'journal-rests': { code: 'journal-rests' },
  'journal-slow': { code: 'journal-slow', seconds: 7 },
  'reads-only': { code: 'reads-only' },
  'no-files': { code: 'no-files' },
  'no-sync-files': { code: 'no-sync-files' },
  'too-late': { code: 'too-late' },
  'partly-written': { code: 'partly-written', written: 7, bytes: 9 },
  'line-damaged': { code: 'line-damaged', bytes: 7 },
  'lines-unreadable': { code: 'lines-unreadable', lines: [3, 7] },
  'entry-unopened': { code: 'entry-unopened', n: 7 },
  'quarantined-unopened': { code: 'quarantined-unopened', n: 7 },
  'opening-unopened': { code: 'opening-unopened' },
  'cases-encrypted': { code: 'cases-encrypted', count: 7 },
  'no-passcode': { code: 'no-passcode' },
  'passcode-set': { code: 'passcode-set' },
  'passcode-short': { code: 'passcode-short' },
  'thread-failed': { code: 'thread-failed', detail },
  'keys-not-kept': { code: 'keys-not-kept', reason },
  'keys-left': { code: 'keys-left', reason },
  'no-case': { code: 'no-case' },
  unsaved: { code: 'unsaved' },
  nothing: { code: 'nothing' },
  'nothing-waits': { code: 'nothing-waits' },
  'out-of-order': { code: 'out-of-order' },
  faults: { code: 'faults', faults: [fault('by', 'nobody')] },
  'given-up': { code: 'given-up' },
  'no-clipboard': { code: 'no-clipboard' },
  'not-copied': { code: 'not-copied', detail },
  'no-sharing': { code: 'no-sharing' },
  'not-shared': { code: 'not-shared', detail },
  'no-printing': { code: 'no-printing' },
  'not-offline': { code: 'not-offline', detail },
  'not-secure': { code: 'not-secure' },
};

/** What is filled in, as it is read in a sentence. */
const filledIn = (failure: Failure) =>
  Object.entries(failure)
    .filter(([name, value]) => name !== 'code' && typeof value !== 'object')
    .map(([, value]) => String(value));

const code = filesBelow('src')
  .concat(filesBelow('machines'), filesBelow('content'))
  .filter((path) => isCode(path) && !path.includes('/tools/'))
  .map((path) => ({ path, text: readFileSync(path, 'utf8') }));

describe('a failure', () => {
  it.each(Object.entries(spoken))('has words for every code, and no words without a code, in %s', (_, content) => {
    const keys = Object.keys(content.phrases.words).filter((key) => key.startsWith('failure.'));
    expect(keys.map((key) => key.slice('failure.'.length)).sort()).toEqual(Object.keys(each).sort());
  });

  it.each(Object.values(each))('$code is told with all that belongs to it, in both languages', (failure) => {
    for (const w of [en, de]) {
      const told = failureWords(w, failure);
      expect(told).not.toMatch(/[{}]|failure\.|fault\./);
      for (const value of filledIn(failure)) expect(told).toContain(value);
    }
    const told = failureWords(de, failure);
    expect(told).not.toMatch(/\b(the|this|case|database)\b/);
    if (failure.code !== 'other') expect(told).not.toBe(failureWords(en, failure));
  });

  it('is given somewhere, whatever its code', () => {
    const given = code
      .filter(({ path }) => path !== 'src/failure.ts')
      .map(({ text }) => text)
      .concat(readFileSync('src/failure.ts', 'utf8').split('export function failureOf')[1] ?? '')
      .join('\n');
    expect(Object.keys(each).filter((one) => !new RegExp(`['"]${one}['"]|\\b${one}: \\{`).test(given))).toEqual([]);
  });

  it.each([
    [new DOMException('', 'QuotaExceededError'), { code: 'no-room' }],
    [new DOMException('', 'VersionError'), { code: 'newer-store' }],
    [new DOMException('closing', 'InvalidStateError'), { code: 'connection-closed', detail: 'closing' }],
    [new DOMException('', 'NoModificationAllowedError'), { code: 'file-held' }],
    [new DOMException('private', 'SecurityError'), { code: 'not-allowed', detail: 'private' }],
    [new DOMException('gone', 'AbortError'), { code: 'other', detail: 'AbortError: gone' }],
    [new Failed({ code: 'locked' }), { code: 'locked' }],
    [undefined, { code: 'no-reason' }],
    ['thrown text', { code: 'no-reason' }],
  ])('is found in what was thrown: %s', (thrown, failure) => {
    expect(failureOf(thrown)).toEqual(failure);
  });

  it('inside another is put into words first', () => {
    const both: Failure = { code: 'both', database: { code: 'no-room' }, journal: { code: 'file-held' } };
    expect(failureWords(de, both)).toBe(
      'Datenbank: kein Platz mehr: Der zugeteilte Speicher ist voll; Journal: ein anderes Fenster hält die Datei',
    );
    expect(failureWords(de, { code: 'not-wiped', reason: { code: 'journal', reason } })).toBe(
      'nicht aus jeder Kopie gelöscht (Journal: dieses Fenster liest nur)',
    );
    expect(failureWords(de, { code: 'not-allowed', detail: 'no {reason}' })).toContain('no {reason}');
  });

  it('that cannot have happened is told in the words of the screen that asks', () => {
    expect(outcomeWords(de, { code: 'out-of-order' }, 'table.cannot')).toBe(de('table.cannot'));
    expect(outcomeWords(de, { code: 'locked' })).toBe('gesperrt: Der Zugangscode fehlt');
  });

  it('tells what a start has healed, cut and missed', () => {
    const report = {
      restored: [
        { caseId: 'a', entries: 1, from: 'journal' as const },
        { caseId: 'b', entries: 3, from: 'database' as const },
      ],
      damaged: [{ copy: 'journal' as const, what: { code: 'line-damaged' as const, bytes: 12 } }],
      refused: [{ copy: 'database' as const, reason: { code: 'no-database' as const } }],
      disagreements: [{} as never],
      quarantined: [],
    };
    expect(startWords(en, report)).toEqual([
      '1 entry brought back from the journal',
      '3 entries brought back from the database',
      'journal: the last line was damaged: 12 bytes cut off',
      'the database cannot be used: this browser has no database',
      'the two copies of a case differed: the longer whole one is shown, the other is kept aside',
    ]);
    expect(startWords(de, report)).toEqual([
      '1 Eintrag zurückgeholt, Quelle: Journal',
      '3 Einträge zurückgeholt, Quelle: Datenbank',
      'Journal: die letzte Zeile war beschädigt: 12 Byte abgeschnitten',
      'Datenbank nicht nutzbar: dieser Browser hat keine Datenbank',
      de('start.differed'),
    ]);
  });
});

describe('the invented case', () => {
  const free = (drafts: readonly EntryDraft[]) =>
    drafts.flatMap((draft) =>
      draft.type === 'case-opened' ? [draft.label, draft.planned] : draft.type === 'person-listed' ? [draft.who] : [],
    );
  const bare = (drafts: readonly EntryDraft[]) =>
    drafts.map((draft) => ({ ...draft, label: '', planned: '', who: '' }));

  it.each(languages())('is told to be invented in %s', (language) => {
    const drafts = demoDrafts('UTC', language === 'de' ? de : en);
    expect(isInvented(drafts as unknown as Entry[])).toBe(true);
  });
  it('differs in German by its free texts alone', () => {
    expect(bare(demoDrafts('UTC', de))).toEqual(bare(demoDrafts('UTC')));
    const [told, released] = [free(demoDrafts('UTC', de)), free(demoDrafts('UTC'))];
    expect(told).toHaveLength(6);
    expect(told.filter((text, i) => text === released[i])).toEqual([]);
  });
});

describe('a fault', () => {
  const codes = Object.keys(faultTexts) as FaultCode[];
  const placesOf = (text: string) => [...text.matchAll(/\{(\w+)\}/g)].map(([, name]) => name as string).sort();

  it.each(Object.entries(spoken))('has words for every code, and no words without a code, in %s', (_, content) => {
    const keys = Object.keys({ ...content.phrases.words, ...(_ === 'en' && englishFaults) }).filter((key) =>
      key.startsWith('fault.'),
    );
    expect(keys.map((key) => key.slice('fault.'.length)).sort()).toEqual([...codes].sort());
  });

  /** No word on a screen orders about: these read otherwise there than on the command line. */
  const gentler: readonly FaultCode[] = [
    ...(['empty', 'negative', 'above-0', 'from-1', 'share', 'half-outer', 'above-stop'] as const),
    ...(['least', 'most', 'core-wide', 'notice-late', 'expires-early', 'shares-not-1', 'line-ends'] as const),
  ];

  it.each(codes)('%s reads on an English screen as on the command line, and has the same places in German', (one) => {
    const english = (englishFaults as Record<string, string>)[`fault.${one}`];
    if (gentler.includes(one))
      expect([/\bmust\b/.test(faultTexts[one]), english]).toEqual([true, expect.not.stringContaining('must')]);
    else expect(english).toBe(faultTexts[one]);
    const words = spoken.de.phrases.words[`fault.${one}`] ?? '';
    expect(placesOf(words)).toEqual(placesOf(faultTexts[one]));
    expect(words).not.toBe(faultTexts[one]);
  });

  it('is said as on the command line while its words have not come', () => {
    const before = (key: string) => key;
    expect(faultWords(before, fault('entries[2].n', 'gap', { n: 3 }))).toBe('expected 3, the numbers run without gaps');
    const then = messagesOf(spoken.en);
    expect(faultWords(then, fault('x', 'empty'))).toBe('is empty');
  });

  it('is said somewhere, whatever its code', () => {
    const said = code
      .filter(({ path }) => path !== 'content/fault.ts')
      .map(({ text }) => text)
      .join('\n');
    expect(codes.filter((one) => !said.includes(`'${one}'`))).toEqual([]);
  });

  it('has its English text for the command line, its code for the screens', () => {
    expect(fault('entries[2].n', 'gap', { n: 3 })).toEqual({
      path: 'entries[2].n',
      message: 'expected 3, the numbers run without gaps',
      code: 'gap',
      values: { n: 3 },
    });
    expect(faultWords(de, fault('', 'gap', { n: 3 }))).toBe('3 wird erwartet, die Nummern laufen ohne Lücken');
  });

  it.each<[string, v.GenericSchema, unknown, string, string]>([
    ['a text', v.string(), 1, 'Invalid type: Expected string but received 1', 'Text wird erwartet'],
    [
      'a choice',
      v.picklist(['left', 'right']),
      'up',
      'Invalid type: Expected ("left" | "right") but received "up"',
      'unbekannter Wert "up", möglich sind left, right',
    ],
    [
      'a choice of one',
      v.picklist(['left']),
      'up',
      'Invalid type: Expected "left" but received "up"',
      'unbekannter Wert "up", möglich sind left',
    ],
    ['a fixed value', v.literal('x'), 'y', 'Invalid type: Expected "x" but received "y"', '„x“ wird erwartet'],
    [
      'a list that is too short',
      v.pipe(v.array(v.string()), v.minLength(8)),
      [],
      'Invalid length: Expected >=8 but received 0',
      'mindestens 8 werden erwartet',
    ],
    [
      'a form without a code',
      v.pipe(v.string(), v.isoTimestamp()),
      'x',
      'Invalid timestamp: Received "x"',
      'hat nicht die Form, die hier erwartet wird',
    ],
  ])('of a schema that leaves the words to its library has a code too: %s', (_, schema, value, english, german) => {
    const [one] = faultsOf(v.safeParse(schema, value).issues ?? []) as [Fault];
    expect(one.message).toBe(english);
    expect(faultWords(de, one)).toBe(german);
  });
});

describe('no sentence is read back', () => {
  const readsBack =
    /(?:message|reason|detail)\)?(?:\s*[!=]==?\s*(?:'[^']* [^']*'|"[^"]* [^"]*"|`)|\??\.(?:match|includes|startsWith|endsWith|search|indexOf)\()|\.(?:test|exec)\((?:\w+\??\.)*(?:message|reason|detail)\b/;

  it('anywhere in the code', () => {
    const found = code.flatMap(({ path, text }) =>
      text
        .split('\n')
        .flatMap((line, i) => (readsBack.test(line) && !/^\s*(\*|\/\/)/.test(line) ? [`${path}:${i + 1}`] : [])),
    );
    expect(found).toEqual([]);
  });

  it.each([
    "if (error.message === 'it is gone')",
    "reason.startsWith('database')",
    'pattern.exec(error.message)',
    '/full/.test(reason)',
    "(error as Error).message.includes('quota')",
  ])('would see: %s', (line) => expect(readsBack.test(line)).toBe(true));
});
