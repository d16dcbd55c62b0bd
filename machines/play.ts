/** A move played to one of its ends on the screw's statechart, for what looks ahead: no log and no time. */
import type { Outcome } from '../content/ids.ts';
import type { Move } from '../content/types.ts';
import type { Bore } from './entry.ts';
import type { ScrewEvent } from './events.ts';
import type { ScrewSnapshot } from './folded.ts';
import { transition } from './transition.ts';
import type { ScrewMachine } from './screw.machine.ts';

const time = '2000-01-01T00:00:00Z';

/** How a supposed move ends. `reachable` belongs to `shank-broke` alone. */
export interface SupposedEnd {
  outcome: Outcome;
  reachable?: boolean;
  /** Bores that it makes; left out: none. */
  bores?: readonly Bore[];
}

const common = (screw: string) => ({ n: 1, at: time, logged: time, screw });

/** The start and the end of a move as events for the statechart. */
export function eventsOf(
  screw: string,
  move: Move,
  { outcome, reachable, bores = [] }: SupposedEnd,
): [ScrewEvent, ScrewEvent] {
  const own = { recovered: 0, bores: [...bores], ...(outcome === 'shank-broke' && { reachable: reachable ?? true }) };
  return [
    {
      type: 'move-started',
      corrected: 0,
      move,
      projected: [],
      late: false,
      entry: { ...common(screw), type: 'move-started', move: move.id },
    },
    { type: 'move-ended', corrected: 0, entry: { ...common(screw), type: 'move-ended', outcome, ...own } },
  ];
}

/**
 * Plays one move.
 *
 * @returns the screw after it; null where the statechart does not accept the start or the end
 * @example played(machine, seated, turnOut, { outcome: 'out' })?.context.stage // 'out'
 */
export function played(machine: ScrewMachine, from: ScrewSnapshot, move: Move, end: SupposedEnd): ScrewSnapshot | null {
  return eventsOf(from.context.id, move, end).reduce<ScrewSnapshot | null>(
    (now, event) => now && transition(machine, now, event),
    from,
  );
}

/** The screw after the look that a slip asks for; the same where none is asked for. */
export function lookedAgain(machine: ScrewMachine, screw: ScrewSnapshot): ScrewSnapshot {
  if (!screw.matches({ reassess: 'open' })) return screw;
  const entry = { ...common(screw.context.id), type: 'reassessed' as const, checks: {} };
  return transition(machine, screw, { type: 'reassessed', corrected: 0, entry }) ?? screw;
}
