/**
 * The account of the metal by rules 1, kept so that what was signed under them can be said again: a rest that nobody
 * measured made up the difference.
 */
import { isWorking, type ScrewContext } from '../screw.context.ts';
import type { MetalAccount, TipAccount } from '../view.types.ts';
import { tipPieces, type Tips } from './tip-pieces.ts';

interface Balance {
  listed: number | null;
  recovered: number;
  left: number;
  unaccounted: number | null;
  assumed: boolean;
}

const sum = (lengths: readonly number[]) => lengths.reduce((total, length) => total + length, 0);

interface Lengths {
  listed: number | null;
  pieces: readonly number[];
  left: readonly (number | null)[];
  /** The rest came out unmeasured. */
  restOut: boolean;
}

/**
 * Balances lengths: a rest that came out unmeasured, or was left in unmeasured, makes up the difference and is marked
 * assumed. Without a listed length nothing can be balanced.
 *
 * @example balance({ listed: 36, pieces: [20], left: [], restOut: true })
 * // { listed: 36, recovered: 36, left: 0, unaccounted: 0, assumed: true }
 */
function balance({ listed, pieces, left, restOut }: Lengths): Balance {
  const measured = sum(pieces);
  const leftMeasured = sum(left.filter((length) => length !== null));
  const restLeft = left.includes(null);
  if (listed === null)
    return { listed, recovered: measured, left: leftMeasured, unaccounted: null, assumed: restOut || restLeft };
  const rest = Math.max(0, listed - measured - leftMeasured);
  const recovered = measured + (restOut ? rest : 0);
  const leftIn = leftMeasured + (restLeft && !restOut ? rest : 0);
  return {
    listed,
    recovered,
    left: leftIn,
    unaccounted: listed - recovered - leftIn,
    assumed: (restOut || restLeft) && rest > 0,
  };
}

/** Within the tolerance for each measured piece, and within that of one piece at least. */
const withinTolerance = (unaccounted: number, pieces: number, tolerance: number) =>
  Math.abs(unaccounted) <= tolerance * Math.max(1, pieces) + 1e-9;

const account = ({ assumed, ...lengths }: Balance, isOpen: boolean): MetalAccount => ({
  ...lengths,
  destroyed: 0,
  closes: isOpen ? 'open' : assumed ? 'assumed' : 'measured',
});

/**
 * The account of one screw: open unless its lengths add up, or, of unknown length, it is out or left on purpose.
 *
 * @param tolerance mm per measured piece
 */
export function screwMetal(screw: ScrewContext, tolerance: number): MetalAccount {
  const { pieces, left, restOut } = screw;
  const lengths = balance({ listed: screw.facts.length, pieces, left, restOut });
  const { unaccounted } = lengths;
  const adds =
    unaccounted === null ? !isWorking(screw.stage) : withinTolerance(unaccounted, screw.pieces.length, tolerance);
  return account(lengths, !adds);
}

/**
 * The accounts of the broken tips of tools, in the order in which they are listed.
 *
 * @param tolerance mm per measured piece
 */
export const tipMetal = (context: Tips, tolerance: number): TipAccount[] =>
  tipPieces(context, tolerance).map(({ tip, pieces, left }) => {
    // Format 1, which alone was read by these rules, measured every piece.
    const measured = pieces.flatMap(({ length }) => (length === null ? [] : [length]));
    const stays = left.map(({ length }) => length);
    const lengths = balance({ listed: tip.listed, pieces: measured, left: stays, restOut: false });
    const adds =
      lengths.unaccounted === null
        ? pieces.length + left.length > 0
        : withinTolerance(lengths.unaccounted, pieces.length, tolerance);
    return { tool: tip.tool, entry: tip.entry, ...account(lengths, !adds) };
  });
