/** The account of the metal as rows: one for each screw, one for each broken tip of a tool. */
import type { Stage, ToolId } from '../../../content/ids.ts';
import { isAnythingUnaccounted, isScrewAccounted } from '../../../machines/compute/metal.ts';
import type { Folded } from '../../../machines/fold.ts';
import { isWorking } from '../../../machines/screw.context.ts';
import type { MetalAccount } from '../../../machines/view.types.ts';
import { screwMetal, tipMetal } from '../../../machines/compute/metal.ts';
import type { MetalPiece } from '../../pictures/metal-row.ts';

/** `open`: nobody has said that it is out or stays. `missing`, `over`: it ended, and its lengths do not add up. */
export type AccountState = 'accounted' | 'open' | 'missing' | 'over';

export interface AccountRow {
  /** The screw's id, or the number of the entry that told of the broken tip. */
  key: string;
  screw: string | null;
  tool: ToolId | null;
  /** Of a screw. */
  stage: Stage | null;
  /** Nobody has described the damage yet: only the outcome of a move told of it. */
  presumed: boolean;
  /** mm; of the drawing alone for a tip. */
  diameter: number;
  metal: MetalAccount;
  /** Measured pieces that came out, mm, in the order in which they were entered. */
  pieces: readonly number[];
  /** The difference in length up to which it adds up, mm; null where nothing can be added up. */
  tolerance: number | null;
  state: AccountState;
}

/** Thickness a tip is drawn with, mm: of the drawing alone, no figure rests on it. */
const tipThickness = 3;

/**
 * Every row of the account, screws in the order in which they were listed, then tips in the order in which they broke.
 *
 * @example accountOf(folded).filter((row) => row.state !== 'accounted').length // what the count has to explain
 */
export function accountOf(folded: Folded): AccountRow[] {
  const perPiece = folded.content.limits.pieceTolerance.value;
  const screws = [...folded.screws.values()].map(({ context }): AccountRow => {
    const metal = screwMetal(context);
    return {
      key: context.id,
      screw: context.id,
      tool: null,
      stage: context.stage,
      presumed: false,
      diameter: context.facts.diameter,
      metal,
      pieces: context.pieces,
      tolerance: metal.listed === null ? null : perPiece * Math.max(1, context.pieces.length),
      state: isScrewAccounted(context, perPiece)
        ? 'accounted'
        : isWorking(context.stage)
          ? 'open'
          : (metal.unaccounted ?? 0) < 0
            ? 'over'
            : 'missing',
    };
  });
  return [...screws, ...tipRows(folded, perPiece)];
}

function tipRows(folded: Folded, perPiece: number): AccountRow[] {
  const { context } = folded.case;
  return tipMetal(context, perPiece).map((tip): AccountRow => {
    const mine = <T extends { tool: ToolId }>(all: readonly T[]) => all.filter(({ tool }) => tool === tip.tool);
    const of = { tips: mine(context.tips), tipPieces: mine(context.tipPieces), tipsLeft: mine(context.tipsLeft) };
    const isOpen = isAnythingUnaccounted([], of, perPiece);
    return {
      key: `tip-${tip.entry}`,
      screw: null,
      tool: tip.tool,
      stage: null,
      presumed: context.tips.some((one) => one.entry === tip.entry && one.presumed),
      diameter: tipThickness,
      metal: { ...tip, assumed: of.tipsLeft.some(({ length }) => length === null) },
      pieces: of.tipPieces.map(({ length }) => length),
      tolerance: tip.listed === null ? null : perPiece * Math.max(1, of.tipPieces.length + of.tipsLeft.length),
      state: !isOpen ? 'accounted' : (tip.unaccounted ?? 0) < 0 ? 'over' : 'missing',
    };
  });
}

/** Is anything unaccounted for, so that the count needs words and an image? */
export const isAnythingOpen = (rows: readonly AccountRow[]): boolean => rows.some(({ state }) => state !== 'accounted');

/** The pieces of a row in the order in which they are laid down for the drawing. */
export function piecesOf({ metal, pieces, screw }: AccountRow): MetalPiece[] {
  const measured = screw === null ? [metal.recovered] : pieces;
  const rest = metal.recovered - measured.reduce((sum, length) => sum + length, 0);
  return [
    ...measured.map((length): MetalPiece => ({ kind: 'out', length })),
    { kind: 'out', length: rest, assumed: true },
    { kind: 'left', length: metal.left, assumed: metal.assumed },
    { kind: 'missing', length: metal.unaccounted ?? 0 },
  ];
}

/** One scale for all rows: the longest and the thickest, mm. */
export function scaleOf(rows: readonly AccountRow[]): { length: number; thickness: number } {
  const longest = (row: AccountRow) =>
    Math.max(
      row.metal.listed ?? 0,
      piecesOf(row).reduce((sum, { length }) => sum + length, 0),
    );
  return {
    length: Math.max(10, ...rows.map(longest)),
    thickness: Math.max(tipThickness, ...rows.map(({ diameter }) => diameter)),
  };
}
