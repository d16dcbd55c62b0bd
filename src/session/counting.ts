/** Counts the department's own numbers: what one case adds, and the figures of all. */
import { contentOf } from '../../content/overlay.ts';
import { readingOutcome, type CaseOutcome } from '../../machines/across/outcome.ts';
import { updatedRates, type UpdatedRate } from '../../machines/across/rates.ts';
import { report, type Report } from '../../machines/across/report.ts';
import { addOutcome, emptyTally, passOver } from '../../machines/across/tally.ts';
import { verifying } from '../../machines/seal.ts';
import type { StoredCase } from '../store/port.ts';
import { department } from './department.ts';
import { inSlices } from './time-slicing.ts';

export { isInvented } from './demo.ts';

export interface Numbers {
  report: Report;
  rates: UpdatedRate[];
}

type Read = CaseOutcome | 'broken' | 'unreadable';

export interface CountedCase {
  stored: StoredCase;
  read: Read;
  invented: boolean;
}

/**
 * What one case adds, read in slices.
 *
 * @returns null when it was no longer wanted
 */
export async function readOne({ meta, entries }: StoredCase, isWanted: () => boolean): Promise<Read | null> {
  const content = contentOf(meta.contentVersion, meta.overlay);
  if (!content) return 'unreadable';
  const seals = await inSlices(verifying(entries), isWanted);
  if (!seals || seals.seals === 'broken') return seals && 'broken';
  return inSlices(readingOutcome(entries, content, meta.format), isWanted);
}

/** The figures of all cases that were read, with or without the invented ones. */
export function numbersOf(reads: readonly CountedCase[], withInvented: boolean): Numbers {
  const content = department().content();
  const tally = emptyTally();
  for (const one of reads) {
    if (one.invented && !withInvented) passOver(tally, 'invented');
    else if (typeof one.read === 'string') passOver(tally, one.read);
    else addOutcome(tally, one.read);
  }
  return { report: report(tally, content), rates: updatedRates(tally, content) };
}
