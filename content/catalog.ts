/** Loads a released content version, checked as a whole. */
import firstWords from './words/en/first.json' with { type: 'json' };
import laterWords from './words/en/later.json' with { type: 'json' };
import reasonWords from './words/en/reasons.json' with { type: 'json' };
import refusalWords from './words/en/refusals.json' with { type: 'json' };
import tableWords from './words/en/table.json' with { type: 'json' };
import tongueWords from './words/en/tongue.json' with { type: 'json' };
import { checkContent } from './check.ts';
import { idKinds, type IdKind, type Ids } from './ids.ts';
import { currentVersion, releases } from './releases/index.ts';
import { translated, type Language, type Translation } from './translation.ts';
import type { Content } from './types.ts';

/**
 * The words that come with the start. They belong to the build: every release is shown with the same, and with those
 * that rooms and sheets bring along later.
 */
const words = {
  ...firstWords,
  ...tableWords,
  ...reasonWords,
  ...refusalWords,
  ...laterWords,
  ...tongueWords,
};

/** The files of one release, as its folder holds them; checked when it is first loaded. */
export interface ReleaseFiles {
  version: string;
  ids: object;
  phrases: { words: object };
}

const registered = new Map<string, ReleaseFiles>(Object.entries(releases));

/** Content versions that can be loaded, oldest first. */
export const contentVersions = (): string[] => [...registered.keys()];

/**
 * Takes in a release besides those that came with the first files of the build.
 *
 * @throws Error when another one bears its version: what a case names is never replaced
 */
export function addRelease(files: ReleaseFiles): void {
  if (registered.has(files.version)) throw new Error(`there is a release ${files.version} already`);
  registered.set(files.version, files);
  every = undefined;
}

let every: Ids | undefined;

/**
 * Every id of every release, each list in the order of the releases: for what belongs to no case. The same object until
 * a release is added.
 */
export function everyId(): Ids {
  if (!every) {
    const lists = [...registered.values()].map(({ ids }) => ids as Record<IdKind, readonly string[]>);
    every = Object.fromEntries(
      idKinds.map((kind) => [kind, [...new Set(lists.flatMap((ids) => ids[kind]))]]),
    ) as unknown as Ids;
  }
  return every;
}

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
  const files = registered.get(version);
  if (known || !files) return known;
  const result = checkContent({
    ...files,
    phrases: { ...files.phrases, words: { ...files.phrases.words, ...words } },
  });
  if ('faults' in result)
    throw new Error(
      `content ${version} is faulty:\n${result.faults.map(({ path, message }) => `${path}: ${message}`).join('\n')}`,
    );
  loaded.set(`${version} en`, result.content);
  return result.content;
}
