/** The languages that the record can be written in: all of its words stand here, none elsewhere. */
import { german } from './de/index.ts';
import { english } from './en/index.ts';
import { addSentences } from './sentences.ts';
import type { Locale } from './locale.ts';

export type { Locale } from './locale.ts';

const locales: Readonly<Record<string, Locale>> = { en: english, de: german };
for (const [language, { entries }] of Object.entries(locales)) addSentences(language, entries);

/**
 * The locale of a language.
 *
 * @param language BCP 47, as `content.phrases.language`; one that the record does not speak is answered in English
 * @example localeOf('de').screw('3') // 'Schraube 3'
 */
export const localeOf = (language: string): Locale => locales[language] ?? english;
