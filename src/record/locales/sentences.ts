/**
 * The sentences of single entries, by language: all of a language's words that the table needs. English is always there;
 * another is added before anything is told in it, by whoever speaks it at the start or by the record's own list.
 */
import * as english from './en/entries.ts';

export type Sentences = Pick<typeof english, 'attribution' | 'tellers'>;

const known = new Map<string, Sentences>([['en', english]]);

/** Makes entries be told in a language from now on. */
export const addSentences = (language: string, sentences: Sentences): void => void known.set(language, sentences);

/** The sentences of a language; English for one that nobody added. */
export const sentencesOf = (language: string): Sentences => known.get(language) ?? english;
