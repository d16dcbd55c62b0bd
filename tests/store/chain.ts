/** Invented cases with whole chains of seals, for the log's tests; runs in Node and in pages. */
import type { EntryDraft, Entry } from '../../machines/entry.ts';
import { noSeal, sealOf } from '../../machines/seal.ts';
import type { CaseMeta } from '../../src/store/port.ts';

export const metaOf = (caseId: string, more: Partial<CaseMeta> = {}): CaseMeta => ({
  caseId,
  contentVersion: '2026.1',
  demo: false,
  created: '2026-02-17T10:00:00.000+01:00',
  ...more,
});

/** The entry that follows `before`, sealed. */
export function next(
  before: readonly Entry[],
  draft: EntryDraft = { type: 'remark', text: 'Schraube 3: Kopf frei – nichts dreht ✓' },
): Entry {
  const n = before.length + 1;
  const at = new Date(Date.UTC(2026, 1, 17, 9, 0, n)).toISOString();
  const entry = { n, at, logged: at, ...draft } as Entry;
  return { ...entry, seal: sealOf(before.at(-1)?.seal ?? noSeal, entry) };
}

/** A chain of `count` entries; `word` makes it differ from others from the entry `from` on. */
export function chain(count: number, word = 'turned', from = 1, base: readonly Entry[] = []): Entry[] {
  const entries = base.slice(0, from - 1);
  while (entries.length < count) entries.push(next(entries, { type: 'remark', text: `${word} ${entries.length + 1}` }));
  return entries;
}
