/** The plan of a case as a rehearsal is given it: a copy, with no way back to the case. */
import type { Entry } from '../../machines/entry.ts';
import type { OwnRate } from '../../machines/own-rates.ts';
import type { CaseMeta } from '../store/port.ts';
import type { OpenCase } from './session.ts';

/** What is rehearsed: a copy of a case as it was planned, and the rates that its forecast rests on. */
export interface Plan {
  meta: Pick<CaseMeta, 'contentVersion' | 'overlay' | 'format'>;
  entries: readonly Entry[];
  rates: readonly OwnRate[];
}

/** The plan of an open case, so that nothing of the case itself is in it. */
export const planOf = ({ meta, entries }: OpenCase, rates: readonly OwnRate[]): Plan => {
  const { contentVersion, overlay, format } = meta;
  return structuredClone({
    meta: { contentVersion, ...(overlay !== undefined && { overlay }), ...(format !== undefined && { format }) },
    entries: [...entries],
    rates: [...rates],
  });
};
