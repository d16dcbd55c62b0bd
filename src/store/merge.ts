/** Two readings of the same log into one. Pure. */
import type { Entry } from '../../machines/entry.ts';
import { noSeal, sealOf } from '../../machines/seal.ts';
import { type CaseMeta, type CopyContents, type CopyName, type Quarantined, type StoredCase, sameRow } from './port.ts';

export interface Disagreement {
  caseId: string;
  /** The first entry about which the copies disagree; 0 for what is kept of the case itself. */
  n: number;
  /** Whose entry `n` was kept. */
  kept: CopyName;
  /** The entries that were not chosen. They stay in the log, quarantined. */
  quarantined: Entry[];
}

export interface Merged {
  /** A case of which both copies hold the very same carries the database's own list of entries, not a copy of it. */
  cases: StoredCase[];
  /** Ids of the cases of which both copies hold the very same entries. */
  alike: ReadonlySet<string>;
  removed: string[];
  /** Everything quarantined, now and at earlier starts. */
  quarantined: Quarantined[];
  disagreements: Disagreement[];
}

/**
 * Both copies taken together. Where one lacks an entry the other's stands; where they disagree, the longer chain whose
 * seals hold is chosen (the database's among equals) and the other branch is quarantined.
 *
 * @param database undefined when that copy could not be read
 * @param journal likewise
 * @example merge({ …, cases: [] }, journal).cases // what the journal holds
 */
export function merge(database: CopyContents | undefined, journal: CopyContents | undefined): Merged {
  const readings = [database, journal].filter((r) => r !== undefined);
  const removed = [...new Set(readings.flatMap((r) => r.removed))];
  const gone = new Set(removed);
  const ids = [...new Set(readings.flatMap((r) => r.cases.map((c) => c.meta.caseId)))].filter((id) => !gone.has(id));
  const find = (reading: CopyContents | undefined, id: string) => reading?.cases.find((c) => c.meta.caseId === id);
  const alike = new Set<string>();
  const merged: Merged = { cases: [], alike, removed, quarantined: [], disagreements: [] };
  for (const { caseId, entry } of readings.flatMap((r) => r.quarantined))
    if (!gone.has(caseId)) quarantine(merged.quarantined, caseId, entry);

  for (const id of ids) {
    const [a, b] = [find(database, id), find(journal, id)];
    if (a && b && sameEntries(a.entries, b.entries)) alike.add(id);
    const { entries, conflict } =
      a && alike.has(id) ? { entries: a.entries } : join(a?.entries ?? [], b?.entries ?? []);
    merged.cases.push({ meta: metaOf(a?.meta, b?.meta), entries });
    if (conflict) merged.disagreements.push({ caseId: id, ...conflict });
    else if (a?.meta.created && b?.meta.created && JSON.stringify(a.meta) !== JSON.stringify(b.meta))
      merged.disagreements.push({ caseId: id, n: 0, kept: 'database', quarantined: [] });
    for (const entry of conflict?.quarantined ?? []) quarantine(merged.quarantined, id, entry);
  }
  return merged;
}

/** A copy that lost a case's opening line holds a blank in its place. */
const metaOf = (a: CaseMeta | undefined, b: CaseMeta | undefined) =>
  (a?.created ? a : b?.created ? b : (a ?? b)) as CaseMeta;

function quarantine(all: Quarantined[], caseId: string, entry: Entry): void {
  if (!all.some((a) => a.caseId === caseId && sameRow(a.entry, entry))) all.push({ caseId, entry });
}

const sameEntries = (a: readonly Entry[], b: readonly Entry[]) =>
  a.length === b.length && a.every((entry, i) => entry.n === b[i]?.n && sameRow(entry, b[i]));

function join(database: readonly Entry[], journal: readonly Entry[]) {
  const [inDatabase, inJournal] = [byNumber(database), byNumber(journal)];
  const numbers = [...new Set([...inDatabase.keys(), ...inJournal.keys()])].sort((a, b) => a - b);
  const choices = numbers.map((n) => {
    const [a, b] = [inDatabase.get(n), inJournal.get(n)];
    return [...new Set(a && b && !sameRow(a, b) ? [a, b] : [(a ?? b) as Entry])];
  });
  const first = choices.findIndex((choice) => choice.length > 1);
  if (first < 0) return { entries: choices.flat() };

  const chain = longestChain(choices);
  // Past the end of the chain no seal holds: the database's entry stands, the journal's is quarantined.
  const entries = choices.map((choice, i) => chain[i] ?? (choice[0] as Entry));
  const quarantined = choices.flatMap((choice, i) => choice.filter((entry) => entry !== entries[i]));
  const n = numbers[first] as number;
  const kept: CopyName = inDatabase.get(n) === entries[first] ? 'database' : 'journal';
  return {
    entries,
    conflict: { n, kept, quarantined },
  };
}

const byNumber = (entries: readonly Entry[]) => new Map(entries.map((entry) => [entry.n, entry]));

/** Follows every branch whose seals hold, side by side; the longest wins, the earlier named among equals. */
function longestChain(choices: readonly Entry[][]): Entry[] {
  let open: Entry[][] = [[]];
  for (const [i, choice] of choices.entries()) {
    const grown = open.flatMap((chain) =>
      choice
        .filter((entry) => entry.n === i + 1 && sealOf(chain.at(-1)?.seal ?? noSeal, entry) === entry.seal)
        .map((entry) => [...chain, entry]),
    );
    if (grown.length === 0) break;
    open = grown;
  }
  return open[0] as Entry[];
}
