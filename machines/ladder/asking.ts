/** When the second ladder stops the turning, and when it asks for a second surgeon. */
import { secondSurgeonOnce, stopAfterFirstSlip } from '../guards.ts';
import type { EntryOf } from '../entry.ts';
import { slipKind, type ScrewContext } from '../screw.context.ts';
import type { Move } from '../../content/types.ts';

type End = EntryOf<'move-ended'>;

export const stopsTurning = (screw: ScrewContext, end: End, move: Move): boolean =>
  stopAfterFirstSlip(screw, end, slipKind(move));

export const asksForSecond = secondSurgeonOnce;
