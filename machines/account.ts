/** The account of the metal of a case, by the rules that it is folded by. */
import * as first from './compute/metal-1.ts';
import { screwMetal, tipMetal } from './compute/metal.ts';
import { partAccounts as parts, type PartAccount } from './compute/parts.ts';
import type { Folded } from './folded.ts';
import type { ScrewContext } from './screw.context.ts';
import type { MetalAccount, TipAccount } from './view.types.ts';

type Accounted = Pick<Folded, 'content' | 'rules' | 'case' | 'screws' | 'conflicts'>;

const perPiece = ({ content }: Accounted) => content.limits.pieceTolerance.value;

/**
 * The account of one screw.
 *
 * @param holderOut taken as out whatever was said: a head in the plate, or in another part
 */
export function screwAccount(state: Accounted, screw: ScrewContext, holderOut = false): MetalAccount {
  if (state.rules.number < 2) return first.screwMetal(screw, perPiece(state));
  const { context } = state.case;
  const holder = screw.head?.part ?? 'plate';
  return screwMetal(screw, perPiece(state), {
    ended: context.workEnded !== null,
    stopped: context.stopped !== null,
    contradicted: state.conflicts.some((conflict) => conflict.screw === screw.id),
    holderOut: holderOut || partAccounts(state).some(({ id, end }) => id === holder && end === 'out'),
  });
}

/** The accounts of the broken tips of tools, in the order in which they are listed. */
export const tipAccounts = (state: Accounted): TipAccount[] =>
  (state.rules.number < 2 ? first : { tipMetal }).tipMetal(state.case.context, perPiece(state));

/** The accounts of plate, nail and all other parts, in the order in which they were spoken of; rules 1 had none. */
export const partAccounts = (state: Pick<Folded, 'rules' | 'case'>): PartAccount[] =>
  state.rules.number < 2 ? [] : parts(state.case.context);

/** Does it not add up, or did nobody say where it is? */
export const isOpen = ({ closes }: Pick<MetalAccount, 'closes'>): boolean => closes === null || closes === 'open';

/** What is open in the account: screws by their id, tips by the entry that told of them, parts by theirs. */
export const openKeys = (state: Accounted, ask: { parts: boolean } = { parts: true }): string[] => [
  ...[...state.screws.values()].flatMap(({ context }) =>
    isOpen(screwAccount(state, context)) ? [`screw ${context.id}`] : [],
  ),
  ...tipAccounts(state).flatMap((tip, i) => (isOpen(tip) ? [`tip ${i + 1}`] : [])),
  ...(ask.parts ? partAccounts(state).flatMap((part) => (isOpen(part) ? [`part ${part.id}`] : [])) : []),
];

/** Is anything unaccounted for: a screw, its lengths, a broken tip, or a part? */
export const isAnythingOpen = (state: Accounted): boolean => openKeys(state).length > 0;
