/** The state of a case as it is folded from its log, and what one entry may change of it. */
import type { SnapshotFrom } from 'xstate';
import type { HoldId } from '../content/ids.ts';
import type { Content } from '../content/types.ts';
import type { CaseMachine } from './case.machine.ts';
import type { Jump } from './clocks.ts';
import type { Pasts } from './past.ts';
import type { Rules } from './rules.ts';
import type { ScrewMachine } from './screw.machine.ts';
import type { Trace } from './trace.ts';

export type ScrewSnapshot = SnapshotFrom<ScrewMachine>;
export type CaseSnapshot = SnapshotFrom<CaseMachine>;

export interface Conflict {
  screw: string;
  entries: readonly [number, number];
}

export interface Folded {
  content: Content;
  /** What it is folded by. */
  rules: Rules<Folded, Change>;
  /** Number of the format of the case file that its last entry stands in. */
  format: number;
  /** Number of the format that its log begins in. */
  began: number;
  case: CaseSnapshot;
  /** In the order in which they were first listed. */
  screws: ReadonlyMap<string, ScrewSnapshot>;
  jumps: readonly Jump[];
  /** Latest corrected time of an entry that had effect, ms. */
  latest: number;
  /** The same of every entry that is not struck, whether it had effect or not. */
  seen: number;
  outOfOrder: readonly number[];
  unoffered: readonly number[];
  unanswered: readonly { hold: HoldId; entry: number }[];
  struck: readonly number[];
  late: readonly number[];
  /** Ends of moves that lie before their own starts, by corrected time. */
  impossibleTimes: readonly number[];
  /** Pairs of entries that cannot both be true, and the screw that they speak of. */
  conflicts: readonly Conflict[];
  /** In which stage each screw was when, and when something was last done to it. */
  past: Pasts;
  /** Latest `logged` so far, ms. */
  logged: number;
  /** What each entry was; null before any. */
  trace: Trace | null;
}

/** What an entry changes. */
export type Change = Partial<
  Pick<Folded, 'case' | 'screws' | 'unoffered' | 'unanswered' | 'impossibleTimes' | 'conflicts' | 'past'>
>;
