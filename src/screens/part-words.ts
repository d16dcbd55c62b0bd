/** How plate, nail and every other part is called on the screens. */
import type { PartAccount } from '../../machines/compute/parts.ts';
import type { Messages } from '../format/messages.ts';

/** The plate or nail of the case by its name, any other part by its kind and its id. */
export const partName = ({ id, kind, what }: Pick<PartAccount, 'id' | 'kind' | 'what'>, w: Messages): string =>
  id === kind ? w(`part.${kind}`) : w('closing.part', { kind: what ?? w(`part.${kind}`), part: id });

/** Where it is, as far as anybody said. */
export function partState({ end, closes }: Pick<PartAccount, 'end' | 'closes'>, w: Messages): string {
  if (end === null) return w('closing.state.open');
  if (end !== 'put-in' && closes === 'open')
    return w(end === 'not-found' ? 'closing.part-state.not-found' : 'closing.part-state.rest');
  return w(closes === 'difference' ? 'closing.part-state.some' : `closing.part-state.${end}`);
}
