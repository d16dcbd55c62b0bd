/** The second content in German beside its English: nothing lacking, nothing left in English, every number the same. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import { fetchReleases } from '../../content/later.ts';
import { german as release } from '../../content/releases/2026.2.de.ts';
import { translated } from '../../content/translation.ts';
import { words } from '../../content/words/de/all.ts';
import type { Content, Spoken } from '../../content/types.ts';
import { englishWords, leaves, places, soothing, titles } from './german.ts';

await fetchReleases();
const english = loadContent('2026.2-draft', 'en') as Content;
const content = translated(english, { ...release, words: [words] });
const file = (name: string) =>
  leaves(JSON.parse(readFileSync(new URL(`../../content/2026.2/${name}.json`, import.meta.url), 'utf8')));
const [en, de] = [new Map(file('phrases.en')), new Map(file('phrases.de'))];
const isWordless = (text: string) => !/\p{L}{2}/u.test(text.replace(/\{\w+\}/g, ''));
/** Decimal comma or point; each number counts as often as it stands there. */
const numbers = (text: string) => (text.match(/\d+(?:[.,]\d+)?/g) ?? []).map((one) => one.replace(',', '.')).sort();

describe('the phrases', () => {
  it('are the same keys with the same places and numbers, in other words', () => {
    expect([...de.keys()].sort()).toEqual([...en.keys()].sort());
    const unlike = [...en].filter(([key, text]) => {
      const told = de.get(key) ?? '';
      if (key === '/language') return told !== 'de';
      return (
        told === text || places(told).join() !== places(text).join() || numbers(told).join() !== numbers(text).join()
      );
    });
    expect(unlike.filter(([, text]) => !isWordless(text))).toEqual([]);
  });

  it('hold no English word, and nothing that ranks, orders about or soothes', () => {
    const texts = [...de, ...leaves({ ...release.trade, sources: {} })];
    const bare = (text: string) => text.replace(/\{\w+\}/g, '').replace(titles, '');
    expect(texts.filter(([, text]) => englishWords.test(bare(text)))).toEqual([]);
    expect(texts.filter(([path, text]) => !path.startsWith('/cautions') && soothing.test(text))).toEqual([]);
  });

  const { phrases } = content;
  const spoken: [string, Spoken][] = [phrases.stages, phrases.moves, phrases.holds].flatMap((group) =>
    Object.entries(group),
  );
  it.each(spoken)('[Z8] %s has a short glance label and a short line', (_, said) => {
    expect(said.glance.length).toBeLessThanOrEqual(16);
    expect(said.say.trim().split(/\s+/).length).toBeLessThanOrEqual(12);
  });

  it.each([
    ['English', english],
    ['German', content],
  ])('[Z8] tell every move, stage, hold and outcome apart by its glance label in %s', (_, told) => {
    for (const group of [told.phrases.moves, told.phrases.stages, told.phrases.holds, told.phrases.outcomes]) {
      const labels = Object.values(group).map(({ glance }) => glance);
      expect(labels.filter((label, index) => labels.indexOf(label) < index)).toEqual([]);
    }
  });
});

describe('the texts of the trade', () => {
  const texts = ({ holds, tools, moves, limits, beyond, aftercare, orderStatus }: Content) => ({
    holds: holds.map(({ reasons }) => reasons),
    evidence: holds.map(({ evidence }) => evidence.map(({ text }) => text)),
    tools: tools.map(({ why }) => why),
    moves: moves.map(({ cautions, evidence }) => [...cautions, ...evidence].map(({ text }) => text)),
    sites: limits.tourniquetBySite.map(({ text }) => text),
    beyond: beyond.map((row) => row.text),
    places: beyond.map((row) => row.where),
    aftercare: aftercare.map(({ text }) => text),
    orderStatus,
  });
  /** Directions, the same in both. */
  const alike = new Set(['distal', 'proximal', 'distal, medial']);

  it('are all told in German, one for one, with the same numbers', () => {
    const [before, after] = [leaves(texts(english)), new Map(leaves(texts(content)))];
    expect(after.size).toBe(before.length);
    expect(before.length).toBeGreaterThan(250);
    expect(before.filter(([path, text]) => after.get(path) === text && !alike.has(text))).toEqual([]);
    const unlike = before.filter(([path, text]) => numbers(after.get(path) ?? '').join() !== numbers(text).join());
    expect(unlike.map(([path, text]) => [text, after.get(path)])).toEqual([]);
  });

  it('have as many German lines as English ones, no more', () => {
    const { trade } = release;
    for (const { id, reasons, evidence } of english.holds) {
      expect(trade.holds?.[id]).toHaveLength(reasons.length);
      expect(trade.holdEvidence?.[id] ?? []).toHaveLength(evidence.length);
    }
    for (const { id, cautions, evidence } of english.moves) {
      expect(trade.moves?.[id]?.cautions).toHaveLength(cautions.length);
      expect(trade.moves?.[id]?.evidence).toHaveLength(evidence.length);
    }
    expect(trade.beyond).toHaveLength(english.beyond.length);
    expect(Object.keys(trade.aftercare ?? {})).toEqual(english.aftercare.map(({ id }) => id));
    expect(Object.keys(trade.sources ?? {})).toEqual(english.sources.map(({ id }) => id));
  });

  it('[Z9] tell every source with every number of the English row, and how far it can be trusted', () => {
    for (const [index, { id, what, cite, status }] of english.sources.entries()) {
      const row = content.sources[index];
      expect(row?.what, id).not.toBe(what);
      expect(numbers(row?.what ?? ''), id).toEqual(numbers(what));
      expect(numbers(row?.cite ?? ''), id).toEqual(numbers(cite));
      expect(row?.cite.startsWith('aus dem Gedächtnis'), id).toBe(status === 'from-memory');
      expect(row?.cite.startsWith('übliche Praxis, ohne Quelle'), id).toBe(status === 'common-practice');
      expect(row?.cite, id).not.toMatch(/\b(from memory|authors?|as quoted|attributed|not shown|not read)\b/);
      expect(soothing.test(row?.what ?? ''), id).toBe(false);
      expect(englishWords.test((row?.what ?? '').replace(titles, '')), id).toBe(false);
    }
  });
});
