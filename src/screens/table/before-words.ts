/** What a hold before a move says of it, by either ladder. */
import type { HoldId } from '../../../content/ids.ts';
import { percent } from '../../format/figures.ts';
import { capital } from '../../format/prose.ts';
import type { Table } from './state.ts';

/** The move that is about to start, with what is asked before it. */
export function beforeTitle({ app: { w, content }, pending }: Table, hold: HoldId): string {
  const { holds, moves } = content().phrases;
  return w('hold.before', { hold: holds[hold].label, move: capital(moves[pending() ?? 'leave-in'].glance) });
}

/** What the pending move costs the bone. Without a figure: the stop stands because no bone would be left, else nobody knows. */
export function costWords({ app: { w }, pendingOffer }: Table, hold: HoldId): string {
  const now = pendingOffer();
  if (!now || now.cortexLost === null) return w(hold === 'bone-stop' ? 'hold.whole-bone' : 'card.unknown-bone');
  return w('hold.cost', {
    before: percent(now.cortexLostBefore),
    after: percent(now.cortexLost),
    bends: percent(now.bendingKept),
  });
}
