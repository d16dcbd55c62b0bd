/** What was tried on each screw, in order, with the stage it was in before and after. */
import type { Stage, ToolId } from '../../content/ids.ts';
import { moveOf } from '../../content/moves.ts';
import type { Entry } from '../../machines/entry.ts';
import { situationOf, step, unfolded, type Folded } from '../../machines/fold.ts';
import { isWithoutGain } from '../../machines/screw.context.ts';
import { epoch } from '../../machines/time.ts';
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

/** Replays the entries in force and notes each move. */
export function historyOf(log: RecordLog): History {
  const attempts: Attempt[] = [];
  const open = new Map<string, { attempt: Attempt; start: Entry }>();
  const leftFrom = new Map<string, Stage>();
  const wanted = new Set<ToolId>();
  let state = unfolded(log.content);

  const end = (screw: string, entry: Entry, before: Folded, after: Folded) => {
    const running = open.get(screw);
    if (!running) return;
    open.delete(screw);
    const { attempt, start } = running;
    attempt.endedBy = entry.n;
    attempt.to = epoch(entry.at);
    attempt.minutes = log.minutes(start, entry);
    attempt.stageAfter = stageOf(after, screw);
    attempt.bores = boresOf(after, screw).slice(boresOf(before, screw).length);
    if (entry.type === 'move-ended') {
      attempt.outcome = entry.outcome;
      attempt.gained = !isWithoutGain(entry, moveOf(log.content, attempt.move));
      attempt.boresEntered ||= entry.bores !== undefined;
    }
  };

  for (const entry of log.effective) {
    if (entry.type === 'struck') continue;
    const before = state;
    state = step(state, entry, []);
    if (entry.type === 'move-started') {
      end(entry.screw, entry, before, state);
      const stage = stageOf(before, entry.screw);
      const attempt: Attempt = {
        screw: entry.screw,
        move: entry.move,
        tool: entry.tool,
        n: entry.n,
        from: epoch(entry.at),
        outcome: null,
        gained: false,
        endedBy: null,
        to: null,
        minutes: null,
        stageBefore: stage,
        stageAfter: stage,
        bores: [],
        boresEntered: entry.bores !== undefined,
      };
      attempts.push(attempt);
      open.set(entry.screw, { attempt, start: entry });
    } else if (entry.type === 'move-ended') {
      end(entry.screw, entry, before, state);
      for (const tool of missingIn(log, state, entry.screw)) wanted.add(tool);
    } else if (entry.type === 'left-in' && entry.screw !== undefined) {
      end(entry.screw, entry, before, state);
      leftFrom.set(entry.screw, stageOf(before, entry.screw));
    }
  }
  return { attempts, leftFrom, wanted };
}

const stageOf = (state: Folded, screw: string): Stage => state.screws.get(screw)?.context.stage ?? 'seated';
const boresOf = (state: Folded, screw: string) => state.screws.get(screw)?.context.bores ?? [];

function missingIn(log: RecordLog, state: Folded, screw: string): ToolId[] {
  const situation = situationOf(state, screw);
  if (!situation) return [];
  return offerFor(log.content, state.case.context.room, situation).withdrawn.flatMap(({ missing }) => missing);
}
