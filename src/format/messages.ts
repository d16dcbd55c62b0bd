/** The words of the screens, by key, out of the content's phrases. */
import { fillTemplate } from '../../content/template.ts';
import type { Content } from '../../content/types.ts';
import { day, figure } from './figures.ts';

export type Fill = Readonly<Record<string, string | number>>;
export type Messages = (key: string, fill?: Fill) => string;

/** Puts values in the places of a phrase, numbers and ISO dates as they are read. A place without a value is a fault of the phrase and shows as its name. */
export const filled = (phrase: string, values: Fill = {}): string =>
  fillTemplate(phrase, (name) => {
    const value = values[name] ?? name;
    if (typeof value === 'number') return figure(value);
    return /^\d{4}-\d\d-\d\d$/.test(value) ? day(value) : value;
  });

const added: Record<string, string> = {};

/** Adds words that came after the content did; `later-messages.ts` and `list-messages.ts` alone do. Where the content has words of its own they stand. */
export const addWords = (words: Readonly<Record<string, string>>): void => void Object.assign(added, words);

/**
 * Words by key; a key without words shows itself, so that nothing is silently blank.
 *
 * @example messagesOf(content)('table.take-back') // 'Take back'
 */
export function messagesOf(content: Content): Messages {
  const { words } = content.phrases;
  return (key, fill) => filled(words[key] ?? added[key] ?? key, fill);
}
