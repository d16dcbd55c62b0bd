/** Names that a log holds as an id or as free text. */
import { contentVersions, loadContent } from './catalog.ts';
import type { HoldId, MoveId, Outcome, ToolId } from './ids.ts';
import type { Content, Move, Phrases } from './types.ts';

/** This content, then those of the releases, the newest first: where an id is sought that may be of another one. */
function* fromHere(content: Content): Generator<Content> {
  yield content;
  for (const version of contentVersions().reverse()) {
    const release = loadContent(version);
    if (release) yield release;
  }
}

/** What the words of one id hold, by group. */
interface Worded {
  moves: Phrases['moves'][MoveId];
  tools: Phrases['tools'][ToolId];
  holds: Phrases['holds'][HoldId];
  outcomes: Phrases['outcomes'][Outcome];
}

/**
 * Words for an id that a case of any release may have brought: the content's own, else those of the newest that has it.
 *
 * @returns undefined when no release has it
 * @example wordsOfAny(content, 'tools', 'mallet')?.label // 'mallet'
 */
export function wordsOfAny<G extends 'moves' | 'tools' | 'holds' | 'outcomes'>(
  content: Content,
  group: G,
  id: string,
): Worded[G] | undefined {
  for (const { phrases } of fromHere(content))
    if (Object.hasOwn(phrases[group], id)) return phrases[group][id as never];
  return undefined;
}

/** A move that a case of any release may have brought; undefined when no release has it. */
export function moveOfAny(content: Content, id: string): Move | undefined {
  for (const { moves } of fromHere(content)) {
    const move = moves.find((one) => one.id === id);
    if (move) return move;
  }
  return undefined;
}

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
