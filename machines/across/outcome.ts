/**
 * What one case adds to the department's own numbers. Read off the fold as it goes from entry to entry: struck and
 * out-of-order entries have no effect there, so they count for nothing here.
 */
import {
  workingStages,
  type HoldId,
  type MoveId,
  type Outcome,
  type ToolId,
  type WorkingStage,
} from '../../content/ids.ts';
import { moveOf } from '../../content/moves.ts';
import { offeredReason } from '../../content/reasons.ts';
import type { Content } from '../../content/types.ts';
import { through } from '../compute/through.ts';
import { workingTool } from '../compute/fit.ts';
import type { Entry, EntryOf } from '../entry.ts';
import { settled, step, unfolded } from '../fold.ts';
import type { Folded, ScrewSnapshot } from '../folded.ts';
import { driveMustRunInReverse } from '../guards.ts';
import { calledScrew, screwStops, situationOf } from '../standing.ts';
import { closedBecause, movesFor, type Situation } from '../offer.ts';
import type { RunningMove } from '../events.ts';
import { isWorking, type ScrewFacts } from '../screw.context.ts';
import { noSeal, sealOf } from '../seal.ts';
import { struckBy } from '../strike.ts';
import { epoch, inZone } from '../time.ts';
import type { Attempt, Trace } from '../trace.ts';
import { courseOf, type Course } from './course.ts';
import { useOf, wearOf, type Use, type Wear } from './uses.ts';

/** How a try ended; `stopped` = nobody said, the screw was left in while the move ran. */
export type TryEnd = Outcome | 'stopped';

/** One move that was begun and that ended. */
export interface Try {
  screw: string;
  move: MoveId;
  stage: WorkingStage;
  end: TryEnd;
  /** It brought the job further; `moving` counts as gain. */
  gain: boolean;
  /** Corrected minutes from start to end; null when nobody entered the end, or the end stands before the start. */
  minutes: number | null;
}

/** What came after a hold was passed: the end of the next move, and where the screw ended. */
export interface Passed {
  hold: HoldId;
  /** The screw it was for; null = the case. */
  screw: string | null;
  next: 'out' | 'gain' | 'no-gain' | 'nothing';
  fate: 'out' | 'left-in' | 'still-in' | null;
}

/** A stage that a screw stood in with nothing open but leaving it. `missing` empty: everything there was had been tried. */
export interface MetDeadEnd {
  screw: string;
  stage: WorkingStage;
  missing: ToolId[];
}

export interface CaseOutcome {
  /** First 16 digits of the first entry's seal: the same case in two files has one. */
  id: string;
  /** Tells a case that is finished from one that is not, or was never opened. */
  phase: 'closed' | 'open' | 'unopened';
  /** The day on which it was opened, in its own zone, such as 2026-02-17; null when it never was. */
  day: string | null;
  facts: Record<string, Pick<ScrewFacts, 'diameter' | 'locking' | 'material'>>;
  tries: Try[];
  left: { screw: string; stage: WorkingStage; reason: string }[];
  /** Neither out nor said to be left in. */
  stillIn: { screw: string; stage: WorkingStage }[];
  deadEnds: MetDeadEnd[];
  /** Tools that a move of a stage met at the table lacked, once a screw. */
  missing: { screw: string; tool: ToolId }[];
  broke: ToolId[];
  damaged: ToolId[];
  answers: { hold: HoldId; answer: string }[];
  passed: Passed[];
  /** Moves made with a drill, a tap or a reamer, and damage to one. */
  uses: Use[];
  wears: Wear[];
  /** What its plan was, and what came of it. */
  course: Course;
}

/** What a reason counts as when it was typed: nobody's own words are carried out of a case. */
export const ownWords = 'own-words';

/** Entries that break a move off: nobody knows what would have come of it. */
const brokenOff: readonly Entry['type'][] = ['deferred', 'stopped', 'piece-recovered'];

const contextOf = ({ screws }: Folded, screw: string) => (screws.get(screw) as ScrewSnapshot).context;

/** Runs of the case so far, filled entry by entry. */
class Reader {
  readonly tries: Try[] = [];
  readonly left: CaseOutcome['left'] = [];
  readonly deadEnds: MetDeadEnd[] = [];
  readonly missing: CaseOutcome['missing'] = [];
  readonly broke: ToolId[] = [];
  readonly damaged: ToolId[] = [];
  readonly answers: CaseOutcome['answers'] = [];
  readonly passed: Passed[] = [];
  readonly uses: Use[] = [];
  readonly wears: Wear[] = [];
  /** Index into `passed` of what waits for the next move. */
  #waiting: number[] = [];
  readonly #content: Content;

  constructor(content: Content) {
    this.#content = content;
  }

  read(before: Folded, entry: Entry, after: Folded): void {
    const { row } = after.trace as Trace;
    for (const ended of row.endedAll) this.#ended(ended, before);
    const { stageBefore: stage } = row;
    // After the closing it may be told of a screw that had ended.
    if (row.heard && entry.type === 'left-in' && entry.screw !== undefined && stage !== null && isWorking(stage)) {
      this.left.push({ screw: entry.screw, stage, reason: offeredReason(entry.reason) ?? ownWords });
    }
    for (const [id, screw] of after.screws) {
      const old = before.screws.get(id);
      if (old !== screw) this.#closed(old, screw, entry);
    }
    if (entry.type === 'hold-answered' && row.heard) this.#answered(entry, before);
    if (row.began?.start.reverseConfirmed === true && this.#asksReverse(row.began, after))
      this.answers.push({ hold: 'reverse', answer: 'confirmed' });
    for (const hold of row.unanswered) {
      this.answers.push({ hold, answer: 'unanswered' });
      this.#pass(hold, row.began?.screw ?? null);
    }
    if (entry.type === 'tool-damaged' && row.heard) {
      this.damaged.push(entry.tool);
      const wear = wearOf(entry, before.case.context.room.tools);
      if (wear) this.wears.push(wear);
    }
    this.#look(before, after);
  }

  /** Not when it had been answered ahead: one word is one answer. */
  #asksReverse({ screw, move }: Attempt, after: Folded): boolean {
    const { answered } = contextOf(after, screw).running as RunningMove;
    return driveMustRunInReverse(moveOf(this.#content, move)) && !answered.includes('reverse');
  }

  #ended(attempt: Attempt, before: Folded): void {
    const { screw, move, outcome, from, gained: gain } = attempt;
    const { end, to } = attempt as { end: Entry; to: number };
    const use = useOf(attempt, before.case.context.room.tools);
    if (use) this.uses.push(use);
    // What no release lists compares with nothing, and what was broken off was no try.
    if (move === 'other' || brokenOff.includes(end.type)) return;
    const how = outcome ?? (end.type === 'left-in' ? 'stopped' : 'no-change');
    const minutes = outcome !== null && to >= from ? (to - from) / 60_000 : null;
    this.tries.push({ screw, move, stage: attempt.stageBefore as WorkingStage, end: how, gain, minutes });
    if (how === 'tool-broke')
      this.broke.push(attempt.tool ?? workingTool(moveOf(this.#content, move), contextOf(before, screw).facts));
    this.#settle(screw, how === 'out' ? 'out' : gain ? 'gain' : 'no-gain');
  }

  /** Holds of a screw that something else than an answer closed. */
  #closed(old: ScrewSnapshot | undefined, screw: ScrewSnapshot, entry: Entry): void {
    if (!old || entry.type === 'hold-answered' || !isWorking(screw.context.stage)) return;
    for (const hold of screwStops(old).filter((open) => !screwStops(screw).includes(open)))
      this.answers.push({ hold, answer: entry.type === 'colleague-called' ? 'called' : 'looked-again' });
  }

  #answered(entry: EntryOf<'hold-answered'>, before: Folded): void {
    this.answers.push({ hold: entry.hold, answer: entry.answer });
    if (entry.answer === 'go-on') this.#pass(entry.hold, entry.screw ?? calledScrew(before));
  }

  /** `screw`: for which it was passed, if the hold is one of a screw. */
  #pass(hold: HoldId, screw: string | null): void {
    const ofScrew = this.#content.holds.find(({ id }) => id === hold)?.of === 'screw';
    this.#waiting.push(this.passed.length);
    this.passed.push({ hold, screw: ofScrew ? screw : null, next: 'nothing', fate: null });
  }

  #settle(screw: string, next: Passed['next']): void {
    this.#waiting = this.#waiting.filter((index) => {
      const one = this.passed[index] as Passed;
      if (one.screw !== null && one.screw !== screw) return true;
      one.next = next;
      return false;
    });
  }

  /** Looks at every screw that something changed for: is anything but leaving it open? */
  #look(before: Folded, after: Folded): void {
    if (!after.case.matches({ open: { phase: 'working' } })) return;
    for (const [id, screw] of after.screws) {
      const { stage, running } = screw.context;
      if (before.screws.get(id) === screw || running || !isWorking(stage)) continue;
      const situation = situationOf(after, id) as Situation;
      const moves = movesFor(this.#content, screw.context).filter(({ aim }) => aim !== 'left-in');
      const closed = moves.map((move) => closedBecause(move, situation, after.case.context.room, this.#content));
      const lacking = [...new Set(closed.flatMap((one) => one?.missing ?? []))];
      for (const tool of lacking)
        if (!this.missing.some((row) => row.screw === id && row.tool === tool)) this.missing.push({ screw: id, tool });
      // What is closed only until somebody has looked again is no dead end.
      const dead = closed.every((one) => one !== null && one.why !== 'hold-open');
      if (dead && !this.deadEnds.some((row) => row.screw === id && row.stage === stage))
        this.deadEnds.push({ screw: id, stage, missing: lacking });
    }
  }
}

/**
 * Folds a case and keeps what counts, pausing after each entry so that whoever runs it can let others go first.
 *
 * @param written checked entries, 1, 2, 3 …
 * @param format that the log begins in
 */
export function* readingOutcome(written: readonly Entry[], content: Content, format = 1): Generator<void, CaseOutcome> {
  const entries = settled(written, content, format);
  const { struck } = struckBy(entries);
  const reader = new Reader(content);
  let state = unfolded(content, undefined, format);
  for (const entry of entries) {
    // What they say of other entries is in those already.
    if (entry.type === 'struck' || entry.type === 'reassigned' || entry.type === 'move-answered') continue;
    if (struck.has(entry.n)) continue;
    const after = step(state, entry, entries);
    reader.read(state, entry, after);
    state = after;
    yield;
  }
  const screws = [...state.screws].map(([screw, { context }]) => ({
    screw,
    stage: context.stage,
    facts: context.facts,
  }));
  const { tries, left, deadEnds, missing, broke, damaged, answers, uses, wears } = reader;
  const first = entries[0];
  const { opened } = state.case.context.room;
  const fateOf = (id: string | null) => {
    const stage = screws.find(({ screw }) => screw === id)?.stage;
    return stage === undefined ? null : stage === 'out' || stage === 'left-in' ? stage : 'still-in';
  };
  return {
    id: first ? sealOf(noSeal, written[0] as Entry).slice(0, 16) : '',
    phase: state.case.matches('closed') ? 'closed' : state.case.matches('unopened') ? 'unopened' : 'open',
    day: opened ? inZone(epoch(opened.at), opened.zone).date : null,
    facts: Object.fromEntries(
      screws.map(({ screw, facts: { diameter, locking, material } }) => [screw, { diameter, locking, material }]),
    ),
    tries,
    left,
    stillIn: screws.flatMap(({ screw, stage }) => (isWorking(stage) ? [{ screw, stage }] : [])),
    deadEnds: deadEnds.sort((a, b) => workingStages.indexOf(a.stage) - workingStages.indexOf(b.stage)),
    missing,
    broke,
    damaged,
    answers,
    passed: reader.passed.map((one) => ({ ...one, fate: fateOf(one.screw) })),
    uses,
    wears,
    course: courseOf(state),
  };
}

/**
 * What one case adds.
 *
 * @param entries checked entries, 1, 2, 3 …
 * @param format that the log begins in
 * @returns its tries, what stayed in, dead ends, tools and holds; never throws
 * @example caseOutcome([], content).phase // 'unopened'
 */
export const caseOutcome = (entries: readonly Entry[], content: Content, format?: number): CaseOutcome =>
  through(readingOutcome(entries, content, format));
