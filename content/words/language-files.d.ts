/** What one language brings. All but the first three is fetched when the language is spoken, and no sooner. */
import type { ReleaseWords } from '../releases/release-words.ts';
export interface LanguageFiles {
    /** As it calls itself. */
    name: string;
    /** What the label of an invented case begins with: it goes into the file, where nothing else tells. */
    invented: string;
    /** The offered reasons for leaving a screw in: a case keeps the words, and any device has to know them again. */
    reasons: Readonly<Record<string, string>>;
    /** The words of screens and record, by key. */
    words: () => Promise<object>;
    /** The releases that it has words for. */
    releases: Readonly<Record<string, () => Promise<ReleaseWords>>>;
}
