/** What turned as a move ended. */
import type { Entry } from './entry.ts';

/**
 * What turned free under a driver that turned alone was a slip; anything else as it is.
 *
 * @example readAsSlip({ …, type: 'move-ended', outcome: 'turns-free', turned: 'driver' }).outcome // 'slipped'
 */
export const readAsSlip = (entry: Entry): Entry =>
  entry.type === 'move-ended' && entry.outcome === 'turns-free' && entry.turned === 'driver'
    ? { ...entry, outcome: 'slipped' }
    : entry;
