/** What stands open at the end of a case. */
import type { Entry } from '../../../machines/entry.ts';
import type { Folded } from '../../../machines/folded.ts';
import { closingHolds } from '../../../machines/standing.ts';
import { rowsOf } from '../../../machines/trace.ts';
import { phaseOf } from '../../../machines/view.ts';
import type { Phase } from '../../../machines/view.types.ts';
import { aftercareRows } from './aftercare-lines.ts';
import { isAnythingOpen, type AccountRow } from './account.ts';

export type OpenPoint = 'shavings' | 'count' | 'metal' | 'tourniquet' | 'aftercare';

export interface Standing {
  phase: Phase;
  /** Metal was cut and neither washed out nor answered for since. */
  shavings: boolean;
  /** Washed out, or answered with a reason, at some time. */
  washed: Entry | null;
  count: boolean;
  /** The answer to the count that holds now. */
  counted: Extract<Entry, { type: 'count-answered' }> | null;
  told: OpenPoint[];
  /** Lines for the time after, and those of which nobody has said anything; null where there are none. */
  aftercare: { open: number } | null;
  /** What has to be answered before the case can be closed; null when nothing has. */
  first: 'end' | 'shavings' | 'count' | null;
}

/**
 * @example standingOf(folded, rows).first // 'count'
 */
export function standingOf(folded: Folded, rows: readonly AccountRow[]): Standing {
  const phase = phaseOf(folded);
  const heard = rowsOf(folded.trace).filter((row) => row.heard);
  const told = heard.map(({ entry }) => entry);
  const holds = closingHolds(folded);
  const cut = heard.findLast(({ began, ended, entry }) => began || ended || entry.type === 'left-in')?.entry;
  const answered = told.findLast(
    (entry) => entry.type === 'washed-out' || (entry.type === 'hold-answered' && entry.hold === 'shavings'),
  );
  const shavings = holds.includes('shavings') && !(answered && answered.n > (cut?.n ?? 0));
  const count = holds.includes('count');
  const counted = count ? undefined : told.findLast((entry) => entry.type === 'count-answered');
  const lines = aftercareRows(folded);
  const waiting = lines.filter(({ state }) => state === null).length;
  const open = [
    shavings && ('shavings' as const),
    count && ('count' as const),
    isAnythingOpen(rows) && ('metal' as const),
    folded.case.context.inflations.at(-1)?.down === null && ('tourniquet' as const),
    waiting > 0 && ('aftercare' as const),
  ].filter((point) => point !== false);
  return {
    phase,
    shavings,
    washed: answered ?? null,
    count,
    counted: counted?.type === 'count-answered' ? counted : null,
    told: open,
    aftercare: lines.length > 0 ? { open: waiting } : null,
    first: phase === 'working' ? 'end' : shavings ? 'shavings' : count ? 'count' : null,
  };
}
