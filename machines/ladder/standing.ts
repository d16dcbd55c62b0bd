/** Holds of the second ladder that stand on the whole case: what gives pause, a tip to find, a part that may still be fixed. */
import type { HoldId } from '../../content/ids.ts';
import type { Content } from '../../content/types.ts';
import { currentInflation } from '../clocks.ts';
import { partStillFixed } from '../guards.ts';
import type { Tip } from '../case.context.ts';
import type { ScrewContext } from '../screw.context.ts';
import type { Standing } from '../second-ladder.ts';

/**
 * Broken tips that nobody has answered for yet, oldest first: neither found, nor said not to be, nor put off.
 *
 * @example tipsToFind(state).length // 1 right after a tool broke
 */
export function tipsToFind(state: Standing): readonly Tip[] {
  const { tips, tipsAnswered, tipPieces, tipsLeft } = state.case.context;
  const ended = [...tipPieces, ...tipsLeft].map(({ tip }) => tip);
  return tips.filter(({ told }) => ![...tipsAnswered, ...ended].some((tip) => tip !== null && told.includes(tip)));
}

/** Screws that hold a part: those listed in it, all of a plate or nail case but those that lie elsewhere. */
const screwsOf = (state: Standing, part: string): ScrewContext[] =>
  [...state.screws.values()]
    .map(({ context }) => context)
    .filter(({ facts }) => part !== 'plate' || facts.underPlate !== false);

/** Is a screw still in that holds the part, or does the count of its screws not agree, and nobody said to go on? */
export function stillFixed(state: Standing, part: string): boolean {
  const { lifting } = state.case.context;
  const of = lifting?.part === part ? lifting : { seen: null, out: null, passed: false };
  return !of.passed && partStillFixed(screwsOf(state, part), of, part);
}

/** What stands on the case whatever is done next, in the order of the content. */
export function pausing(state: Standing): HoldId[] {
  const { pause, lifting } = state.case.context;
  const holds: HoldId[] = [];
  if (pause !== null) holds.push('stop-and-think');
  if (tipsToFind(state).length > 0) holds.push('find-tip');
  if (lifting !== null && stillFixed(state, lifting.part)) holds.push('still-fixed');
  return holds;
}

/** The entry that opened a hold of the case; null for one that stands before a single move or on a screw. */
function openedBy({ case: { context } }: Standing, tips: readonly Tip[], hold: HoldId): number | null {
  if (hold === 'stop-and-think') return context.pause;
  // The newest of them, by the entry that told of it first: its damage described since opens nothing anew.
  if (hold === 'find-tip') return tips.length ? Math.max(...tips.map(({ told }) => told[0] as number)) : null;
  if (hold === 'still-fixed') return context.lifting?.n ?? null;
  if (hold === 'tourniquet') return currentInflation(context)?.n ?? null;
  return hold === 'time' ? 0 : null;
}

/**
 * Of these holds, those that are to be noted as passed over: a hold of the case once an opening, however many moves
 * follow.
 */
export function onceAnOpening(state: Standing, holds: readonly HoldId[]): readonly HoldId[] {
  const tips = tipsToFind(state);
  return holds.filter((hold) => {
    const opened = openedBy(state, tips, hold);
    return opened === null || !state.unanswered.some((one) => one.hold === hold && one.entry > opened);
  });
}

/**
 * Holds in the order of the content, each once.
 *
 * @example inOrder(content, ['time', 'stop-and-think']) // ['stop-and-think', 'time']
 */
export const inOrder = (content: Content, holds: readonly HoldId[]): HoldId[] =>
  content.ids.holds.filter((hold) => holds.includes(hold));
