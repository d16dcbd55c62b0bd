/** Which pieces and which word on what stays belong to which broken tip of a tool. */
import type { CaseContext, Tip } from '../case.context.ts';

export type Tips = Pick<CaseContext, 'tips' | 'tipPieces' | 'tipsLeft'>;

export interface TipPieces {
  tip: Tip;
  pieces: CaseContext['tipPieces'];
  left: CaseContext['tipsLeft'];
}

const sum = (items: readonly { length: number | null }[]) =>
  items.reduce((total, { length }) => total + (length ?? Infinity), 0);

/**
 * Pieces and leavings of a tool go to its tips in the order in which the tips are listed: to each until what is missing
 * of it is within the tolerance of a piece, all that is over to the last. A piece that was out before a tool broke is none
 * of its tip.
 *
 * @param tolerance mm per measured piece
 */
export function tipPieces(context: Tips, tolerance: number): TipPieces[] {
  const pieces = [...context.tipPieces];
  const left = [...context.tipsLeft];
  return context.tips.map((tip, index) => {
    const isLast = !context.tips.slice(index + 1).some(({ tool }) => tool === tip.tool);
    const mine = { tip, pieces: [] as typeof pieces, left: [] as typeof left };
    const isShort = () =>
      isLast ||
      (tip.listed === null
        ? mine.pieces.length + mine.left.length === 0
        : tip.listed - sum(mine.pieces) - sum(mine.left) > tolerance);
    // What names its tip goes there, whatever the order.
    const named = ({ tip: of }: { tip: number | null }) => of !== null && tip.told.includes(of);
    const isBefore = (at: number | undefined) => at !== undefined && tip.brokeAt !== undefined && at < tip.brokeAt;
    const free = ({ tool, tip: of, at }: { tool: string; tip: number | null; at?: number | undefined }) =>
      tool === tip.tool && of === null && !isBefore(at);
    for (let at; (at = pieces.findIndex(named)) >= 0;) mine.pieces.push(...pieces.splice(at, 1));
    for (let at; (at = left.findIndex(named)) >= 0;) mine.left.push(...left.splice(at, 1));
    for (let at; isShort() && (at = pieces.findIndex(free)) >= 0;) mine.pieces.push(...pieces.splice(at, 1));
    for (let at; isShort() && (at = left.findIndex(free)) >= 0;) mine.left.push(...left.splice(at, 1));
    return mine;
  });
}
