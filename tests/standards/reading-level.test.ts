/**
 * The patient's part of the page on what is still in, by the Flesch-Kincaid grade (Kincaid, Fishburne, Rogers & Chissom
 * 1975, US Navy report 8-75; the formula from memory, computed by the package flesch-kincaid).
 */
import { fleschKincaid } from 'flesch-kincaid';
import { syllable } from 'syllable';
import { describe, expect, it } from 'vitest';
import type { Entry } from '../../machines/entry.ts';
import { buildStillIn } from '../../src/record/index.ts';
import { cases, content, recordOf } from '../record/cases.ts';

function grade(text: string): number {
  const sentences = text.split(/(?<=[.!?:])\s+/).filter((part) => /\w/.test(part));
  const words = text.match(/[A-Za-z]+/g) ?? [];
  return fleschKincaid({
    sentence: sentences.length,
    word: words.length,
    syllable: words.reduce((sum, word) => sum + syllable(word), 0),
  });
}

const plain = (entries: readonly Entry[]) =>
  buildStillIn(recordOf(entries), content)
    .sections.filter(({ id }) => id === 'patient' || id === 'scan')
    .flatMap(({ blocks }) =>
      // Lists hold what the team entered and the words of the sources.
      blocks.flatMap((block) => (block.kind === 'text' ? [block.text] : [])),
    )
    .join(' ');

describe('the page for the patient', () => {
  it.each(['leftBehind', 'untidy', 'empty', 'shortScrew'])(
    'reads at the eighth grade or below in the case %s',
    (name) => expect(grade(plain(cases[name] as Entry[]))).toBeLessThanOrEqual(8),
  );
  it('would not pass in the words of the note', () => {
    expect(
      grade('Demonstrable intraoperative fragmentation necessitated retention of osseointegrated metallic material.'),
    ).toBeGreaterThan(12);
  });
});
