/** The timeline as RFC 4180 CSV: one row for each entry, in the order of the log. */
import { csvFormatRow } from 'd3-dsv';
import type { CaseRecord, TimelineRow } from './model.ts';

const header = ['n', 'at', 'logged', 'late', 'struck', 'screw', 'event', 'detail'];

/** The rows of the timeline block. */
export const rowsOf = (record: CaseRecord): TimelineRow[] =>
  record.sections.flatMap(({ blocks }) => blocks.flatMap((block) => (block.kind === 'timeline' ? block.rows : [])));

/** A cell that a spreadsheet would run as a formula, with an apostrophe before it. */
export const neutral = (cell: string): string =>
  /^\s*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20]|^[\t\r\n]/.test(cell) ? `'${cell}` : cell;

/**
 * Rows as RFC 4180 writes them, CRLF at every end.
 *
 * @example csvOf([['a', 'b,c']]) // 'a,"b,c"\r\n'
 */
export const csvOf = (rows: readonly (readonly string[])[]): string =>
  rows.map((row) => `${csvFormatRow([...row])}\r\n`).join('');

/**
 * The log as CSV with CRLF line ends. Cells that begin like a formula (also after blanks, also in full width) are
 * neutralised by a leading apostrophe; `late` and `struck` are yes or no.
 *
 * @example noteCsv(record).split('\r\n')[0] // 'n,at,logged,late,struck,screw,event,detail'
 */
export function noteCsv(record: CaseRecord): string {
  const rows = rowsOf(record)
    .sort((a, b) => a.n - b.n)
    .map((row) => [
      String(row.n),
      row.written.at,
      row.written.logged,
      row.late ? 'yes' : 'no',
      row.struck ? 'yes' : 'no',
      row.screw ?? '',
      row.type,
      [...row.marks.map((mark) => `[${mark}]`), row.sentence].join(' '),
    ]);
  return csvOf([header, ...rows.map((row) => row.map(neutral))]);
}
