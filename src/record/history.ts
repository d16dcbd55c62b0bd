/** What was tried on each screw, in order, as the record tells it: the trace's attempts with the times as they are printed. */
import type { Stage, ToolId } from '../../content/ids.ts';
import { attemptsOf, leftFrom, rowsOf, type Attempt as TracedAttempt } from '../../machines/trace.ts';
import { offerFor } from '../../machines/view.ts';
import type { RecordLog } from './log.ts';
import type { Attempt } from './model.ts';

export interface History {
  attempts: Attempt[];
  /** Stage in which a screw was when it was left in. */
  leftFrom: ReadonlyMap<string, Stage>;
  /** Tools for want of which a move was closed after another had ended without the screw coming out. */
  wanted: ReadonlySet<ToolId>;
}

const written = (
  log: RecordLog,
  { start, end, from: _from, to: _to, holds: _holds, ...attempt }: TracedAttempt,
): Attempt => ({
  ...attempt,
  n: start.n,
  from: log.at(start),
  endedBy: end?.n ?? null,
  to: end && log.at(end),
  interrupted: end?.type === 'stopped' || end?.type === 'deferred',
  what: start.what === undefined ? null : log.locale.clean(start.what),
  lasted: end && attempt.minutes !== null ? log.lasted(attempt.minutes, start, end) : null,
});

/** The attempts of a log, and what it lacked. */
export function historyOf(log: RecordLog): History {
  const { trace, rules } = log.folded;
  const { content } = log;
  const wanted = rowsOf(trace).flatMap(({ left }) =>
    left ? offerFor(content, left.room, left.situation).withdrawn.flatMap(({ missing }) => missing) : [],
  );
  const attempts = attemptsOf(trace);
  // What was told late stands where it belongs; rules 1 left it where it was told.
  if (rules.number > 1) attempts.sort((a, b) => a.from - b.from || a.start.n - b.start.n);
  return {
    attempts: attempts.map((attempt) => written(log, attempt)),
    leftFrom: leftFrom(trace),
    wanted: new Set(wanted),
  };
}
