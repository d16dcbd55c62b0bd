/** A case file that somebody hands over: read and checked as a whole before anything of it is stored. */
import canonicalize from 'canonicalize';
import { contentOf } from '../../content/overlay.ts';
import { readCase, type CaseFile } from '../../machines/case-file.ts';
import type { Entry, Fault } from '../../machines/entry.ts';
import type { Seals } from '../../machines/seal.ts';
import type { StoredCase } from '../store/port.ts';
import { fault } from '../../content/fault.ts';
import { headTells } from './head-tells.ts';
import { readJson } from '../read-json.ts';
import { pinOf, type Pin } from './department.ts';

/** Are two logs of the same case: the same entries, field by field, as far as the shorter goes? */
export function isSameCase(a: readonly Entry[], b: readonly Entry[]): boolean {
  const [short, long] = a.length <= b.length ? [a, b] : [b, a];
  return short.length > 0 && short.every((entry, i) => canonicalize(entry) === canonicalize(long[i]));
}

export type Incoming =
  | { kind: 'faults'; faults: Fault[] }
  /** Nothing in the file that is not stored already. */
  | { kind: 'known'; caseId: string }
  | NewCase;

export interface NewCase {
  kind: 'new';
  file: CaseFile;
  pin: Pin;
  seals: Seals['seals'];
  /** Only where the chain is broken: at which entry. */
  brokenAt?: number;
  /** Entries stood behind the last one when the file was made; those that are here are whole. */
  endMissing: boolean;
}

/**
 * What a file would bring. Reads only; stores nothing. A file that goes on where a stored case ends counts as new: what
 * is stored is never replaced.
 *
 * @param bytes the file as it is
 * @param stored every case on this device
 * @returns every fault with its path, or what it is; never throws
 * @example readIncoming(new TextEncoder().encode('{'), []).kind // 'faults'
 */
export function readIncoming(bytes: Uint8Array, stored: readonly StoredCase[]): Incoming {
  const json = readJson(bytes);
  if ('faults' in json) return { kind: 'faults', faults: json.faults };
  let pin: Pin | undefined;
  const reading = readCase(json.value, (version) => {
    pin = pinOf(version, stored);
    return pin && contentOf(version, pin.overlay);
  });
  if ('faults' in reading) return { kind: 'faults', faults: reading.faults };
  const { file, seals } = reading;
  if (file.entries.length === 0) return { kind: 'faults', faults: [fault('entries', 'no-entry')] };
  const known = stored.find(
    ({ entries }) => entries.length >= file.entries.length && isSameCase(entries, file.entries),
  );
  if (known) return { kind: 'known', caseId: known.meta.caseId };
  const endMissing = headTells(file.entries, file.head) === 'end-missing';
  return {
    kind: 'new',
    file,
    pin: pin ?? { contentVersion: file.contentVersion },
    seals: endMissing ? 'whole' : seals.seals,
    ...(!endMissing && seals.brokenAt !== null && { brokenAt: seals.brokenAt }),
    endMissing,
  };
}
