/** The log in memory: the twin that tests and the trial case use. Same rules, nothing kept. */
import type { Entry } from '../../machines/entry.ts';
import { Failed } from '../failure.ts';
import { JournalContents, type JournalLine } from './journal-contents.ts';
import { type Copy, type StoredRow, settle } from './port.ts';

/** @example await openMemory().list() // [] */
export function openMemory<Row extends StoredRow = Entry>(): Copy<Row> {
  let held = new JournalContents<Row>();
  const copied = <T>(value: T): T => structuredClone(value);
  return {
    list: async () => copied(held.contents().cases),
    read: async () => copied(held.contents()),
    create: (meta) => settle(add({ kind: 'case', meta: copied(meta) })),
    append: (caseId, entry) => settle(add({ kind: 'entry', caseId, entry: copied(entry) })),
    async heal(stored, quarantined) {
      if (held.wasRemoved(stored.meta.caseId)) return settle(Promise.reject(new Failed({ code: 'case-wiped' })));
      for (const line of held.lacking(stored, quarantined)) held.apply(copied(line));
      return { ok: true, copies: 1 };
    },
    async replace(contents) {
      held = JournalContents.of(copied(contents));
    },
    async remove(caseId) {
      held.apply({ kind: 'removed', caseId });
    },
    close: async () => {},
  };

  async function add(line: JournalLine<Row>): Promise<void> {
    if (held.wants(line)) held.apply(line);
  }
}
