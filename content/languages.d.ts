import type { Language } from './translation.ts';
import type { LanguageFiles } from './words/language-files.ts';
/** Their BCP 47 codes, English first. */
export declare const languages: () => Language[];
/** A language as it calls itself; its code when this build does not speak it. */
export declare const languageName: (language: Language) => string;
/** Takes in a language besides those of the build. Throws Error when its code is taken. */
export declare function addLanguage(language: Language, files: LanguageFiles): void;
/**
 * Fetches the words of a language, once: of the screens, the record and of every release that it has words for.
 * After it, `loadContent(version, language)` answers in that language.
 *
 * @throws Error when its words break a rule of the phrases; what fetching throws when a file cannot be had, and then it
 *   is asked for again at the next call
 * @example await loadLanguage('de'); loadContent('2026.1', 'de')?.phrases.language // 'de'
 */
export declare function loadLanguage(language: Language): Promise<void>;
