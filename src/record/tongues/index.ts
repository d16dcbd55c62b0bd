/** The languages that the record can be written in: all of its words stand here, none elsewhere. */
import { german } from './de/index.ts';
import { english } from './en/index.ts';
import { addSentences } from './sentences.ts';
import type { Tongue } from './tongue.ts';

export type { Tongue } from './tongue.ts';

const tongues: Readonly<Record<string, Tongue>> = { en: english, de: german };
for (const [language, { entries }] of Object.entries(tongues)) addSentences(language, entries);

/**
 * The tongue of a language.
 *
 * @param language BCP 47, as `content.phrases.language`; one that the record does not speak is answered in English
 * @example tongueOf('de').screw('3') // 'Schraube 3'
 */
export const tongueOf = (language: string): Tongue => tongues[language] ?? english;
