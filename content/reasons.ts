/** The offered reasons for leaving a screw in, in every language of this build: a case keeps the words, not the language. */
import german from './words/de/reasons.json' with { type: 'json' };
import english from './words/en/reasons.json' with { type: 'json' };

const prefix = 'leave.reason.';
const keys = new Map(
  [english, german].flatMap((words) =>
    Object.entries(words).map(([key, text]) => [text, key.slice(prefix.length)] as const),
  ),
);

/**
 * Which of the offered reasons a text is.
 *
 * @returns the last part of the key of its words; undefined for anything else
 * @example offeredReason('zu tief zum Fassen') // 'deep'
 */
export const offeredReason = (text: string): string | undefined => keys.get(text);
