/**
 * What a list of cases draws of each: its construct, and where each screw stands. Folded one case at a time in quiet
 * moments, after the list stands there, and kept as long as the app runs.
 */
import { createEffect, createRoot, createSignal, on } from 'solid-js';
import type { Stage, constructs } from '../../content/ids.ts';
import { quietMoment } from '../device/quiet.ts';
import { openStored, type Session } from './session.ts';

export interface CaseOutline {
  construct: (typeof constructs)[number];
  /** In the order in which they were listed. */
  screws: readonly { id: string; stage: Stage }[];
}

/** An outline; null: it cannot be had here; undefined: not read yet. */
export type Outlines = (caseId: string) => CaseOutline | null | undefined;

/** ms after which a case is read, however busy the screen is. */
const timeoutMs = 1000;

function createOutlines(session: Session): Outlines {
  const known = new Map<string, { entries: number; outline: CaseOutline | null }>();
  const [turn, setTurn] = createSignal(0);
  let latest = 0;
  async function readAll(): Promise<void> {
    const mine = ++latest;
    for (const stored of session.all()) {
      const { caseId } = stored.meta;
      if (known.get(caseId)?.entries === stored.entries.length) continue;
      await quietMoment(timeoutMs);
      if (mine !== latest) return;
      const folded = openStored(stored)?.folded;
      const opened = folded?.case.context.room.opened;
      known.set(caseId, {
        entries: stored.entries.length,
        outline:
          folded && opened
            ? {
                construct: opened.construct,
                screws: [...folded.screws].map(([id, { context }]) => ({ id, stage: context.stage })),
              }
            : null,
      });
      setTurn((now) => now + 1);
    }
  }
  createEffect(on(session.lines, () => void readAll()));
  return (caseId) => {
    turn();
    return known.get(caseId)?.outline;
  };
}

const made = new WeakMap<Session, Outlines>();

/** The outlines of the cases of a session; reading begins when they are first asked for. */
export function outlinesOf(session: Session): Outlines {
  const known = made.get(session) ?? createRoot(() => createOutlines(session));
  made.set(session, known);
  return known;
}
