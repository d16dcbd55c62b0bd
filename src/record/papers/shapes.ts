/** What the papers for the patient, the next surgeon and sterile services need besides the facts of the note. */
import type { Stage, toldPoints, ToolId } from '../../../content/ids.ts';
import type { Move } from '../../../content/types.ts';
import type { AftercareWord } from '../../../machines/aftercare.ts';

/** What was said of telling the patient. */
export interface Telling {
  state: 'told' | 'to-be-told';
  by: string;
  points: (typeof toldPoints)[number][];
}

/**
 * What an image at the last count showed; `taken`: one was taken, and nobody said what it showed; `not-told`: nobody
 * spoke of one.
 */
export type CountImage = 'clear' | 'metal-seen' | 'not-sure' | 'not-taken' | 'taken' | 'not-told';

/** In which way a piece is in, or may be. */
export type PieceForm =
  /** Said to stay, in the stage it stays in. */
  | 'screw'
  /** Said to stay, though its pieces that came out make up its length. */
  | 'made-up'
  /** The head of a screw, in a part that stays. */
  | 'head'
  /** Nobody said whether it is out or stays. */
  | 'not-ended'
  /** It ended, and its account is open. */
  | 'short'
  | 'tool'
  | 'tip'
  | 'part'
  | 'part-some'
  | 'part-missing'
  | 'put-in';

/** What is known of a piece, so that each paper says it in words of its own. */
export interface PieceKnown {
  form: PieceForm;
  stage: Stage | null;
  /** mm; null when not known. */
  diameter: number | null;
  /** Where its length comes from; null when there is none. */
  how: 'measured' | 'image' | 'account' | 'listed' | null;
  /** Its account is open: its length follows from nothing but what was measured. */
  isOpen: boolean;
  /** Null where nobody said. */
  imageTaken: boolean | null;
  /** It stays because the work was stopped. */
  byStop: boolean;
}

/** What another operation would need for a screw that stays, in words, with the tools that fit it. */
export interface NeededNext {
  stage: Stage;
  moves: Move[];
  opensWith: ToolId[];
}

/** What is to be done with an instrument: part it from a screw, sharpen, replace, look at it. */
export const toolTasks = ['part', 'replace', 'sharpen', 'look-at'] as const;
export type ToolTask = (typeof toolTasks)[number];

/** An instrument of which something was noted. */
export interface ToolRow {
  name: string;
  size: string;
  happened: string[];
  tasks: ToolTask[];
}

export interface PaperFacts {
  /** The bone by its id in the content, or as it was entered. */
  bone: string | null;
  tellings: Telling[];
  /** Null while there is no count. */
  image: CountImage | null;
  /**
   * Everything on the list was said to be out, no account is open, nothing contradicts it, and the last count differs
   * in nothing, or metal was accounted for after it.
   */
  isAllOut: boolean;
  /** What the last count says is missing; null when it says nothing. */
  discrepancy: string | null;
  /** Two stories of one screw that cannot both be true: its id. */
  contradicted: string[];
  aftercare: AftercareWord[];
  /** By screw. */
  needed: Record<string, NeededNext>;
  tools: ToolRow[];
  /** How a jammed tool is parted from its screw; the words of the content. */
  parting: string[];
}
