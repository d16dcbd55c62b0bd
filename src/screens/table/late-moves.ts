/** What can be told late: every move of the ladder, in pages. */
import type { MoveId } from '../../../content/ids.ts';
import type { Content } from '../../../content/types.ts';

/** Moves on one page of what can be told late. */
export const movesAtOnce = 6;

export const lateMoves = (content: Content): MoveId[] =>
  content.moves.flatMap(({ id }) => (id === 'leave-in' ? [] : [id as MoveId]));

/** Pages of all moves. */
export const latePages = (content: Content): number => Math.ceil(lateMoves(content).length / movesAtOnce);
