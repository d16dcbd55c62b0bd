/** The account of the metal of a case, by the rules that it is folded by. */
import * as first from './compute/metal-1.ts';
import { screwMetal, tipMetal } from './compute/metal.ts';
import type { Folded } from './folded.ts';
import type { ScrewContext } from './screw.context.ts';
import type { MetalAccount, TipAccount } from './view.types.ts';

type Accounted = Pick<Folded, 'content' | 'rules' | 'case' | 'screws' | 'conflicts'>;

const perPiece = ({ content }: Accounted) => content.limits.pieceTolerance.value;

/** The account of one screw. */
export function screwAccount(state: Accounted, screw: ScrewContext): MetalAccount {
  if (state.rules.number < 2) return first.screwMetal(screw, perPiece(state));
  return screwMetal(screw, perPiece(state), {
    ended: state.case.context.workEnded !== null,
    contradicted: state.conflicts.some((conflict) => conflict.screw === screw.id),
  });
}

/** The accounts of the broken tips of tools, in the order in which they are listed. */
export const tipAccounts = (state: Accounted): TipAccount[] =>
  (state.rules.number < 2 ? first : { tipMetal }).tipMetal(state.case.context, perPiece(state));

/** Does it not add up, or did nobody say where it is? */
export const isOpen = ({ closes }: Pick<MetalAccount, 'closes'>): boolean => closes === null || closes === 'open';

/** Is anything unaccounted for: a screw, its lengths, or a broken tip? */
export const isAnythingOpen = (state: Accounted): boolean =>
  [...state.screws.values()].some(({ context }) => isOpen(screwAccount(state, context))) ||
  tipAccounts(state).some(isOpen);
