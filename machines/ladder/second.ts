/** The rules of the second ladder as one. */
import type { SecondLadder } from '../second-ladder.ts';
import { secondSurgeonOnce, stopAfterFirstSlip } from '../guards.ts';
import { before, farWallKey } from './before.ts';
import { among, fit } from './fit.ts';
import { boneView, strength } from './bone.ts';
import { belongs, closed, foreseen, marks, ordered } from './moves.ts';
import { ifYouWait } from './wait.ts';
import { caseNotices, screwNotices } from './notices.ts';
import { inOrder, onceAnOpening, pausing, stillFixed } from './standing.ts';
import { heard, listed, made, prepared, reached, strips, supposed } from './remember.ts';

export const second: SecondLadder = {
  ...{ listed, heard, reached, made, strips, supposed, prepared },
  ...{ belongs, ordered, closed, marks },
  ...{ fit, among, foreseen, ifYouWait, strength, boneView },
  ...{ stopsTurning: stopAfterFirstSlip, asksForSecond: secondSurgeonOnce, before, farWallKey },
  ...{ pausing, stillFixed, onceAnOpening, inOrder, screwNotices, caseNotices },
};
