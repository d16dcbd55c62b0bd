/** The offered reasons for leaving a screw in, in every language of this build: a case keeps the words, not the language. */
import english from './words/en/reasons.json' with { type: 'json' };
import * as registered from './words/index.ts';
import type { LanguageFiles } from './words/language-files.ts';

/** Languages besides English, by code. */
export const languageFiles = new Map<string, LanguageFiles>(Object.entries(registered));

const prefix = 'leave.reason.';
let keys: Map<string, string> | undefined;

/** Lets the reasons be gathered anew, once a language came in. */
export const forgetReasons = (): void => void (keys = undefined);

/**
 * Which of the offered reasons a text is.
 *
 * @returns the last part of the key of its words; undefined for anything else
 * @example offeredReason('zu tief zum Fassen') // 'deep'
 */
export function offeredReason(text: string): string | undefined {
  keys ??= new Map(
    [english, ...[...languageFiles.values()].map(({ reasons }) => reasons)].flatMap((words) =>
      Object.entries(words).map(([key, reason]) => [reason, key.slice(prefix.length)] as const),
    ),
  );
  return keys.get(text);
}
