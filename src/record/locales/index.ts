/** The languages that the record can be written in: all of its words stand here, none elsewhere. */
import { locale as english } from './en/index.ts';
import { addSentences } from './sentences.ts';
import type { Locale } from './locale.ts';

export type { Locale } from './locale.ts';

const locales = new Map<string, Locale>([['en', english]]);

/** Adds a locale besides those that have a folder here. */
export function addLocale(language: string, locale: Locale): void {
  locales.set(language, locale);
  addSentences(language, locale.entries);
}

/**
 * Fetches the locale of a language, once, from the folder that bears its code. After it, `localeOf` answers with it.
 *
 * @param language BCP 47, one that this build speaks
 * @throws what importing throws when it cannot be had
 */
export async function loadLocale(language: string): Promise<void> {
  if (locales.has(language)) return;
  const { locale } = (await import(`./${language}/index.ts`)) as { locale: Locale };
  addLocale(language, locale);
}

/**
 * The locale of a language.
 *
 * @param language BCP 47, as `content.phrases.language`; one that nobody loaded is answered in English
 * @example await loadLocale('de'); localeOf('de').screw('3') // 'Schraube 3'
 */
export const localeOf = (language: string): Locale => locales.get(language) ?? english;
