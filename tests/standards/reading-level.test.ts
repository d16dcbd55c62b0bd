/**
 * The patient's part of the page on what is still in, by the Flesch-Kincaid grade (Kincaid, Fishburne, Rogers & Chissom
 * 1975, US Navy report 8-75; the formula from memory, computed by the package flesch-kincaid). In German the same page,
 * the lines to read aloud, the holds and the help, by the fourth Wiener Sachtextformel (Bamberger & Vanecek 1984; from
 * memory).
 */
import { fleschKincaid } from 'flesch-kincaid';
import { syllable } from 'syllable';
import { describe, expect, it } from 'vitest';
import { loadLocale } from '../../src/record/locales/index.ts';
import { german } from '../content/german.ts';
import { translated } from '../../content/translation.ts';
import type { Content } from '../../content/types.ts';
import type { Entry } from '../../machines/entry.ts';
import { buildStillIn } from '../../src/record/index.ts';
import { cases, content, recordOf } from '../record/cases.ts';

await loadLocale('de');

function grade(text: string): number {
  const sentences = text.split(/(?<=[.!?:])\s+/).filter((part) => /\w/.test(part));
  const words = text.match(/[A-Za-z]+/g) ?? [];
  return fleschKincaid({
    sentence: sentences.length,
    word: words.length,
    syllable: words.reduce((sum, word) => sum + syllable(word), 0),
  });
}

/** Vowel groups, the usual approximation in German: two letters of one sound are one, any other vowel its own. */
const germanSyllables = (word: string) => word.match(/aa|ee|oo|ie|ei|ai|e[uy]|äu|au|[aeiouyäöü]/gi)?.length ?? 1;

/** School year by the fourth Wiener Sachtextformel: 0.2656 words a sentence + 0.2744 % of words of 3 syllables - 1.693. */
function schoolYear(text: string): number {
  const sentences = text.split(/(?<=[.!?:;])\s+/).filter((part) => /\p{L}/u.test(part));
  const words = text.match(/\p{L}+/gu) ?? [];
  const long = words.filter((word) => germanSyllables(word) >= 3).length;
  return 0.2656 * (words.length / sentences.length) + 0.2744 * ((100 * long) / words.length) - 1.693;
}

const plain = (entries: readonly Entry[], spoken: Content = content) =>
  buildStillIn(recordOf(entries), spoken)
    .sections.filter(({ id }) => id === 'patient' || id === 'scan')
    .flatMap(({ blocks }) =>
      // Lists hold what the team entered and the words of the sources.
      blocks.flatMap((block) => (block.kind === 'text' ? [block.text] : [])),
    )
    .join(' ');

describe('the page for the patient', () => {
  it.each(['leftBehind', 'untidy', 'empty', 'shortScrew'])(
    'reads at the eighth grade or below in the case %s',
    (name) => expect(grade(plain(cases[name] as Entry[]))).toBeLessThanOrEqual(8),
  );
  it('would not pass in the words of the note', () => {
    expect(
      grade('Demonstrable intraoperative fragmentation necessitated retention of osseointegrated metallic material.'),
    ).toBeGreaterThan(12);
  });
});

describe('German', () => {
  const spoken = translated(content, german);
  const { holds, moves, stages, consent, words } = spoken.phrases;
  const inWords = (key: RegExp) =>
    Object.entries(words).flatMap(([name, text]) => (key.test(name) && typeof text === 'string' ? [text] : []));
  const texts: [string, string[]][] = [
    ['lines to read aloud', [stages, moves, holds].flatMap((all) => Object.values(all).map(({ say }) => say))],
    ['holds', Object.values(holds).map(({ help }) => help)],
    ['points of consent', Object.values(consent).map(({ help }) => help)],
    ['first help', inWords(/^plan\.help\.\d\.text$/)],
  ];

  it.each(['leftBehind', 'untidy', 'empty', 'shortScrew'])(
    'reads in the eighth school year or below on the page for the patient in the case %s',
    (name) => expect(schoolYear(plain(cases[name] as Entry[], spoken))).toBeLessThanOrEqual(8),
  );
  it.each(texts)('reads in the eighth school year or below: %s', (_, lines) => {
    expect(lines.length).toBeGreaterThan(5);
    expect(schoolYear(lines.join(' '))).toBeLessThanOrEqual(8);
  });
  it('would not pass in the words of the note', () => {
    expect(
      schoolYear('Intraoperative Fragmentierung erforderte die Belassung osseointegrierter metallischer Materialien.'),
    ).toBeGreaterThan(12);
  });
  it.each([
    ['Schraube', 2],
    ['Blutsperre', 3],
    ['Säubern', 2],
    ['zwei', 1],
    ['Operateur', 4],
  ])('counts the syllables of %s', (word, count) => expect(germanSyllables(word)).toBe(count));
});
