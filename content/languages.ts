/** The languages that this build speaks. English is always there, and stands in for what another one lacks. */
import { addReleaseWords, addTranslation, contentVersions } from './catalog.ts';
import type { Language } from './translation.ts';
import type { LanguageFiles } from './words/language-files.ts';
import { forgetReasons, languageFiles } from './reasons.ts';

/** Their BCP 47 codes, English first. */
export const languages = (): Language[] => ['en', ...languageFiles.keys()];

/** A language as it calls itself; its code when this build does not speak it. */
export const languageName = (language: Language): string =>
  language === 'en' ? 'English' : (languageFiles.get(language)?.name ?? language);

/** Takes in a language besides those of the build. Throws Error when its code is taken. */
export function addLanguage(language: Language, files: LanguageFiles): void {
  if (languages().includes(language)) throw new Error(`there is a language ${language} already`);
  languageFiles.set(language, files);
  forgetReasons();
}

const loading = new Map<Language, Promise<void>>();

async function fetched(language: Language): Promise<void> {
  const files = languageFiles.get(language);
  if (!files) return;
  const [{ translated }, words, releases] = await Promise.all([
    import('./translation.ts'),
    files.words(),
    Promise.all(
      Object.entries(files.releases)
        .filter(([version]) => contentVersions().includes(version))
        .map(async ([version, load]) => [version, await load()] as const),
    ),
  ]);
  addTranslation(language, words, new Map(releases), translated);
}

/**
 * Fetches what the languages loaded so far say of a release that is about to come in. A language loaded later brings its
 * words of every release that is there by then.
 */
export async function loadReleaseWords(version: string): Promise<void> {
  await Promise.all(
    [...loading].map(async ([language, there]) => {
      const load = languageFiles.get(language)?.releases[version];
      if (!load) return;
      const [words] = await Promise.all([load(), there]);
      addReleaseWords(language, version, words);
    }),
  );
}

/**
 * Fetches the words of a language, once: of the screens, the record and of every release that it has words for.
 * After it, `loadContent(version, language)` answers in that language.
 *
 * @throws Error when its words break a rule of the phrases; what fetching throws when a file cannot be had, and then it
 *   is asked for again at the next call
 * @example await loadLanguage('de'); loadContent('2026.1', 'de')?.phrases.language // 'de'
 */
export function loadLanguage(language: Language): Promise<void> {
  let going = loading.get(language);
  if (!going) {
    going = fetched(language);
    // Whoever waits for it is told; here it is only forgotten, so that the next call asks again.
    going.catch(() => loading.delete(language));
    loading.set(language, going);
  }
  return going;
}
