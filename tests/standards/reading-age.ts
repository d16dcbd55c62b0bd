/**
 * The age at which a text can be read, by a published formula for each language.
 *
 * English: Flesch-Kincaid grade (Kincaid, Fishburne, Rogers & Chissom 1975, US Navy Research Branch Report 8-75):
 * 0.39 words a sentence + 11.8 syllables a word - 15.59. German: fourth Wiener Sachtextformel (Bamberger & Vanecek 1984):
 * 0.2656 words a sentence + 0.2744 per cent of words of three syllables and more - 1.693. Both formulas from memory. Both
 * give a school year; a child begins the first at 6, so that the year and 5 is the age at which it begins.
 */
import { syllable } from 'syllable';
import { linesIn, type Page } from '../../src/record/model.ts';

export type Tongue = 'en' | 'de';

/** The school year that begins at 11. */
export const yearOfEleven = 6;

/** As it is read out: an abbreviation has more syllables than vowels. */
const readOut: Record<Tongue, readonly (readonly [RegExp, string])[]> = {
  en: [
    [/\bmm\b/g, 'millimetres'],
    [/\bMRI\b/g, 'em are eye'],
    [/\bMR\b/g, 'em are'],
    [/\bX-ray\b/g, 'Exray'],
  ],
  de: [
    [/\bmm\b/g, 'Millimeter'],
    [/\bMRT\b/g, 'Emerrteh'],
    [/\bMR\b/g, 'Emerr'],
    [/\bOP\b/g, 'Opeh'],
  ],
};

/** Vowel groups, the usual approximation in German: two letters of one sound are one, any other vowel its own. */
export const germanSyllables = (word: string) => word.match(/aa|ee|oo|ie|ei|ai|e[uy]|äu|au|[aeiouyäöü]/gi)?.length ?? 1;

export interface Counts {
  sentences: number;
  words: number;
  syllables: number;
  /** Words of three syllables and more. */
  long: number;
}

/** Sentences as they are spoken: a line is one at the least; a full stop, question or exclamation mark, colon and semicolon end one. */
export const sentencesOf = (lines: readonly string[], tongue: Tongue): string[] =>
  lines
    .map((line) => readOut[tongue].reduce((text, [from, to]) => text.replace(from, to), line))
    .flatMap((line) => line.split(/(?<=[.!?:;])\s+/))
    .filter((part) => /\p{L}/u.test(part));

/** Counts of a text. */
export function countsOf(lines: readonly string[], tongue: Tongue): Counts {
  const sentences = sentencesOf(lines, tongue);
  const words = sentences.flatMap((part) => part.match(/\p{L}+/gu) ?? []);
  const each = words.map(tongue === 'en' ? syllable : germanSyllables);
  return {
    sentences: sentences.length,
    words: words.length,
    syllables: each.reduce((sum, n) => sum + Math.max(1, n), 0),
    long: each.filter((n) => n >= 3).length,
  };
}

export const fleschKincaid = ({ sentences, words, syllables }: Counts): number =>
  0.39 * (words / sentences) + 11.8 * (syllables / words) - 15.59;

export const wienerSachtext = ({ sentences, words, long }: Counts): number =>
  0.2656 * (words / sentences) + (0.2744 * 100 * long) / words - 1.693;

/** School year of a text by the formula of its language. */
export const yearOf = (lines: readonly string[], tongue: Tongue): number =>
  (tongue === 'en' ? fleschKincaid : wienerSachtext)(countsOf(lines, tongue));

/** Every line of a page: its title, the titles of its sections, all that stands under them. */
export const linesOfPage = ({ title, sections, language }: Page): string[] => [
  title,
  ...sections.flatMap((section) => [
    section.title,
    ...section.blocks.flatMap((block): string[] => {
      switch (block.kind) {
        case 'item':
          return [block.label, ...linesIn(language, block.value)];
        case 'list':
          return block.items;
        case 'table':
          return [...block.head, ...block.rows.flat()];
        case 'timeline':
          return block.rows.map(({ sentence }) => sentence);
        case 'picture':
          return [block.picture.alt];
        default:
          return [block.text];
      }
    }),
  ]),
];
