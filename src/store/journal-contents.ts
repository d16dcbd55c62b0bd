/** What a journal's lines add up to, and which line may follow. Pure; shared by the journal and the memory log. */
import { Failed, type Failure } from '../failure.ts';
import {
  type CaseMeta,
  type CopyContents,
  type Quarantined,
  type StoredCase,
  type StoredRow,
  blankMeta,
  sameMeta,
  sameRow,
} from './port.ts';

/** One line of the journal. `instead` replaces the entry of the same `n`, which is quarantined. */
export type JournalLine<Row = StoredRow> =
  | { kind: 'case'; meta: CaseMeta }
  | { kind: 'entry' | 'instead' | 'quarantined'; caseId: string; entry: Row }
  | { kind: 'removed'; caseId: string };

export class JournalContents<Row extends StoredRow = StoredRow> {
  /** Holds exactly what it is given. */
  static of<Row extends StoredRow>({ cases, removed, quarantined }: CopyContents<Row>): JournalContents<Row> {
    const held = new JournalContents<Row>();
    for (const caseId of removed) held.apply({ kind: 'removed', caseId });
    for (const { meta, entries } of cases) {
      held.apply({ kind: 'case', meta });
      for (const entry of entries) held.apply({ kind: 'entry', caseId: meta.caseId, entry });
    }
    for (const { caseId, entry } of quarantined) held.apply({ kind: 'quarantined', caseId, entry });
    return held;
  }

  private readonly cases = new Map<string, { meta: CaseMeta; entries: Map<number, Row> }>();
  private readonly removed = new Set<string>();
  private quarantined: Quarantined<Row>[] = [];

  /** False when the line is there already; throws a when it may not follow. */
  wants(line: JournalLine<Row>): boolean {
    const id = caseOf(line);
    if (this.removed.has(id) && line.kind !== 'removed') throw new Failed({ code: 'case-wiped' });
    const held = this.cases.get(id);
    if (line.kind === 'case' && held && !sameMeta(held.meta, line.meta)) throw new Failed({ code: 'case-there' });
    if (line.kind === 'case') return !held;
    if (line.kind !== 'entry') return true;
    if (!held) throw new Failed({ code: 'case-unknown' });
    const there = held.entries.get(line.entry.n);
    if (there && !sameRow(there, line.entry)) throw new Failed({ code: 'entry-there', n: line.entry.n });
    return !there;
  }

  /** Takes a line in. Lines that were read twice, or in another order than written, do no harm. */
  apply(line: JournalLine<Row>): void {
    const id = caseOf(line);
    if (line.kind === 'removed') {
      this.removed.add(id);
      this.cases.delete(id);
      this.quarantined = this.quarantined.filter((a) => a.caseId !== id);
    }
    if (this.removed.has(id)) return;
    if (line.kind === 'case') {
      const held = this.cases.get(id);
      if (!held) this.cases.set(id, { meta: line.meta, entries: new Map() });
      else if (!held.meta.created) held.meta = line.meta;
      return;
    }
    if (line.kind === 'removed') return;
    if (line.kind === 'quarantined') return this.quarantine(id, line.entry);
    // A damaged opening line must not hide the entries that follow it.
    const held = this.cases.get(id) ?? { meta: blankMeta(id), entries: new Map<number, Row>() };
    this.cases.set(id, held);
    const there = held.entries.get(line.entry.n);
    if (there && sameRow(there, line.entry)) return;
    if (there) this.quarantine(id, line.kind === 'instead' ? there : line.entry);
    if (!there || line.kind === 'instead') held.entries.set(line.entry.n, line.entry);
  }

  wasRemoved = (caseId: string): boolean => this.removed.has(caseId);

  /** The lines still lacking for this to hold exactly `stored`, with `quarantined` beside it. */
  lacking(stored: StoredCase<Row>, quarantined: readonly Row[]): JournalLine<Row>[] {
    const caseId = stored.meta.caseId;
    const held = this.cases.get(caseId);
    const lines: JournalLine<Row>[] = held?.meta.created ? [] : [{ kind: 'case', meta: stored.meta }];
    for (const entry of quarantined)
      if (!this.isQuarantined(caseId, entry)) lines.push({ kind: 'quarantined', caseId, entry });
    for (const entry of stored.entries) {
      const there = held?.entries.get(entry.n);
      if (!there) lines.push({ kind: 'entry', caseId, entry });
      else if (!sameRow(there, entry)) lines.push({ kind: 'instead', caseId, entry });
    }
    return lines;
  }

  contents(damaged: Failure[] = []): CopyContents<Row> {
    const cases = [...this.cases.values()].map(({ meta, entries }) => ({
      meta,
      entries: [...entries.values()].sort((a, b) => a.n - b.n),
    }));
    return { cases, removed: [...this.removed], quarantined: [...this.quarantined], damaged };
  }

  /** The fewest lines that add up to the same. */
  lines(): JournalLine<Row>[] {
    const { cases, removed, quarantined } = this.contents();
    return [
      ...removed.map((caseId): JournalLine<Row> => ({ kind: 'removed', caseId })),
      ...cases.flatMap(({ meta, entries }): JournalLine<Row>[] => [
        { kind: 'case', meta },
        ...entries.map((entry): JournalLine<Row> => ({ kind: 'entry', caseId: meta.caseId, entry })),
      ]),
      ...quarantined.map(({ caseId, entry }): JournalLine<Row> => ({ kind: 'quarantined', caseId, entry })),
    ];
  }

  private isQuarantined = (caseId: string, entry: Row) =>
    this.quarantined.some((a) => a.caseId === caseId && sameRow(a.entry, entry));

  private quarantine(caseId: string, entry: Row): void {
    if (!this.isQuarantined(caseId, entry)) this.quarantined.push({ caseId, entry });
  }
}

export const caseOf = (line: JournalLine): string => (line.kind === 'case' ? line.meta.caseId : line.caseId);
