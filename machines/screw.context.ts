/** What is remembered of one screw besides its stage. */
import type { CheckedTool, Move } from '../content/types.ts';
import type { AnyMoveId, HeadPlace, HoldId, LengthOrigin, WorkingStage, Stage } from '../content/ids.ts';
import { workingStages } from '../content/ids.ts';
import type { Bore, EntryOf } from './entry.ts';
import type { FarWall, LateEnd, RunningMove } from './events.ts';
import type { Climb } from './ladder/climb.ts';

export interface Break {
  /** The entry that told of it. */
  n: number;
  what: 'shank' | 'head' | 'drilled' | 'burred' | 'found';
  /** Told of a screw that was already said to be out or to stay. */
  afterEnd: boolean;
}

/** A screw as it was listed, with what is reckoned with where a fact is not known. */
export type ScrewFacts = Omit<EntryOf<'screw-listed'>, 'locking' | 'cortices'> & {
  /** Reckoned as locking while nobody knows. */
  locking: boolean;
  /** Reckoned as two while nobody knows. */
  cortices: 1 | 2;
  /** What stands there because nobody knows. */
  assumed?: readonly ('locking' | 'cortices')[];
};

/**
 * A listing as it is reckoned with; the same object where everything is known.
 *
 * @example reckoned({ …, locking: null, cortices: 2 }).assumed // ['locking']
 */
export function reckoned(entry: EntryOf<'screw-listed'>): ScrewFacts {
  const { locking, cortices } = entry;
  if (locking !== null && cortices !== null) return entry as ScrewFacts;
  const assumed = [
    ...(locking === null ? (['locking'] as const) : []),
    ...(cortices === null ? (['cortices'] as const) : []),
  ];
  return { ...entry, locking: locking ?? true, cortices: cortices ?? 2, assumed };
}

/** Facts of the metal that moves and tools go by, whichever screw it is: screws with the same of them are alike. */
export function metalOf(facts: ScrewFacts): readonly unknown[] {
  const { diameter, drive, driveSize, locking, assumed, thread, cortices, form, washer, underPlate } = facts;
  return [diameter, drive, driveSize, locking, assumed, thread, cortices, form, washer, underPlate];
}

/** What slipped: kinds of tools that are asked about in their own way; anything else by its move. */
export type SlipKind = CheckedTool | AnyMoveId;

/** Kind of tool that a move is made with. */
const kinds: Partial<Record<AnyMoveId, CheckedTool>> = {
  'turn-out': 'driver',
  'break-loose': 'driver',
  'reseat-driver': 'driver',
  'pack-recess': 'driver',
  'drive-oversize': 'driver',
  'grip-head': 'gripper',
  'lift-and-turn': 'gripper',
  'slot-head': 'gripper',
  'grip-shank': 'gripper',
  'gouge-and-grip': 'gripper',
  'conical-extractor': 'cone',
  'reverse-tap': 'cone',
  'extraction-sleeve': 'sleeve',
};

/**
 * The kind of tool that a slip of this move is a slip of.
 *
 * @param move as it was made: one that turned in the recess slipped with a driver, whatever else it could be made with
 * @example slipKind({ id: 'grip-head', turnsInRecess: false }) // 'gripper'
 */
export const slipKind = ({ id, turnsInRecess }: Pick<Move, 'id' | 'turnsInRecess'>): SlipKind =>
  id === 'lift-and-turn' && turnsInRecess ? 'driver' : (kinds[id] ?? id);

type Found = Pick<
  EntryOf<'found'>,
  | 'headProud'
  | 'tipProud'
  | 'corridor'
  | 'fragmentLength'
  | 'nearSurface'
  | 'shankStands'
  | 'headCovered'
  | 'openingsMeet'
>;

/** Metal that was turned into shavings or burred away. `length`: mm, null when nobody knows. */
export interface Destroyed {
  what: EntryOf<'destroyed'>['what'];
  length: number | null;
  how: LengthOrigin | null;
}

/** The last word on what stays of it. */
export interface Stays {
  length: number | null;
  how: LengthOrigin | null;
  image: boolean;
  /** Told in format 1, which could not say that it never broke: without an image nobody knows that it stays whole. */
  isUnasked: boolean;
}

/** Where a head that came off went, and in which piece of which part. */
export interface HeadSeen {
  place: HeadPlace;
  part: string | null;
  piece: number | null;
}

/** A length that was asked about: it came out short, and nobody has said why yet. */
export interface LengthAsked {
  n: number;
  stage: Stage;
}

export interface ScrewContext {
  id: string;
  facts: ScrewFacts;
  /** Mirrors the state value, so that a guard of another region can read it. */
  stage: Stage;
  /** Listed as broken before any move was made: no slips can be counted for it. */
  brokenFromStart: boolean;
  running: RunningMove | null;
  /** Moves told late, with something later standing on the screw: begun, and not yet ended. */
  lateOpen: readonly RunningMove[];
  /** The start of the move that ended last, by number; null before any ended. */
  endedStart: number | null;
  /** Every move ended so far: whether the ladder was ever entered. */
  ends: number;
  /** Slips of moves that turn in the recess. */
  slips: number;
  /** Ends without gain since the last word on a second surgeon. */
  withoutGain: number;
  /** Moves spent in the present stage. */
  usedUp: readonly AnyMoveId[];
  /** `turn-out` ended without gain while the screw sat in its plate or bone. */
  jammedSeat: boolean;
  /** `turn-out` was given its one more try. */
  turnOutReopened: boolean;
  /** A reassessment was made in this stage and since the last slip, so that reseating the driver is open. */
  reassessed: boolean;
  /** A jammed tool fills the recess. */
  toolInRecess: boolean;
  reamed: boolean;
  /** A gripping or gouging move ended without gain at a sheared head. */
  gripFailed: boolean;
  shankProud: boolean;
  found: Found;
  /** Bores made at this level besides the screw's own hole. */
  bores: readonly Bore[];
  /** What broke it or took metal off it, as it was told: whether all of it can have come out or stayed in one piece. */
  breaks: readonly Break[];
  /** Lengths of metal recovered and measured, mm. */
  pieces: readonly number[];
  /** Lengths of what came out that are known from an image alone, mm. */
  imagePieces: readonly number[];
  /** Pieces that came out and that nobody measured. */
  unmeasured: number;
  /** What came out last is one of them; a length told after it is that of this piece. */
  outUnmeasured: boolean;
  /** It was seen to be whole, with its tip and its head. */
  whole: boolean;
  /** Its pieces were laid together and called complete. */
  complete: boolean;
  head: HeadSeen | null;
  destroyed: readonly Destroyed[];
  stays: Stays | null;
  lengthAsked: LengthAsked | null;
  /** The listing was said to be wrong about its length. */
  listedWrong: boolean;
  /** The rest was said to be lost. */
  restLost: boolean;
  /** What was told of it after the case was closed, when no stage moves any more. */
  foundAfter: 'out' | 'stays' | null;
  /** Out without a measured length: the rest counts as recovered. */
  restOut: boolean;
  /** Left in on purpose, mm; null = the rest. */
  left: readonly (number | null)[];
  /** An image was taken of what stays, by the last word on leaving it. */
  leftImage: boolean;
  /** Answers given ahead of the next move. */
  answered: readonly HoldId[];
  /** A tap or extractor came out jammed in the screw. */
  toPart: boolean;
  /** By the second ladder alone. */
  climb?: Climb;
  /** Kinds of tools that slipped on it. */
  slippedWith: readonly SlipKind[];
  /** How often a second surgeon was asked about and answered with something else than a call. */
  secondAsked: number;
  /** A colleague was called to the case. */
  colleague: boolean;
  /** What going beyond the far wall was answered for; `tool`: the one named, null when none was. */
  farWalls: readonly FarWall[];
  /** A driver was turned in it by the plain move. */
  turned: boolean;
}

export interface ScrewInput {
  facts: EntryOf<'screw-listed'>;
  plateOff: boolean;
  /** A colleague was called before it was listed. */
  colleague?: boolean;
}

/** A screw as it is first listed. */
export function listed({ facts, plateOff, colleague = false }: ScrewInput): ScrewContext {
  return {
    id: facts.screw,
    facts: reckoned(facts),
    stage: facts.stage ?? 'seated',
    brokenFromStart: (facts.stage ?? 'seated') !== 'seated',
    running: null,
    lateOpen: [],
    endedStart: null,
    ends: 0,
    slips: 0,
    withoutGain: 0,
    usedUp: [],
    jammedSeat: false,
    turnOutReopened: false,
    reassessed: false,
    toolInRecess: false,
    reamed: false,
    gripFailed: false,
    shankProud: plateOff,
    found: {},
    bores: [],
    breaks: [],
    pieces: [],
    imagePieces: [],
    unmeasured: 0,
    outUnmeasured: false,
    whole: false,
    complete: false,
    head: null,
    destroyed: [],
    stays: null,
    lengthAsked: null,
    listedWrong: false,
    restLost: false,
    foundAfter: null,
    restOut: false,
    left: [],
    leftImage: false,
    answered: [],
    toPart: false,
    slippedWith: [],
    secondAsked: 0,
    colleague,
    farWalls: [],
    turned: false,
  };
}

/** Is there still metal of this screw to get out? */
export const isWorking = (stage: Stage): stage is WorkingStage => (workingStages as readonly string[]).includes(stage);

/** How deep a stage is: 0 seated … 3 fragment retained, 4 ended. */
export const depth = (stage: Stage): number => (isWorking(stage) ? workingStages.indexOf(stage) : workingStages.length);

type Ended = Pick<EntryOf<'move-ended'>, 'outcome'>;

/** Did this end of a move bring the job no further? */
export function isWithoutGain({ outcome }: Ended, move: Pick<Move, 'aim'>): boolean {
  if (outcome === 'head-sheared') return move.aim !== 'head-sheared';
  // An outcome that only its release knows is no gain: nothing here can tell that it was one.
  // Turning without coming is no gain either, but no try that brought nothing.
  return !['out', 'moving', 'set-up-done', 'turns-free'].includes(outcome);
}

/** Did this end of a move bring the job further? Turning without coming is neither. */
export const isGain = (end: Ended, move: Pick<Move, 'aim'>): boolean =>
  !isWithoutGain(end, move) && end.outcome !== 'turns-free';

/** What an end tells of the metal itself; null when it leaves the screw as it was. */
function breakBy({ n, outcome }: EntryOf<'move-ended'>, move: Move, screw: ScrewContext): Break | null {
  const broke = (what: Break['what']): Break => ({ n, what, afterEnd: !isWorking(screw.stage) });
  if (outcome === 'shank-broke') return broke('shank');
  if (outcome === 'head-sheared') return broke('head');
  if (outcome === 'set-up-done' && move.aim === 'head-sheared') return broke('drilled');
  const burrs = move.id === 'burr-out' && ['out', 'moving', 'set-up-done', 'no-change'].includes(outcome);
  return burrs ? broke('burred') : null;
}

/** What a screw remembers once its running move has ended so. */
export function afterEnd(screw: ScrewContext, end: EntryOf<'move-ended'>, move: Move): ScrewContext {
  const { outcome } = end;
  const running = screw.running as RunningMove;
  const gain = outcome === 'moving' || outcome === 'set-up-done';
  const broke = breakBy(end, move, screw);
  const spent =
    outcome === 'no-change' || outcome === 'slipped' || (move.id === 'reseat-driver' && outcome !== 'moving')
      ? [move.id]
      : [];
  return {
    ...screw,
    running: null,
    ends: screw.ends + 1,
    endedStart: running.entry,
    slips: screw.slips + (outcome === 'slipped' && move.turnsInRecess ? 1 : 0),
    withoutGain: screw.withoutGain + (isWithoutGain(end, move) ? 1 : 0),
    usedUp: [...new Set([...screw.usedUp, ...spent])],
    jammedSeat: screw.jammedSeat || (move.id === 'turn-out' && isWithoutGain(end, move)),
    reassessed: screw.reassessed && outcome !== 'slipped',
    toolInRecess: outcome === 'tool-jammed',
    reamed: screw.reamed || (move.id === 'hollow-ream' && outcome !== 'slipped' && outcome !== 'tool-broke'),
    gripFailed:
      screw.gripFailed ||
      (screw.stage === 'head-sheared' &&
        (move.id === 'grip-shank' || move.id === 'gouge-and-grip') &&
        isWithoutGain(end, move)),
    shankProud: screw.shankProud || (gain && screw.stage === 'head-sheared'),
    bores: [...screw.bores, ...(end.bores ?? running.bores)],
    breaks: broke ? [...screw.breaks, broke] : screw.breaks,
    // What was burred away came out as no piece.
    ...withPiece(screw, end.recovered, end.lengthHow, outcome === 'out' && broke?.what !== 'burred'),
    outUnmeasured:
      outcome === 'out' && broke?.what !== 'burred' && (end.recovered === undefined || end.lengthHow === 'difference'),
    whole: screw.whole || end.whole === true,
    head: end.head ? { place: end.head, part: null, piece: null } : screw.head,
    restOut: outcome === 'out' && end.recovered === undefined,
    toPart: end.toolJammed === true,
    slippedWith: outcome === 'slipped' ? [...new Set([...screw.slippedWith, slipKind(move)])] : screw.slippedWith,
  };
}

/**
 * What is known of what came out, with one piece more.
 *
 * @param length mm, undefined when nobody said
 * @param how undefined in format 1, where a length was one that somebody measured
 * @param told a piece came out, measured or not
 */
export function withPiece(
  screw: Pick<ScrewContext, 'pieces' | 'imagePieces' | 'unmeasured'>,
  length: number | undefined,
  how: LengthOrigin | undefined,
  told: boolean,
): Pick<ScrewContext, 'pieces' | 'imagePieces' | 'unmeasured'> {
  const { pieces, imagePieces, unmeasured } = screw;
  // What was only reckoned was measured by nobody.
  if (length === undefined || how === 'difference')
    return { pieces, imagePieces, unmeasured: unmeasured + (told || length !== undefined ? 1 : 0) };
  return how === 'image'
    ? { pieces, imagePieces: [...imagePieces, length], unmeasured }
    : { pieces: [...pieces, length], imagePieces, unmeasured };
}

/** A slip in the recess strips it, unless somebody has looked and found it sound. */
export const slipStrips = (
  { outcome, recess }: Pick<EntryOf<'move-ended'>, 'outcome' | 'recess'>,
  move: Pick<Move, 'turnsInRecess'>,
): boolean => outcome === 'slipped' && move.turnsInRecess && recess !== 'sound';

/**
 * The stage that such an end leads to from a stage; null when it leaves the screw where it was.
 *
 * @param strips a slip in the recess strips it
 * @example reachedBy({ outcome: 'slipped' }, { turnsInRecess: true, aim: 'out' }, 'seated') // 'recess-stripped'
 */
export function reachedBy(
  { outcome, reachable, recess }: Pick<EntryOf<'move-ended'>, 'outcome' | 'reachable' | 'recess'>,
  move: Pick<Move, 'turnsInRecess' | 'aim'>,
  from: Stage,
  strips = slipStrips({ outcome, recess }, move),
): Stage | null {
  if (outcome === 'out') return 'out';
  if (outcome === 'shank-broke') return reachable ? 'head-sheared' : 'fragment-retained';
  if (outcome === 'head-sheared') return 'head-sheared';
  if (outcome === 'set-up-done' && move.aim === 'head-sheared' && depth(from) < depth('head-sheared'))
    return 'head-sheared';
  return strips && from === 'seated' ? 'recess-stripped' : null;
}

/**
 * What a screw remembers once a move was told to its end that is heard as history: it counts for what it was, spends
 * nothing that the screw's present stage has open, and takes no answer.
 */
export function afterLateEnd(screw: ScrewContext, event: LateEnd): ScrewContext {
  const { entry, move, start, stageThen, isNewest } = event;
  const then = afterEnd({ ...screw, stage: stageThen, running: start, usedUp: [] }, entry, move);
  const sameStage = stageThen === screw.stage;
  return {
    ...then,
    stage: screw.stage,
    running: screw.running,
    lateOpen: screw.lateOpen.filter(({ entry: n }) => n !== start.entry),
    breaks: then.breaks.map((one) => (one.n === entry.n ? { ...one, afterEnd: !isWorking(screw.stage) } : one)),
    usedUp: sameStage ? [...new Set([...screw.usedUp, ...then.usedUp])] : screw.usedUp,
    reassessed: isNewest ? then.reassessed : screw.reassessed,
    toolInRecess: isNewest ? then.toolInRecess : screw.toolInRecess,
    toPart: isNewest ? then.toPart : screw.toPart || then.toPart,
    restOut: screw.restOut || then.restOut,
    answered: screw.answered,
  };
}

/** A running move that nobody ended before the next thing happened: it made no difference, its bores stand. */
export function abandoned(screw: ScrewContext): ScrewContext {
  if (screw.running?.waits) return setAside(screw);
  return screw.running
    ? {
        ...screw,
        running: null,
        ends: screw.ends + 1,
        endedStart: screw.running.entry,
        bores: [...screw.bores, ...screw.running.bores],
      }
    : screw;
}

/** A running move whose end was told later with its number: it waits for it, whatever follows. */
export const setAside = (screw: ScrewContext): ScrewContext =>
  screw.running ? { ...screw, running: null, lateOpen: [...screw.lateOpen, screw.running] } : screw;

/** What was said to stay of it. */
export const afterLeaving = (screw: ScrewContext, left: EntryOf<'left-in'>, format: number): ScrewContext => ({
  ...abandoned(screw),
  left: [...screw.left, left.length],
  leftImage: left.imageTaken === true,
  stays: { length: left.length, how: left.lengthHow ?? null, image: left.imageTaken === true, isUnasked: format < 2 },
});

/** What it remembers once a piece of it was recovered, or all of it. */
export function afterPiece(
  screw: ScrewContext,
  piece: EntryOf<'piece-recovered'>,
  afterClosing: boolean,
): ScrewContext {
  const whole = piece.whole === true;
  const all = whole || piece.complete === true;
  // The yes to "all of it?" tells of no piece of its own.
  const told = !all || piece.length !== undefined;
  const isLast = screw.outUnmeasured && piece.length !== undefined && piece.lengthHow !== 'difference';
  return {
    ...(all ? abandoned(screw) : screw),
    ...withPiece({ ...screw, unmeasured: screw.unmeasured - (isLast ? 1 : 0) }, piece.length, piece.lengthHow, told),
    outUnmeasured: screw.outUnmeasured && !isLast,
    whole: screw.whole || whole,
    complete: screw.complete || piece.complete === true,
    lengthAsked: all ? null : screw.lengthAsked,
    foundAfter: afterClosing && all ? 'out' : screw.foundAfter,
  };
}

/** What it remembers once it was said why it came out short. `broke` itself is told to its stage. */
export function afterLengthAnswer(screw: ScrewContext, answer: EntryOf<'length-answered'>): ScrewContext {
  const broke: Break = { n: answer.n, what: 'shank', afterEnd: false };
  return {
    ...screw,
    lengthAsked: null,
    listedWrong: answer.answer === 'listed-wrong',
    restLost: answer.answer === 'lost',
    breaks: answer.answer === 'broke' ? [...screw.breaks, broke] : screw.breaks,
  };
}

/** Would a look that no slip asks for open turning out once more? */
export const lookReopens = (screw: ScrewContext): boolean =>
  screw.usedUp.includes('turn-out') && !screw.turnOutReopened;

/** What a screw remembers once somebody has looked again at recess, driver and line. */
export function afterReassessment(screw: ScrewContext, voluntary: boolean): ScrewContext {
  const reopens = voluntary && lookReopens(screw);
  return {
    ...screw,
    reassessed: true,
    usedUp: reopens ? screw.usedUp.filter((move) => move !== 'turn-out') : screw.usedUp,
    turnOutReopened: screw.turnOutReopened || reopens,
  };
}

/** What `found` adds to what was known before. */
export function afterFinding(screw: ScrewContext, found: EntryOf<'found'>): ScrewContext {
  const { headProud, tipProud, corridor, fragmentLength, nearSurface, shankStands, headCovered, openingsMeet } = found;
  const facts = { headProud, tipProud, corridor, fragmentLength, nearSurface, shankStands, headCovered, openingsMeet };
  const told = Object.fromEntries(Object.entries(facts).filter(([, value]) => value !== undefined)) as Found;
  return { ...screw, shankProud: found.shankProud ?? screw.shankProud, found: { ...screw.found, ...told } };
}
