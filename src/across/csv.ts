/** The department's own numbers as one long RFC 4180 CSV: a row for each count, with the table it belongs to first. */
import type { Figures, Report, Share } from '../../machines/across/report.ts';
import type { UpdatedRate } from '../../machines/across/rates.ts';
import { csvOf, neutral } from '../record/csv.ts';

const header = [
  ...['table', 'stage', 'move', 'diameter', 'locking', 'material', 'item', 'detail'],
  ...['count', 'of', 'low', 'high', 'q1', 'median', 'q3', 'released', 'value'],
] as const;
type Row = Partial<Record<(typeof header)[number], string | number | null>>;

/** A file that is in none of the figures, and the first thing that is wrong with it. */
export interface LeftOut {
  file: string;
  why: 'unreadable' | 'broken';
  fault: string;
}

const shareRow = (of: Row, item: string, { count, of: total, low, high }: Share): Row => ({
  ...of,
  item,
  count,
  of: total,
  low,
  high,
});

function figureRows(of: Row, figures: Figures): Row[] {
  const { out, gain, slipped, broke, ends, minutes, tries, wentOn } = figures;
  return [
    { ...of, item: 'tries', count: tries },
    { ...of, item: 'went-on', count: wentOn },
    ...Object.entries({ out, gain, slipped, broke }).map(([item, share]) => shareRow(of, item, share)),
    ...Object.entries(ends).map(([end, count]) => ({ ...of, item: 'end', detail: end, count })),
    ...(minutes
      ? [{ ...of, item: 'minutes', count: minutes.n, q1: minutes.q1, median: minutes.median, q3: minutes.q3 }]
      : []),
  ];
}

/**
 * All figures as CSV with CRLF line ends; cells that begin like a formula are neutralised by a leading apostrophe.
 *
 * @example acrossCsv(report, [], []).startsWith('table,stage,move,') // true
 */
export function acrossCsv(report: Report, rates: readonly UpdatedRate[], leftOut: readonly LeftOut[]): string {
  const rows: Row[] = [
    { table: 'cases', item: 'counted', count: report.cases.counted },
    ...Object.entries(report.cases.days ?? {}).map(([item, day]) => ({ table: 'cases', item, detail: day })),
    ...Object.entries(report.cases.not).map(([item, count]) => ({ table: 'cases', item, count })),
    ...leftOut.map(({ file, why, fault }) => ({ table: 'left-out', item: why, detail: `${file}: ${fault}` })),
    ...report.moves.flatMap(({ stage, move, ...rest }) => figureRows({ table: 'moves', stage, move }, rest)),
    ...report.kinds.flatMap(({ stage, move, diameter, locking, material, ...rest }) =>
      figureRows({ table: 'kinds', stage, move, diameter, locking: locking ? 'yes' : 'no', material }, rest),
    ),
    ...report.left.map(({ stage, reason, screws }) => ({ table: 'left', stage, item: reason, count: screws })),
    ...report.stillIn.map(({ stage, screws }) => ({ table: 'still-in', stage, count: screws })),
    ...report.deadEnds.map(({ stage, missing, screws }) => ({
      ...{ table: 'dead-ends', stage, detail: missing.join(' '), count: screws },
      item: missing.length ? 'tools-missing' : 'used-up',
    })),
    ...report.tools.flatMap(({ tool, ...counts }) =>
      Object.entries(counts).map(([item, count]) => ({ table: 'tools', item, detail: tool, count })),
    ),
    ...report.holds.flatMap(({ hold, answers, passed }) => [
      ...Object.entries(answers).map(([answer, count]) => ({ table: 'holds', item: hold, detail: answer, count })),
      { table: 'passed', item: hold, count: passed.times },
      ...Object.entries(passed.next).map(([next, count]) => ({
        table: 'passed-next',
        item: hold,
        detail: next,
        count,
      })),
      ...Object.entries(passed.fate).map(([fate, count]) => ({
        table: 'passed-fate',
        item: hold,
        detail: fate,
        count,
      })),
    ]),
    ...rates.map(({ move, when, outcome, count, of, released, value }) => ({
      ...{ table: 'rates', move, item: outcome, count, of, released, value },
      ...(when && { locking: when.locking ? 'yes' : 'no', detail: when.upTo === undefined ? '' : `to ${when.upTo}` }),
    })),
  ];
  const cells = rows.map((row) => header.map((name) => neutral(String(row[name] ?? ''))));
  return csvOf([header, ...cells]);
}
