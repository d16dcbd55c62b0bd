/** What the surgeon reads from the set distance: one line of state and at most four options. */
import type { Content } from '../../content/types.ts';
import type { CaseView } from '../../machines/view.types.ts';
import type { MoveId } from '../../content/ids.ts';
import type { Words } from '../session/words.ts';

export interface GlanceOption {
  number: number;
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

/** Two moves at most, so that leaving in and calling someone keep their places. */
const movesShown = 2;

/**
 * The page for the called screw.
 *
 * @param likely labels of the likeliest answers to the running move, in order; empty when none is running
 * @example glancePage(view, content, w, []).options.length <= 4 // true
 */
export function glancePage(
  view: CaseView,
  content: Content,
  w: Words,
  side: string,
  likely: readonly string[],
): GlancePage {
  const { phrases } = content;
  const numbered = (options: Omit<GlanceOption, 'number'>[]) =>
    options.map((option, i) => ({ ...option, number: i + 1 }));
  const id = view.called;
  const screw = id === null ? undefined : view.screws[id];
  if (!screw) return { state: w('glance.no-screw'), say: w('table.say-call', { count: 0 }), options: [], more: 0 };
  const stage = phrases.stages[screw.stage];
  if (screw.move) {
    const options = likely.slice(0, 3).map((label, index) => ({ label, act: { kind: 'answer', index } as const }));
    return {
      state: `${id} ${phrases.moves[screw.move].glance}`,
      say: phrases.moves[screw.move].say,
      options: numbered(options),
      more: likely.length - options.length,
    };
  }
  const state = `${id} ${stage.glance} ${side}`;
  if (screw.holds.includes('reassess')) {
    const hold = phrases.holds.reassess;
    return {
      state: `${id} ${hold.glance}`,
      say: hold.say,
      options: numbered([
        { label: w('glance.table'), act: { kind: 'table' } },
        { label: phrases.moves['leave-in'].glance, act: { kind: 'leave' } },
        { label: w('glance.call'), act: { kind: 'call' } },
      ]),
      more: 0,
    };
  }
  const moves = screw.offered.filter(({ move }) => move !== 'leave-in');
  const first = moves
    .slice(0, movesShown)
    .map(({ move }) => ({ label: phrases.moves[move].glance, act: { kind: 'start', move } as const }));
  return {
    state,
    say: stage.say,
    options: numbered([
      ...first,
      { label: phrases.moves['leave-in'].glance, act: { kind: 'leave' } },
      { label: w('glance.call'), act: { kind: 'call' } },
    ]),
    more: moves.length - first.length,
  };
}
