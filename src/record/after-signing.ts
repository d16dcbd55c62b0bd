/** What stands in a log after its last signature. */
import type { Entry } from '../../machines/entry.ts';
import type { Folded } from '../../machines/folded.ts';
import { effectiveEntries } from '../../machines/trace.ts';

/** Entries after a signature that change neither account nor papers: what the device, its clock and its driver were. */
const unchanging: readonly Entry['type'][] = [
  'signed',
  'case-closed',
  'clock-jumped',
  'resumed',
  'at-tablet',
  'format-raised',
];

/** Could it change account or papers of what was signed? A comparison with the clock on the wall changes every time printed. */
export const isChanging = (entry: Entry): boolean =>
  entry.type === 'clock-compared' ? entry.source === 'wall' : !unchanging.includes(entry.type);

/**
 * The entries that the last signature in force does not stand for, because they came after it and change account or
 * papers: a new signature is due for them.
 *
 * @returns `signed` null where nobody signed; what was entered after one signature is signed by the next
 * @example afterSigning(foldedWithARemarkAfterIt, entries) // { signed: 20, entries: [21] }
 */
export function afterSigning(
  { trace }: Pick<Folded, 'trace'>,
  entries: readonly Entry[],
): { signed: number | null; entries: number[] } {
  const signed = effectiveEntries(trace).findLast(({ type }) => type === 'signed')?.n ?? null;
  if (signed === null) return { signed, entries: [] };
  return { signed, entries: entries.flatMap((entry) => (entry.n > signed && isChanging(entry) ? [entry.n] : [])) };
}
