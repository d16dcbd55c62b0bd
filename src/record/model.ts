/** The record as a model: what every output is made from. Text in it is plain, on one line, and never empty. */
import type { AnyMoveId, materials, Outcome, Role, Stage, ToolId } from '../../content/ids.ts';
import type { Bore, EntryOf, EntryType } from '../../machines/entry.ts';
import type { Phase } from '../../machines/view.types.ts';
import type { Said } from './brief/deed.ts';
import { localeOf } from './locales/index.ts';
import type { TimePicture } from './when/shapes.ts';
import type { PaperFacts, PieceKnown } from './papers/shapes.ts';
import type { PartFate } from './part-fate.ts';

/** An item of the note. Silence is `not-recorded`; it is never turned into "none". */
export type Value = { state: 'recorded'; lines: string[] } | { state: 'not-recorded' } | { state: 'not-applicable' };

export const notRecorded: Value = { state: 'not-recorded' };
export const notApplicable: Value = { state: 'not-applicable' };
export const recorded = (...lines: string[]): Value => (lines.length ? { state: 'recorded', lines } : notRecorded);

/** The lines a value prints as on a page of that language, English when it names none. */
export function linesIn(language: string | undefined, value: Value): string[] {
  if (value.state === 'recorded') return value.lines;
  const locale = localeOf(language ?? 'en');
  return [value.state === 'not-recorded' ? locale.notRecorded : locale.notApplicable];
}

/** The lines a value prints as in English. */
export const linesOf = (value: Value): string[] => linesIn('en', value);

/** One entry as the timeline shows it. Times stand in the case's zone. */
export interface TimelineRow {
  n: number;
  type: EntryType;
  /** ms since 1970. */
  at: number;
  date: string;
  time: string;
  /** Offset of the zone at that moment, such as `UTC+01:00`. */
  offset: string;
  /** What the reader must know before the sentence, in words: struck, late, out of order, unanswered, not offered. */
  marks: string[];
  struck: boolean;
  late: boolean;
  /** The screw it is about, as entered. */
  screw: string | null;
  /** Both times as they stand in the log. */
  written: { at: string; logged: string };
  /** When it was entered, ms since 1970, by the clock of `at`. */
  logged: number;
  /** Who called it and who entered it, as far as somebody said. */
  by: { called: Role | null; entered: Role | null };
  sentence: string;
}

export type Block =
  | { kind: 'item'; id: string; label: string; value: Value }
  | { kind: 'text'; text: string }
  | { kind: 'list'; items: string[] }
  | { kind: 'heading'; text: string }
  | { kind: 'timeline'; rows: TimelineRow[] }
  /** The picture of time, for paper and for a screen; `file` is its name where it stands beside a page as a file. */
  | { kind: 'picture'; picture: TimePicture; onScreen: TimePicture; file: string }
  /** The first cell of a row names it. */
  | { kind: 'table'; head: string[]; rows: string[][] }
  /** A line that somebody fills in by hand. */
  | { kind: 'fill'; text: string }
  /** An empty framed square on the printed page, so many mm wide, and what it is for. */
  | { kind: 'frame'; text: string; mm: number };

export interface Section {
  id: string;
  title: string;
  blocks: Block[];
}

/** A titled run of sections: the note, or the page on what is still in. */
export interface Page {
  title: string;
  /** BCP 47; English when left out. */
  language?: string;
  sections: Section[];
}

/** One move on one screw, from its start to whatever ended it. */
export interface Attempt {
  screw: string;
  move: AnyMoveId;
  tool: ToolId | undefined;
  /** Number and time (ms since 1970) of the entry that began it. */
  n: number;
  from: number;
  /** Null while it runs, or when nobody said how it ended. */
  outcome: Outcome | null;
  /** It brought the job further; `moving` counts as gain. */
  gained: boolean;
  /** Number of the entry that ended it, null while it runs. */
  endedBy: number | null;
  to: number | null;
  minutes: number | null;
  /** The same in words, with what is not known of it; null while it runs. */
  lasted: string | null;
  /** What it was, of a move that no release lists; null of all others. */
  what: string | null;
  stageBefore: Stage;
  stageAfter: Stage;
  /** It was broken off: the work was stopped, or the screw put off. */
  interrupted: boolean;
  /** Bores that stand after it, and whether somebody entered them or they are only what was to be expected. */
  bores: readonly Bore[];
  boresEntered: boolean;
}

/** Metal that is still in the body by the log: left on purpose, not ended, or not accounted for. */
export interface StillIn {
  /** `put-in`: metal that was put in today. */
  kind: 'left' | 'not-ended' | 'unaccounted' | 'put-in';
  screw: string | null;
  tool: ToolId | null;
  /** Id of the part that it is of. */
  part: string | null;
  /** Number and time of the decision, null when there is none. */
  entry: number | null;
  at: number | null;
  /** Length in mm, null when not known; `measured` when it was entered for this piece. */
  length: number | null;
  measured: boolean;
  /** In words, each "not recorded" where nobody said. */
  what: string;
  material: string;
  size: string;
  where: string;
  why: string;
  image: string;
  decidedBy: string;
  told: string;
  /** Estimate of where a broken screw lies, from lengths alone. */
  place: string | null;
  known: PieceKnown;
}

/** Somebody said that it stays, or put it in, or work was stopped while it was in: of all else it is not known whether it is in or out. */
export const isSaidToStay = ({ kind }: Pick<StillIn, 'kind'>): boolean => kind === 'left' || kind === 'put-in';

/** What is told of the bone: of the whole, and of the level of each screw. */
export interface BoneTold {
  whole: string[];
  /** `size`: the bone there with its source, as it stands first among the lines; null where nothing is known of it. */
  levels: { screw: string; lines: string[]; size: string | null }[];
  /** How the figures come about, with their sources. */
  basis: string;
}

type Material = (typeof materials)[number];

export interface ScrewFate {
  id: string;
  /** "3.5 mm locking screw, …". */
  description: string;
  /** The form of its recess and its size, as far as they are known; null when the form is not. */
  recess: string | null;
  material: Material;
  /** mm; null when not known. */
  diameter: number | null;
  length: number | null;
  stage: Stage;
  /** Stage in which it was left, null when it was not. */
  leftFrom: Stage | null;
  /** What was told of it once the case was closed, and by which entry: its stage tells of the operation alone. */
  foundAfter: { what: 'out' | 'stays'; n: number } | null;
  slips: number;
  attempts: Attempt[];
}

export interface Signature {
  n: number;
  at: number;
  who: string;
  role: Role;
  meaning: string;
  /** Does the name stand among the people listed, or was it typed by hand: in words. */
  standing: string;
  /** Somebody of this name was listed in this role when it was signed. */
  isListed: boolean;
  /** SHA-256 of the words that were signed; null where none was kept. */
  textHash: string | null;
}

/** Somebody listed, and the entry that lists them. */
export interface Person {
  n: number;
  role: Role;
  who: string;
}

/** A move on plate, nail or another part. */
export interface PartMove {
  n: number;
  part: string;
  /** In words. */
  move: string;
  tool: ToolId | null;
  outcome: NonNullable<EntryOf<'part-move'>['outcome']> | null;
  at: number;
  sentence: string;
}

/** The operation as a whole, as other systems ask for it. Times in ms since 1970, null when nobody told. */
export interface OperationFacts {
  phase: Phase;
  /** What the case was opened for; null where no case was opened. Nothing said: removal. */
  purpose: 'removal' | 'put-in' | null;
  began: number | null;
  ended: number | null;
  /** Why work was stopped, in words, as far as somebody said; null when it was not. */
  stopped: string | null;
  /** How much of the metal is out, in words; empty where none was listed. */
  metal: string[];
  /** What went wrong, in words: a line each, by what was entered. */
  complications: string[];
  /** What the team wrote of the procedure. */
  written: string[];
  partMoves: PartMove[];
}

/** A change that the record tells apart from what was entered at the time. */
export interface Change {
  n: number;
  kind: 'strike' | 'addendum' | 'correction' | 'remark' | 'entry after signing';
  at: number;
  logged: number;
  late: boolean;
  /** Null when nobody said. */
  by: string | null;
  text: string;
  /** The entry struck. */
  of: number | null;
}

export type SignatureState = 'draft' | 'signed' | 'amended';

/** What outputs with a form of their own need besides the page. */
export interface RecordFacts {
  status: SignatureState;
  label: string;
  /** What stood at the opening of side and bone, where it was corrected since; empty where it was not. */
  openedAs: string[];
  /** The side in capitals, as the language of the record says it, or that it was not recorded. */
  side: string;
  bone: string;
  construct: string;
  planned: string;
  /** Plate, nail and every other part, in the order of the account. */
  parts: PartFate[];
  zone: string;
  /** Date of the case in its zone, null without a case-opened. */
  date: string | null;
  contentVersion: string;
  /** How many entries the log holds. */
  entries: number;
  seals: 'whole' | 'unsealed' | 'broken';
  brokenAt: number | null;
  /** Seal of the last entry, null when it has none. */
  headSeal: string | null;
  /** SHA-256 of the whole log, for ids that are the same for the same file. */
  digest: string;
  /** ms since 1970: work or case from, to, and the last time anything was entered; null when never. */
  started: number | null;
  ended: number | null;
  lastLogged: number | null;
  isClosed: boolean;
  people: Person[];
  operation: OperationFacts;
  screws: ScrewFate[];
  stillIn: StillIn[];
  boneTold: BoneTold;
  /** Lines for the time after that the surgeon accepted or changed; null where the content asks for none. */
  aftercare: string[] | null;
  signatures: Signature[];
  /** What asks for a new signature, in a sentence; null when nothing does. */
  signAgain: string | null;
  changes: Change[];
  told: string[];
  /** What was done, sentence by sentence, each with the entries that say it; empty where nothing was. */
  done: Said[];
  papers: PaperFacts;
}

/** The record of a case: its page, and the facts behind it. */
export interface CaseRecord extends Page {
  facts: RecordFacts;
  /** The page that is signed: what was done, what stays, how the metal is accounted for. */
  first: Page;
}
