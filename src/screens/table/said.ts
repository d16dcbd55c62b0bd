/** Entries in words, as they are told on the table screen. */
import type { Content } from '../../../content/types.ts';
import type { Entry } from '../../../machines/entry.ts';
import { narrate } from '../../record/narrative.ts';

/** The entry as one sentence. The move that an outcome ended is looked up before it, a struck one only for a struck end. */
export function sayEntry(entry: Entry, entries: readonly Entry[], content: Content): string {
  if (entry.type !== 'move-ended' && entry.type !== 'screw-listed')
    return narrate(entry, { content, running: undefined, again: false });
  const struck = new Set(entries.map((other) => (other.type === 'struck' ? other.entry : 0)));
  const before = entries.slice(0, entry.n - 1).filter(({ n }) => struck.has(entry.n) || !struck.has(n));
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
