/** Names that a log holds as an id or as free text. */
import type { Content } from './types.ts';

/**
 * A bone as it is read: one that the content lists by its name in the content's language, any other as it was entered.
 *
 * @example boneName(german, 'clavicle') // 'Klavikula'
 */
export const boneName = (content: Content, bone: string): string => content.phrases.words[`bone.${bone}`] ?? bone;
