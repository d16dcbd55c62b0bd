/** What a rehearsal of a plan came upon: the first tool that was missing, the holds that were met, what nobody measured. */
import type { HoldId, MoveId, ToolId, WorkingStage } from '../content/ids.ts';
import type { Content } from '../content/types.ts';
import type { RoomTool } from './case.context.ts';
import type { Entry } from './entry.ts';
import { settled, step, unfolded } from './fold.ts';
import type { Folded } from './folded.ts';
import { closedBecause, movesFor, type Situation } from './offer.ts';
import { isWorking, type ScrewFacts } from './screw.context.ts';
import { calledScrew, screwStops, situationOf, timedHolds } from './standing.ts';
import { struckBy } from './strike.ts';
import { attemptsOf, type Trace, type TraceRow } from './trace.ts';

/** A screw in hand that went without a move for want of its tools. */
export interface Lack {
  screw: string;
  stage: WorkingStage;
  /** The first in ladder order of those that were passed over. */
  move: MoveId;
  /** One for each need of the move that nothing in the room met. */
  tools: ToolId[];
  facts: Pick<ScrewFacts, 'diameter' | 'drive' | 'driveSize'>;
  /** Nothing else was open but to leave it in. */
  last: boolean;
}

/** A hold that stood in the rehearsal and what became of it; `standing` where it was still open at the end. */
export interface HoldMet {
  hold: HoldId;
  /** Null for a hold on the whole case. */
  screw: string | null;
  answer: string;
  reason?: string;
}

export interface Rehearsed {
  /** The first; null where none was missing, as far as sizes are known. */
  lack: Lack | null;
  /** Stages in which nothing was open but to leave the screw in; `missing` empty where all there was had been tried. */
  deadEnds: { screw: string; stage: WorkingStage; missing: ToolId[] }[];
  /** Tools that were said to be there and that the plan does not have. */
  brought: ToolId[];
  holds: HoldMet[];
  out: string[];
  left: string[];
  in: string[];
  /** Screws that came out and that nobody measured. */
  unmeasured: string[];
  /** Screws with a bore whose size nobody told: the planned one was reckoned with. */
  bores: string[];
}

const holdIds = (content: Content, ids: readonly string[]): HoldId[] =>
  content.holds.flatMap(({ id }) => (ids.includes(id) ? [id as HoldId] : []));

class Reader {
  lack: Lack | null = null;
  readonly deadEnds: Rehearsed['deadEnds'] = [];
  readonly holds: HoldMet[] = [];
  readonly brought: ToolId[] = [];
  readonly #content: Content;
  readonly #planned: readonly RoomTool[];

  constructor({ content, case: { context } }: Folded) {
    this.#content = content;
    this.#planned = context.room.tools;
  }

  read(before: Folded, entry: Entry, after: Folded): void {
    const { row } = after.trace as Trace;
    if (row.heard) this.#told(before, row);
    if (row.began?.start.reverseConfirmed) this.#met('reverse', row.began.screw, 'confirmed');
    for (const hold of row.unanswered)
      this.#met(hold, this.#isOfScrew(hold) ? (row.began?.screw ?? null) : null, 'unanswered');
    for (const [id, screw] of after.screws) {
      const old = before.screws.get(id);
      if (!old || entry.type === 'hold-answered' || !isWorking(screw.context.stage)) continue;
      for (const hold of screwStops(old).filter((one) => !screwStops(screw).includes(one)))
        this.#met(hold, id, entry.type === 'colleague-called' ? 'called' : 'looked-again');
    }
    this.#look(after);
  }

  #told(before: Folded, { entry, corrected }: TraceRow): void {
    if (entry.type === 'hold-answered') {
      const { hold, screw, answer, reason } = entry;
      const of = this.#isOfScrew(hold) ? (screw ?? calledScrew(before)) : null;
      this.#met(hold, of, answer, reason);
    }
    if (entry.type === 'tourniquet' && entry.to === 'down' && timedHolds(before, corrected).includes('tourniquet'))
      this.#met('tourniquet', null, 'let-down');
    if (entry.type !== 'tool-in-room' || !entry.present) return;
    const known = [...this.#planned.map(({ tool }) => tool), ...this.brought];
    if (!known.includes(entry.tool)) this.brought.push(entry.tool);
  }

  #isOfScrew = (hold: HoldId): boolean => this.#content.holds.find(({ id }) => id === hold)?.of === 'screw';

  #met(hold: HoldId, screw: string | null, answer: string, reason?: string): void {
    this.holds.push({ hold, screw, answer, ...(reason !== undefined && { reason }) });
  }

  /** What the screw in hand has open now. */
  #look(state: Folded): void {
    const id = calledScrew(state);
    const screw = id === null ? undefined : state.screws.get(id);
    if (id === null || !screw || screw.context.running) return;
    const stage = screw.context.stage as WorkingStage;
    const content = this.#content;
    const { room } = state.case.context;
    const moves = movesFor(content, screw.context).filter(({ aim }) => aim !== 'left-in');
    const why = moves.map((move) => closedBecause(move, situationOf(state, id) as Situation, room, content));
    const open = why.findIndex((closed) => closed === null || closed.why === 'hold-open');
    const passed = open < 0 ? why : why.slice(0, open);
    const at = passed.findIndex((closed) => (closed?.missing.length ?? 0) > 0);
    if (at >= 0 && this.lack === null) {
      const { diameter, drive, driveSize } = screw.context.facts;
      const facts = { diameter, drive, ...(driveSize !== undefined && { driveSize }) };
      const [move, tools] = [moves[at]?.id as MoveId, why[at]?.missing as ToolId[]];
      this.lack = { screw: id, stage, move, tools, facts, last: open < 0 };
    }
    const isNew = !this.deadEnds.some((one) => one.screw === id && one.stage === stage);
    if (open < 0 && isNew)
      this.deadEnds.push({ screw: id, stage, missing: [...new Set(why.flatMap((closed) => closed?.missing ?? []))] });
  }

  /** What still stands at the end. */
  end(state: Folded): void {
    for (const hold of timedHolds(state, state.latest)) this.#met(hold, null, 'standing');
    for (const [id, screw] of state.screws)
      for (const hold of holdIds(this.#content, screwStops(screw))) this.#met(hold, id, 'standing');
  }
}

/**
 * What was come upon after the plan.
 *
 * @param entries of plan and rehearsal, 1, 2, 3 …
 * @param planned how many of them are the plan's
 * @param format that the log begins in
 * @example rehearsed([], 0, content).lack // null
 */
export function rehearsed(entries: readonly Entry[], planned: number, content: Content, format = 1): Rehearsed {
  const all = settled(entries, content, format);
  const { struck } = struckBy(all);
  let state = unfolded(content, undefined, format);
  let reader: Reader | null = null;
  for (const entry of all) {
    if (entry.n > planned) reader ??= new Reader(state);
    // What they say of other entries is in those already.
    if (entry.type === 'struck' || entry.type === 'reassigned' || entry.type === 'move-answered') continue;
    if (struck.has(entry.n)) continue;
    const after = step(state, entry, all);
    reader?.read(state, entry, after);
    state = after;
  }
  reader ??= new Reader(state);
  reader.end(state);
  const screws = [...state.screws.values()].map(({ context }) => context);
  const which = (test: (screw: (typeof screws)[number]) => boolean) => screws.filter(test).map(({ id }) => id);
  const unsaid = attemptsOf(state.trace).filter(
    ({ start, bores, boresEntered, end }) => start.n > planned && end !== null && bores.length > 0 && !boresEntered,
  );
  const { lack, deadEnds, brought, holds } = reader;
  return {
    ...{ lack, deadEnds, brought, holds },
    out: which(({ stage }) => stage === 'out'),
    left: which(({ stage }) => stage === 'left-in'),
    in: which(({ stage }) => isWorking(stage)),
    unmeasured: which(({ stage, outUnmeasured }) => stage === 'out' && outUnmeasured),
    bores: [...new Set(unsaid.map(({ screw }) => screw))],
  };
}
