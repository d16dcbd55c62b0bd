/**
 * The sentences of single entries, by language: all that the table screen needs of a locale. English is always there;
 * another is fetched before it is used.
 */
import * as english from './en/entries.ts';

export type Sentences = Pick<typeof english, 'attribution' | 'tellers'>;

const known = new Map<string, Sentences>([['en', english]]);

/** Registers the sentences of a language. */
export const addSentences = (language: string, sentences: Sentences): void => void known.set(language, sentences);

/** The sentences of a language; English for one that nobody added. */
export const sentencesOf = (language: string): Sentences => known.get(language) ?? english;

/**
 * Fetches the sentences of a language, once, from the folder that bears its code.
 *
 * @throws what importing throws when they cannot be had
 */
export async function loadSentences(language: string): Promise<void> {
  if (!known.has(language)) addSentences(language, (await import(`./${language}/entries.ts`)) as Sentences);
}
