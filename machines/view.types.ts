/** The folded state as commands print it and screens read it. Minutes and mm are not rounded. */
import type { AnyMoveId, ClosedReason, HoldId, MoveId, NoticeId, PartKind, Stage, ToolId } from '../content/ids.ts';

/** What is assumed rather than measured behind a figure. */
export type Assumed = 'bone' | 'reamer';

export interface BoneFigures {
  /** Share of the cortical ring's area removed after the move, 0–1; null without a usable bone. */
  cortexLost: number | null;
  cortexLostBefore: number | null;
  /** Elastic bending strength kept in the weakest direction, 0–1. */
  bendingKept: number | null;
  torsionKept: number | null;
  torsionTested: boolean | null;
  /** By the second ladder: elastic section modulus in the weakest direction, mm³. */
  modulus?: number | null;
  /** By the second ladder: the same as a share of that of a sound adult bone of its name, which is from memory. */
  ofSound?: number | null;
  /** By the second ladder: the band around `torsionKept`, which widens beyond the tested range. */
  torsionBand?: readonly [number, number] | null;
}

/** Why a level of the bone has no figures. */
export type NotModelled =
  /** The bone broke today. */
  | 'broken'
  | 'near-joint'
  | 'neck'
  /** A lag screw of the hip, and nobody said that it lies in a shaft. */
  | 'lag-screw'
  | 'bone-not-known'
  | 'diameter-not-known'
  /** Bone was opened, and nobody said how far. */
  | 'opening-not-said'
  /** Its opening runs into that at another screw. */
  | 'openings-meet'
  /** A bore is as wide as the bone. */
  | 'as-wide';

/** The bone at the level of one screw, with the screw's own hole and all that was made. */
export interface BoneLevel {
  /** Null where there are figures. */
  why: NotModelled | null;
  cortexLost: number | null;
  /** Of its own ring, in the weakest direction. */
  bendingKept: number | null;
  /** mm³, in the weakest direction. */
  modulus: number | null;
  /** Of a sound adult bone of its name; null for a child, and for a bone that the content does not list. */
  ofSound: number | null;
  torsionKept: number | null;
  torsionBand: readonly [number, number] | null;
  torsionTested: boolean | null;
  /** The bone there was pre-filled by its name, from memory. */
  assumed: boolean;
}

/** The bone of a case, level by level. */
export interface BoneView {
  /** It broke today: nothing of it is modelled any more. */
  broken: boolean;
  /** Section modulus of a sound adult bone of its name, mm³, from memory; null where there is none to compare with. */
  sound: number | null;
  levels: Record<string, BoneLevel>;
  /** The screw whose level has the least modulus of those with figures. */
  weakest: string | null;
  /** Screws with long openings of which nobody has said whether they meet: to be asked, not reckoned. */
  openingsAsked: string[];
}

/** A fact that a move rests on and that nobody has told. */
export type UnknownFact = 'headProud' | 'shankProud' | 'shankStands' | 'tipProud' | 'corridor' | 'diameter';

/** What an open move rests on that nobody knows; left out where all is known. */
export interface OfferMarks {
  unknown?: UnknownFact[];
  /** A tool may fit: its size or the screw's is not known. */
  sizeUnknown?: true;
  /** Of a driver move: the chance that the driver still turns it, 0-1, by the rule of thumb; null where no slips can be counted. */
  chanceLeft?: number | null;
}

export interface OfferedMove extends BoneFigures, OfferMarks {
  move: MoveId;
  /** Holds that would stand before it starts. */
  holds: HoldId[];
  shavings: boolean;
  assumed: Assumed[];
}

/** Something else to do first. */
export type Tactic = 'others-out' | 'plate-off' | 'lever-plate' | 'cut-plate' | `tool:${ToolId}`;

/** What a screw would have open that it has not now, if something else came first. */
export interface IfYouWait {
  tactic: Tactic;
  /** Screws that come out first, or that hold the plate which is levered or cut. */
  screws?: string[];
  /** The first move that it opens. */
  opens: MoveId;
  /** Share of cortex lost after that move, 0–1; null when it is not known. */
  cortexLost: number | null;
  /** False when it rests on something that is not known. */
  sure: boolean;
}

export interface WithdrawnMove {
  move: MoveId;
  why: ClosedReason;
  missing: ToolId[];
}

/**
 * How an account closes. `measured`: every piece was measured, and they make up the length. `difference`: the pieces
 * that came out were measured, and the one thing more that was said of it is the rest. `assumed`: nobody measured it,
 * but it never broke, and came out or stays in one piece. `open`: anything else.
 */
export type Closes = 'measured' | 'difference' | 'assumed' | 'open';

/** mm; null = not known. */
export interface MetalAccount {
  listed: number | null;
  /** Measured pieces alone. */
  recovered: number | null;
  destroyed: number | null;
  /** What was said to stay, or the rest where `difference`. */
  left: number | null;
  unaccounted: number | null;
  /** Null while it is in and nothing of it was told. */
  closes: Closes | null;
}

export interface TipAccount extends MetalAccount {
  tool: ToolId;
  entry: number;
}

export interface ScrewView {
  stage: Stage;
  slips: number;
  chanceLeft: number | null;
  move: AnyMoveId | null;
  /** All that can be answered: what stops, and what `lines` names. */
  holds: HoldId[];
  /**
   * By the second ladder: those of `holds` that are a line and no stop. They are shown as one line with a way to answer;
   * no sheet comes for them, no move is closed by them, and a start past them is not noted as unanswered.
   */
  lines?: HoldId[];
  notices: NoticeId[];
  offered: OfferedMove[];
  withdrawn: WithdrawnMove[];
  metal: MetalAccount;
  /** It can be come back to: another screw is in, or a plate is on. */
  mayDefer: boolean;
  /**
   * By the second ladder: all other screws that are in were put off, and nobody has come back to them. To put this one
   * off as well leaves none in hand, which whoever does it is told.
   */
  othersWait?: boolean;
  /** By the second ladder: at most one row; none for a screw that has ended. Worked out when it is read. */
  ifYouWait?: IfYouWait[];
  /** It came out short, and nobody has said why: number of the entry. */
  lengthAsked: number | null;
}

/** A plate, a nail, or any other metal besides screws and tips. */
export interface PartView {
  kind: PartKind;
  end: 'out' | 'left-in' | 'not-found' | 'put-in' | null;
  pieces: number;
  closes: Closes | null;
}

/** What is in force; null: no limit. */
export interface LimitsView {
  boneConsider: number;
  boneStop: number;
  tourniquet: number | null;
  theatre: number | null;
}

export interface Clocks {
  caseMinutes: number | null;
  moveMinutes: number | null;
  tourniquetUp: boolean;
  tourniquetMinutes: number;
  tourniquetTotalMinutes: number;
  reperfusionMinutes: number | null;
  antibioticDueMinutes: number | null;
  shots: number;
}

export type Phase = 'briefing' | 'working' | 'closing' | 'closed';

/** What is shown of a case while it goes on. */
export interface CaseState {
  phase: Phase;
  called: string | null;
  screws: Record<string, ScrewView>;
  toolTips: TipAccount[];
  parts: Record<string, PartView>;
  /** By the second ladder. */
  bone?: BoneView;
  /** Number of the entry that stopped the work; null unless it is stopped. */
  stopped: number | null;
  limits: LimitsView;
  holds: HoldId[];
  notices: NoticeId[];
  clocks: Clocks;
  outOfOrder: number[];
  unoffered: number[];
  unanswered: { hold: HoldId; entry: number }[];
  struck: number[];
  late: number[];
  /** Ends of moves that lie before their own starts, by corrected time. */
  impossibleTimes: number[];
  /** Pairs of entries that cannot both be true. */
  conflicts: [number, number][];
}

/** The same with what the seals of its log say: looked at when a case is printed or handed on, never at a touch. */
export interface CaseView extends CaseState {
  seals: 'whole' | 'unsealed' | 'broken';
  brokenAt: number | null;
}
