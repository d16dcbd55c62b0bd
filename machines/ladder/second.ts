/** The rules of the second ladder as one. */
import type { SecondLadder } from '../second-ladder.ts';
import { among, fit } from './fit.ts';
import { belongs, closed, foreseen, marks, ordered } from './moves.ts';
import { ifYouWait } from './wait.ts';
import { heard, listed, made, prepared, reached, strips, supposed } from './remember.ts';

export const second: SecondLadder = {
  ...{ listed, heard, reached, made, strips, supposed, prepared },
  ...{ belongs, ordered, closed, marks },
  ...{ fit, among, foreseen, ifYouWait },
};
