/** The moves of one content. */
import type { MoveId } from './ids.ts';
import type { Content, Move } from './types.ts';

/**
 * A move by its id; checked content holds every one.
 *
 * @example moveOf(content, 'turn-out').aim // 'out'
 */
export const moveOf = (content: Content, id: MoveId): Move => content.moves.find((move) => move.id === id) as Move;
