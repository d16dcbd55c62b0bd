import { inSentence } from '../../../content/names.ts';
import type { Content } from '../../../content/types.ts';
import { millimetres } from '../../format/figures.ts';
import type { Messages } from '../../format/messages.ts';
import type { AccountRow } from './account.ts';

/** What a row is called: "Screw 3: left in", or "Tip of the gouge". */
export const rowName = (row: AccountRow, w: Messages, content: Content): string =>
  row.screw !== null && row.stage !== null
    ? w('closing.screw', { screw: row.screw, stage: inSentence(content, content.phrases.stages[row.stage].label) })
    : w('closing.tip', { tool: content.phrases.tools[row.tool ?? 'pick'].label });

/** Whether it is accounted for, in words. */
export function rowState(row: AccountRow, w: Messages): string {
  const mm = row.metal.unaccounted;
  switch (row.state) {
    case 'accounted':
      return w('closing.state.accounted');
    case 'open':
      return w('closing.state.open');
    case 'over':
      return w('closing.state.over', { mm: millimetres(Math.abs(mm ?? 0)) });
    case 'missing':
      return mm === null ? w('closing.state.not-found') : w('closing.state.missing', { mm: millimetres(mm) });
  }
}
