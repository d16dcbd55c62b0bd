/** What was asked at the moves of a log: it is written from what was known as each began. */
import type { Entry } from './entry.ts';
import type { Hindsight } from './hindsight.ts';
import { rowsOf, type Trace } from './trace.ts';

/**
 * Words on earlier entries that were told after a move began in between: what was asked at that move is written from
 * what stood before them. Numbers, in order.
 */
export function wordsAfterMoves(entries: readonly Entry[], { struck }: Pick<Hindsight, 'struck'>): number[] {
  let moved = 0;
  const words: number[] = [];
  for (const entry of entries) {
    if (struck.has(entry.n)) continue;
    if (entry.type === 'move-started') moved = entry.n;
    if (entry.type === 'reassigned' && Math.min(entry.from ?? Infinity, ...(entry.entries ?? [])) <= moved)
      words.push(entry.n);
    if (entry.type === 'move-answered' && entry.of < moved) words.push(entry.n);
  }
  return words;
}

/** What was asked at each move that was begun so far. */
export const askedIn = (trace: Trace | null): Hindsight['asked'] =>
  new Map(
    rowsOf(trace).flatMap(({ entry, unoffered, unanswered }) =>
      entry.type === 'move-started' ? [[entry.n, { unoffered, unanswered }]] : [],
    ),
  );
