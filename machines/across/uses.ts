/**
 * Uses of drills, taps and reamers, and what became of them, as entries say. Which of two of a kind was in the hand no
 * entry says, so nothing is put down to either of them.
 */
import { offeredDamage, type Damage } from '../../content/damage.ts';
import type { AnyMoveId, ToolId } from '../../content/ids.ts';
import type { RoomTool } from '../case.context.ts';
import type { EntryOf } from '../entry.ts';
import type { Attempt } from '../trace.ts';

/** Tools that wear by what they cut. */
export const wearing = ['hard-metal-drill', 'reverse-tap', 'hollow-reamer'] as const satisfies readonly ToolId[];
export type WearingTool = (typeof wearing)[number];

/** Measures by which one of a kind is told from another, mm. */
export interface Measures {
  /** Diameters of screws that it is for. */
  fits?: readonly number[];
  inner?: number;
  outer?: number;
}

/** Which one: its measures as they were entered, all left out where none were; null: there were several, or none was listed. */
export interface Which {
  tool: WearingTool;
  measures: Measures | null;
}

/** One move that it was used for. */
export interface Use extends Which {
  screw: string;
  /** Named by the entry; else the move is one that is made with nothing else. */
  named: boolean;
  end: 'slipped' | 'broke' | 'jammed' | 'other';
}

/** One entry that told of damage. */
export interface Wear extends Which {
  what: Damage | 'own-words';
  tipMissing: boolean;
}

/** Moves that are made with one of them and nothing else in its place. */
const madeWith: Partial<Record<AnyMoveId, WearingTool>> = {
  'reverse-tap': 'reverse-tap',
  'drill-head-off': 'hard-metal-drill',
  'hollow-ream': 'hollow-reamer',
};

const isWearing = (tool: ToolId | undefined): tool is WearingTool => (wearing as readonly unknown[]).includes(tool);

/** The one of a kind that was in the room; null where there was none, or more than one. */
function measuresIn(room: readonly RoomTool[], tool: WearingTool): Measures | null {
  const [one, ...more] = room.filter((other) => other.tool === tool);
  if (!one || more.length > 0) return null;
  const { fits, inner, outer } = one;
  return {
    ...(fits !== undefined && { fits }),
    ...(inner !== undefined && { inner }),
    ...(outer !== undefined && { outer }),
  };
}

const ends: Readonly<Record<string, Use['end']>> = {
  slipped: 'slipped',
  'tool-broke': 'broke',
  'tool-jammed': 'jammed',
};

/**
 * The use that a move was of one of them; null where it was made with something else, or nobody named a tool and the move
 * leaves it open.
 *
 * @param room tools that were in it as the move ended
 */
export function useOf({ move, tool, screw, outcome, end }: Attempt, room: readonly RoomTool[]): Use | null {
  const which = tool ?? madeWith[move];
  if (!isWearing(which)) return null;
  const jammed = end?.type === 'move-ended' && end.toolJammed === true;
  const how = ends[outcome ?? ''] ?? 'other';
  return {
    ...{ tool: which, measures: measuresIn(room, which), screw, named: tool !== undefined },
    end: how === 'other' && jammed ? 'jammed' : how,
  };
}

/** What an entry tells of damage to one of them; null for any other tool. */
export const wearOf = ({ tool, how, tipMissing }: EntryOf<'tool-damaged'>, room: readonly RoomTool[]): Wear | null =>
  isWearing(tool)
    ? { tool, measures: measuresIn(room, tool), what: offeredDamage(how.trim()) ?? 'own-words', tipMissing }
    : null;
