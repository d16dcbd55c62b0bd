/**
 * What the statecharts hear: the log's own entries, with the steady time and what the fold already knows about them.
 */
import type { HoldId, MoveId, ToolId } from '../content/ids.ts';
import type { Move } from '../content/types.ts';
import type { Bore, EntryOf, EntryType } from './entry.ts';

/** An entry as an event. `steady`: its time in ms with the jumps of the device clock taken out. */
export type Heard<T extends EntryType> = { [K in T]: { type: K; entry: EntryOf<K>; steady: number } }[T];

export type ScrewEvent =
  | Heard<
      | 'screw-listed'
      | 'screw-called'
      | 'reassessed'
      | 'hold-answered'
      | 'found'
      | 'colleague-called'
      | 'plate-off'
      | 'left-in'
      | 'piece-recovered'
    >
  | (Heard<'move-started'> & { move: Move; projected: Bore[] })
  | Heard<'move-ended'>;

/** `plain`: every entry that the case keeps as it is. */
export type CaseEvent =
  | Heard<Exclude<EntryType, 'move-ended' | 'left-in' | 'move-started' | 'count-answered'>>
  | (Heard<'move-started'> & EndedMove)
  | (Heard<'move-ended'> & EndedMove)
  | (Heard<'left-in'> & EndedMove)
  | (Heard<'count-answered'> & { unaccounted: boolean });

/** The move that this entry brings to an end, if any; `tool`: the one named at its start, else the likely one. */
export interface EndedMove {
  ended: { move: Move; tool: ToolId; named: boolean } | null;
}

export interface RunningMove {
  move: MoveId;
  entry: number;
  steady: number;
  tool: EntryOf<'move-started'>['tool'];
  /** Bores that stand if the end of the move names none. */
  bores: Bore[];
  /** Holds that were answered ahead of it. */
  answered: readonly HoldId[];
}
