/** The present release in German, with all words of the screens, for tests that want them at hand. */
import { german as release } from '../../content/releases/2026.1.de.ts';
import type { Translation } from '../../content/translation.ts';
import { words } from '../../content/words/de/all.ts';

export const german: Translation = { ...release, words: [words] };

/** Every text by its path. */
export function leaves(value: unknown, path = ''): [string, string][] {
  if (typeof value === 'string') return [[path, value]];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, child]) => leaves(child, `${path}/${key}`));
}

/** What is filled in, by name. */
export const places = (text: string) => (text.match(/\{\w+\}/g) ?? []).sort();
/** Common English words that are no German ones. */
export const englishWords =
  /(?<!\p{L})(the|and|of|with|not|is|are|were|been|has|have|had|this|that|these|those|it|its|by|from|for|to|at|on|out|off|into|no|yes|or|but|if|than|then|when|while|where|which|who|how|why|only|all|any|some|more|most|less|least|after|before|between|under|over|up|down|without|because|there|here|they|you|your|we|our|screws?|bone|plate|head|shank|tools?|drill|moves?|cases?|side|left|right|time|entry|entries|record|recorded|recess|driver|taken|take|back|open|closed?|stop|go|done|said|say|cut|new|first|last|one|two)(?!\p{L})/iu;

/** Words that rank, order about or soothe. */
export const soothing =
  /\b(Alarme?|Warnung\w*|Monitore?|sicher\w*|freigegeben\w*|empf(eh|oh)l\w*|Empfehlung\w*|sollte[nt]?|optimal\w*|am besten)\b/i;
/** Titles of what is cited. */
export const titles = /"[^"]+"|Wheeless' Textbook of Orthopaedics/g;
