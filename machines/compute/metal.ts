/** The account of the metal: listed = recovered + left + unaccounted, in mm. */
import type { CaseContext } from '../case.context.ts';
import { isWorking, type ScrewContext } from '../screw.context.ts';
import type { MetalAccount, TipAccount } from '../view.types.ts';

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
function balance({ listed, pieces, left, restOut }: Lengths): MetalAccount {
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

/** The account of one screw. */
export const screwMetal = (screw: ScrewContext): MetalAccount =>
  balance({ listed: screw.facts.length, pieces: screw.pieces, left: screw.left, restOut: screw.restOut });

/** Within the tolerance for each measured piece, and within that of one piece at least. */
const withinTolerance = (unaccounted: number, pieces: number, tolerance: number) =>
  Math.abs(unaccounted) <= tolerance * Math.max(1, pieces) + 1e-9;

/**
 * Is a screw accounted for? Its lengths add up. Of unknown length: out, or left on purpose.
 *
 * @param tolerance mm per measured piece
 */
export function isScrewAccounted(screw: ScrewContext, tolerance: number): boolean {
  const { unaccounted } = screwMetal(screw);
  return unaccounted === null ? !isWorking(screw.stage) : withinTolerance(unaccounted, screw.pieces.length, tolerance);
}

interface TipLengths extends TipAccount {
  /** Measured pieces recovered. */
  pieces: number;
  /** Something is known of where it is. */
  told: boolean;
}

type Tips = Pick<CaseContext, 'tips' | 'tipPieces' | 'tipsLeft'>;

/**
 * Accounts of the broken tips. Pieces and leavings of a tool go to its tips in the order in which the tips are listed:
 * to each until what is missing of it is within the tolerance of a piece, all that is over to the last.
 */
function tipLengths(context: Tips, tolerance: number): TipLengths[] {
  const pieces = [...context.tipPieces];
  const left = [...context.tipsLeft];
  return context.tips.map((tip, index) => {
    const isLast = !context.tips.slice(index + 1).some(({ tool }) => tool === tip.tool);
    const mine: { pieces: number[]; left: (number | null)[] } = { pieces: [], left: [] };
    const open = () =>
      isLast ||
      (tip.listed === null
        ? mine.pieces.length + mine.left.length === 0
        : tip.listed - sum(mine.pieces) - sum(mine.left.map((l) => l ?? Infinity)) > tolerance);
    for (let at; open() && (at = pieces.findIndex(({ tool }) => tool === tip.tool)) >= 0;)
      mine.pieces.push(...pieces.splice(at, 1).map(({ length }) => length));
    for (let at; open() && (at = left.findIndex(({ tool }) => tool === tip.tool)) >= 0;)
      mine.left.push(...left.splice(at, 1).map(({ length }) => length));
    const { assumed: _, ...account } = balance({ listed: tip.listed, ...mine, restOut: false });
    return {
      tool: tip.tool,
      entry: tip.entry,
      ...account,
      pieces: mine.pieces.length,
      told: mine.pieces.length + mine.left.length > 0,
    };
  });
}

/**
 * The accounts of the broken tips of tools, in the order in which they are listed.
 *
 * @param tolerance mm per measured piece
 */
export const tipMetal = (context: Tips, tolerance: number): TipAccount[] =>
  tipLengths(context, tolerance).map(({ pieces: _p, told: _t, ...account }) => account);

/**
 * Is anything unaccounted for: a screw, its lengths, or a broken tip?
 *
 * @param tolerance mm per measured piece
 */
export function isAnythingUnaccounted(screws: readonly ScrewContext[], context: Tips, tolerance: number): boolean {
  const tipOpen = (tip: TipLengths) =>
    tip.unaccounted === null ? !tip.told : !withinTolerance(tip.unaccounted, tip.pieces, tolerance);
  return screws.some((screw) => !isScrewAccounted(screw, tolerance)) || tipLengths(context, tolerance).some(tipOpen);
}
