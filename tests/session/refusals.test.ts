/** What the device and the log refuse, told in German: every sentence of the code has its words, every word its sentence. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { german } from '../content/german.ts';
import { loadContent } from '../../content/catalog.ts';
import { currentVersion } from '../../content/releases/index.ts';
import { languages } from '../../content/languages.ts';
import { translated } from '../../content/translation.ts';
import type { Content } from '../../content/types.ts';
import type { EntryDraft, Entry } from '../../machines/entry.ts';
import { knownRefusal, outcomeWords, refusalWords, startWords } from '../../src/screens/refusals.ts';
import { demoDrafts, isInvented } from '../../src/session/demo.ts';
import { messagesOf } from '../../src/format/messages.ts';

const english = loadContent(currentVersion, 'en') as Content;
const en = messagesOf(english);
const de = messagesOf(translated(english, german));

/** What a screen tells in its own words, or not at all. */
const unseen = [
  'out-of-order',
  'this browser cannot keep the screen on',
  'the browser refused to keep the screen on (7)',
];

const machineFiles = readdirSync(resolve(import.meta.dirname, '../../machines'))
  .filter((file) => file.endsWith('.ts'))
  .map((file) => `machines/${file}`);
const root = resolve(import.meta.dirname, '../..');
/** All code below these folders of `src`, or these files of the project. */
const codeOf = (...parts: string[]): string =>
  parts
    .flatMap((part) =>
      part.endsWith('.ts')
        ? [join(root, part)]
        : readdirSync(join(root, 'src', part), { recursive: true, encoding: 'utf8' })
            .filter((file) => file.endsWith('.ts'))
            .map((file) => join(root, 'src', part, file)),
    )
    .map((file) => readFileSync(file, 'utf8'))
    .join('\n');

/** Sentences that the lower parts can give as a reason, with 7 in the place of what is filled in. */
function sentences(): string[] {
  const code = codeOf('store', 'device', 'session');
  const text = String.raw`(?:'([^'\n]+)'|\`([^\`\n]+)\`)`;
  const before = [
    String.raw`new (?:Refusal|Error)\(`,
    String.raw`reason: `,
    String.raw`message: `,
    String.raw`fault\([^()]*?, `,
    String.raw`(?:damaged|told)\.push\(`,
    String.raw`giveUp\(`,
  ];
  return before
    .flatMap((start) => [...code.matchAll(new RegExp(start + text, 'g'))])
    .map((found) => (found[1] ?? found[2] ?? '').replace(/\$\{(?:[^{}]|\{[^{}]*\})*\}/g, '7'))
    .filter((sentence) => !unseen.includes(sentence) && !/^7( |$)/.test(sentence));
}

describe('what is refused', () => {
  it('has words for every sentence of the code', () => {
    const found = sentences();
    expect(found.length).toBeGreaterThan(30);
    expect(found.filter((sentence) => knownRefusal(de, sentence) === null)).toEqual([]);
  });

  it('has no words that no code gives', () => {
    /** The runs of words between what is filled in and the stops; one sentence is put together before "of a case". */
    const pieces = (text: string) =>
      text
        .replace(/\{\w+\}/g, '.')
        .split(/[^\p{L} ]+| (?=of a case)/u)
        .map((piece) => piece.trim());
    const code = codeOf('store', 'device', 'session', 'src/read-json.ts', ...machineFiles);
    const unsaid = Object.entries(english.phrases.words)
      .filter(([key]) => key.startsWith('refusal.') && key !== 'refusal.other')
      .filter(([, words]) => !pieces(words).every((piece) => code.includes(piece)));
    expect(unsaid.map(([key]) => key)).toEqual([]);
  });

  it('reads in English as it was, and in German wholly in German', () => {
    for (const [key, words] of Object.entries(english.phrases.words)) {
      if (!key.startsWith('refusal.') || key === 'refusal.other') continue;
      const sentence = words.replace(/\{(reason|database|journal)\}/g, 'no reason given').replace(/\{\w+\}/g, '7');
      expect(refusalWords(en, sentence)).toBe(sentence);
      const told = refusalWords(de, sentence);
      expect(told, key).not.toMatch(/[{}]|\b(the|this|no reason given|case|database)\b/);
      expect((told.match(/7/g) ?? []).length, key).toBe((sentence.match(/7/g) ?? []).length);
    }
  });

  it.each([
    ['no room left: the storage quota is used up', 'kein Platz mehr: Der zugeteilte Speicher ist voll'],
    ['Error: the database did not open within 0.5 s', 'die Datenbank ging in 0.5 s nicht auf'],
    [
      'database: no room left: the storage quota is used up; journal: another window holds the file',
      'Datenbank: kein Platz mehr: Der zugeteilte Speicher ist voll; Journal: ein anderes Fenster hält die Datei',
    ],
    [
      'not wiped from every copy (journal: this window only reads)',
      'nicht aus jeder Kopie gelöscht (Journal: dieses Fenster liest nur)',
    ],
    ['the browser does not allow storage here (no {reason})', 'der Browser erlaubt hier keinen Speicher (no {reason})'],
    ['AbortError: gone', 'Meldung „AbortError: gone“'],
  ])('tells "%s"', (reason, told) => {
    expect(refusalWords(de, reason)).toBe(told);
  });

  it('tells what cannot have happened by the words of the screen that asks', () => {
    expect(outcomeWords(de, 'out-of-order', 'table.cannot')).toBe(de('table.cannot'));
    expect(outcomeWords(de, 'locked: the passcode is needed')).toBe('gesperrt: Der Zugangscode fehlt');
  });

  it('tells what a start has healed, cut and missed', () => {
    const report = {
      restored: [
        { caseId: 'a', entries: 1, from: 'journal' as const },
        { caseId: 'b', entries: 3, from: 'database' as const },
      ],
      damaged: [{ copy: 'journal' as const, what: 'the last line was torn: 12 bytes cut off' }],
      refused: [{ copy: 'database' as const, reason: 'this browser has no database' }],
      disagreements: [{} as never],
      quarantined: [],
    };
    expect(startWords(en, report)).toEqual([
      '1 entry brought back from the journal',
      '3 entries brought back from the database',
      'journal: the last line was torn: 12 bytes cut off',
      'the database cannot be used: this browser has no database',
      'the two copies of a case differed: the longer whole one is shown, the other is kept aside',
    ]);
    expect(startWords(de, report)).toEqual([
      '1 Eintrag zurückgeholt, Quelle: Journal',
      '3 Einträge zurückgeholt, Quelle: Datenbank',
      'Journal: die letzte Zeile war abgerissen: 12 Byte abgeschnitten',
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
