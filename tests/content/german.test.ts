/** German beside English: every id and key in both, the same places, the same rules for what is short. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { englishWords, german, leaves, places, soothing, titles } from './german.ts';
import { loadContent } from '../../content/catalog.ts';
import { currentVersion } from '../../content/releases/index.ts';
import { loadLanguage } from '../../content/languages.ts';
import { boneName, inSentence } from '../../content/names.ts';
import { translated } from '../../content/translation.ts';
import type { Content, Spoken } from '../../content/types.ts';

const folder = resolve(import.meta.dirname, '../../content');
const read = (file: string) => JSON.parse(readFileSync(join(folder, file), 'utf8')) as Record<string, unknown>;

const offers = (text: string) => text.split('|').length;

const pairs = ['phrases', ...readdirSync(join(folder, 'words/en')).map((file) => `words/${file}`)].map((name) => {
  const of = (language: string) =>
    new Map(
      leaves(
        read(
          name === 'phrases'
            ? `${currentVersion}/phrases.${language}.json`
            : name.replace('words', `words/${language}`),
        ),
      ),
    );
  return { name, en: of('en'), de: of('de') };
});

/** Without a word of either language: places, units and signs. */
const isWordless = (text: string) => /^(?:\{\w+\}|min|mm|h|m|s|[^\p{L}])*$/u.test(text);
/** The same word in both languages. */
const sameInBoth = new Set(['/settings.col.text']);
/** Licence notices stand in the words of their owners. */
const quoted = new Set(['/settings.licence-font', '/settings.licence-loinc']);
it.each(['the whole screw', 'Platte out', 'bone'])('takes "%s" for English', (text) =>
  expect(text).toMatch(englishWords),
);

describe.each(pairs)('$name', ({ name, en, de }) => {
  it('has the same keys in both languages', () => {
    expect([...de.keys()].sort()).toEqual([...en.keys()].sort());
  });
  it('has the same places and as many offers under each key', () => {
    const unlike = [...en].filter(([key, text]) => {
      const other = de.get(key) ?? '';
      return places(text).join() !== places(other).join() || offers(text) !== offers(other);
    });
    expect(unlike.map(([key]) => `${name}${key}`)).toEqual([]);
  });
  it('leaves nothing as it is in English', () => {
    const same = [...de].filter(([key, text]) => text === en.get(key) && !isWordless(text) && !sameInBoth.has(key));
    expect(same).toEqual([]);
  });
  it('has no English word in German', () => {
    const bare = (text: string) => text.replace(/\{\w+\}/g, '');
    expect([...de].filter(([key, text]) => englishWords.test(bare(text)) && !quoted.has(key))).toEqual([]);
  });
});

it('has no English word in the texts of the trade but in the titles of what is cited', () => {
  const texts = leaves(german.trade).filter(([path]) => !/^\/sources\/.+\/cite$/.test(path));
  expect(texts.filter(([, text]) => englishWords.test(text.replace(titles, '')))).toEqual([]);
});

it('has the same files of words, all of them in the translation', () => {
  const files = readdirSync(join(folder, 'words/de')).filter((file) => file.endsWith('.json'));
  expect(files).toEqual(readdirSync(join(folder, 'words/en')));
  const keys = german.words.flatMap((words) => Object.keys(words));
  expect(keys).toHaveLength(new Set(keys).size);
  expect(keys.sort()).toEqual(files.flatMap((file) => Object.keys(read(`words/de/${file}`))).sort());
});

describe('content in German', () => {
  const english = loadContent(currentVersion, 'en') as Content;
  const content = translated(english, german);
  const { phrases } = content;
  const spoken: [string, Spoken][] = [phrases.stages, phrases.moves, phrases.holds].flatMap((group) =>
    Object.entries(group),
  );

  it.each(spoken)(
    '[Z8] %s has a glance label of at most sixteen letters and a line of at most twelve words',
    (_, s) => {
      expect(s.glance.length).toBeLessThanOrEqual(16);
      expect(s.say.trim().split(/\s+/).length).toBeLessThanOrEqual(12);
    },
  );

  it('[Z8] tells every move, stage, hold and outcome apart by its glance label', () => {
    for (const group of [phrases.moves, phrases.stages, phrases.holds, phrases.outcomes]) {
      const labels = Object.values(group).map(({ glance }) => glance);
      expect(new Set(labels).size).toBe(labels.length);
    }
  });

  it('[Z11] never ranks, orders about or soothes: no such word in anything shown live', () => {
    const shown = leaves({ ...phrases, cautions: [], trade: german.trade });
    expect(shown.filter(([, text]) => soothing.test(text))).toEqual([]);
  });

  it('translates every reason, use, caution and piece of evidence, one for one', () => {
    const texts = ({ holds, tools, moves, limits }: Content) => ({
      holds: holds.map(({ reasons }) => reasons),
      tools: tools.map(({ why }) => why),
      moves: moves.map(({ cautions, evidence }) => [...cautions, ...evidence].map(({ text }) => text)),
      sites: limits.tourniquetBySite.map(({ text }) => text),
    });
    const [before, after] = [leaves(texts(english)), new Map(leaves(texts(content)))];
    expect(before.length).toBe(after.size);
    expect(before.filter(([path, text]) => after.get(path) === text)).toEqual([]);
    for (const { id, reasons } of english.holds) expect(german.trade.holds?.[id]).toHaveLength(reasons.length);
    for (const { id, cautions, evidence } of english.moves) {
      expect(german.trade.moves?.[id]?.cautions).toHaveLength(cautions.length);
      expect(german.trade.moves?.[id]?.evidence).toHaveLength(evidence.length);
    }
  });

  it('[Z9] tells every source in German, with every number of the English row', () => {
    /** Decimal comma or point; each number counts as often as it stands there. */
    const numbers = (text: string) =>
      (text.match(/\d+(?:[.,]\d+)?/g) ?? []).map((number) => number.replace(',', '.')).sort();
    const told = german.trade.sources ?? {};
    expect(Object.keys(told)).toEqual(english.sources.map(({ id }) => id));
    for (const [index, { id, what, cite, status }] of english.sources.entries()) {
      const row = content.sources[index];
      expect(row?.what, id).not.toBe(what);
      expect(numbers(row?.what ?? ''), id).toEqual(numbers(what));
      expect(numbers(row?.cite ?? ''), id).toEqual(numbers(cite));
      expect(row?.cite.startsWith('aus dem Gedächtnis'), id).toBe(status === 'from-memory');
      expect(row?.cite.startsWith('übliche Praxis, ohne Quelle'), id).toBe(status === 'common-practice');
      expect(row?.cite, id).not.toMatch(/\b(from memory|authors?|as quoted|attributed|not shown)\b/);
    }
  });

  it('[Z9] changes words alone: every figure, id and source stays', () => {
    const figures = (value: unknown): unknown =>
      Array.isArray(value)
        ? value.map(figures)
        : typeof value === 'object' && value !== null
          ? Object.fromEntries(
              Object.entries(value)
                .filter(
                  ([key]) =>
                    !['phrases', 'text', 'why', 'what', 'reasons', 'orderStatus', 'dose', 'cite'].includes(key),
                )
                .map(([key, child]) => [key, figures(child)]),
            )
          : value;
    expect(figures(content)).toEqual(figures(english));
  });

  it('is English where a translation lacks something', () => {
    const bare = translated(english, { phrases: { language: 'de' }, words: [], trade: {} });
    expect({ ...bare, phrases: { ...bare.phrases, language: 'en' } }).toEqual(english);
  });

  it('is refused when a glance label is too long', () => {
    const long = { stages: { seated: { glance: 'viel zu lang für das' } } };
    expect(() => translated(english, { phrases: long, words: [], trade: {} })).toThrow('sixteen letters');
  });

  it('is what the catalog answers once it has the translation, and only when asked in German', async () => {
    expect(loadContent(currentVersion, 'de')).toBe(english);
    await loadLanguage('de');
    // What no release lists is worded by the build, in each language.
    const { other } = loadContent(currentVersion, 'de')?.phrases.moves ?? {};
    expect(other?.label).toBe('Etwas anderes');
    const moves = { ...content.phrases.moves, other };
    expect(loadContent(currentVersion, 'de')).toEqual({ ...content, phrases: { ...content.phrases, moves } });
    expect(loadContent(currentVersion)).toBe(english);
  });

  it('names bones, and leaves the capitals of nouns alone inside a sentence', () => {
    expect(boneName(content, 'clavicle')).toBe('Klavikula');
    expect(boneName(content, 'os cuneiforme')).toBe('os cuneiforme');
    expect(inSentence(content, phrases.stages['recess-stripped'].label)).toBe('Antrieb rund');
    expect(inSentence(english, english.phrases.stages['recess-stripped'].label)).toBe('recess stripped');
  });
});
