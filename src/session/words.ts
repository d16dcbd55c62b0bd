/** The words of the screens, by key, out of the content's phrases. */
import type { Content } from '../../content/types.ts';

export type Fill = Readonly<Record<string, string | number>>;
export type Words = (key: string, fill?: Fill) => string;

/** Puts values in the places of a phrase. A place without a value is a fault of the phrase and shows as its name. */
export const filled = (phrase: string, values: Fill = {}): string =>
  phrase.replace(/\{(\w+)\}/g, (_, name: string) => String(values[name] ?? name));

/**
 * Words by key; a key without words shows itself, so that nothing is silently blank.
 *
 * @example wordsOf(content)('table.take-back') // 'Take back'
 */
export function wordsOf(content: Content): Words {
  const { words } = content.phrases;
  return (key, fill) => filled(words[key] ?? key, fill);
}
