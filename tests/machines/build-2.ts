/** Logs of format 2, for the tests: opened with their rules, and read as a file. */
import { loadContent } from '../../content/catalog.ts';
import { readCase } from '../../machines/case-file.ts';
import type { EntryOf } from '../../machines/entry.ts';
import { fold, step, unfolded } from '../../machines/fold.ts';
import { attemptsOf } from '../../machines/trace.ts';
import { view } from '../../machines/view.ts';
import { atTheTable, content, type Log } from './build.ts';

type More<T extends 'screw-listed' | 'case-opened'> = Partial<Omit<EntryOf<T>, 'n' | 'type' | 'seal'>>;

/** An opened tibia with one plain screw "1" of 36 mm, every tool in the room and the work begun, in format 2. */
export const table2 = (facts: More<'screw-listed'> = {}, opened: More<'case-opened'> = {}): Log =>
  atTheTable(facts, { rules: 2, ...opened });

/** A case file of these entries, as a JSON reader gives it. */
export const fileOf = (entries: readonly unknown[], more: object = {}): unknown =>
  JSON.parse(
    JSON.stringify({ format: 'counterturn-case', formatVersion: 2, contentVersion: '2026.1', entries, ...more }),
  );

/** What is wrong with a file, each fault by its path and its words. */
export function faultsOf(file: unknown): string[] {
  const read = readCase(file, loadContent);
  return 'faults' in read ? read.faults.map(({ path, message }) => `${path}: ${message}`) : [];
}

/** Is the count of the metal settled by two roles without a word on a discrepancy? */
export const isCounted = (log: Log): boolean =>
  !log
    .fork()
    .write({ type: 'work-ended' })
    .write({ type: 'count-answered', by: ['scrub', 'circulating'] })
    .view.holds.includes('count');

/** Every move: its screw, itself, how it ended, and the stages that it led from and to. */
export const attempts = (log: Log) =>
  attemptsOf(log.folded.trace).map(({ screw, move, outcome, stageBefore, stageAfter }) => [
    ...[screw, move, outcome, stageBefore, stageAfter],
  ]);

/** All that is known of a log, read entry by entry and all at once: both have to be the same. */
export function bothWays({ entries }: Log) {
  const lived = entries.reduce((state, entry, i) => step(state, entry, entries.slice(0, i)), unfolded(content));
  const whole = fold(entries, content);
  const told = (state: typeof whole) => ({
    view: view(state),
    case: state.case.context,
    screws: [...state.screws].map(([id, { value, context }]) => [id, value, context]),
  });
  return [told(lived), told(whole)] as const;
}
