/** What is learned from a folder of cases: the newest of them read once more, each with the rates that stood then. */
import { through } from '../../machines/compute/through.ts';
import type { CaseOutcome } from '../../machines/across/outcome.ts';
import { addLesson, learnedFrom, noLessons, type Learned } from '../../machines/across/lessons.ts';
import { reckoning } from '../../machines/across/reckon.ts';
import { ratesBefore } from '../../machines/across/then.ts';
import { startOf, type CaseReading } from '../../machines/case-file.ts';
import type { Content } from '../../content/types.ts';

/** A case of a folder that counts, by its file. */
export interface FiledCase {
  path: string;
  outcome: CaseOutcome;
}

/** Newest first; cases of one day by their files. */
const byAge = (a: FiledCase, b: FiledCase): number => {
  const [one, other] = [a.outcome.day ?? '', b.outcome.day ?? ''];
  if (one !== other) return one < other ? 1 : -1;
  return a.path < b.path ? 1 : -1;
};

/**
 * Reckons the newest cases of a folder.
 *
 * @param most how many at most, ≥ 0
 * @param read one file to its checked case
 */
export async function folderLessons(
  cases: readonly FiledCase[],
  most: number,
  read: (path: string) => Promise<CaseReading | { faults: unknown }>,
  content: Content,
): Promise<Learned> {
  const before = ratesBefore(cases.map(({ outcome }) => outcome));
  const begun = ({ outcome }: FiledCase) => outcome.course.begunAt ?? Infinity;
  const chosen = [...cases].sort(byAge).slice(0, most);
  const lessons = noLessons();
  for (const { path, outcome } of chosen.sort((a, b) => (begun(a) === begun(b) ? byAge(b, a) : begun(a) - begun(b)))) {
    const reading = await read(path);
    if ('faults' in reading) continue;
    const { entries, formatVersion } = reading.file;
    const own = before(outcome, reading.content);
    addLesson(lessons, through(reckoning(entries, outcome, reading.content, own, startOf(entries, formatVersion))));
  }
  return learnedFrom(lessons, cases.length, content);
}
