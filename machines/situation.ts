/** A screw with what stands open on it, as the offer needs it. */
import type { ClosedReason, ToolId } from '../content/ids.ts';
import type { ScrewContext } from './screw.context.ts';

export interface Situation {
  screw: ScrewContext;
  /** Hold H1 stands open. */
  reassess: boolean;
  /** Every other listed screw is out. */
  lastIn: boolean;
  /** A washer or a barrel that is listed lies under a head, and nobody has said that it is off. */
  around?: boolean;
}

/** Why a move is closed, and what it lacks. */
export interface Closed {
  why: ClosedReason;
  missing: ToolId[];
}
