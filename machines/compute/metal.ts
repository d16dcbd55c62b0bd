/**
 * The account of the metal by rules 2: nothing adds up that nobody measured. A measured length is never stretched; what
 * was not measured closes an account only where it cannot be but whole, or where it is the one thing that was said of
 * the rest.
 */
import type { LengthOrigin } from '../../content/ids.ts';
import type { ScrewContext } from '../screw.context.ts';
import { isWorking } from '../screw.context.ts';
import type { Closes, MetalAccount, TipAccount } from '../view.types.ts';
import { tipPieces, type TipPieces, type Tips } from './tip-pieces.ts';

const sum = (lengths: readonly number[]) => lengths.reduce((total, length) => total + length, 0);

/**
 * Lengths within which measured pieces make up a listed length, mm: the tolerance for each piece, for one at least, for
 * two at most.
 *
 * @example toleranceOf(3, 1) // 2
 */
export const toleranceOf = (pieces: number, perPiece: number): number => perPiece * Math.min(2, Math.max(1, pieces));

/** A length read from an image is good to so many mm. From memory. */
export const imageWithin = 2;

/** The height of a head of which nobody knows more, mm: at most as much is explained by a head that is gone. From memory. */
export const unknownHeadHeight = 8;

/** More than so many mm short, pieces that were measured are not all of it, whatever they were called. */
const shortOfComplete = 2;

/** One thing that was said of the rest, which nobody measured. `up to`: mm that it can explain; null: as much as is left. */
interface Said {
  what: 'stays' | 'destroyed' | 'in-plate';
  upTo: number | null;
}

interface Told {
  listed: number | null;
  /** Measured pieces that came out, mm. */
  pieces: readonly number[];
  /** Pieces that came out and that only an image measured, mm. */
  imagePieces: readonly number[];
  /** What stays or was destroyed and whose length is known, mm. */
  known: readonly { length: number; as: 'left' | 'destroyed'; image: boolean }[];
  /** What was said of the rest and explains it; and how much was said that explains nothing. */
  said: readonly Said[];
  unknown: number;
  /** What is said of where the whole of it is: out, staying, or neither. */
  end: 'out' | 'stays' | null;
  /** It came out, and that piece was measured. */
  lastMeasured: boolean;
  /** It broke, its head was drilled off, or metal was burred away: it cannot have come out or stayed in one piece. */
  broke: boolean;
  /** Tip and head were seen on it. */
  whole: boolean;
  /** Its pieces were laid together and called complete. */
  complete: boolean;
  /** It makes no sense as it was told, or its head was not seen, so nothing of it closes. */
  contradicted: boolean;
}

interface Closing {
  closes: Closes;
  /** The rest that the one thing said explains, mm. */
  explained: number;
}

const open: Closing = { closes: 'open', explained: 0 };

function closingOf(told: Told, perPiece: number): Closing {
  const { listed, pieces, imagePieces, known, said, unknown, end, broke } = told;
  if (told.contradicted || end === null) return open;
  const measured = pieces.length + imagePieces.length;
  if (told.whole && !broke && measured === 1)
    return { ...open, closes: imagePieces.length ? 'difference' : 'measured' };
  // Tip and head were seen, and nobody measured it: whichever way it came out.
  if (told.whole && !broke && measured + known.length + unknown === 0) return { ...open, closes: 'assumed' };
  const isWhole = !broke && measured === (end === 'out' && told.lastMeasured ? 1 : 0);
  if (listed === null) return { ...open, closes: isWhole || (told.complete && unknown === 0) ? 'assumed' : 'open' };
  const images = imagePieces.length + known.filter(({ image }) => image).length;
  const rest = restOf(told);
  const within = toleranceOf(measured, perPiece) + images * imageWithin + 1e-9;
  if (measured + known.length > 0 && rest <= within) return { ...open, closes: images ? 'difference' : 'measured' };
  if (told.complete) return { ...open, closes: measured > 0 && rest > shortOfComplete + 1e-9 ? 'open' : 'assumed' };
  if (isWhole && measured === 0 && known.length === 0) return { ...open, closes: 'assumed' };
  const [one] = said;
  if (!one || said.length > 1 || unknown > 0 || measured + known.length === 0) return open;
  if (one.upTo === null) return { closes: 'difference', explained: rest };
  const upTo = one.upTo + images * imageWithin;
  return { closes: rest <= one.upTo + within ? 'difference' : 'open', explained: Math.min(rest, upTo) };
}

const restOf = ({ listed, pieces, imagePieces, known }: Told): number =>
  (listed ?? 0) - sum(pieces) - sum(imagePieces) - sum(known.map(({ length }) => length));

function accountOf(told: Told, perPiece: number): MetalAccount {
  const { listed, pieces, imagePieces, known, said, end } = told;
  const { closes, explained } = closingOf(told, perPiece);
  const rest = listed === null ? null : restOf(told);
  const isClosed = closes === 'assumed' || closes === 'difference';
  // A screw that was seen to be whole is as long as it was measured, whatever the list says.
  const isWholeMeasured = told.whole && closes === 'measured';
  const of = (as: 'left' | 'destroyed', what: Said['what']) => {
    const figure = sum(known.filter((one) => one.as === as).map(({ length }) => length));
    if (closes === 'difference' && said[0]?.what === what) return figure + explained;
    const silent = said.some((one) => one.what === what) || (as === 'left' && end === 'stays' && figure === 0);
    return silent && closes !== 'measured' ? null : figure;
  };
  return {
    listed,
    recovered: pieces.length || (end === null && !imagePieces.length) ? sum(pieces) : end === 'out' ? null : 0,
    destroyed: of('destroyed', 'destroyed'),
    left: of('left', 'stays'),
    unaccounted: isClosed || isWholeMeasured ? 0 : rest === null ? null : rest - explained,
    closes,
  };
}

/** Nobody saw all of its head: what was measured may be all but that, however little is missing. */
const isHeadLost = ({ head }: ScrewContext): boolean => head?.place === 'partly' || head?.place === 'not-seen';

/** Left in by a word of format 1, and no image was taken: nobody knows that it stays whole, or stays at all. */
const isUnseen = ({ stage, stays }: ScrewContext): boolean =>
  stage === 'left-in' && stays !== null && stays.isUnasked && !stays.image;

/** Lengths that are known, and what is only said, of one thing that stays or is gone. */
function sorted(things: readonly { as: 'left' | 'destroyed'; length: number | null; how: LengthOrigin | null }[]) {
  const known = things.flatMap(({ as, length, how }) =>
    length !== null && (how === 'measured' || how === 'image') ? [{ as, length, image: how === 'image' }] : [],
  );
  return { known, others: things.filter(({ length, how }) => length === null || how === null || how === 'difference') };
}

/** What was said of the rest of a screw, and how much of it explains nothing. */
function saidOf(
  screw: ScrewContext,
  { holder, headHeight }: Pick<Around, 'holder' | 'headHeight'>,
): Pick<Told, 'known' | 'said' | 'unknown'> {
  const { stays, destroyed, head, found } = screw;
  const isLeft = screw.stage === 'left-in' || screw.foundAfter === 'stays';
  const left = isLeft && stays ? [{ as: 'left' as const, length: stays.length, how: stays.how }] : [];
  const gone = destroyed.map(({ what, length, how }) => ({ as: 'destroyed' as const, what, length, how }));
  const { known } = sorted([...left, ...gone]);
  const said: Said[] = [];
  let unknown = 0;
  if (isLeft && !known.some(({ as }) => as === 'left')) {
    // Without an image nobody knows that it is there at all.
    if (stays?.image ?? screw.leftImage) said.push({ what: 'stays', upTo: null });
    else unknown++;
  }
  for (const one of gone) {
    if (one.length !== null && (one.how === 'measured' || one.how === 'image')) continue;
    const upTo = one.what === 'head' ? headHeight : (found.fragmentLength ?? null);
    said.push({ what: 'destroyed', upTo });
  }
  const headGone = destroyed.some(({ what }) => what === 'head');
  if (head?.place === 'shavings' && !headGone) said.push({ what: 'destroyed', upTo: headHeight });
  if (head?.place === 'in-plate') {
    // With a plate that stays it stays as well.
    if (holder !== null) said.push({ what: holder === 'stays' ? 'stays' : 'in-plate', upTo: headHeight });
    else unknown++;
  }
  if (isHeadLost(screw)) unknown++;
  // A piece of a broken screw that came out and that nobody measured.
  if (screw.breaks.length > 0) unknown += screw.unmeasured;
  return { known, said, unknown };
}

/** What the account of a screw needs to know besides the screw. */
export interface Around {
  /** The work has ended, or the case was closed: a screw that nobody spoke of is open from then on. */
  ended: boolean;
  /** What is in stays: the work was stopped, or it was put in today. */
  stays: boolean;
  /** Two entries about it cannot both be true. */
  contradicted: boolean;
  /** Where the plate or part is that its head is in; null while nobody said. */
  holder: 'out' | 'stays' | null;
  /** How high its head is at most, mm. */
  headHeight: number;
}

/**
 * The account of one screw.
 *
 * @param screw what is remembered of it
 * @param perPiece tolerance of a measured piece, mm
 * @example screwMetal(out36Measured29, 1, { ended: true, stays: false, contradicted: false, holder: null, headHeight: 8 })
 * // { listed: 36, recovered: 29, destroyed: 0, left: 0, unaccounted: 7, closes: 'open' }
 */
export function screwMetal(screw: ScrewContext, perPiece: number, around: Around): MetalAccount {
  const { stage, foundAfter } = screw;
  const byStop = around.stays && isWorking(stage) ? 'stays' : null;
  const end = stage === 'out' ? 'out' : stage === 'left-in' ? 'stays' : (foundAfter ?? byStop);
  // What was said to be lost, or asked about and not answered, is not all of it.
  const asked = screw.lengthAsked !== null || screw.restLost;
  const told: Told = {
    listed: screw.listedWrong ? null : screw.facts.length,
    pieces: screw.pieces,
    imagePieces: screw.imagePieces,
    ...saidOf(screw, around),
    end: asked && stage !== 'out' ? null : end,
    lastMeasured: !screw.restOut || isMeasuredSince(screw),
    broke: screw.breaks.length > 0,
    whole: screw.whole,
    complete: screw.complete,
    contradicted:
      around.contradicted ||
      isUnseen(screw) ||
      (!screw.complete && (screw.breaks.some(({ afterEnd }) => afterEnd) || isHeadLost(screw))),
  };
  const account = { ...accountOf(told, perPiece), listed: screw.facts.length };
  const untold = isWorking(stage) && end === null && isUntouched(screw) && !around.ended;
  // Measured against a listing that was wrong, the measure is its length.
  const corrected = screw.listedWrong && screw.pieces.length > 0 && account.closes === 'assumed';
  return { ...account, ...(corrected && { closes: 'measured' as const }), ...(untold && { closes: null }) };
}

/** It came out unmeasured, and what was measured after is its length. */
const isMeasuredSince = ({ outUnmeasured, pieces, imagePieces }: ScrewContext) =>
  !outUnmeasured && pieces.length + imagePieces.length > 0;

const isUntouched = ({ pieces, imagePieces, unmeasured, destroyed }: ScrewContext) =>
  pieces.length + imagePieces.length + unmeasured + destroyed.length === 0;

function tipAccount({ tip, pieces, left }: TipPieces, perPiece: number): TipAccount {
  const measured = pieces
    .filter(({ length, image }) => length !== null && !image)
    .map(({ length }) => length as number);
  const image = pieces
    .filter(({ length, image: seen }) => length !== null && seen)
    .map(({ length }) => length as number);
  const stays = left.length > 0;
  const told: Told = {
    listed: tip.listed,
    pieces: measured,
    imagePieces: image,
    known: [],
    said: left.some((one) => one.image) ? [{ what: 'stays', upTo: null }] : [],
    unknown: stays && !left.some((one) => one.image) ? 1 : 0,
    end: stays ? 'stays' : pieces.length > 0 ? 'out' : null,
    lastMeasured: true,
    // A piece of a tip of unknown length may be all of it or not, unless somebody says so.
    broke: pieces.length > 0,
    whole: false,
    complete: pieces.some(({ complete }) => complete),
    contradicted: false,
  };
  return { tool: tip.tool, entry: tip.entry, ...accountOf(told, perPiece) };
}

/**
 * The accounts of the broken tips of tools, in the order in which they are listed.
 *
 * @param perPiece tolerance of a measured piece, mm
 */
export const tipMetal = (context: Tips, perPiece: number): TipAccount[] =>
  tipPieces(context, perPiece).map((one) => tipAccount(one, perPiece));
