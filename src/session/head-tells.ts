/** What the head of a case file tells that its entries do not. */
import type { Entry } from '../../machines/entry.ts';
import { verify, type Head } from '../../machines/seal.ts';

/**
 * What the file alone tells of its seals, and nothing that is stored will: the remark that is to be written
 * behind the case, so that it reads no better here than it did there. Null when the entries tell it themselves.
 *
 * @example headTells(entriesWithoutSeals, { n: 2, seal }) // 'head-differs'
 */
export function headTells(entries: readonly Entry[], head?: Head): 'end-missing' | 'head-differs' | null {
  const alone = verify(entries).seals;
  if (alone === 'broken' || verify(entries, head).seals !== 'broken') return null;
  return alone === 'whole' && head && head.n > entries.length ? 'end-missing' : 'head-differs';
}
