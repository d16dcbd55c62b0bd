/** Loads a released content version, checked as a whole. */
import antibiotics from './2026.1/antibiotics.json' with { type: 'json' };
import bones from './2026.1/bones.json' with { type: 'json' };
import consent from './2026.1/consent.json' with { type: 'json' };
import hazards from './2026.1/hazards.json' with { type: 'json' };
import holds from './2026.1/holds.json' with { type: 'json' };
import limits from './2026.1/limits.json' with { type: 'json' };
import moves from './2026.1/moves.json' with { type: 'json' };
import phrases from './2026.1/phrases.en.json' with { type: 'json' };
import rates from './2026.1/rates.json' with { type: 'json' };
import recesses from './2026.1/recesses.json' with { type: 'json' };
import release from './2026.1/release.json' with { type: 'json' };
import screws from './2026.1/screws.json' with { type: 'json' };
import sources from './2026.1/sources.json' with { type: 'json' };
import tools from './2026.1/tools.json' with { type: 'json' };
import acrossWords from './words/en/across.json' with { type: 'json' };
import departmentWords from './words/en/department.json' with { type: 'json' };
import laterWords from './words/en/later.json' with { type: 'json' };
import planWords from './words/en/plan.json' with { type: 'json' };
import reasonWords from './words/en/reasons.json' with { type: 'json' };
import recordWords from './words/en/record.json' with { type: 'json' };
import refusalWords from './words/en/refusals.json' with { type: 'json' };
import roomWords from './words/en/rooms.json' with { type: 'json' };
import tableWords from './words/en/table.json' with { type: 'json' };
import tongueWords from './words/en/tongue.json' with { type: 'json' };
import trustWords from './words/en/trust.json' with { type: 'json' };
import { checkContent } from './check.ts';
import { translated, type Language, type Translation } from './translation.ts';
import type { Content } from './types.ts';

const releases = new Map<string, unknown>([
  [
    '2026.1',
    {
      ...release,
      antibiotics,
      bones,
      consent,
      hazards,
      holds,
      limits,
      moves,
      rates,
      phrases: {
        ...phrases,
        words: {
          ...phrases.words,
          ...tableWords,
          ...roomWords,
          ...reasonWords,
          ...refusalWords,
          ...recordWords,
          ...acrossWords,
          ...planWords,
          ...departmentWords,
          ...laterWords,
          ...tongueWords,
          ...trustWords,
        },
      },
      recesses,
      screws,
      sources,
      tools,
    },
  ],
]);

/** The version that new cases are written with. */
export const currentVersion = '2026.1';

const loaded = new Map<string, Content>();
let spoken: Language = 'en';

/**
 * Takes a translation in and speaks it from now on, wherever content is loaded without a language named. Called once,
 * before any content is.
 *
 * @param files none for the language that the release speaks itself
 * @throws Error when the translation breaks a rule of the phrases
 */
export function speak(language: Language, files?: Translation): void {
  if (files) addTranslation(currentVersion, language, files);
  spoken = language;
}

/** Makes `loadContent(version, language)` answer in that language. */
export function addTranslation(version: string, language: Language, files: Translation): void {
  const content = loadContent(version, 'en');
  if (content) loaded.set(`${version} ${language}`, translated(content, files));
}

/**
 * The content of one released version; checked on the first call, the same object ever after.
 *
 * @param version such as `2026.1`
 * @param language as spoken, unless named; a language without a translation of that version is answered in English
 * @returns the content, or undefined when this build lacks that version
 * @throws Error when the release itself is faulty, naming the path of each fault
 * @example loadContent('2026.1')?.moves[0]?.id // 'turn-out'
 */
export function loadContent(version: string, language: Language = spoken): Content | undefined {
  const known = loaded.get(`${version} ${language}`) ?? loaded.get(`${version} en`);
  if (known || !releases.has(version)) return known;
  const result = checkContent(releases.get(version));
  if ('faults' in result)
    throw new Error(
      `content ${version} is faulty:\n${result.faults.map(({ path, message }) => `${path}: ${message}`).join('\n')}`,
    );
  loaded.set(`${version} en`, result.content);
  return result.content;
}
