/** In which stage a screw was when: what a move that is told late needs to know of the time that it belongs to. */
import { workingStages, type Stage, type WorkingStage } from '../content/ids.ts';

/** A stage from a corrected time on, as entry `n` told it. */
export interface Level {
  n: number;
  from: number;
  stage: Stage;
}

export interface Past {
  levels: readonly Level[];
  /** Latest corrected time of what was done to the screw, ms, and the entry that told it; -Infinity and 0 before any. */
  last: number;
  lastEntry: number;
}

export type Pasts = ReadonlyMap<string, Past>;

const fresh: Past = { levels: [], last: -Infinity, lastEntry: 0 };

/**
 * The deepest stage of the ladder that a screw had reached by then; seated before anything was told of it. Its end is
 * none: what is told of a later time contradicts the end, and began in the stage before it.
 */
export function levelAt(past: Past | undefined, corrected: number): WorkingStage {
  const by = past?.levels.filter(({ from }) => from <= corrected).map(({ stage }) => stage);
  return workingStages.findLast((stage) => by?.includes(stage)) ?? 'seated';
}

const changed = (pasts: Pasts, screw: string, change: (past: Past) => Past): Pasts =>
  new Map(pasts).set(screw, change(pasts.get(screw) ?? fresh));

/** With a stage that a screw reached. */
export const reached = (pasts: Pasts, screw: string, level: Level): Pasts =>
  changed(pasts, screw, (past) => ({ ...past, levels: [...past.levels, level] }));

/** With something more done to a screw. */
export const done = (pasts: Pasts, screw: string, { n, corrected }: { n: number; corrected: number }): Pasts =>
  changed(pasts, screw, (past) => (corrected >= past.last ? { ...past, last: corrected, lastEntry: n } : past));
