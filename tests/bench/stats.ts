/** What a row of the table is made of: medians, spreads and the ratio against the floor beside it. */

export interface Row {
  what: string;
  /** What was measured, with its unit and spread. */
  measured: string;
  /** The floor, measured in the same run, or the fixed goal. */
  against: string;
  ratio: string;
  goal: string;
}

/** @example quantile([1, 2, 3, 4], 0.5) // 3 */
export function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? NaN;
}

export const median = (values: readonly number[]): number => quantile(values, 0.5);

const digits = (value: number) => (value >= 100 ? value.toFixed(0) : value >= 10 ? value.toFixed(1) : value.toFixed(2));

/** @example spread([1, 2, 9], 'ms') // '2.00 (1.00–9.00) ms' */
export const spread = (values: readonly number[], unit: string): string =>
  `${digits(median(values))} (${digits(Math.min(...values))}–${digits(Math.max(...values))}) ${unit}`;

/** @example ratio(3, 2) // '1.50' */
export const ratio = (value: number, floor: number): string => (value / floor).toFixed(2);

/**
 * Runs works in turn, A B A B, so that whatever else the machine does meets both alike; the first turn only warms up.
 *
 * @returns ms of every turn, one list for each work
 */
export function inTurn(runs: number, ...works: (() => void)[]): number[][] {
  for (const work of works) work();
  const times = works.map((): number[] => []);
  for (let run = 0; run < runs; run++)
    works.forEach((work, i) => {
      const start = performance.now();
      work();
      times[i]?.push(performance.now() - start);
    });
  return times;
}

export const tableOf = (rows: readonly Row[]): string =>
  [
    '| what | measured: median (least–most) | against | ratio | goal |',
    '| --- | --- | --- | --- | --- |',
    ...rows.map(
      ({ what, measured, against, ratio: of, goal }) => `| ${[what, measured, against, of, goal].join(' | ')} |`,
    ),
  ].join('\n');
