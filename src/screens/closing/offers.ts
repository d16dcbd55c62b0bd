import type { Messages } from '../../format/messages.ts';

/**
 * Words that are often meant, kept under one key and parted by a bar.
 *
 * @example offers(w, 'closing.offer.why') // ['the bone would suffer', …]
 */
export const offers = (w: Messages, key: string): string[] =>
  w(key)
    .split('|')
    .map((offer) => offer.trim());

/**
 * What stands in an entry that takes one value: a touched offer takes the place of what stood there.
 *
 * @example oneValue('Surgeon A; Surgeon B', ['Surgeon A', 'Surgeon B']) // 'Surgeon B'
 */
export function oneValue(text: string, all: readonly string[]): string {
  const touched = all.find((offer) => text.endsWith(`; ${offer}`));
  return touched ?? text;
}
