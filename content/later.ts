/** The releases that no start needs: fetched when a case names one of them, and in a quiet moment after the start. */
import { addRelease, companionsHere, contentVersions, type ReleaseFiles } from './catalog.ts';
import { loadReleaseWords } from './languages.ts';

/** By version. A draft answers to the name that it will be released under, too. */
const files: Readonly<Record<string, () => Promise<ReleaseFiles>>> = {
  '2026.2-draft': async () => (await import('./releases/2026.2.ts')).release2026_2,
  '2026.2': async () => ({ ...(await import('./releases/2026.2.ts')).release2026_2, version: '2026.2' }),
};

/** Versions that can be fetched. */
export const laterVersions: readonly string[] = Object.keys(files);

/**
 * Takes in the releases that these versions name, where they are not there yet. Versions that this build lacks are
 * passed over: whoever reads with them is told.
 *
 * @param versions left out: all that can be fetched
 * @throws what fetching throws when a script cannot be had, and then it is asked for again at the next call
 * @example await fetchReleases(['2026.2-draft']); loadContent('2026.2-draft')?.ladder // 2
 */
export async function fetchReleases(versions: Iterable<string> = laterVersions): Promise<void> {
  for (const version of new Set(versions)) {
    const load = Object.hasOwn(files, version) ? files[version] : undefined;
    if (!load || contentVersions().includes(version)) continue;
    const [found] = await Promise.all([load(), loadReleaseWords(version), companionsHere()]);
    // Asked for twice at once, it is taken in once.
    if (!contentVersions().includes(version)) addRelease(found);
  }
}
