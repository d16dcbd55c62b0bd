import { inSentence } from '../../../content/names.ts';
import type { Content } from '../../../content/types.ts';
import { millimetres } from '../../format/figures.ts';
import type { Messages } from '../../format/messages.ts';
import { partName, partState } from '../part-words.ts';
import type { AccountRow } from './account.ts';

/** What a row is called: "Screw 3: left in", or "Tip of the gouge". */
export const rowName = (row: AccountRow, w: Messages, content: Content): string =>
  row.part !== null
    ? partName(row.part, w)
    : row.screw !== null && row.stage !== null
      ? w('closing.screw', { screw: row.screw, stage: inSentence(content, content.phrases.stages[row.stage].label) })
      : w('closing.tip', { tool: content.phrases.tools[row.tool ?? 'pick'].label });

/** Whether it is accounted for, in words. */
export function rowState(row: AccountRow, w: Messages): string {
  if (row.part !== null) return partState(row.part, w);
  const mm = row.metal.unaccounted;
  switch (row.state) {
    case 'accounted':
      return accountedWords(row, w);
    case 'open':
      return w('closing.state.open');
    case 'missing':
      if (mm !== null) return w('closing.state.missing', { mm: millimetres(mm) });
      return w(
        row.screw === null && row.pieces.length === 0 ? 'closing.state.not-found' : 'closing.state.not-measured',
      );
  }
}

/** How an account closed, as far as it did. */
function accountedWords({ metal, tolerance }: AccountRow, w: Messages): string {
  if (metal.closes === 'difference' || metal.closes === 'assumed') return w(`closing.state.${metal.closes}`);
  const longer = -(metal.unaccounted ?? 0);
  return longer > (tolerance ?? 0) + 1e-9
    ? w('closing.state.longer', { mm: millimetres(longer) })
    : w('closing.state.accounted');
}
