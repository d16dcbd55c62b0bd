/** The moves of one content. */
import type { AnyMoveId } from './ids.ts';
import type { Content, Move } from './types.ts';

/** Something that no release lists: it fits no stage, needs nothing, and what it does to bone and metal is not known. */
const other: Move = {
  ...{ id: 'other', fits: [], fitsJammedSeat: false, needs: [], helps: [], aim: 'out' },
  ...{ turnsInRecess: false, needsRecess: false, shavings: false, heat: false, reverse: false, turn: 'none' },
  ...{ projection: {}, likely: [], notUsedHere: false, cautions: [], evidence: [], source: '' },
  ...{ underPlate: true, order: {}, opens: [], prepares: false, boneAsked: false },
};

/**
 * A move by its id; checked content holds every one but `other`, which is the same in all.
 *
 * @example moveOf(content, 'turn-out').aim // 'out'
 */
export const moveOf = (content: Content, id: AnyMoveId): Move =>
  id === 'other' ? other : (content.moves.find((move) => move.id === id) as Move);
