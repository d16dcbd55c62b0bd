/** The department's own numbers as one long RFC 4180 CSV: a row for each count, with the table it belongs to first. */
import type { Figures, Report, Share } from '../../machines/across/report.ts';
import type { Closes } from '../../machines/across/buy.ts';
import type { Calibration, NextTool, Tried } from '../../machines/across/lessons.ts';
import type { MovedRate } from '../../machines/across/moved.ts';
import type { Item } from '../../machines/across/needs.ts';
import type { UpdatedRate } from '../../machines/across/rates.ts';
import type { UseRow } from '../../machines/across/tally.ts';
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

/** What is learned from the cases, as far as it was reckoned. */
export interface Learned {
  moved: readonly MovedRate[];
  calibration?: Calibration;
  nextTool?: NextTool;
}

const counts = (table: string, found: Readonly<Partial<Record<string, number>>>): Row[] =>
  Object.entries(found).map(([item, count]) => ({ table, item, count: count ?? 0 }));

/** "3.5 mm and 4.5 mm" would be words: measures stand as they were entered. */
const measuresOf = ({ measures }: UseRow): string => {
  if (measures === null) return 'not told apart';
  const { fits, inner, outer } = measures;
  const all = [
    ...(fits ? [`fits ${fits.join(' ')}`] : []),
    ...(inner ? [`inner ${inner}`] : []),
    ...(outer ? [`outer ${outer}`] : []),
  ];
  return all.join(', ') || 'no size entered';
};

const useRows = (row: UseRow): Row[] => {
  const { tool, uses, named, screws, slipped, broke, jammed, damage, tipMissing } = row;
  const damaged = Object.fromEntries(Object.entries(damage).map(([what, count]) => [`damaged-${what}`, count]));
  const items = { uses, named, screws, slipped, broke, jammed, ...damaged, 'tip-missing': tipMissing };
  return Object.entries(items).map(([item, count]) => ({
    ...{ table: 'uses', item, count },
    detail: `${tool}, ${measuresOf(row)}`,
  }));
};

const movedRow = ({ move, when, outcome, count, of, before, after }: MovedRate): Row[] => {
  const kind = when && {
    locking: when.locking ? 'yes' : 'no',
    detail: when.upTo === undefined ? '' : `to ${when.upTo}`,
  };
  const row = { move, item: outcome, ...kind };
  return [
    ...(before ? [{ table: 'moved-before', ...row, low: before.p10, high: before.p90, value: before.value }] : []),
    { table: 'moved', ...row, count, of, low: after.p10, high: after.p90, value: after.value },
  ];
};

const triedRow = ({ screws, out, forecast, low, high }: Tried): Row => ({
  ...{ count: out, of: screws, low, high, value: forecast },
});

function calibrationRows({ cases, tenths, sorts, notJudged, minutes }: Calibration): Row[] {
  return [
    { table: 'reckoned', item: 'cases', count: cases.reckoned, of: cases.of },
    ...tenths.map((row) => ({ table: 'calibration', item: `${row.from}-${row.to}`, ...triedRow(row) })),
    ...sorts.map((row) => ({ table: 'calibration-by', item: row.by, detail: row.value, ...triedRow(row) })),
    ...counts('calibration-left-out', notJudged),
    { table: 'plan-minutes', item: 'by-median', count: minutes.byMedian, of: minutes.cases },
    { table: 'plan-minutes', item: 'within-p10-p90', count: minutes.within, of: minutes.cases },
    ...minutes.rows.map(({ p10, p50, p90, taken }) => ({
      ...{ table: 'plan-minutes', item: 'case', low: p10, median: p50, high: p90, value: taken },
    })),
    ...counts('plan-minutes-left-out', minutes.notTimed),
  ];
}

function nextToolRows({ buy, alone, cannotSay, closed }: NextTool): Row[] {
  const named = (tools: readonly Item[]) =>
    tools.map(({ tool, size }) => (size === null ? tool : `${tool} ${size}`)).join(' + ');
  const row = (item: string, detail: string, { deadEnds, weight }: Closes): Row => ({
    ...{ table: 'next-tool', item, detail, count: deadEnds, value: weight },
  });
  return [
    ...buy.map((one) => row('buy', named(one.tools), one)),
    ...alone.map((one) => row('alone', named([one]), one)),
    row('cannot-say', '', cannotSay),
    ...Object.entries(cannotSay.unknown).map(([what, count]) => ({
      ...{ table: 'next-tool', item: 'unknown', detail: what, count },
    })),
    row('no-tool', '', closed),
  ];
}

/**
 * All figures as CSV with CRLF line ends; cells that begin like a formula are neutralised by a leading apostrophe.
 *
 * @example acrossCsv(report, [], []).startsWith('table,stage,move,') // true
 */
export function acrossCsv(
  report: Report,
  rates: readonly UpdatedRate[],
  leftOut: readonly LeftOut[],
  { moved, calibration, nextTool }: Learned = { moved: [] },
): string {
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
    ...report.uses.flatMap(useRows),
    ...moved.flatMap(movedRow),
    ...(calibration ? calibrationRows(calibration) : []),
    ...(nextTool ? nextToolRows(nextTool) : []),
  ];
  const cells = rows.map((row) => header.map((name) => neutral(String(row[name] ?? ''))));
  return csvOf([header, ...cells]);
}
