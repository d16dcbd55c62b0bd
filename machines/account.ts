/** The account of the metal of a case, by the rules that it is folded by. */
import type { Content } from '../content/types.ts';
import type { CaseContext } from './case.context.ts';
import * as first from './compute/metal-1.ts';
import { screwMetal, tipMetal, unknownHeadHeight, type Around } from './compute/metal.ts';
import { partAccounts as parts, type PartAccount } from './compute/parts.ts';
import type { Folded } from './folded.ts';
import { isWorking, type ScrewContext } from './screw.context.ts';
import type { MetalAccount, TipAccount } from './view.types.ts';

type Accounted = Pick<Folded, 'content' | 'rules' | 'case' | 'screws' | 'conflicts'>;

const perPiece = ({ content }: Accounted) => content.limits.pieceTolerance.value;

/**
 * Where the plate or part is that the head of a screw is in; null while nobody said, and where some of it is out, some
 * of it stays, and nobody said in which piece the head is.
 */
function holderOf(state: Accounted, { head }: ScrewContext): Around['holder'] {
  if (head?.place !== 'in-plate') return null;
  const id = head.part ?? 'plate';
  const piece = state.case.context.parts.get(id)?.ends.find((one) => one.piece === head.piece);
  const whole = partsOf(state).find((part) => part.id === id);
  const end = piece?.end ?? (whole?.closes === 'assumed' ? whole.end : null);
  return end === 'out' ? 'out' : end === 'left-in' ? 'stays' : null;
}

/** Is the head of this screw in a plate or part that was said to stay? Then it stays there as well. */
export const headStays = (state: Accounted, screw: ScrewContext): boolean => holderOf(state, screw) === 'stays';

/** How high the head of a screw is at most, mm, by its diameter; 8 where the content does not say. */
function headHeightOf({ headHeights }: Content, { facts: { diameter } }: ScrewContext): number {
  if (diameter === null) return unknownHeadHeight;
  return headHeights.find(({ upTo }) => diameter <= upTo + 1e-9)?.height ?? unknownHeadHeight;
}

/**
 * The account of one screw.
 *
 * @param holder of its head, taken to be there whatever was said; left out: as it was said
 */
export function screwAccount(state: Accounted, screw: ScrewContext, holder = holderOf(state, screw)): MetalAccount {
  if (state.rules.number < 2) return first.screwMetal(screw, perPiece(state));
  const { context } = state.case;
  return screwMetal(screw, perPiece(state), {
    // A case can be closed without a word that the work has ended.
    ended: context.workEnded !== null || context.closedAt !== null,
    stays: context.stopped !== null || staysAsPutIn(state, screw),
    contradicted: state.conflicts.some((conflict) => conflict.screw === screw.id),
    holder,
    headHeight: headHeightOf(state.content, screw),
  });
}

/** The accounts of the broken tips of tools, in the order in which they are listed. */
export const tipAccounts = (state: Accounted): TipAccount[] =>
  (state.rules.number < 2 ? first : { tipMetal }).tipMetal(state.case.context, perPiece(state));

const known = new WeakMap<CaseContext, PartAccount[]>();

/** Worked out once for each state of the case: every screw of which the head is in a part asks for them. */
function partsOf({ rules, case: { context } }: Pick<Folded, 'rules' | 'case'>): PartAccount[] {
  if (rules.number < 2) return [];
  let found = known.get(context);
  if (!found) known.set(context, (found = parts(context)));
  return found;
}

/** The entry that told that this screw was put in today, before it was listed; null where none did. */
const putInBy = (state: Pick<Folded, 'case'>, id: string): number | null =>
  state.case.context.putIn.find(({ screw, again }) => screw === id && !again)?.n ?? null;

/** Was this screw put in today, and is nothing told that brought it out again? It stays, as it was said. */
export const staysAsPutIn = (state: Pick<Folded, 'case'>, { id, stage }: ScrewContext): boolean =>
  isWorking(stage) && putInBy(state, id) !== null;

/**
 * The accounts of plate, nail and all other parts, in the order in which they were spoken of; rules 1 had none. A screw
 * that was put in today is one of them, until it was listed and is out, or was left in: then its own account tells.
 */
export function partAccounts(state: Pick<Folded, 'rules' | 'case' | 'screws'>): PartAccount[] {
  const all = partsOf(state);
  const ended = new Set(
    [...state.screws.values()].flatMap(({ context }) => (isWorking(context.stage) ? [] : [putInBy(state, context.id)])),
  );
  return all.some(({ putIn }) => putIn !== null && ended.has(putIn))
    ? all.filter(({ putIn }) => putIn === null || !ended.has(putIn))
    : all;
}

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
