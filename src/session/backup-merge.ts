/** What a backup brings to a device that has cases already: never less than there was, and twice is once. */
import canonicalize from 'canonicalize';
import type { Entry } from '../../machines/entry.ts';
import { verify } from '../../machines/seal.ts';
import type { Quarantined, StoredCase } from '../store/port.ts';
import type { BackedUp } from './backup.ts';
import { isSameCase } from './case-import.ts';

export type Brought = 'new' | 'longer' | 'known' | 'differs';

export interface Step {
  what: Brought;
  /** What the log is to hold. */
  stored: StoredCase;
  /** What is quarantined beside it and is not there yet. */
  quarantined: Entry[];
}

/**
 * How one case of a backup joins those of this device. Two logs with the same first entry are one case. Where one
 * goes on from the other the longer stands, if its seals hold; where they part, the one of this device stands and the
 * other's branch is quarantined.
 *
 * @param newId called once for a case that is new here
 * @example joinCase(incoming, [], [], () => 'id').what // 'new'
 */
export function joinCase(
  incoming: Pick<BackedUp, 'meta' | 'entries' | 'quarantined'>,
  stored: readonly StoredCase[],
  quarantined: readonly Quarantined[],
  newId: () => string,
): Step {
  const { meta, entries } = incoming;
  const opening = canonicalize(entries[0]);
  const here = stored.find((one) => canonicalize(one.entries[0]) === opening);
  if (!here)
    return {
      what: 'new',
      stored: { meta: { caseId: newId(), ...meta }, entries },
      quarantined: notAmong(incoming.quarantined, []),
    };
  const besides = quarantined.filter(({ caseId }) => caseId === here.meta.caseId).map(({ entry }) => entry);
  const beside = (more: readonly Entry[]) =>
    notAmong([...incoming.quarantined, ...more], [...besides, ...here.entries]);
  if (isSameCase(here.entries, entries)) {
    if (entries.length <= here.entries.length) {
      const added = beside([]);
      return { what: added.length ? 'differs' : 'known', stored: here, quarantined: added };
    }
    if (verify(entries).seals === 'whole')
      return {
        what: 'longer',
        stored: { meta: here.meta, entries: [...here.entries, ...entries.slice(here.entries.length)] },
        quarantined: beside([]),
      };
  }
  const parts = entries.findIndex((entry, i) => canonicalize(entry) !== canonicalize(here.entries[i]));
  const added = beside(entries.slice(parts));
  return { what: added.length ? 'differs' : 'known', stored: here, quarantined: added };
}

/** Entries that are not among others, whatever the order of their fields. */
function notAmong(entries: readonly Entry[], others: readonly Entry[]): Entry[] {
  const there = new Set(others.map((entry) => canonicalize(entry)));
  return entries.filter((entry) => !there.has(canonicalize(entry)));
}
