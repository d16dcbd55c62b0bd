/**
 * Rows of the database's entries. Each entry is written as a row of its own; later, in a quiet moment, the rows of a
 * case are gathered into the first of them, since reading costs by the row, not by the byte. The last entry of a case
 * always keeps a row of its own: what stands before it may be gathered, what stands behind it is new.
 */
import type { Quarantined, StoredRow } from '../port.ts';

export interface DatabaseRow<Row extends StoredRow = StoredRow> extends Quarantined<Row> {
  n: number;
  /** The entries that follow in the same row. */
  more?: Row[];
}

export const rowOf = <Row extends StoredRow>(caseId: string, entry: Row): DatabaseRow<Row> => ({
  caseId,
  n: entry.n,
  entry,
});

export const entriesIn = <Row extends StoredRow>({ entry, more }: DatabaseRow<Row>): Row[] =>
  more ? [entry, ...more] : [entry];

/**
 * Runs of rows that can be gathered.
 *
 * @param rows of one case, in order of n
 * @returns each run with the row that takes its place; none when nothing stands singly but the last
 * @example gatherable([row(1), row(2), row(3)]) // [{ from: 1, to: 2, row: { n: 1, …, more: [entry 2] } }]
 */
export function gatherable<Row extends StoredRow>(
  rows: readonly DatabaseRow<Row>[],
): { from: number; to: number; row: DatabaseRow<Row> }[] {
  const runs: DatabaseRow<Row>[][] = [[]];
  for (const row of rows.slice(0, -1)) {
    if (row.more) runs.push([]);
    else runs.at(-1)?.push(row);
  }
  return runs.flatMap(([first, ...rest]) => {
    const last = rest.at(-1);
    return first && last
      ? [{ from: first.n, to: last.n, row: { ...first, more: rest.map(({ entry }) => entry) } }]
      : [];
  });
}
