/**
 * Where the rules of the second ladder stand once they are there. They come with the first content that is written for
 * them (`content.ladder`), so that a start without such a content doesn't load them.
 */
import type { Content, Move, ToolGroup } from '../content/types.ts';
import type { BoneMeasure, CaseContext, Room, RoomTool } from './case.context.ts';
import type { BoneSection } from './compute/ring.ts';
import type { EntryOf } from './entry.ts';
import type { RunningMove, ScrewEvent } from './events.ts';
import { reachedBy, slipStrips, type ScrewContext, type ScrewFacts } from './screw.context.ts';
import type { HoldId, NoticeId, Stage, ToolId } from '../content/ids.ts';
import type { Closed, Situation } from './situation.ts';
import type { Loss } from './guards.ts';
import type { BoneFigures, BoneView, IfYouWait, OfferedMove, OfferMarks } from './view.types.ts';

type End = EntryOf<'move-ended'>;

/** How well a tool goes with a screw: `may` where a size is not known. */
export type Fit = 'fits' | 'may' | 'no';

/** As much of a folded case as this floor's lower half may name. */
export interface Stood {
  content: Content;
  case: object;
  screws: ReadonlyMap<string, { context: ScrewContext }>;
}

/** What a move leads to: the loss of cortex, and whether it makes more than the screw's own hole. */
export interface Ahead {
  loss: Loss;
  /** It makes a bore, or one that nobody knows. */
  costsBone: boolean;
}

/** What of a folded case its holds and notices are read from. */
export interface Standing extends Stood {
  case: { context: CaseContext };
  unanswered: readonly { hold: HoldId; entry: number }[];
}

/** What the second ladder does differently. */
export interface SecondLadder {
  listed: (screw: ScrewContext, plateOff: boolean) => ScrewContext;
  /** What a screw remembers once an event was heard; `after` as every ladder has it. */
  heard: (content: Content, before: ScrewContext, after: ScrewContext, event: ScrewEvent) => ScrewContext;
  reached: (screw: ScrewContext, stage: Stage) => Partial<ScrewContext>;
  /** A screw as it would stand at a failure stage, with what is known of it now. */
  supposed: (fresh: ScrewContext, screw: ScrewContext) => ScrewContext;
  /** A screw once a move has made another one ready. */
  prepared: (screw: ScrewContext, move: Move) => ScrewContext;
  /** A move as it was made: whether it turned in the recess depends on what it was made with. */
  made: (move: Move, running: Pick<RunningMove, 'tool'>, end?: End) => Move;
  strips: (screw: ScrewContext, end: End, move: Move) => boolean;
  belongs: (move: Move, screw: ScrewContext) => boolean;
  /** The moves of a stage in their order. */
  ordered: <M extends Move>(moves: readonly M[], screw: ScrewContext) => M[];
  closed: (move: Move, situation: Situation, room: Room, content: Content) => Closed | null;
  marks: (move: Move, screw: ScrewContext, room: Room, content: Content) => OfferMarks;
  fit: (content: Content, tool: RoomTool, group: ToolGroup, screw: ScrewFacts) => Fit;
  /** Tools that a move could be made with now, by `toolKey`. */
  among: (content: Content, move: Move, screw: ScrewFacts, room: Room) => string[];
  /** The tools by which the bores of a move are foreseen. */
  foreseen: (content: Content, screw: ScrewContext, tools: Room['tools']) => Room['tools'];
  ifYouWait: (state: Stood, id: string) => IfYouWait[];
  /** What a section of bone bears; all null where there is none. */
  strength: (
    content: Content,
    room: Room,
    bone: BoneMeasure | null,
    section: Pick<BoneSection, 'bendingKept' | 'torsionBand'> | null,
  ) => Required<Pick<BoneFigures, 'modulus' | 'ofSound' | 'torsionBand'>>;
  boneView: (state: Standing) => BoneView;
  /** Does this end stop the turning until somebody has looked again? */
  stopsTurning: (screw: ScrewContext, end: End, move: Move) => boolean;
  asksForSecond: (screw: ScrewContext, end: End, move: Move) => boolean;
  /** Holds that stand before a move starts; `tool`: the one named. */
  before: (
    content: Content,
    room: Room,
    screw: ScrewContext,
    move: Move,
    ahead: Ahead,
    tool: ToolId | null,
  ) => HoldId[];
  farWallKey: (content: Content, move: Move, screw: ScrewContext, room: Room) => string;
  /** Holds on the case that stand whatever is done next. */
  pausing: (state: Standing) => HoldId[];
  stillFixed: (state: Standing, part: string) => boolean;
  /** Of these holds, those that are to be noted as passed over. */
  onceAnOpening: (state: Standing, holds: readonly HoldId[]) => readonly HoldId[];
  inOrder: (content: Content, holds: readonly HoldId[]) => HoldId[];
  screwNotices: (state: Standing, screw: ScrewContext, offered: readonly OfferedMove[]) => NoticeId[];
  caseNotices: (state: Standing, now: number) => NoticeId[];
}

let second: SecondLadder | null = null;

/** Takes in the rules of the second ladder. */
export function learn(rules: SecondLadder): void {
  second = rules;
}

/**
 * The rules of the second ladder where a content is written for them, else null.
 *
 * @throws Error when they are not there: a content of theirs was loaded by another way than `fetchReleases`
 */
export function secondOf(content: Content): SecondLadder | null {
  if (content.ladder !== 2) return null;
  if (!second) throw new Error('the rules of ladder 2 are not loaded: fetchReleases() brings them');
  return second;
}

/** A move as it was made. */
export const madeMove = (content: Content, move: Move, running: Pick<RunningMove, 'tool'>, end?: End): Move =>
  secondOf(content)?.made(move, running, end) ?? move;

/** The stage that an end leads to from a stage; null when it leaves the screw where it was. */
export const stageAfter = (content: Content, screw: ScrewContext, end: End, move: Move, from: Stage): Stage | null =>
  reachedBy(end, move, from, secondOf(content)?.strips(screw, end, move) ?? slipStrips(end, move));
