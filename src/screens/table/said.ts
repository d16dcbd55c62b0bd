/** Entries in words, as they are told on the table screen. */
import type { Entry } from '../../../machines/entry.ts';
import { step } from '../../../machines/fold.ts';
import type { Folded } from '../../../machines/folded.ts';
import { rowOf, type TraceRow } from '../../../machines/trace.ts';
import { tell } from '../../record/narrative.ts';

/** An entry of the log that `folded` was folded from, as one sentence. */
export const sayEntry = ({ n }: Entry, { trace, content }: Folded): string =>
  tell(rowOf(trace, n) as TraceRow, content);

/** An entry that would be the next of a log, as one sentence. */
export const sayNext = (entry: Entry, folded: Folded, entries: readonly Entry[]): string =>
  sayEntry(entry, step(folded, entry, entries));
