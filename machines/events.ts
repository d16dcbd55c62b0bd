/**
 * The events of the statecharts: the log's own entries, with their corrected time and what the fold already knows about
 * them.
 */
import { assertEvent } from 'xstate';
import type { HoldId, AnyMoveId, Stage, ToolId } from '../content/ids.ts';
import type { Move } from '../content/types.ts';
import type { CuffChange, Inflation } from './cuff.ts';
import type { Bore, Entry, EntryOf, EntryType } from './entry.ts';

/** An entry as an event. `corrected`: its time in ms with the jumps of the device clock taken out. */
export type EntryEvent<T extends EntryType> = {
  [K in T]: { type: K; entry: EntryOf<K>; corrected: number } & Standing;
}[T];

export interface Standing {
  /** Number of the format that it stands in; left out: the first. */
  format?: number;
  /** Number of the rules that it is read by; left out: the newest. */
  rules?: number;
  /** The case is closed: what is told then changes the account and the papers, and no stage. */
  afterClosing?: boolean;
}

export type ScrewEvent =
  | EntryEvent<
      | 'screw-listed'
      | 'screw-called'
      | 'reassessed'
      | 'hold-answered'
      | 'found'
      | 'colleague-called'
      | 'plate-off'
      | 'left-in'
      | 'deferred'
      | 'stopped'
      | 'destroyed'
      | 'head-seen'
      | 'length-answered'
    >
  | (EntryEvent<'move-started'> & {
      move: Move;
      projected: Bore[];
      late: boolean;
      waits?: boolean;
      among?: readonly string[];
      farWall?: FarWall;
    })
  /** `short`: more is missing of the screw than what was said of the rest explains. */
  | (EntryEvent<'move-ended' | 'piece-recovered'> & { short?: boolean })
  | { type: 'set-aside' }
  | LateStart
  | LateEnd;

/** The start of a move that is heard as history: told late, with something later standing on its screw. */
export interface LateStart {
  type: 'late-started';
  entry: EntryOf<'move-started'>;
  corrected: number;
  projected: Bore[];
  among?: readonly string[];
}

/** The end of such a move. */
export interface LateEnd {
  type: 'late-ended';
  entry: EntryOf<'move-ended'>;
  corrected: number;
  move: Move;
  start: RunningMove;
  /** Stage of the screw as the move began, by what is known now. */
  stageThen: Stage;
  /** Nothing that was done on the screw has a later time. */
  isNewest: boolean;
  /** False once the case is closed: what is told then changes no stage. */
  movesStage: boolean;
}

/** An event of the type that an action is declared for. @throws Error for any other: a fault of the chart itself */
export function eventOf<E extends { type: string }, T extends E['type']>(event: E, type: T): Extract<E, { type: T }> {
  assertEvent(event as { type: string }, type);
  return event as Extract<E, { type: T }>;
}

/** `plain`: every entry that the case keeps as it is. */
export type CaseEvent =
  | EntryEvent<
      Exclude<
        EntryType,
        'move-ended' | 'left-in' | 'move-started' | 'count-answered' | 'tourniquet' | 'deferred' | 'stopped' | 'put-in'
      >
    >
  /** `cut`: a move that it broke off had cut metal. */
  /** `passed`: told late, of a screw on which a move was begun since. */
  | (EntryEvent<'deferred'> & { cut: boolean; passed?: boolean })
  | (EntryEvent<'stopped'> & { cut: boolean })
  /** `again`: a screw of its name was listed before. */
  | (EntryEvent<'put-in'> & { again: boolean })
  | (EntryEvent<'tourniquet'> & { cuff: readonly CuffChange[]; inflations: readonly Inflation[] })
  | LateStart
  | (LateEnd & EndedMove)
  /** `told`: late, so it calls no screw away from the one in hand. */
  | (EntryEvent<'move-started'> & EndedMove & { told?: boolean })
  | (EntryEvent<'move-ended'> & EndedMove)
  | (EntryEvent<'left-in'> & EndedMove)
  | (EntryEvent<'count-answered'> & { unaccounted: boolean; open: readonly string[] })
  /** What this entry told made the account open again. */
  | { type: 'count-reopened'; entry: Entry; corrected: number };

/** The move that this entry brings to an end, if any; `tool`: the one named at its start, else the likely one. */
export interface EndedMove {
  ended: { move: Move; tool: ToolId; named: boolean } | null;
}

/** What going beyond the far wall was answered for, where it was, as a move starts; `tool`: the one named. */
export interface FarWall {
  key: string;
  tool: ToolId | null;
}

export interface RunningMove {
  move: AnyMoveId;
  entry: number;
  corrected: number;
  tool: EntryOf<'move-started'>['tool'];
  /** Bores that stand if the end of the move names none. */
  bores: Bore[];
  /** Holds that were answered ahead of it. */
  answered: readonly HoldId[];
  /** Its end was told later, with its number: nothing that follows on the screw ends it. */
  waits?: boolean;
  /** By the second ladder: the tools in the room that it can have been made with, by `toolKey`. */
  among?: readonly string[];
}
