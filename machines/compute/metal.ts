/**
 * The account of the metal by rules 2: nothing adds up that nobody measured. A measured length is never stretched, and
 * what was not measured closes an account only where it cannot be but whole.
 */
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

interface Told {
  listed: number | null;
  /** Measured pieces that came out, mm. */
  pieces: readonly number[];
  /** What is said of where the whole of it is: out, staying, or neither. */
  end: 'out' | 'stays' | null;
  /** It came out, and that piece was measured. */
  lastMeasured: boolean;
  /** It broke, its head was drilled off, or metal was burred away: it cannot have come out or stayed in one piece. */
  broke: boolean;
  /** An image was taken of what stays. */
  image: boolean;
  /** It makes no sense as it was told, so nothing of it closes. */
  contradicted: boolean;
}

function closesOf({ listed, pieces, end, lastMeasured, broke, image, contradicted }: Told, perPiece: number): Closes {
  if (contradicted || end === null) return 'open';
  const isWhole = !broke && pieces.length === (end === 'out' && lastMeasured ? 1 : 0);
  if (listed !== null && pieces.length > 0 && listed - sum(pieces) <= toleranceOf(pieces.length, perPiece) + 1e-9)
    return 'measured';
  if (isWhole && (pieces.length === 0 || listed === null)) return 'assumed';
  return end === 'stays' && image && listed !== null && pieces.length > 0 ? 'difference' : 'open';
}

function accountOf(told: Told, perPiece: number): MetalAccount {
  const { listed, pieces, end } = told;
  const closes = closesOf(told, perPiece);
  const rest = listed === null ? null : listed - sum(pieces);
  const isClosed = closes === 'assumed' || closes === 'difference';
  return {
    listed,
    recovered: pieces.length || end === null ? sum(pieces) : end === 'out' ? null : 0,
    destroyed: 0,
    left: end !== 'stays' || closes === 'measured' ? 0 : closes === 'difference' ? rest : null,
    unaccounted: isClosed ? 0 : rest,
    closes,
  };
}

/**
 * The account of one screw.
 *
 * @param screw what is remembered of it
 * @param perPiece tolerance of a measured piece, mm
 * @param ended the work has ended: a screw that nobody spoke of is open from then on
 * @param contradicted two entries about it cannot both be true
 * @example screwMetal(out36Measured29, 1, { ended: true, contradicted: false })
 * // { listed: 36, recovered: 29, destroyed: 0, left: 0, unaccounted: 7, closes: 'open' }
 */
export function screwMetal(
  screw: ScrewContext,
  perPiece: number,
  { ended, contradicted }: { ended: boolean; contradicted: boolean },
): MetalAccount {
  const account = accountOf(
    {
      listed: screw.facts.length,
      pieces: screw.pieces,
      end: screw.stage === 'out' ? 'out' : screw.stage === 'left-in' ? 'stays' : null,
      lastMeasured: !screw.restOut,
      broke: screw.breaks.length > 0,
      image: screw.leftImage,
      contradicted: contradicted || screw.breaks.some(({ afterEnd }) => afterEnd),
    },
    perPiece,
  );
  const untold = isWorking(screw.stage) && screw.pieces.length === 0 && !ended;
  return untold ? { ...account, closes: null } : account;
}

function tipAccount({ tip, pieces, left }: TipPieces, perPiece: number): TipAccount {
  const told: Told = {
    listed: tip.listed,
    pieces: pieces.map(({ length }) => length),
    end: left.length > 0 ? 'stays' : pieces.length > 0 ? 'out' : null,
    lastMeasured: true,
    // A piece of a tip of unknown length may be all of it or not: nobody said.
    broke: pieces.length > 0,
    image: left.some(({ image }) => image),
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
