import { createSignal } from 'solid-js';
import type { EntryDraft } from '../../../machines/entry.ts';
import type { DraftAfter, When } from '../../session/session.ts';
import { useApp } from '../app.ts';
import { outcomeWords } from '../failure-words.ts';

export type Recorder = ReturnType<typeof createRecorder>;

/** Passes drafts to the session and keeps the reason for a refusal as text. Nothing counts as recorded until it is on disk. */
export function createRecorder() {
  const app = useApp();
  const [refused, setRefused] = createSignal<string | null>(null);
  return {
    refused,
    /** True once the entry is on disk. */
    async record(draft: EntryDraft | DraftAfter, when: When = {}): Promise<boolean> {
      if (!app.writer()) {
        setRefused(app.w('record.follows'));
        return false;
      }
      const outcome = await app.session.record(draft, when);
      setRefused(outcome.ok ? null : outcomeWords(app.w, outcome.reason, 'record.too-late'));
      return outcome.ok;
    },
  };
}
