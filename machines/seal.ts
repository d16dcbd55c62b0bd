/**
 * The chain that shows damage: each entry is sealed over the one before it. It shows edits and lost entries; it does
 * not stop somebody who recomputes the seals of a forged log.
 */
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import canonicalize from 'canonicalize';
import { through } from './compute/through.ts';
import type { Entry } from './entry.ts';

/** What stands before the first entry. */
export const noSeal = '0'.repeat(64);

/**
 * The seal of an entry: SHA-256 over the previous seal (64 ASCII characters) and the RFC 8785 form of the entry
 * without its own `seal`.
 *
 * @param previous seal of the entry before, `noSeal` for the first
 * @returns 64 lower-case hexadecimal digits
 * @example sealOf(noSeal, entry).length // 64
 */
export function sealOf(previous: string, entry: Entry): string {
  const { seal: _, ...rest } = entry;
  return bytesToHex(sha256(utf8ToBytes(previous + canonicalize(rest))));
}

export interface Head {
  n: number;
  seal: string;
}

export interface Seals {
  seals: 'whole' | 'unsealed' | 'broken';
  /** Number of the first entry that does not fit; one past the last when the tail is missing. */
  brokenAt: number | null;
}

/**
 * Verifies the whole chain and, when given, that it ends where `head` says. With a head, or with any entry sealed, every
 * entry has to be: a missing seal is a broken one.
 *
 * @example verify([]) // { seals: 'unsealed', brokenAt: null }
 */
export const verify = (entries: readonly Entry[], head?: Head): Seals => through(verifying(entries, head));

/** The same, pausing after every entry. */
export function* verifying(entries: readonly Entry[], head?: Head): Generator<void, Seals> {
  if (!head && entries.every((entry) => entry.seal === undefined)) return { seals: 'unsealed', brokenAt: null };
  let previous = noSeal;
  for (const entry of entries) {
    if (entry.seal === undefined || sealOf(previous, entry) !== entry.seal)
      return { seals: 'broken', brokenAt: entry.n };
    previous = entry.seal;
    yield;
  }
  if (head && head.n !== entries.length) return { seals: 'broken', brokenAt: Math.min(head.n, entries.length) + 1 };
  if (head && head.seal !== previous) return { seals: 'broken', brokenAt: entries.length };
  return { seals: 'whole', brokenAt: null };
}

/** The same entries, each with its seal. */
export function sealAll(entries: readonly Entry[]): Entry[] {
  let previous = noSeal;
  return entries.map((entry) => ({ ...entry, seal: (previous = sealOf(previous, entry)) }));
}
