/** What the surgeon reads from the set distance: one line of state and at most four options. */
import type { Content } from '../../content/types.ts';
import type { CaseState } from '../../machines/view.types.ts';
import type { MoveId } from '../../content/ids.ts';
import type { Messages } from '../format/messages.ts';

export interface GlanceOption {
  /** Its number at the table, so that the number the surgeon says is the one the nurse touches; null where it has none. */
  number: number | null;
  label: string;
  act:
    | { kind: 'start'; move: MoveId }
    | { kind: 'answer'; index: number }
    | { kind: 'leave' }
    | { kind: 'call' }
    | { kind: 'table' };
}

export interface GlancePage {
  state: string;
  say: string;
  options: GlanceOption[];
  /** Open moves that have no room here. */
  more: number;
}

/** Two moves at most: leaving in and calling someone always have room. */
const movesShown = 2;

/**
 * The page for the called screw.
 *
 * @param likely labels of the likeliest answers to the running move, in order; empty when none is running
 * @example glancePage(view, content, w, []).options.length <= 4 // true
 */
export function glancePage(
  view: CaseState,
  content: Content,
  w: Messages,
  side: string,
  likely: readonly string[],
): GlancePage {
  const { phrases } = content;
  const id = view.called;
  const screw = id === null ? undefined : view.screws[id];
  if (!screw) return { state: w('glance.no-screw'), say: w('table.say-call', { count: 0 }), options: [], more: 0 };
  const stage = phrases.stages[screw.stage];
  if (screw.move) {
    const options = likely
      .slice(0, 3)
      .map((label, index) => ({ number: index + 1, label, act: { kind: 'answer', index } as const }));
    return {
      state: `${id} ${phrases.moves[screw.move].glance}`,
      say: phrases.moves[screw.move].say,
      options,
      more: likely.length - options.length,
    };
  }
  const state = `${id} ${stage.glance} ${side}`;
  const place = (move: MoveId) => screw.offered.findIndex((offered) => offered.move === move) + 1 || null;
  const leave = {
    number: place('leave-in'),
    label: phrases.moves['leave-in'].glance,
    act: { kind: 'leave' },
  } as const;
  const call = { number: null, label: w('glance.call'), act: { kind: 'call' } } as const;
  if (screw.holds.includes('reassess')) {
    const hold = phrases.holds.reassess;
    return {
      state: `${id} ${hold.glance}`,
      say: hold.say,
      options: [{ number: null, label: w('glance.table'), act: { kind: 'table' } }, leave, call],
      more: 0,
    };
  }
  const moves = screw.offered.filter(({ move }) => move !== 'leave-in');
  const first = moves.slice(0, movesShown).map(({ move }) => ({
    number: place(move),
    label: phrases.moves[move].glance,
    act: { kind: 'start', move } as const,
  }));
  return {
    state,
    say: stage.say,
    options: [...first, leave, call],
    more: moves.length - first.length,
  };
}
