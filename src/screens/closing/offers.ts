import type { Messages } from '../../format/messages.ts';

/**
 * Frequent answers, stored under one message key and separated by a bar.
 *
 * @example offers(w, 'closing.offer.why') // ['the bone would suffer', …]
 */
export const offers = (w: Messages, key: string): string[] =>
  w(key)
    .split('|')
    .map((offer) => offer.trim());

/**
 * The text of a field that takes one value: an offer that is touched replaces the offer before it.
 *
 * @example oneValue('Surgeon A; Surgeon B', ['Surgeon A', 'Surgeon B']) // 'Surgeon B'
 */
export function oneValue(text: string, all: readonly string[]): string {
  const touched = all.find((offer) => text.endsWith(`; ${offer}`));
  return touched ?? text;
}
