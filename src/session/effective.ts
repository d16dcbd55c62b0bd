/** What of an open case counts. */
import type { Entry } from '../../machines/entry.ts';
import { effectiveEntries } from '../../machines/trace.ts';
import type { OpenCase } from './session.ts';

/** Entries that count: neither struck nor out of order. */
export const effective = ({ folded }: Pick<OpenCase, 'folded'>): Entry[] => effectiveEntries(folded.trace);

/** A limit of the content that a case may set for itself. */
export type CaseLimit = 'boneConsider' | 'boneStop' | 'tourniquetMinutes';

/** Whether a limit was set for this case, and so is no longer that of the content. */
export const wasSet = (open: OpenCase, limit: CaseLimit): boolean =>
  effective(open).some((entry) => entry.type === 'limits-set' && entry[limit] !== undefined);
