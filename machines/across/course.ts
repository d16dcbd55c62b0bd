/**
 * The course of one case: what its plan was before the first move, and what came of it. What nobody said is neither out
 * nor in.
 */
import { workedMinutes } from '../clocks.ts';
import type { Entry } from '../entry.ts';
import type { Folded } from '../folded.ts';
import type { ScrewContext } from '../screw.context.ts';
import { epoch } from '../time.ts';
import { attemptsOf, isAcrossGap, rowsOf, type TraceRow } from '../trace.ts';

/** Where a screw ended; `unsaid`: it was in when the log ended, or what was said of it does not go together. */
export type Fate = 'out' | 'left-in' | 'unsaid';

export interface Course {
  /** Entries that stood before the first move; all of them where none was made. */
  planned: number;
  /** The first move that counts, as it was entered, ms; null where none was made. */
  begunAt: number | null;
  /** The same by its own corrected time: until then the way to the metal took. */
  firstAt: number | null;
  /** What was entered before the first move tells in part of the time after it began: nobody knows the plan as it stood. */
  toldLater: boolean;
  /** When the case was closed, as it was entered, ms. */
  closedAt: number | null;
  screws: Record<string, { fate: Fate; tried: boolean }>;
  /** From start to end of the work; null where nobody said, or a gap of unknown length lies between. */
  minutes: number | null;
}

const moves: readonly Entry['type'][] = ['move-started', 'part-move'];

/** What a forecast or readiness reads of a plan. */
const telling: readonly Entry['type'][] = [
  ...(['screw-listed', 'tool-in-room', 'bone-measured', 'limits-set', 'found', 'plate-off', 'part-listed'] as const),
  ...(['case-corrected', 'event', 'destroyed', 'head-seen', 'struck', 'reassigned'] as const),
];

function fateOf({ stage, lengthAsked, foundAfter }: ScrewContext): Fate {
  if (lengthAsked !== null) return 'unsaid';
  const after = foundAfter === null ? null : foundAfter === 'out' ? 'out' : 'left-in';
  if (stage !== 'out' && stage !== 'left-in') return after ?? 'unsaid';
  return after === null || after === stage ? stage : 'unsaid';
}

/** Minutes of the work, where both its ends were told and no gap of unknown length lies between. */
function minutesOf({ case: { context }, latest, trace }: Folded, rows: readonly TraceRow[]): number | null {
  const [from, to] = (['work-started', 'work-ended'] as const).map((type) =>
    rows.find(({ heard, entry }) => heard && entry.type === type),
  );
  if (!from || !to || isAcrossGap(trace, from.entry.n, to.entry.n)) return null;
  return workedMinutes(context, latest);
}

/**
 * The course of a case from its last state.
 *
 * @example courseOf(fold([], content)).planned // 0
 */
export function courseOf(state: Folded): Course {
  const rows = rowsOf(state.trace).filter(({ heard }) => heard);
  const made = rows.filter(({ entry }) => moves.includes(entry.type));
  const first = made[0]?.entry;
  const began = made.reduce((least, { corrected }) => Math.min(least, corrected), Infinity);
  const planned = first ? first.n - 1 : (rows.at(-1)?.entry.n ?? 0);
  const tried = new Set(attemptsOf(state.trace).map(({ screw }) => screw));
  const closing = rows.findLast(({ entry }) => entry.type === 'case-closed');
  return {
    planned,
    begunAt: first ? epoch(first.logged) : null,
    firstAt: first ? began : null,
    toldLater: rows.some(
      ({ entry, corrected }) => entry.n <= planned && corrected > began && telling.includes(entry.type),
    ),
    closedAt: closing ? epoch(closing.entry.logged) : null,
    screws: Object.fromEntries(
      [...state.screws].map(([id, { context }]) => {
        const fate = fateOf(context);
        return [id, { fate, tried: fate === 'out' || tried.has(id) }];
      }),
    ),
    minutes: minutesOf(state, rows),
  };
}
