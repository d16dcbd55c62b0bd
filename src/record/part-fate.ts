import type { PartKind } from '../../content/ids.ts';
import type { Closes } from '../../machines/view.types.ts';

/** A part of the metal besides the screws, and what became of it. */
export interface PartFate {
  id: string;
  kind: PartKind;
  /** As a sentence names it, such as "the plate". */
  name: string;
  what: string;
  /** mm; null when not known. */
  length: number | null;
  end: 'out' | 'left-in' | 'not-found' | 'put-in' | null;
  pieces: number;
  closes: Closes | null;
  /** When it was taken off the bone; null when nobody said. */
  off: string | null;
  /** Nobody spoke of it: it stays because the work was stopped. */
  byStop: boolean;
  /** The entry that told of it last. */
  entry: number | null;
  /** The entry that told of it last, where that was after the case was closed; null where it was told in the operation. */
  after: number | null;
  /** Its format asks what became of parts. */
  asked: boolean;
  /** Of what was put in. */
  where: string | null;
  /** The screw that was put in, where it was one. */
  screw: string | null;
}
