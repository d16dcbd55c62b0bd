/**
 * A rehearsal of a plan: a session of its own, over a copy of the plan's entries and a log that keeps nothing. It is given
 * no log and no session of the app, and nothing that is imported here opens a store, so that no touch in it can reach one.
 */
import { createMemo, createSignal } from 'solid-js';
import type { AnyMoveId } from '../../content/ids.ts';
import { dealerFor, type Deal } from '../../machines/deal.ts';
import type { EntryDraft } from '../../machines/entry.ts';
import { rehearsed, type Rehearsed } from '../../machines/rehearsed.ts';
import { epoch, timeIn } from '../../machines/time.ts';
import { attemptsOf } from '../../machines/trace.ts';
import { phaseOf } from '../../machines/view.ts';
import type { AppendResult, CaseMeta, LogPort } from '../store/port.ts';
import type { Plan } from './plan.ts';
import { createSession, inTurn, type RecordResult, type Session, type DraftAfter, type When } from './session.ts';

/** A deal that was answered by another end than the dealt one. */
export interface Otherwise {
  screw: string;
  move: AnyMoveId;
  dealt: Deal;
  entered: Deal['outcome'];
}

export interface Rehearsal {
  session: Session;
  /** Now, in ms since 1970, on the clock of the rehearsal: it runs ahead by what the moves took as they were dealt. */
  ms: () => number;
  /** How the move ends that runs on the screw in hand; null where none runs, or where it has no rates. */
  deal: () => Deal | null;
  /** What was come upon so far. */
  found: () => Rehearsed;
  otherwise: () => Otherwise[];
}

const id = 'rehearsal';

/** Nothing is told of copies where there is none: the session holds what was entered, and lets go of it with the screen. */
const kept: AppendResult = { ok: true, copies: 2 };
const nowhere: LogPort = {
  list: () => Promise.resolve([]),
  create: () => Promise.resolve(kept),
  append: () => Promise.resolve(kept),
  heal: () => Promise.resolve(kept),
  remove: () => Promise.resolve(),
  close: () => Promise.resolve(),
};

const isSame = (dealt: Deal, outcome: Deal['outcome'], reachable: boolean | undefined) =>
  dealt.outcome === outcome && (dealt.reachable === undefined || dealt.reachable === reachable);

/**
 * Begins the work of a plan in a rehearsal.
 *
 * @param seed whole number, 0 to 4,294,967,295: the same deals the same
 * @param nowMs the device's clock, ms since 1970
 * @returns null where this build lacks the content of the plan
 */
export function createRehearsal(plan: Plan, seed: number, nowMs: () => number): Rehearsal | null {
  const [ahead, setAhead] = createSignal(0);
  const ms = () => nowMs() + ahead();
  const meta: CaseMeta = { ...plan.meta, caseId: id, demo: true, created: plan.entries[0]?.logged ?? '' };
  const zone = () => session.open()?.folded.case.context.room.opened?.zone ?? 'UTC';
  const session = createSession({
    log: nowhere,
    stored: [{ meta, entries: [...plan.entries] }],
    now: () => timeIn(zone(), ms()),
    newId: () => id,
  });
  session.resume(id);
  const opened = session.open();
  if (!opened) return null;
  const planned = opened.entries.length;
  const { content } = opened.folded;
  const dealer = dealerFor(opened.folded, plan.rates, seed);
  /** What was dealt, by the number of the start. */
  const dealt = new Map<number, Deal>();
  const deal = createMemo((): Deal | null => {
    const folded = session.open()?.folded;
    const called = folded?.case.context.called;
    if (!folded || typeof called !== 'string') return null;
    const found = dealer.deal(folded, called);
    const start = folded.screws.get(called)?.context.running?.entry;
    if (found && start !== undefined) dealt.set(start, found);
    return found;
  });

  /** The move that ends now took as long as was dealt, however soon its end is entered. */
  const passTime = (screw: string) => {
    const open = session.open();
    const start = open?.folded.screws.get(screw)?.context.running?.entry;
    const found = start === undefined ? undefined : dealt.get(start);
    const began = start === undefined ? undefined : open?.entries[start - 1];
    if (found && began) setAhead(ahead() + Math.max(0, epoch(began.at) + found.minutes * 60_000 - ms()));
  };
  const record = (draft: EntryDraft | DraftAfter, when: When = {}): Promise<RecordResult> => {
    const isNow = when.at === undefined && when.minutesAgo === undefined;
    if (typeof draft !== 'function' && draft.type === 'move-ended' && isNow) passTime(draft.screw);
    return session.record(draft, when);
  };
  if (phaseOf(opened.folded) === 'briefing') void session.record({ type: 'work-started' });

  return {
    session: { ...session, record, recordAll: inTurn(record) },
    ms,
    deal,
    found: () => rehearsed(session.open()?.entries ?? [], planned, content, plan.meta.format),
    otherwise: () =>
      attemptsOf(session.open()?.folded.trace ?? null).flatMap(({ start, screw, move, end, outcome }) => {
        const was = dealt.get(start.n);
        const reachable = end && 'reachable' in end ? end.reachable : undefined;
        if (!was || outcome === null || isSame(was, outcome, reachable)) return [];
        return [{ screw, move, dealt: was, entered: outcome }];
      }),
  };
}
