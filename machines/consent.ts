/** Consent points that apply to a removal and are not confirmed. */
import type { ConsentId } from '../content/ids.ts';
import type { Folded } from './folded.ts';
import { secondOf } from './second-ladder.ts';

/**
 * Consent points that apply to this removal and are not confirmed.
 *
 * @example consentOpen(fold([], content)).includes('may-break') // true: it always applies
 */
export function consentOpen(state: Folded): ConsentId[] {
  const { room, consent } = state.case.context;
  const twoCortices = [...state.screws.values()].some(({ context }) => context.facts.cortices === 2);
  // Unknown is never no: by the second ladder a point that rests on what nobody said is open.
  const unsaid = secondOf(state.content) !== null;
  const { placedBy = 'unknown', placedMonthsAgo } = room.opened ?? {};
  const applies: Partial<Record<ConsentId, boolean>> = {
    'at-patients-request': false,
    'second-approach': twoCortices,
    'placed-elsewhere': placedBy === 'other-team' || (unsaid && placedBy === 'unknown'),
    'over-18-months': placedMonthsAgo === undefined ? unsaid : placedMonthsAgo > 18,
  };
  return state.content.ids.consent.filter((point) => (applies[point] ?? true) && consent[point] !== true);
}
