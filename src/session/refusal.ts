/** Whether an entry can be taken. */
import { againstRoom } from '../../machines/case-file.ts';
import { checkEntry, type Entry } from '../../machines/entry.ts';
import { entryShapes, formatFrom, formatVersion } from '../../machines/formats.ts';
import type { Failure } from '../failure.ts';
import type { Folded } from '../../machines/folded.ts';

/** Why an entry cannot be taken, each fault with its field; null when it can. */
export function refusal(folded: Folded, entry: Entry): Failure | null {
  const path = `entries[${entry.n - 1}]`;
  // What goes on an old case stands in the newest format: that is said before it.
  const format = Math.max(formatVersion, formatFrom(entry, folded.format));
  const checked = checkEntry(entry, path, entryShapes(folded.content.ids, format));
  const faults =
    'faults' in checked ? checked.faults : againstRoom(entry, folded.case.context.room, folded.content, path);
  return faults.length
    ? { code: 'faults', faults: faults.map((fault) => ({ ...fault, path: fault.path.replace(`${path}.`, '') })) }
    : null;
}
