/** What a journal's lines add up to, and which line may follow. Pure; shared by the journal and the memory log. */
import type { Entry } from '../../machines/entry.ts';
import { type Aside, type CaseMeta, type Reading, Refusal, type StoredCase, sameEntry, sameMeta } from './port.ts';

/** One line of the journal. `instead` replaces the entry of the same `n`, which goes aside. */
export type Line =
  | { kind: 'case'; meta: CaseMeta }
  | { kind: 'entry' | 'instead' | 'aside'; caseId: string; entry: Entry }
  | { kind: 'removed'; caseId: string };

export class Holdings {
  /** Holds exactly what a reading tells. */
  static of({ cases, removed, aside }: Reading): Holdings {
    const held = new Holdings();
    for (const caseId of removed) held.apply({ kind: 'removed', caseId });
    for (const { meta, entries } of cases) {
      held.apply({ kind: 'case', meta });
      for (const entry of entries) held.apply({ kind: 'entry', caseId: meta.caseId, entry });
    }
    for (const { caseId, entry } of aside) held.apply({ kind: 'aside', caseId, entry });
    return held;
  }

  private readonly cases = new Map<string, { meta: CaseMeta; entries: Map<number, Entry> }>();
  private readonly removed = new Set<string>();
  private aside: Aside[] = [];

  /** False when the line is there already; throws a Refusal when it may not follow. */
  wants(line: Line): boolean {
    const id = caseOf(line);
    if (this.removed.has(id) && line.kind !== 'removed') throw new Refusal('this case was wiped');
    const held = this.cases.get(id);
    if (line.kind === 'case' && held && !sameMeta(held.meta, line.meta))
      throw new Refusal('this case is already there');
    if (line.kind === 'case') return !held;
    if (line.kind !== 'entry') return true;
    if (!held) throw new Refusal('this case is not in the log');
    const there = held.entries.get(line.entry.n);
    if (there && !sameEntry(there, line.entry)) throw new Refusal(`another entry ${line.entry.n} is already recorded`);
    return !there;
  }

  /** Takes a line in. Lines that were read twice, or in another order than written, do no harm. */
  apply(line: Line): void {
    const id = caseOf(line);
    if (line.kind === 'removed') {
      this.removed.add(id);
      this.cases.delete(id);
      this.aside = this.aside.filter((a) => a.caseId !== id);
    }
    if (this.removed.has(id)) return;
    if (line.kind === 'case') {
      const held = this.cases.get(id);
      if (!held) this.cases.set(id, { meta: line.meta, entries: new Map() });
      else if (!held.meta.created) held.meta = line.meta;
      return;
    }
    if (line.kind === 'removed') return;
    if (line.kind === 'aside') return this.putAside(id, line.entry);
    // A damaged opening line must not hide the entries that follow it.
    const held = this.cases.get(id) ?? {
      meta: { caseId: id, contentVersion: '', demo: false, created: '' },
      entries: new Map<number, Entry>(),
    };
    this.cases.set(id, held);
    const there = held.entries.get(line.entry.n);
    if (there && sameEntry(there, line.entry)) return;
    if (there) this.putAside(id, line.kind === 'instead' ? there : line.entry);
    if (!there || line.kind === 'instead') held.entries.set(line.entry.n, line.entry);
  }

  wasRemoved = (caseId: string): boolean => this.removed.has(caseId);

  /** The lines still lacking for this to hold exactly `stored`, with `aside` beside it. */
  lacking(stored: StoredCase, aside: readonly Entry[]): Line[] {
    const caseId = stored.meta.caseId;
    const held = this.cases.get(caseId);
    const lines: Line[] = held?.meta.created ? [] : [{ kind: 'case', meta: stored.meta }];
    for (const entry of aside) if (!this.isAside(caseId, entry)) lines.push({ kind: 'aside', caseId, entry });
    for (const entry of stored.entries) {
      const there = held?.entries.get(entry.n);
      if (!there) lines.push({ kind: 'entry', caseId, entry });
      else if (!sameEntry(there, entry)) lines.push({ kind: 'instead', caseId, entry });
    }
    return lines;
  }

  reading(torn: string[] = []): Reading {
    const cases = [...this.cases.values()].map(({ meta, entries }) => ({
      meta,
      entries: [...entries.values()].sort((a, b) => a.n - b.n),
    }));
    return { cases, removed: [...this.removed], aside: [...this.aside], torn };
  }

  /** The fewest lines that add up to the same. */
  lines(): Line[] {
    const { cases, removed, aside } = this.reading();
    return [
      ...removed.map((caseId): Line => ({ kind: 'removed', caseId })),
      ...cases.flatMap(({ meta, entries }): Line[] => [
        { kind: 'case', meta },
        ...entries.map((entry): Line => ({ kind: 'entry', caseId: meta.caseId, entry })),
      ]),
      ...aside.map(({ caseId, entry }): Line => ({ kind: 'aside', caseId, entry })),
    ];
  }

  private isAside = (caseId: string, entry: Entry) =>
    this.aside.some((a) => a.caseId === caseId && sameEntry(a.entry, entry));

  private putAside(caseId: string, entry: Entry): void {
    if (!this.isAside(caseId, entry)) this.aside.push({ caseId, entry });
  }
}

export const caseOf = (line: Line): string => (line.kind === 'case' ? line.meta.caseId : line.caseId);
