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
import type { Language, Translate } from './translation.ts';
import type { Content } from './types.ts';
import type { ReleaseWords } from './releases/release-words.ts';

/**
 * The words that come with the start. They belong to the build, as do those that rooms and sheets bring along later: every
 * release is shown with the same, but where it says a thing in words of its own.
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

/** The words of a release with those of the build for `other`, the move that no release lists. */
function withOther(phrases: object, from: object): object {
  const said = from as Readonly<Record<string, string>>;
  const other = Object.fromEntries(
    (['label', 'glance', 'say', 'help'] as const).map((kind) => [kind, said[`move.other.${kind}`]]),
  );
  if (other.label === undefined) return phrases;
  return { ...phrases, moves: { other, ...(phrases as { moves?: object }).moves } };
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

/** What has to be there before a release that is fetched can be played. */
const companions: (() => Promise<void>)[] = [];

/** Has something loaded along with every release that is fetched: the rules that it is written for. */
export function comesAlong(load: () => Promise<void>): void {
  companions.push(load);
}

/** Loads all that comes along with a release. @throws what loading throws when a script cannot be had */
export const companionsHere = async (): Promise<void> => {
  await Promise.all(companions.map((load) => load()));
};

const loaded = new Map<string, Content>();
let spoken: Language = 'en';

interface Spoken {
  words: object;
  releases: ReadonlyMap<string, ReleaseWords>;
  translated: Translate;
}

const translations = new Map<Language, Spoken>();

/** Speaks a language from now on, wherever content is loaded without one named: one whose words are there, or English. */
export function speak(language: Language): void {
  spoken = language;
}

/**
 * Makes `loadContent(version, language)` answer in that language, in English what it has no words for.
 *
 * @param words of screens and record, by key
 * @param releases what stands with each release
 * @param translated puts a release into those words; it comes with the first language besides English
 * @throws Error when the words of the present release break a rule of the phrases
 */
export function addTranslation(
  language: Language,
  words: object,
  releases: ReadonlyMap<string, ReleaseWords>,
  translated: Translate,
): void {
  const { phrases, trade } = releases.get(currentVersion) ?? { phrases: {}, trade: {} };
  const content = translated(loadContent(currentVersion, 'en') as Content, {
    phrases: withOther({ ...phrases, language }, words),
    trade,
    words: [words],
  });
  translations.set(language, { words, releases, translated });
  loaded.set(`${currentVersion} ${language}`, content);
}

/** Takes in what a language says of a release that came after the language did. */
export function addReleaseWords(language: Language, version: string, words: ReleaseWords): void {
  const own = translations.get(language);
  if (own) translations.set(language, { ...own, releases: new Map(own.releases).set(version, words) });
  loaded.delete(`${version} ${language}`);
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
  const known = loaded.get(`${version} ${language}`);
  if (known) return known;
  const content = loaded.get(`${version} en`) ?? checked(version);
  const own = translations.get(language);
  if (!content || !own) return content;
  const { phrases, trade } = own.releases.get(version) ?? { phrases: {}, trade: {} };
  const told = own.translated(content, {
    phrases: withOther({ ...phrases, language }, own.words),
    trade,
    words: [own.words],
  });
  loaded.set(`${version} ${language}`, told);
  return told;
}

/** A release in English; undefined when this build lacks it. */
function checked(version: string): Content | undefined {
  const files = registered.get(version);
  if (!files) return undefined;
  const result = checkContent({
    ...files,
    phrases: withOther({ ...files.phrases, words: { ...words, ...files.phrases.words } }, words),
  });
  if ('faults' in result)
    throw new Error(
      `content ${version} is faulty:\n${result.faults.map(({ path, message }) => `${path}: ${message}`).join('\n')}`,
    );
  loaded.set(`${version} en`, result.content);
  return result.content;
}
