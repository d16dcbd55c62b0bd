/** Entries in words, as they are told on the table screen. */
import type { Content } from '../../../content/types.ts';
import type { Entry } from '../../../machines/entry.ts';
import { narrate } from '../../record/narrative.ts';

/** The entry as one sentence. The move that an outcome ended is looked up before it, a struck one only for a struck end. */
export function sayEntry(entry: Entry, entries: readonly Entry[], content: Content): string {
  if (entry.type !== 'move-ended' && entry.type !== 'screw-listed')
    return narrate(entry, { content, running: undefined, again: false });
  const isStruck = (n: number) => entries.some((other) => other.type === 'struck' && other.entry === n);
  const stood = ({ n }: Entry) => n < entry.n && (!isStruck(n) || isStruck(entry.n));
  const started =
    entry.type === 'move-ended'
      ? entries.findLast((other) => other.type === 'move-started' && other.screw === entry.screw && stood(other))
      : undefined;
  const running = started?.type === 'move-started' ? { move: started.move, tool: started.tool } : undefined;
  const again =
    entry.type === 'screw-listed' &&
    entries.some((other) => other.type === 'screw-listed' && other.screw === entry.screw && stood(other));
  return narrate(entry, { content, running, again });
}
