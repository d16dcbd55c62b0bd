/** Which cases can be read now: all of them after the passcode, the one in work without it, else none. */
import { type CaseKeys, caseKeys } from './aes-gcm.ts';

/** The keys of the case in work, kept on the device so that a restart in the middle of it asks for nothing. */
export interface KeptCase {
  caseId: string;
  keys: CaseKeys;
}

export interface KeptCases {
  /** Keys that are not extractable. Null when none are kept, or they cannot be read any more. */
  read(): Promise<KeptCase | null>;
  /** Takes extractable keys, and keeps them wrapped. */
  write(kept: KeptCase): Promise<void>;
  /** Destroys them: what was kept opens nothing afterwards, wherever a trace of it may lie. */
  clear(): Promise<void>;
}

export interface Keyring {
  /** Null when this case cannot be read now. */
  keysOf(caseId: string): Promise<CaseKeys | null>;
  /** Asks the device again for the keys it keeps, at the next case whose keys are not here. */
  again(): void;
  /** Everything can be read. */
  full(): boolean;
  /** What other keys are drawn from; null while locked. */
  dataKey(): CryptoKey | null;
  unlock(dataKey: CryptoKey): void;
  lock(): void;
  /** The case in work: its keys stay on the device until `release`. */
  keep(caseId: string): Promise<void>;
  release(): Promise<void>;
}

export function createKeyring(kept: KeptCases): Keyring {
  const known = new Map<string, Promise<CaseKeys>>();
  let dataKey: CryptoKey | null = null;
  /** Read once for all cases: each reading opens a database. */
  let onDevice: Promise<KeptCase | null> | undefined;
  const keysOf = async (caseId: string): Promise<CaseKeys | null> => {
    if (dataKey && !known.has(caseId)) known.set(caseId, caseKeys(dataKey, caseId));
    const here = known.get(caseId);
    if (here) return here;
    const one = await (onDevice ??= kept.read());
    if (one?.caseId !== caseId) return null;
    known.set(caseId, Promise.resolve(one.keys));
    return one.keys;
  };
  return {
    keysOf,
    again: () => void (onDevice = undefined),
    full: () => dataKey !== null,
    dataKey: () => dataKey,
    unlock(key) {
      known.clear();
      dataKey = key;
    },
    lock() {
      known.clear();
      dataKey = null;
    },
    async keep(caseId) {
      // Without the data key the keys came from the device, and lie there still.
      if (dataKey) await kept.write({ caseId, keys: await caseKeys(dataKey, caseId, true) });
      onDevice = undefined;
    },
    async release() {
      await kept.clear();
      onDevice = undefined;
    },
  };
}
