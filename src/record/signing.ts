/** What a signature stands for: the words that were signed. */
import type { Content } from '../../content/types.ts';
import type { Entry } from '../../machines/entry.ts';
import { fold } from '../../machines/fold.ts';
import { verify } from '../../machines/seal.ts';
import { view } from '../../machines/view.ts';
import { buildRecord } from './build.ts';
import { hashOfWords } from './signed-words.ts';

/**
 * SHA-256 of the record as text in English, as it stands before the signature.
 *
 * @param entries those before the signature
 * @param content in English
 * @param format that the log begins in
 * @returns 64 lower-case hexadecimal digits
 */
export function textHash(entries: readonly Entry[], content: Content, format?: number): string {
  const folded = fold(entries, content, undefined, format);
  const record = buildRecord(entries, folded, view(folded, undefined, verify(entries)), content);
  return hashOfWords(record);
}
