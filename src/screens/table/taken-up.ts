/** What a question at the table is, and the first one: after a case was taken up again, is the time right? */
import type { EntryDraft } from '../../../machines/entry.ts';
import { inZone } from '../../../machines/time.ts';
import type { App } from '../app.ts';

/** What an answer needs of the table. */
interface Asked {
  record: (draft: EntryDraft) => unknown;
  setPanel: (panel: { kind: 'sheet'; sheet: 'conflict' | 'tip' }) => unknown;
}

export interface Ask {
  /** Tells one question from another. */
  key: string;
  title: string;
  /** It goes on with what was just told: asked before a hold that lets the next touch pass. */
  goesOn?: true;
  options: { label: string; act: (table: Asked) => unknown }[];
}

/**
 * Asked once, as long as nothing was entered; the next entry answers that nobody knows. It stands from the first moment,
 * so that it moves nothing.
 */
export const takenUpAsk = ({ session, open, tick, w }: App) => ({
  key: 'taken up',
  // Read anew each minute, so that no touch is drawn anew with it.
  get title() {
    const time = inZone(tick(), open()?.folded.case.context.room.opened?.zone ?? 'UTC').time.slice(0, 5);
    return w('ask.taken-up', { time });
  },
  options: (['known', 'not-known'] as const).map((gap) => ({
    label: w(`ask.taken-up.${gap}`),
    act: () => session.sayGap(gap),
  })),
});
