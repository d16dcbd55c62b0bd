/** Which language this device speaks. */
import { languages } from '../../content/languages.ts';

/**
 * What was chosen on this device; as long as nothing was, the first of the browser's languages that this build speaks.
 *
 * @param chosen BCP 47, or null
 * @param wanted languages of the browser, the best first
 * @example languageOf(null, ['de-AT', 'en']) // 'de'
 */
export function languageOf(chosen: string | null, wanted: readonly string[]): string {
  const spoken = languages();
  if (chosen !== null && spoken.includes(chosen)) return chosen;
  return wanted.map((tag) => tag.toLowerCase().split('-')[0] as string).find((tag) => spoken.includes(tag)) ?? 'en';
}
