/** Corrections: which entries are struck, and which strikes cannot stand. */
import type { Entry } from './entry.ts';

export interface Strikes {
  /** Numbers of the struck entries. They are folded as if they were not there. */
  struck: Set<number>;
  /** Numbers of strikes that are out of order. */
  refused: Set<number>;
}

/** Without these nothing else in the log could be read. */
const bedrock: readonly Entry['type'][] = ['case-opened', 'format-raised', 'resumed', 'clock-jumped'];

/**
 * A strike cannot be of itself, of a later entry or of another strike, nor come after the case was closed, unless what
 * it strikes is that closing: then the case was never closed.
 *
 * From format 2 on a strike may follow the closing; what says how the log itself is to be read cannot be struck.
 *
 * @param formatAt number of the format that an entry stands in
 * @example struckBy([opened, { n: 2, type: 'struck', entry: 1, … }]).struck // Set { 1 }
 */
export function struckBy(entries: readonly Entry[], formatAt: (n: number) => number = () => 1): Strikes {
  const struck = new Set<number>();
  const refused = new Set<number>();
  const target = (entry: Entry): Entry | undefined => {
    if (entry.type !== 'struck' || entry.entry >= entry.n) return undefined;
    const found = entries[entry.entry - 1];
    if (!found || found.type === 'struck') return undefined;
    return formatAt(entry.n) > 1 && bedrock.includes(found.type) ? undefined : found;
  };
  for (const entry of entries) {
    const found = target(entry);
    if (found?.type === 'case-closed') struck.add(found.n);
  }
  const openings: number[] = [];
  let closed = false;
  for (const entry of entries) {
    if (entry.type === 'case-opened') openings.push(entry.n);
    if (entry.type === 'case-closed' && !struck.has(entry.n)) closed ||= openings.some((n) => !struck.has(n));
    if (entry.type !== 'struck') continue;
    const found = target(entry);
    if (found && (!closed || formatAt(entry.n) > 1)) struck.add(found.n);
    else if (!found || !struck.has(found.n)) refused.add(entry.n);
  }
  return { struck, refused };
}
