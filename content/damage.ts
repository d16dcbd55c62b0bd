/**
 * What can have happened to a tool, as the tablet offers it in words: a case keeps the words, and the counts over cases
 * keep no words but these. Held equal to the offered words in `tests/content/damage.test.ts`.
 */

export const damages = ['tip-off', 'bent', 'blunt', 'thread', 'jammed', 'cut', 'broken-or-blunt'] as const;
export type Damage = (typeof damages)[number];

/** The offered words in every language of this build. */
const words: Readonly<Record<string, Damage>> = {
  'tip broke off': 'tip-off',
  'tip broken off': 'tip-off',
  bent: 'bent',
  blunt: 'blunt',
  'thread stripped': 'thread',
  'jammed in a screw': 'jammed',
  'cut for this case': 'cut',
  'broken or blunt': 'broken-or-blunt',
  'Spitze abgebrochen': 'tip-off',
  verbogen: 'bent',
  stumpf: 'blunt',
  'Gewinde ausgerissen': 'thread',
  'in einer Schraube fest': 'jammed',
  'für diesen Fall durchtrennt': 'cut',
  'gebrochen oder stumpf': 'broken-or-blunt',
};

/**
 * Which of the offered words a text is.
 *
 * @returns undefined for anybody's own words
 * @example offeredDamage('stumpf') // 'blunt'
 */
export const offeredDamage = (text: string): Damage | undefined =>
  Object.hasOwn(words, text) ? words[text] : undefined;
