/** The cuff of the tourniquet: what was told of it, put in order of time. */

export interface Inflation {
  /** Number of the entry that told of it. */
  n: number;
  up: number;
  down: number | null;
  answered: boolean;
}

/** The cuff set up or down, as one entry tells it. `corrected`: ms. */
export interface CuffChange {
  n: number;
  to: 'up' | 'down';
  corrected: number;
}

const byTime = (a: CuffChange, b: CuffChange) => a.corrected - b.corrected || a.n - b.n;

/**
 * The changes of the cuff in order of their time, without those that set it to what it was: whatever the order in which
 * they were entered, a deflation ends the inflation that it lies in.
 *
 * @example cuffChanges([{ n: 3, to: 'up', corrected: 0 }, { n: 9, to: 'up', corrected: 5 }]).length // 1
 */
export function cuffChanges(told: readonly CuffChange[]): CuffChange[] {
  const changes: CuffChange[] = [];
  for (const change of [...told].sort(byTime)) if (change.to !== (changes.at(-1)?.to ?? 'down')) changes.push(change);
  return changes;
}

/**
 * The inflations that these changes make, each answered if an earlier list says so of the same inflation.
 *
 * @param changes in order of their time, as `cuffChanges` gives them
 */
export function inflationsOf(changes: readonly CuffChange[], before: readonly Inflation[]): Inflation[] {
  const spans: Inflation[] = [];
  for (const { n, to, corrected } of changes) {
    const last = spans.at(-1);
    if (to === 'up')
      spans.push({ n, up: corrected, down: null, answered: before.some((span) => span.n === n && span.answered) });
    else if (last) spans[spans.length - 1] = { ...last, down: corrected };
  }
  return spans;
}
