/** What was told of a screw once the case was closed. */
import type { Entry } from '../../machines/entry.ts';
import type { ScrewContext } from '../../machines/screw.context.ts';
import type { RecordLog } from './log.ts';
import type { ScrewFate } from './model.ts';

const tells = (entry: Entry, id: string, what: 'out' | 'stays'): boolean =>
  what === 'stays'
    ? entry.type === 'left-in' && entry.screw === id
    : entry.type === 'piece-recovered' && entry.screw === id && (entry.whole === true || entry.complete === true);

/** What was told of it after closing, and the last entry that told it; null where nothing was. */
export function foundAfterOf(log: RecordLog, { id, foundAfter: what }: ScrewContext): ScrewFate['foundAfter'] {
  if (what === null) return null;
  const told = log.effective.findLast((entry) => log.isAfterClosing(entry.n) && tells(entry, id, what));
  return told ? { what, n: told.n } : null;
}
