/** Passcodes for tests: what a device keeps of one, in memory, and a lock that takes no time. */
import type { Tries, KeyStore } from '../../src/store/encrypted/key-store.ts';
import type { Ring } from '../../src/store/encrypted/encrypted-log.ts';
import {
  caseKeys,
  dataKeyFrom,
  halfBytes,
  randomBytes,
  unwrapKeys,
  wrapKeys,
} from '../../src/store/encrypted/aes-gcm.ts';
import type { KeptCase } from '../../src/store/encrypted/keyring.ts';
import type { KeyWrap } from '../../src/store/encrypted/passcode.ts';

/** What lies on a device, open to be looked at. */
export interface Shelf {
  keyWrap: KeyWrap | null;
  kept: KeptCase | null;
  tries: Tries | null;
  leftNothing?: true;
}

export function shelfStore(shelf: Shelf = { keyWrap: null, kept: null, tries: null }): KeyStore & { shelf: Shelf } {
  return {
    shelf,
    readKeyWrap: async () => shelf.keyWrap,
    writeKeyWrap: async (keyWrap) => void (shelf.keyWrap = keyWrap),
    async removeKeyWrap() {
      shelf.keyWrap = null;
      delete shelf.leftNothing;
    },
    read: async () => shelf.kept,
    async write({ caseId, keys }) {
      const other = randomBytes(halfBytes);
      shelf.kept = { caseId, keys: await unwrapKeys(await wrapKeys(keys, caseId, other), caseId, other) };
    },
    clear: async () => void (shelf.kept = null),
    leftNothing: async () => shelf.leftNothing ?? false,
    noteLeftNothing: async () => void (shelf.leftNothing = true),
    tries: () => shelf.tries ?? { wrong: 0, last: 0 },
    countTry: (tries) => void (shelf.tries = tries),
  };
}

/** Keys of every case of one device, without any passcode. */
export async function openRing(seed = 1): Promise<Ring & { encrypting: boolean; locked: boolean }> {
  const dataKey = await dataKeyFrom(new Uint8Array(32).fill(seed));
  const ring = {
    encrypting: true,
    locked: false,
    on: () => ring.encrypting,
    keysOf: async (caseId: string) => (ring.locked ? null : caseKeys(dataKey, caseId)),
  };
  return ring;
}

/** The least that is read back: the true cost is tested against its standard. */
export const cheap = { name: 'argon2id', version: 19, memoryKiB: 8192, passes: 1, lanes: 1 } as const;
