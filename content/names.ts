/** Names that a log holds as an id or as free text. */
import type { Content } from './types.ts';

/**
 * A bone as it is read: one that the content lists by its name in the content's language, any other as it was entered.
 *
 * @example boneName(german, 'clavicle') // 'Klavikula'
 */
export const boneName = (content: Content, bone: string): string => content.phrases.words[`bone.${bone}`] ?? bone;

/**
 * A label as it stands inside a sentence: small letters in English; other languages keep theirs.
 *
 * @example inSentence(english, 'Recess stripped') // 'recess stripped'
 */
export const inSentence = (content: Content, label: string): string =>
  content.phrases.language === 'en' ? label.toLowerCase() : label;
