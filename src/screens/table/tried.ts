/** What was tried on a screw, stage by stage: the stair. It says what the trace says, and nothing besides. */
import type { AnyMoveId, Outcome, Stage } from '../../../content/ids.ts';
import { attemptsOf, type Trace } from '../../../machines/trace.ts';

/** The failures in their order, each deeper than the one before. */
export const steps = [
  'seated',
  'recess-stripped',
  'head-sheared',
  'fragment-retained',
] as const satisfies readonly Stage[];

export interface Tried {
  /** When it ended, ms; when it began while it runs or where nobody said how it ended. */
  at: number;
  move: AnyMoveId;
  /** Null where nobody said how it ended, or while it runs. */
  outcome: Outcome | null;
  runs: boolean;
  stage: Stage;
}

/**
 * Moves made on a screw, in the order of their time, each in the stage in which it began.
 *
 * @example triedOn(null, '3') // []
 */
export const triedOn = (trace: Trace | null, screw: string): Tried[] =>
  attemptsOf(trace)
    .filter((attempt) => attempt.screw === screw)
    .map(({ from, to, move, outcome, end, stageBefore }) => ({
      at: to ?? from,
      move,
      outcome,
      runs: end === null,
      stage: stageBefore,
    }))
    .sort((a, b) => a.at - b.at);

export interface Step {
  stage: (typeof steps)[number];
  /** `past`: it lies behind, `here`: the screw is in it, `next`: what would come next in order, `far`: beyond that. */
  place: 'past' | 'here' | 'next' | 'far';
  tried: readonly Tried[];
}

/**
 * The stair of a screw that is in.
 *
 * @param stage null for one that is out or stays: then nothing lies ahead
 * @example stairOf([], 'seated').map(({ place }) => place) // ['here', 'next', 'far', 'far']
 */
export function stairOf(tried: readonly Tried[], stage: Stage): Step[] {
  const now = steps.findIndex((one) => one === stage);
  return steps.map((one, i) => ({
    stage: one,
    place: i < now ? 'past' : i === now ? 'here' : i === now + 1 ? 'next' : 'far',
    tried: tried.filter((each) => each.stage === one),
  }));
}
