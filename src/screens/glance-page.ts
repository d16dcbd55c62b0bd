/** What the surgeon reads from the set distance: one line of state and at most four options. */
import type { Content } from '../../content/types.ts';
import type { CaseState, LimitsView, OfferedMove, ScrewView } from '../../machines/view.types.ts';
import type { HoldId, MoveId } from '../../content/ids.ts';
import type { Messages } from '../format/messages.ts';
import { percent } from '../format/figures.ts';
import { capital } from '../format/prose.ts';
import { deferKey, leaveKey, numberAt } from './numbers.ts';

export interface GlanceOption {
  /** Its number at the table, so that the number the surgeon says is the one the nurse touches; null where it has none. */
  number: number | null;
  label: string;
  /** Cortex lost after it, as far as it can be read from where the surgeon stands. */
  after?: string;
  act:
    | { kind: 'start'; move: MoveId }
    | { kind: 'answer'; index: number }
    | { kind: 'leave' }
    | { kind: 'defer' }
    | { kind: 'call' }
    | { kind: 'table' };
}

export interface GlancePage {
  /** Side, screw and stage. */
  state: string;
  /** What is asked or under way, on the line below it. */
  question?: string;
  say: string;
  options: GlanceOption[];
  /** Open moves that have no room here. */
  more: number;
}

/** As far as this, m, a share is read as a figure; from farther off only which limit it is over. */
const figuresUpTo = 2.5;

/**
 * Cortex lost after a move, for the surgeon: a figure near by, from farther off the limit that it is over.
 *
 * @param distance m
 * @example afterWords(w, { cortexLost: 0.33, ... }, limits, 3) // 'over 30'
 */
export function afterWords(
  w: Messages,
  { cortexLost }: Pick<OfferedMove, 'cortexLost'>,
  { boneConsider, boneStop }: LimitsView,
  distance: number,
): string | undefined {
  if (cortexLost === null) return w('glance.after-unknown');
  if (distance <= figuresUpTo) return percent(cortexLost);
  const over = [boneStop, boneConsider].find((limit) => cortexLost >= limit - 1e-9);
  return over === undefined ? undefined : w('glance.over', { share: Math.round(over * 100) });
}

/** Two moves at most: leaving in and calling someone always have room. */
const movesShown = 2;

/** What gives pause by the second ladder, in its order. */
const ofCase: readonly HoldId[] = ['stop-and-think', 'find-tip', 'still-fixed'];

/** What lies beyond the far wall and the bone are the surgeon's; count and clocks are the nurse's. */
export const isSurgeons = (hold: HoldId): boolean =>
  hold === 'far-wall' || hold === 'bone-stop' || hold === 'bone-consider' || hold === 'bone-unmeasured';

/** A limit of the bone is a question to the surgeon, not a command. */
const asQuestion = (words: string): string => (words.endsWith('?') ? words : `${words}?`);

/** The hold that the surgeon is asked, if one is. */
function askedHere(view: CaseState, { holds, lines }: ScrewView, before: readonly HoldId[]): HoldId | null {
  const pause = ofCase.find((hold) => view.holds.includes(hold));
  // A list of lines there is by the second ladder alone; by the first, this one takes no line from the moves.
  const asks = (hold: HoldId) => holds.includes(hold) && !lines?.includes(hold);
  const seeks = lines !== undefined && asks('second-surgeon') ? ('second-surgeon' as const) : null;
  return pause ?? (asks('reassess') ? 'reassess' : (before.find(isSurgeons) ?? seeks));
}

/**
 * The page for the called screw.
 *
 * @param before holds that stand before the move that was touched
 * @param distance m from which it is read; left out, no cortex stands beside the options
 * @param pending the move that was touched
 * @param likely labels of the likeliest answers to the running move, in order; empty when none is running
 * @example glancePage(view, content, w, []).options.length <= 4 // true
 */
export function glancePage(
  view: CaseState,
  content: Content,
  w: Messages,
  side: string,
  likely: readonly string[],
  before: readonly HoldId[] = [],
  distance?: number,
  pending?: OfferedMove | null,
): GlancePage {
  const { phrases } = content;
  const id = view.called;
  const screw = id === null ? undefined : view.screws[id];
  if (!screw) return { state: w('glance.no-screw'), say: w('table.say-call', { count: 0 }), options: [], more: 0 };
  const stage = phrases.stages[screw.stage];
  const isSecond = content.ladder === 2;
  const stands = `${side} ${id} ${stage.glance}`;
  if (screw.move) {
    const options = likely
      .slice(0, 3)
      .map((label, index) => ({ number: index + 1, label, act: { kind: 'answer', index } as const }));
    const move = phrases.moves[screw.move].glance;
    return {
      ...(isSecond ? { state: stands, question: capital(move) } : { state: `${id} ${move}` }),
      say: phrases.moves[screw.move].say,
      options,
      more: likely.length - options.length,
    };
  }
  const state = isSecond ? stands : `${id} ${stage.glance} ${side}`;
  const after = (offered: OfferedMove | null | undefined) => {
    const words =
      isSecond && offered && distance !== undefined ? afterWords(w, offered, view.limits, distance) : undefined;
    return words === undefined ? {} : { after: words };
  };
  const place = (move: MoveId) => {
    if (isSecond && move === 'leave-in') return leaveKey;
    const at = screw.offered.findIndex((offered) => offered.move === move);
    return at < 0 ? null : numberAt(at, isSecond);
  };
  const leave = {
    number: place('leave-in'),
    label: phrases.moves['leave-in'].glance,
    ...after(screw.offered.find(({ move }) => move === 'leave-in')),
    act: { kind: 'leave' },
  } as const;
  const call = { number: null, label: w('glance.call'), act: { kind: 'call' } } as const;
  const moves = screw.offered.filter(({ move }) => move !== 'leave-in');
  const optionOf = (offered: OfferedMove): GlanceOption => ({
    number: place(offered.move),
    label: phrases.moves[offered.move].glance,
    ...after(offered),
    act: { kind: 'start', move: offered.move },
  });
  const asked = askedHere(view, screw, before);
  if (asked !== null) {
    const hold = phrases.holds[asked];
    const isLook = asked === 'reassess';
    const table = {
      number: null,
      label: w(isLook ? 'glance.table' : 'glance.answer'),
      ...(isSurgeons(asked) && after(pending)),
      act: { kind: 'table' },
    } as const;
    // It closes no move: the first one stands below the call.
    if (asked === 'second-surgeon') {
      const next = moves.slice(0, 1).map(optionOf);
      return {
        state,
        question: capital(hold.glance),
        say: hold.say,
        options: [call, ...next, leave],
        more: moves.length - next.length,
      };
    }
    const question = isSurgeons(asked) ? asQuestion(hold.glance) : hold.glance;
    return {
      ...(isSecond ? { state, question: capital(question) } : { state: `${id} ${question}` }),
      say: hold.say,
      options: [table, leave, call],
      more: isLook ? 0 : moves.length,
    };
  }
  const first = moves.slice(0, movesShown).map(optionOf);
  // Where a move has its place left over, it is the surgeon's to come back later; where none is open, first of all.
  const later = {
    number: deferKey,
    label: w('glance.later'),
    act: { kind: 'defer' },
  } as const;
  return {
    state,
    say: stage.say,
    options: [...first, ...(isSecond && screw.mayDefer && first.length < movesShown ? [later] : []), leave, call],
    more: moves.length - first.length,
  };
}
