/** Lists of ids, names and figures as they are read. */
import { figure } from '../format/figures.ts';

/** Ids, names or figures in a row of words. */
export const listed = (items: readonly (string | number)[]): string =>
  items.map((item) => (typeof item === 'number' ? figure(item) : item)).join(', ');

/**
 * Ids of screws, with runs of numbers drawn together.
 *
 * @example ranges(['1', '2', '3', '5']) // '1–3, 5'
 */
export function ranges(ids: readonly string[]): string {
  const runs: string[][] = [];
  for (const id of ids) {
    const run = runs.at(-1);
    if (run && Number(id) === Number(run.at(-1)) + 1) run.push(id);
    else runs.push([id]);
  }
  return listed(runs.map((run) => (run.length > 2 ? `${run[0]}–${run.at(-1)}` : listed(run))));
}
