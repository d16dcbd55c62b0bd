/** What the second ladder asks of the case after a touch: is the plate off, is that all of the tip. */
import type { EntryDraft } from '../../../machines/entry.ts';
import type { Folded } from '../../../machines/folded.ts';
import { secondOf } from '../../../machines/second-ladder.ts';
import { rowsOf } from '../../../machines/trace.ts';
import type { Messages } from '../../format/messages.ts';
import type { Ask } from './taken-up.ts';

/** A touch that records one entry. */
export const entering = (label: string, draft: EntryDraft): Ask['options'][number] => ({
  label,
  act: (table) => table.record(draft),
});

/** A part is being lifted and nothing holds it any more: that it is off is said by whoever sees it. */
export function liftAsk(folded: Folded, w: Messages): Ask | null {
  const { lifting } = folded.case.context;
  if (!lifting?.asks || secondOf(folded.content)?.stillFixed(folded, lifting.part) !== false) return null;
  const { part, n } = lifting;
  return {
    key: `lift ${n}`,
    title: w('ask.lift'),
    options: [
      entering(w('ask.lift.off'), { type: 'plate-off', ...(part !== 'plate' && { part }) }),
      entering(w('ask.lift.holds'), { type: 'part-move', part, move: 'lift', outcome: 'no-change' }),
    ],
  };
}

/** A tip was found: is it all of it? How long it is and whether an image was seen may be said. Put off by the next move. */
export function tipAsk(folded: Folded, w: Messages): Ask | null {
  const last = rowsOf(folded.trace).findLast(
    ({ entry, heard }) =>
      heard &&
      (entry.type === 'move-started' ||
        (entry.type === 'piece-recovered' && entry.tool !== undefined) ||
        (entry.type === 'hold-answered' && entry.hold === 'find-tip')),
  )?.entry;
  if (last?.type !== 'hold-answered' || last.answer !== 'found') return null;
  const tip = folded.case.context.tips.find(({ told }) => told.includes(last.tip ?? 0));
  if (!tip) return null;
  const names = { tool: tip.tool, tip: tip.entry };
  return {
    key: `tip ${last.n}`,
    goesOn: true,
    title: w('ask.tip-all', { tool: folded.content.phrases.tools[tip.tool].label }),
    options: [
      entering(w('ask.tip-all.yes'), { type: 'piece-recovered', ...names, complete: true }),
      entering(w('ask.tip-all.no'), {
        ...({ type: 'hold-answered', hold: 'find-tip', answer: 'not-found', ...names } as const),
        reason: w('ask.tip-all.rest'),
      }),
      { label: w('ask.tip-all.more'), act: (table) => table.setPanel({ kind: 'sheet', sheet: 'tip' }) },
    ],
  };
}
