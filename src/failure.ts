/**
 * Everything that can fail on a device, as codes with parameters. What is put into words, and in which language, is
 * settled where it is shown (`screens/failure-words.ts`); nothing is ever read back from a sentence.
 */
import type { Fault } from '../content/shape.ts';

type None = Record<never, never>;
/** What the browser itself said; it stands in the words as it came. */
interface Detail {
  detail: string;
}
interface Seconds {
  seconds: number;
}

/** Each code with what belongs to it. A code has words under `failure.` and the code, a parameter a place of its own name there. */
interface Codes {
  // Both copies, and wiping
  both: { database: Failure; journal: Failure };
  database: { reason: Failure };
  journal: { reason: Failure };
  'not-wiped': { reason: Failure };
  'wipe-unfinished': { reason: Failure };
  'not-stored': { reason: Failure };

  // What a browser refuses
  'no-room': None;
  'newer-store': None;
  'connection-closed': Detail;
  'file-held': None;
  'not-allowed': Detail;
  'no-reason': None;
  other: Detail;

  // Rules of the log
  locked: None;
  /** This window does not hold the cases: it only shows, or another one took over. */
  'not-holder': None;
  /** A script that it needs is not in memory, and could not be had. */
  'not-fetched': None;
  'case-wiped': None;
  'case-there': None;
  'case-unknown': None;
  'entry-there': { n: number };

  // The database
  'no-database': None;
  'database-slow-open': Seconds;
  'database-not-open': None;
  'database-old': None;
  'database-slow': Seconds;
  'database-gave-up': None;

  // The journal
  'journal-failed': Detail;
  'journal-rests': None;
  'journal-slow': Seconds;
  'reads-only': None;
  'no-files': None;
  'no-sync-files': None;
  'too-late': None;
  'partly-written': { written: number; bytes: number };
  'line-damaged': { bytes: number };
  /** Numbers of the lines, from 1. */
  'lines-unreadable': { lines: readonly number[] };

  // Encrypted cases and the passcode
  'entry-unopened': { n: number };
  'quarantined-unopened': { n: number };
  'opening-unopened': None;
  'cases-encrypted': { count: number };
  'no-passcode': None;
  'passcode-set': None;
  'passcode-short': None;
  'thread-failed': Detail;
  /** The keys of the case in work could not be kept: a restart will ask for the passcode. */
  'keys-not-kept': { reason: Failure };
  /** The keys of a case that was put away are still on the device. */
  'keys-left': { reason: Failure };

  // Recording
  'no-case': None;
  unsaved: None;
  nothing: None;
  'nothing-waits': None;
  /** It cannot have happened at this point: told in the words of the screen that asks. */
  'out-of-order': None;
  /** The entry itself is faulty. */
  faults: { faults: readonly Fault[] };

  // Ways out of the device
  'given-up': None;
  'no-clipboard': None;
  'not-copied': Detail;
  'no-sharing': None;
  'not-shared': Detail;
  'no-printing': None;
  'not-offline': Detail;
  /** Plain http from another machine: the browser gives neither storage that lasts nor keys. */
  'not-secure': None;
}

export type FailureCode = keyof Codes;
export type Failure = { [C in FailureCode]: { code: C } & Codes[C] }[FailureCode];

/** A failure on its way up. Its message is the code, for whoever looks into the browser's console. */
export class Failed extends Error {
  constructor(readonly failure: Failure) {
    super(failure.code);
    this.name = 'Failed';
  }
}

/**
 * What a caught value tells.
 *
 * @param error anything that was thrown
 * @returns a failure passed on as it is; a browser's own error by its name; never throws
 * @example failureOf(new DOMException('', 'QuotaExceededError')) // { code: 'no-room' }
 */
export function failureOf(error: unknown): Failure {
  if (error instanceof Failed) return error.failure;
  const { name = '', message = '' } = (error ?? {}) as { name?: string; message?: string };
  switch (name) {
    case 'QuotaExceededError':
      return { code: 'no-room' };
    case 'VersionError':
      return { code: 'newer-store' };
    case 'InvalidStateError':
      return { code: 'connection-closed', detail: message };
    case 'NoModificationAllowedError':
      return { code: 'file-held' };
    case 'SecurityError':
    case 'NotAllowedError':
      return { code: 'not-allowed', detail: message };
    default: {
      const detail = [name, message].filter(Boolean).join(': ');
      return detail ? { code: 'other', detail } : { code: 'no-reason' };
    }
  }
}
