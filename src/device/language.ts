/** Which language this device speaks, and its words, which are fetched only when it is not English. */
import { languages, type Language, type Translation, type TradeTexts } from '../../content/translation.ts';

const isSpoken = (language: string): language is Language => (languages as readonly string[]).includes(language);

/**
 * What was chosen on this device; as long as nothing was, the first of the browser's languages that this build speaks.
 *
 * @param chosen BCP 47, or null
 * @param wanted languages of the browser, the best first
 * @example languageOf(null, ['de-AT', 'en']) // 'de'
 */
export function languageOf(chosen: string | null, wanted: readonly string[]): Language {
  if (chosen !== null && isSpoken(chosen)) return chosen;
  return wanted.map((tag) => tag.toLowerCase().split('-')[0] as string).find(isSpoken) ?? 'en';
}

/** Addresses of the files in the built app; they are precached with it. */
const files = import.meta.glob<string>(
  ['../../content/2026.1/phrases.de.json', '../../content/2026.1/trade.de.json', '../../content/words/de/*.json'],
  { query: '?url', import: 'default', eager: true },
);

/**
 * The words of a language.
 *
 * @returns undefined for English, which is built in
 * @throws what fetching throws when a file cannot be had
 */
export async function fetchTranslation(language: Language): Promise<Translation | undefined> {
  if (language === 'en') return undefined;
  const all = await Promise.all(
    Object.entries(files).map(async ([path, url]) => [path, (await (await fetch(url)).json()) as object] as const),
  );
  const named = (name: string) => all.find(([path]) => path.endsWith(name))?.[1] ?? {};
  return {
    phrases: named('/phrases.de.json'),
    trade: named('/trade.de.json') as TradeTexts,
    words: all.filter(([path]) => path.includes('/words/de/')).map(([, words]) => words),
  };
}
