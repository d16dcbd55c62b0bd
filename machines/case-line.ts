/** The few facts that a list of cases shows of one: read off its entries without folding them, by the fold's own rules. */
import type { Entry } from './entry.ts';
import type { Folded } from './folded.ts';
import { struckBy } from './strike.ts';

export interface CaseHeadline {
  /** Empty until the case was opened. */
  label: string;
  side: string;
  bone: string;
  closed: boolean;
  /** How many entries its log has. */
  entries: number;
  /** `at` of the newest entry, by number. */
  lastAt: string | null;
}

/**
 * What a fold of these entries would say, at the cost of one look at each: the first opening that was not struck, and
 * whether a closing that was not struck stands behind it.
 *
 * @example headlineOf([]).closed // false
 */
export function headlineOf(entries: readonly Entry[]): CaseHeadline {
  const { struck } = struckBy(entries);
  const stands = ({ n }: Entry) => !struck.has(n);
  const opened = entries.find((entry) => entry.type === 'case-opened' && stands(entry));
  const closed = entries.some(
    (entry) => entry.type === 'case-closed' && stands(entry) && opened !== undefined && entry.n > opened.n,
  );
  return { ...names(opened), closed, ...length(entries) };
}

/** The same of a case that is folded already: costs nothing in a long log. */
export const headlineOfFolded = (entries: readonly Entry[], { case: snapshot }: Folded): CaseHeadline => ({
  ...names(snapshot.context.room?.opened ?? undefined),
  closed: snapshot.matches('closed'),
  ...length(entries),
});

function names(opened: Entry | undefined) {
  if (opened?.type !== 'case-opened') return { label: '', side: '', bone: '' };
  const { label, side, bone } = opened;
  return { label, side, bone };
}

const length = (entries: readonly Entry[]) => ({ entries: entries.length, lastAt: entries.at(-1)?.at ?? null });
