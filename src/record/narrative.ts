/** Every entry as one plain sentence in the past tense, in the language of the content. */
import type { Content } from '../../content/types.ts';
import type { Entry } from '../../machines/entry.ts';
import type { TraceRow } from '../../machines/trace.ts';
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

/**
 * A row of the trace as a sentence: an end names the move that it belonged to, also one that was struck.
 *
 * @param zone that times in the sentence stand in; left out: as they were written
 *
 * @example tell(rowOf(fold(entries, content).trace, 9), content) // 'The driver slipped in the recess of screw 3.'
 */
export function tell({ entry, ended, toldOf, again }: TraceRow, content: Content, zone?: string): string {
  // A start that ends another move is told as a start.
  const running = entry.type === 'move-ended' ? (ended ?? toldOf ?? undefined) : undefined;
  return narrate(entry, { content, running, again, ...(zone !== undefined && { zone }) });
}

/** Who called it and who entered it, as a second sentence, empty when neither is known. */
export function attribution(entry: Entry, language = 'en'): string {
  const who = sentencesOf(language).attribution(entry);
  return who === '' ? '' : sentence(who);
}
