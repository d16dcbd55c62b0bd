/** The log in memory: the twin that tests and the trial case use. Same rules, nothing kept. */
import type { Entry } from '../../machines/entry.ts';
import { Holdings } from './journal-contents.ts';
import { type CaseMeta, type Copy, Refusal, type StoredCase, settle } from './port.ts';

/** @example await openMemory().list() // [] */
export function openMemory(): Copy {
  let held = new Holdings();
  const copied = <T>(value: T): T => structuredClone(value);
  return {
    list: async () => copied(held.reading().cases),
    read: async () => copied(held.reading()),
    create: (meta: CaseMeta) => settle(add({ kind: 'case', meta: copied(meta) })),
    append: (caseId: string, entry: Entry) => settle(add({ kind: 'entry', caseId, entry: copied(entry) })),
    async heal(stored: StoredCase, aside: readonly Entry[]) {
      if (held.wasRemoved(stored.meta.caseId)) return settle(Promise.reject(new Refusal('this case was wiped')));
      for (const line of held.lacking(stored, aside)) held.apply(copied(line));
      return { ok: true, copies: 1 };
    },
    async replace(reading) {
      held = Holdings.of(copied(reading));
    },
    async remove(caseId: string) {
      held.apply({ kind: 'removed', caseId });
    },
    close: async () => {},
  };

  async function add(line: Parameters<Holdings['apply']>[0]): Promise<void> {
    if (held.wants(line)) held.apply(line);
  }
}
