/** Words read from afar, by the second ladder: few letters, in every language, also in a department's own words. */
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import { checkContent, glanceFaults, lettersOf } from '../../content/check.ts';
import { fetchReleases } from '../../content/later.ts';
import { german as release } from '../../content/releases/2026.2.de.ts';
import { translated } from '../../content/translation.ts';
import { words } from '../../content/words/de/all.ts';
import type { Content } from '../../content/types.ts';

await fetchReleases();
const english = loadContent('2026.2-draft', 'en') as Content;
const german = translated(english, { ...release, words: [words] });

/** The content with another word from afar for one of its moves. */
const called = (content: Content, glance: string): Content => ({
  ...content,
  phrases: {
    ...content.phrases,
    moves: { ...content.phrases.moves, 'grip-head': { ...content.phrases.moves['grip-head'], glance } },
  },
});

describe('[Z8] letters read from afar', () => {
  it.each([
    ['English', english],
    ['German', german],
  ])('are at most eight for a stage, eleven for a move and an outcome, sixteen for a question in %s', (_, content) => {
    const longest = (group: 'stages' | 'moves' | 'outcomes' | 'holds') =>
      Math.max(...Object.values<{ glance: string }>(content.phrases[group]).map(({ glance }) => lettersOf(glance)));
    expect(longest('stages')).toBeLessThanOrEqual(8);
    expect(longest('moves')).toBeLessThanOrEqual(11);
    expect(longest('outcomes')).toBeLessThanOrEqual(11);
    expect(longest('holds')).toBeLessThanOrEqual(16);
  });

  it('are counted without the gaps between words', () => {
    expect(lettersOf('grip the head')).toBe(11);
    expect(lettersOf('')).toBe(0);
  });

  it('beyond that are refused by their path, and kept where the first ladder allowed sixteen', () => {
    expect(glanceFaults(called(english, 'grip the head'))).toEqual([]);
    expect(checkContent(called(english, 'grip that head'))).toEqual({
      faults: [expect.objectContaining({ path: 'phrases.moves.grip-head.glance' })],
    });
    expect(glanceFaults(called(loadContent('2026.1', 'en') as Content, 'grip that head'))).toEqual([]);
  });

  it('are refused in a translation as well', () => {
    const moves = { 'grip-head': { glance: 'den Kopf fassen' } };
    expect(() => translated(english, { ...release, phrases: { moves }, words: [words] })).toThrow('11');
  });
});
