/** A screw as the second ladder remembers it, and ends of moves on it, for the tests. */
import type { MoveId, Outcome, ToolId } from '../../../content/ids.ts';
import type { Move } from '../../../content/types.ts';
import type { Bore, EntryOf } from '../../../machines/entry.ts';
import type { RunningMove } from '../../../machines/events.ts';
import type { Climb, Try } from '../../../machines/ladder/climb.ts';
import { heard, made } from '../../../machines/ladder/remember.ts';
import { afterEnd, type ScrewContext } from '../../../machines/screw.context.ts';
import { atTable, loose, second } from './build.ts';

export const fresh = atTable({ ...loose, tools: [] }).folded.screws.get('1')?.context as ScrewContext;
export const move = (id: MoveId) => second.moves.find((one) => one.id === id) as Move;
export const when = { n: 9, at: '2026-03-04T09:00:00Z', logged: '2026-03-04T09:00:00Z', screw: '1' };

export type More = Partial<Omit<ScrewContext, 'climb' | 'facts'>> & {
  climb?: Partial<Climb>;
  facts?: Partial<ScrewContext['facts']>;
};
export const screw = ({ climb, facts, ...more }: More = {}): ScrewContext => ({
  ...fresh,
  ...more,
  facts: { ...fresh.facts, ...facts },
  climb: { ...(fresh.climb as Climb), ...climb },
});
export const climbOf = ({ climb }: ScrewContext) => climb as Climb;
export const pliers = 'locking-pliers||||';
export const gripper = 'head-gripper||||';
export const tried = (id: MoveId, tool: ToolId | null = null, among: string[] | null = [pliers]): Try => ({
  ...{ move: id, tool, among },
});
export const running = (id: MoveId, more: Partial<RunningMove> = {}): RunningMove => ({
  ...{ move: id, entry: 8, corrected: 0, tool: undefined, bores: [], answered: [], among: [pliers, gripper] },
  ...more,
});
export const hole: Bore = { wall: 'near', diameter: 6 };

export type EndMore = Partial<Omit<EntryOf<'move-ended'>, 'n' | 'type' | 'outcome'>>;
export const endOf = (outcome: Outcome, end: EndMore = {}): EntryOf<'move-ended'> => ({
  ...when,
  type: 'move-ended',
  outcome,
  ...end,
});
/** A screw once a move on it ended so; what every ladder remembers is there as well. */
export function ended(
  id: MoveId,
  outcome: Outcome,
  before: More = {},
  end: EndMore = {},
  run: Partial<RunningMove> = {},
) {
  const now = running(id, run);
  const was = screw({ ...before, running: now });
  const entry = endOf(outcome, end);
  const after = afterEnd(was, entry, made(move(id), now, entry));
  return heard(second, was, after, { type: 'move-ended', entry, corrected: 1 });
}
export const after = (...args: Parameters<typeof ended>) => climbOf(ended(...args));
export const sheared = { stage: 'head-sheared' } as const;
export const old: Try[] = [tried('grip-head'), tried('turn-out')];
