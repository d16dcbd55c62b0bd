import { createDeferred, createMemo, type Accessor } from 'solid-js';
import type { Draft } from '../../../machines/entry.ts';
import { readiness, type Readiness } from '../../../machines/readiness.ts';
import { figure } from '../../parts/figures.ts';
import type { App } from '../app.ts';

/** What every step of the briefing is given. */
export interface StepProps {
  /** Records the drafts in order; false when one was refused, which is then said. */
  put: (...drafts: Draft[]) => Promise<boolean>;
  ready: Accessor<Readiness | null>;
  next: () => void;
}

/**
 * Readiness of the open case, worked out when the page is idle: with an empty room it tries hundreds of sets of tools.
 * Null until a screw is listed.
 */
export function createReadiness(app: App): Accessor<Readiness | null> {
  const folded = createMemo(() => app.open()?.folded ?? null);
  const settled = createDeferred(folded, { timeoutMs: 1000 });
  return createMemo(() => {
    const now = settled();
    return now && now.screws.size > 0 ? readiness(now) : null;
  });
}

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
