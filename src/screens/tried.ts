/** The message for the result of a passcode attempt. */
import { createSignal, onCleanup } from 'solid-js';
import { leastCharacters } from '../store/encrypted/passcode.ts';
import type { Tried } from '../store/encrypted/vault.ts';
import type { Messages } from '../format/messages.ts';
import { failureWords } from './failure-words.ts';

export const triedWords = (w: Messages, tried: Exclude<Tried, { ok: true }>): string => {
  if (tried.why === 'failed') return w('lock.failed', { reason: failureWords(w, tried.reason) });
  return tried.why === 'wrong'
    ? w('lock.wrong', { seconds: tried.seconds })
    : w('lock.wait', { seconds: tried.seconds });
};

/** Seconds until the next try counts, second by second. */
export function createWait(left: () => number): () => number {
  const [seconds, setSeconds] = createSignal(left());
  const timer = setInterval(() => setSeconds(left()), 250);
  onCleanup(() => clearInterval(timer));
  return seconds;
}

export const tooShort = (w: Messages, passcode: string): string | undefined =>
  passcode.length < leastCharacters ? w('lock.short', { count: leastCharacters }) : undefined;
