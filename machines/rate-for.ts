import type { AnyMoveId } from '../content/ids.ts';
import type { Content, Rate } from '../content/types.ts';
import type { ScrewContext } from './screw.context.ts';

/** The released rates of a move for one kind of screw: the first row that fits. */
export const rateFor = (
  content: Content,
  move: AnyMoveId,
  { locking, diameter }: Pick<ScrewContext['facts'], 'locking' | 'diameter'>,
): Rate | undefined =>
  content.rates.moves.find(
    ({ move: id, when }) =>
      id === move &&
      (!when || (when.locking === locking && (when.upTo === undefined || (diameter ?? Infinity) <= when.upTo + 1e-9))),
  );
