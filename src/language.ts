/** The one language that this page speaks: of its screens, of the trade and of the record. */
import { speak } from '../content/catalog.ts';
import { loadLanguage } from '../content/languages.ts';
import { deferred } from './deferred.ts';
import { speakFigures } from './format/figures.ts';
import { loadSentences } from './record/locales/sentences.ts';

let own = 'en';

/**
 * Fetches what the first screen says in a language, and speaks it from then on. Called once, before anything is drawn.
 *
 * @param language BCP 47, one that this build speaks
 * @throws what fetching throws when a file cannot be had; the page speaks English then
 */
export async function speakLanguage(language: string): Promise<void> {
  await Promise.all([loadLanguage(language), loadSentences(language)]);
  speak(language);
  speakFigures(language);
  own = language;
}

/** The rest of the record's words in the language spoken: there before any room that is fetched later is drawn. */
export const recordWords = deferred(async () => {
  if (own !== 'en') await (await import('./record/locales/index.ts')).loadLocale(own);
});
