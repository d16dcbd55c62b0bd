/** Every entry as one plain sentence in the past tense, in the language of the content. */
import type { Entry } from '../../machines/entry.ts';
import { sentencesOf } from './locales/sentences.ts';
import type { Telling } from './locales/telling.ts';
import { clean, sentence } from '../format/prose.ts';

/**
 * An entry as a sentence.
 *
 * @example narrate(ended, { content, running: { move: 'turn-out', tool: undefined }, again: false })
 * // 'The driver slipped in the recess of screw 3.'
 */
export function narrate(entry: Entry, telling: Telling): string {
  const { tellers } = sentencesOf(telling.content.phrases.language);
  const tell = tellers[entry.type] as ((entry: Entry, telling: Telling) => string) | undefined;
  return sentence(tell ? tell(entry, telling) : untold(entry));
}

const common = ['n', 'at', 'logged', 'calledBy', 'loggedBy', 'seal', 'type'];

/** An entry of a type that the language has no sentence for: its type and what stands in it. Nothing stays unsaid. */
function untold(entry: Entry): string {
  const own = Object.entries(entry).filter(([key]) => !common.includes(key));
  const said = own.map(([key, value]) => `${key} ${clean(typeof value === 'string' ? value : JSON.stringify(value))}`);
  return [entry.type, ...(said.length ? [said.join(', ')] : [])].join(': ');
}

/** Who called it and who entered it, as a second sentence, empty when neither is known. */
export function attribution(entry: Entry, language = 'en'): string {
  const who = sentencesOf(language).attribution(entry);
  return who === '' ? '' : sentence(who);
}
