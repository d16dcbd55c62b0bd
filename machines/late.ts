/**
 * What is told late, by rules 2: a late truth adds and never silences. A move that was told late counts at its own
 * time, moves its screw only deeper, and neither ends nor answers anything.
 */
import type { Stage } from '../content/ids.ts';
import { moveOf } from '../content/moves.ts';
import { cuffChanges, inflationsOf } from './cuff.ts';
import {
  amongTools,
  dispatchBy,
  endedMove,
  eventFor,
  expectedBores,
  onCase,
  onEnd,
  onMove,
  onScrews,
  routes,
  type Routes,
} from './dispatch.ts';
import type { Entry, EntryOf } from './entry.ts';
import type { CaseEvent, RunningMove } from './events.ts';
import type { Change, Conflict, Folded } from './folded.ts';
import { levelAt, reached } from './past.ts';
import type { Timed } from './rules.ts';
import { isWorking } from './screw.context.ts';
import { madeMove, stageAfter } from './second-ladder.ts';

/** Entries that only describe a screw or choose it: they stand on no side of what was done to it. */
const descriptions: readonly Entry['type'][] = ['screw-listed', 'screw-called', 'bone-measured'];
export const isWork = ({ type }: Entry): boolean => !descriptions.includes(type);

const isClosed = ({ case: snapshot }: Folded) => snapshot.matches('closed');

/** Was it told after the case was closed, of the time before that? */
const isOfBefore = (state: Folded, { corrected, format }: Timed): boolean =>
  format > 1 && isClosed(state) && corrected < (state.case.context.closedAt ?? -Infinity);

/** Is it heard as history? What is about the time after a closing isn't. */
const isHistory = (state: Folded, taken: Timed): boolean =>
  taken.format > 1 && isClosed(state) ? isOfBefore(state, taken) : taken.late;

/** Is nothing done to this screw that has a later time than this? */
const isNewest = (state: Folded, screw: string, corrected: number) =>
  corrected >= (state.past.get(screw)?.last ?? -Infinity);

/** A move that was told late and still is the one in hand: nothing was done to its screw since, and nothing runs on it. */
function isInHand(state: Folded, { entry, corrected }: Timed<EntryOf<'move-started'>>): boolean {
  const screw = state.screws.get(entry.screw)?.context;
  const { workEnded } = state.case.context;
  const isIn = screw !== undefined && isWorking(screw.stage) && screw.running === null;
  return isIn && isNewest(state, entry.screw, corrected) && corrected >= (workEnded ?? -Infinity) && !isClosed(state);
}

function onLateStart(state: Folded, taken: Timed<EntryOf<'move-started'>>): Change | null {
  const { entry, corrected } = taken;
  const screw = state.screws.get(entry.screw);
  if (!screw || state.case.context.workStarted === null) return null;
  const stage = levelAt(state.past.get(entry.screw), corrected);
  const event = {
    type: 'late-started',
    entry,
    corrected,
    projected: expectedBores(state, screw, stage, entry),
    ...amongTools(state, screw, entry),
  } as const;
  return onScrews(state, [entry.screw], event);
}

/** The move that an end was told for: the one that it names; of an end told late, the last one told late that it can end; else the running one. */
function meant(state: Folded, { entry, corrected, late }: Timed<EntryOf<'move-ended'>>): RunningMove | null {
  const screw = state.screws.get(entry.screw)?.context;
  if (!screw) return null;
  const { running, lateOpen } = screw;
  if (entry.start !== undefined) return [running, ...lateOpen].find((one) => one?.entry === entry.start) ?? null;
  const told = lateOpen.findLast((one) => one.corrected <= corrected);
  return (late || running === null ? told : null) ?? running ?? lateOpen.at(-1) ?? null;
}

function onEnding(state: Folded, taken: Timed<EntryOf<'move-ended'>>): Change | null {
  const { entry, corrected } = taken;
  const screw = state.screws.get(entry.screw);
  const start = meant(state, taken);
  if (!screw || !start) return null;
  const change = start === screw.context.running ? onEnd(state, taken) : onLateEnd(state, taken, start);
  // Over a gap of unknown length nobody can say which of the two came first.
  const isUnknown = start.entry < (state.trace?.gap ?? 0);
  if (!change || corrected >= start.corrected || isUnknown) return change;
  return { ...change, impossibleTimes: [...state.impossibleTimes, entry.n] };
}

function onLateEnd(
  state: Folded,
  { entry, corrected }: Timed<EntryOf<'move-ended'>>,
  start: RunningMove,
): Change | null {
  const screw = state.screws.get(entry.screw);
  if (!screw) return null;
  const move = madeMove(state.content, moveOf(state.content, start.move), start, entry);
  const past = state.past.get(entry.screw);
  const stageThen = levelAt(past, start.corrected);
  const event = {
    ...({ type: 'late-ended', entry, corrected, move, start, stageThen } as const),
    isNewest: isNewest(state, entry.screw, corrected),
    movesStage: !isClosed(state),
    ...endedMove(state, screw, start),
  };
  const heard = onScrews(state, [entry.screw], event);
  if (!heard) return null;
  const to = stageAfter(state.content, screw.context, entry, move, stageThen);
  return {
    ...heard,
    ...(to && { past: reached(state.past, entry.screw, { n: entry.n, from: corrected, stage: to }) }),
    conflicts: [...state.conflicts, ...conflictsOf(state, { entry, corrected }, start, to)],
  };
}

/** Two entries that can't both be true: the screw had ended, and something was done to it after, by their times. */
function conflictsOf(
  state: Folded,
  { entry, corrected }: Pick<Timed<EntryOf<'move-ended'>>, 'entry' | 'corrected'>,
  start: RunningMove,
  to: Stage | null,
): Conflict[] {
  const past = state.past.get(entry.screw);
  const end = past?.levels.find(({ stage }) => !isWorking(stage));
  const conflict = (n: number): Conflict[] => [{ screw: entry.screw, entries: [n, entry.n] }];
  if (end) return to === 'out' || Math.max(corrected, start.corrected) > end.from ? conflict(end.n) : [];
  return to === 'out' && past && past.last > corrected ? conflict(past.lastEntry) : [];
}

/** By rules 2 the cuff is read in order of time, whatever the order in which it was told. */
function onCuff(state: Folded, taken: Timed<EntryOf<'tourniquet'>>): Change | null {
  const { entry, corrected, idle } = taken;
  const { cuff, inflations } = state.case.context;
  const told = [...cuff, { n: entry.n, to: entry.to, corrected }];
  const changes = cuffChanges(told);
  if (idle ?? !changes.some(({ n }) => n === entry.n)) return null;
  return onCase(state, {
    ...eventFor(state, taken),
    type: entry.type,
    entry,
    corrected,
    cuff: told,
    inflations: inflationsOf(changes, inflations),
  });
}

const routes2: Routes = {
  ...routes,
  'move-started': (state, taken) =>
    !isHistory(state, taken)
      ? onMove(state, taken)
      : isInHand(state, taken)
        ? onMove(state, taken, { told: true })
        : onLateStart(state, taken),
  'move-ended': onEnding,
  tourniquet: onCuff,
};

const dispatchOpen = dispatchBy(routes2);

/** What is said to whom, not of metal: told after a case was closed it is written down, and nothing follows from it. */
const written: readonly Entry['type'][] = [
  ...(['screw-called', 'reassessed', 'hold-answered', 'colleague-called', 'deferred', 'stopped'] as const),
];

/** An entry by rules 2; null when it cannot have happened. */
export const dispatchLate = (state: Folded, taken: Timed): Change | null =>
  written.includes(taken.entry.type) && isOfBefore(state, taken)
    ? onCase(state, { ...eventFor(state, taken), cut: false } as CaseEvent)
    : dispatchOpen(state, taken);
