/** The account of the metal as rows: one for each screw, each broken tip of a tool, each part. */
import type { Stage, ToolId } from '../../../content/ids.ts';
import { isOpen, partAccounts, screwAccount, tipAccounts } from '../../../machines/account.ts';
import type { PartAccount } from '../../../machines/compute/parts.ts';
import { toleranceOf } from '../../../machines/compute/metal.ts';
import { tipPieces } from '../../../machines/compute/tip-pieces.ts';
import type { Folded } from '../../../machines/folded.ts';
import { isWorking } from '../../../machines/screw.context.ts';
import type { MetalAccount } from '../../../machines/view.types.ts';
import type { MetalPiece } from '../../pictures/metal-row.ts';
import { drawnDiameter } from '../../pictures/screw-shape.ts';

/** `open`: nobody has said that it is out or stays. `missing`: it ended, and its account does not close. */
export type AccountState = 'accounted' | 'open' | 'missing';

export interface AccountRow {
  /** The screw's id, or the number of the entry that told of the broken tip. */
  key: string;
  screw: string | null;
  tool: ToolId | null;
  /** How an entry names what the row is of: the screw, or the tip by the entry that told of it; null for a part. */
  names: { screw: string } | { tool: ToolId; tip: number } | null;
  /** Plate, nail or any other part. */
  part: PartAccount | null;
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
    const metal = screwAccount(folded, context);
    return {
      key: context.id,
      screw: context.id,
      tool: null,
      names: { screw: context.id },
      part: null,
      stage: context.stage,
      presumed: false,
      diameter: drawnDiameter(context.facts),
      metal,
      pieces: context.pieces,
      tolerance: within(metal, context.pieces, perPiece),
      state: !isOpen(metal) ? 'accounted' : isWorking(context.stage) ? 'open' : 'missing',
    };
  });
  return [...screws, ...tipRows(folded, perPiece), ...partAccounts(folded).map(partRow)];
}

/** A part has no figures of its own: what counts is where it is. */
const partRow = (part: PartAccount): AccountRow => ({
  key: `part-${part.id}`,
  ...{ screw: null, tool: null, names: null, part, stage: null, presumed: false },
  diameter: tipThickness,
  metal: { listed: part.length, recovered: null, destroyed: 0, left: null, unaccounted: null, closes: part.closes },
  pieces: [],
  tolerance: null,
  state: !isOpen(part) ? 'accounted' : part.end === null ? 'open' : 'missing',
});

const within = ({ listed }: MetalAccount, pieces: readonly unknown[], perPiece: number) =>
  listed === null ? null : toleranceOf(pieces.length, perPiece);

function tipRows(folded: Folded, perPiece: number): AccountRow[] {
  const { context } = folded.case;
  const accounts = tipAccounts(folded);
  return tipPieces(context, perPiece).flatMap(({ tip, pieces }, index): AccountRow[] => {
    const metal = accounts[index];
    if (!metal) return [];
    return [
      {
        key: `tip-${tip.entry}`,
        screw: null,
        tool: tip.tool,
        names: { tool: tip.tool, tip: tip.entry },
        part: null,
        stage: null,
        presumed: tip.presumed,
        diameter: tipThickness,
        metal,
        pieces: pieces.flatMap(({ length, image }) => (length === null || image ? [] : [length])),
        tolerance: within(metal, pieces, perPiece),
        state: isOpen(metal) ? 'missing' : 'accounted',
      },
    ];
  });
}

/** The rows with those that are still open first, else in their order: what has to be done is seen without turning a page. */
export const openFirst = (rows: readonly AccountRow[]): AccountRow[] => [
  ...rows.filter(({ state }) => state !== 'accounted'),
  ...rows.filter(({ state }) => state === 'accounted'),
];

/** Is anything unaccounted for, so that the count needs words and an image? */
export const isAnythingOpen = (rows: readonly AccountRow[]): boolean => rows.some(({ state }) => state !== 'accounted');

/** The pieces of a row in the order in which they are laid down for the drawing: what was measured, then the rest. */
export function piecesOf({ metal, pieces, stage }: AccountRow): MetalPiece[] {
  const measured = pieces.map((length): MetalPiece => ({ kind: 'out', length }));
  const rest = (metal.listed ?? 0) - pieces.reduce((sum, length) => sum + length, 0);
  const stays = stage !== 'out';
  if (metal.closes === 'assumed')
    return [...measured, { kind: stays ? 'left' : 'out', length: pieces.length ? 0 : rest, assumed: true }];
  if (metal.closes === 'difference') return [...measured, { kind: 'left', length: rest, assumed: true }];
  return [...measured, { kind: 'missing', length: metal.unaccounted ?? 0 }];
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
