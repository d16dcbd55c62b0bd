/** Entries in words, as they are told on the table screen. */
import type { Content } from '../../../content/types.ts';
import type { Entry } from '../../../machines/entry.ts';
import { narrate } from '../../record/narrative.ts';

/** The entry as one sentence; the move that an outcome ended is looked up before it. */
export function sayEntry(entry: Entry, entries: readonly Entry[], content: Content): string {
  const before = entries.slice(0, entry.n - 1);
  const started =
    entry.type === 'move-ended'
      ? before.findLast((other) => other.type === 'move-started' && other.screw === entry.screw)
      : undefined;
  const running = started?.type === 'move-started' ? { move: started.move, tool: started.tool } : undefined;
  const again =
    entry.type === 'screw-listed' &&
    before.some((other) => other.type === 'screw-listed' && other.screw === entry.screw);
  return narrate(entry, { content, running, again });
}
