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

/**
 * The changes of the cuff in order of their time, without those that set it to what it was: whatever the order in which
 * they were entered, a deflation ends the inflation that it lies in.
 *
 * @param told in the order in which they were entered; of two at the same time, the first entered came first
 * @example cuffChanges([{ n: 3, to: 'up', corrected: 0 }, { n: 9, to: 'up', corrected: 5 }]).length // 1
 */
export function cuffChanges(told: readonly CuffChange[]): CuffChange[] {
  const changes: CuffChange[] = [];
  const inTime = [...told].sort((a, b) => a.corrected - b.corrected);
  for (const change of inTime) if (change.to !== (changes.at(-1)?.to ?? 'down')) changes.push(change);
  return changes;
}

/**
 * The inflations that these changes make, each answered if an earlier list says so of the same inflation.
 *
 * @param changes up and down by turns, as `cuffChanges` gives them; one that sets the cuff down first ends nothing
 */
export function inflationsOf(changes: readonly CuffChange[], before: readonly Inflation[]): Inflation[] {
  const spans: Inflation[] = [];
  for (const { n, to, corrected } of changes)
    if (to === 'up')
      spans.push({ n, up: corrected, down: null, answered: before.some((span) => span.n === n && span.answered) });
    else spans.push(...spans.splice(-1).map((last) => ({ ...last, down: corrected })));
  return spans;
}
