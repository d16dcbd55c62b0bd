/**
 * What the device or the log refuses, and what a start had to tell, in the words of the screens. Below, a reason is one
 * English sentence, as the release's words have it; read back by them, it is told in the language that is spoken.
 */
import { loadContent } from '../../content/catalog.ts';
import { currentVersion } from '../../content/releases/index.ts';
import type { CopyName } from '../store/port.ts';
import type { StartReport } from '../store/mirrored-log.ts';
import type { Messages } from '../format/messages.ts';

interface Sentence {
  key: string;
  pattern: RegExp;
}
const other = 'refusal.other';
/** Places in which a reason of its own stands; what stands in any other is kept as it is. */
const nested = ['reason', 'database', 'journal'];

const sentenceOf = ([key, words]: [string, string]): Sentence => {
  const escaped = words.replace(/[.*+?^$()|[\]\\]/g, '\\$&');
  return { key, pattern: new RegExp(`^${escaped.replace(/\{(\w+)\}/g, '(?<$1>.+?)')}$`, 's') };
};

let sentences: Sentence[] | undefined;
/** Read once, when the first reason comes. */
const known = (): Sentence[] =>
  (sentences ??= Object.entries(loadContent(currentVersion, 'en')?.phrases.words ?? {})
    .filter(([key]) => key.startsWith('refusal.') && key !== other)
    .map(sentenceOf));

/**
 * A reason in words, or null when the words have none for it.
 *
 * @example knownRefusal(w, 'this window only reads') // 'dieses Fenster liest nur' in German
 */
export function knownRefusal(w: Messages, reason: string): string | null {
  const bare = reason.replace(/^Error: /, '');
  for (const { key, pattern } of known()) {
    const found = pattern.exec(bare);
    if (!found) continue;
    const values = Object.entries(found.groups ?? {}).map(([name, value]) => {
      if (nested.includes(name)) return [name, refusalWords(w, value)] as const;
      return [name, /^\d+(\.\d+)?$/.test(value) ? Number(value) : value] as const;
    });
    return w(key, Object.fromEntries(values));
  }
  return null;
}

/**
 * A reason in words; what the words do not know, such as the browser's own message, stands as it came.
 *
 * @example refusalWords(w, 'database: this window only reads') // 'Datenbank: dieses Fenster liest nur' in German
 */
export const refusalWords = (w: Messages, reason: string): string =>
  knownRefusal(w, reason) ?? w(other, { detail: reason });

/**
 * Why an entry was not recorded, in words.
 *
 * @param cannot key of what is said when it cannot have happened at this point
 */
export const outcomeWords = (w: Messages, reason: string, cannot = 'record.too-late'): string =>
  reason === 'out-of-order' ? w(cannot) : refusalWords(w, reason);

/** Several reasons behind one another. */
export const allRefusalWords = (w: Messages, reasons: readonly string[]): string =>
  reasons.map((reason) => refusalWords(w, reason)).join('; ');

/** Lines that a start had to tell: what was healed, damaged, refused. */
export function startWords(w: Messages, { restored, damaged, refused, disagreements }: StartReport): string[] {
  const name = (copy: CopyName) => w(`start.copy.${copy}`);
  return [
    ...restored.map(({ entries, from }) =>
      w(entries === 1 ? 'start.restored-one' : 'start.restored', { count: entries, copy: name(from) }),
    ),
    ...damaged.map(({ copy, what }) => w('start.torn', { copy: name(copy), what: refusalWords(w, what) })),
    ...refused.map(({ copy, reason }) => w('start.refused', { copy: name(copy), reason: refusalWords(w, reason) })),
    ...disagreements.map(() => w('start.differed')),
  ];
}
