/**
 * Forecasts held against what came of them, over many cases: by tenths of the forecast, by sort of screw, and the minutes;
 * and the dead ends of all plans, for what to buy. Sums alone are kept, and two figures a case for its minutes.
 */
import { workingStages, type WorkingStage } from '../../content/ids.ts';
import { alikeness } from '../../content/series.ts';
import type { Content } from '../../content/types.ts';
import { buyList, closedAlone, type Closes, type Purchase, type Want } from './buy.ts';
import { wilson } from './intervals.ts';
import { inOrder } from './order.ts';
import { itemKey, type Item } from './needs.ts';
import { monthBands, type Judged, type NotJudged, type NotTimed, type Reckoned, type Sort } from './reckon.ts';
import type { Unknown } from '../ways.ts';

/** Screws taken together. */
interface Sum {
  screws: number;
  out: number;
  /** Sum of their forecasts. */
  expected: number;
  /** Ordered pairs of two screws of one patient, which say less than two screws of two. */
  pairs: number;
}

export interface Lessons {
  /** Cases reckoned. */
  cases: number;
  tenths: Sum[];
  sorts: Map<string, Sum & { by: keyof Sort; value: string }>;
  bounded: number;
  notJudged: Map<NotJudged, number>;
  minutes: { p10: number; p50: number; p90: number; taken: number }[];
  notTimed: Map<NotTimed, number>;
  wants: Map<string, Want>;
  cannotSay: Closes & { unknown: Map<Unknown, number> };
  closed: Closes;
}

const empty = (): Sum => ({ screws: 0, out: 0, expected: 0, pairs: 0 });

/** Nothing reckoned yet. */
export const noLessons = (): Lessons => ({
  cases: 0,
  tenths: Array.from({ length: 10 }, empty),
  sorts: new Map(),
  bounded: 0,
  notJudged: new Map(),
  minutes: [],
  notTimed: new Map(),
  wants: new Map(),
  cannotSay: { deadEnds: 0, weight: 0, unknown: new Map() },
  closed: { deadEnds: 0, weight: 0 },
});

const more = <K>(counts: Map<K, number>, key: K) => counts.set(key, (counts.get(key) ?? 0) + 1);

/**
 * The tenth that a forecast lies in: 0 for less than 10 %, 9 from 90 % on.
 *
 * @example tenthOf(0.94) // 9
 */
export const tenthOf = (forecast: number): number => Math.min(9, Math.floor(forecast * 10 + 1e-9));

function add(sum: Sum, ofCase: readonly Judged[]): void {
  sum.screws += ofCase.length;
  sum.out += ofCase.filter(({ out }) => out).length;
  sum.expected += ofCase.reduce((all, { forecast }) => all + forecast, 0);
  sum.pairs += ofCase.length * (ofCase.length - 1);
}

const sortKeys = ['stage', 'locking', 'months', 'bone'] as const satisfies readonly (keyof Sort)[];

/**
 * Adds what one case taught.
 *
 * @returns nothing; changes `lessons`
 */
export function addLesson(lessons: Lessons, { judged, notJudged, minutes, deadEnds }: Reckoned): void {
  lessons.cases += 1;
  lessons.bounded += judged.filter(({ bounded }) => bounded).length;
  lessons.tenths.forEach((sum, tenth) =>
    add(
      sum,
      judged.filter(({ forecast }) => tenthOf(forecast) === tenth),
    ),
  );
  for (const by of sortKeys)
    for (const value of new Set(judged.map((one) => one[by]))) {
      const key = `${by} ${value}`;
      const sum = lessons.sorts.get(key) ?? { by, value, ...empty() };
      lessons.sorts.set(key, sum);
      add(
        sum,
        judged.filter((one) => one[by] === value),
      );
    }
  for (const why of notJudged) more(lessons.notJudged, why);
  if (typeof minutes === 'string') more(lessons.notTimed, minutes);
  else lessons.minutes.push(minutes);
  for (const { sets, chance } of deadEnds.open) {
    const key = sets
      .map((set) => set.map(itemKey).sort().join('+'))
      .sort()
      .join(' | ');
    const want = lessons.wants.get(key) ?? { sets, weight: 0, deadEnds: 0 };
    lessons.wants.set(key, { sets, weight: want.weight + chance, deadEnds: want.deadEnds + 1 });
  }
  for (const { unknown, chance } of deadEnds.cannotSay) {
    lessons.cannotSay.deadEnds += 1;
    lessons.cannotSay.weight += chance;
    for (const what of unknown) more(lessons.cannotSay.unknown, what);
  }
  for (const { chance } of deadEnds.closed) {
    lessons.closed.deadEnds += 1;
    lessons.closed.weight += chance;
  }
}

/** Forecast and outcome of some screws; null where there are none, or too few to say anything. */
export interface Tried {
  screws: number;
  out: number;
  /** How many the forecasts let expect: the sum of the chances. */
  expected: number;
  /** Mean of the forecasts. */
  forecast: number | null;
  low: number | null;
  high: number | null;
}

export interface Tenth extends Tried {
  from: number;
  to: number;
}

export interface SortRow extends Tried {
  by: keyof Sort;
  value: string;
  /** Fewer than say anything, those of one patient counted for what they say: counts, and no share. */
  few: boolean;
}

export interface Calibration {
  /** Cases whose forecasts were reckoned, of so many. */
  cases: { reckoned: number; of: number };
  /** Screws in the figures; of these, those for which bone and agreed time were known. */
  screws: number;
  bounded: number;
  notJudged: Partial<Record<NotJudged, number>>;
  interval: string;
  tenths: Tenth[];
  sorts: SortRow[];
  minutes: {
    cases: number;
    /** Cases that took no longer than the forecast's median, and those within its 10 and 90 %. */
    byMedian: number;
    within: number;
    few: boolean;
    rows: { p10: number; p50: number; p90: number; taken: number }[];
    notTimed: Partial<Record<NotTimed, number>>;
  };
}

export const intervalMethod =
  'Wilson, 95 %, of as many screws as count when those of one patient are alike: so many divided by 1 + correlation × ' +
  `pairs of one patient / screws (design effect, Kish 1965, from memory; correlation ${alikeness.value}, ${alikeness.source})`;

/**
 * Wilson's interval of a share of screws of which several are of one patient.
 *
 * @param pairs ordered pairs of two of one patient: m × (m − 1) for m of them
 * @returns null when there are none
 * @example clustered(8, 10, 0) // as wilson(8, 10)
 */
export function clustered(out: number, screws: number, pairs: number) {
  if (screws === 0) return null;
  const effect = effectOf(screws, pairs);
  return wilson(out / effect, screws / effect);
}

/** By how much screws of one patient say less than as many of others. */
const effectOf = (screws: number, pairs: number) => 1 + (alikeness.value * pairs) / screws;

function tried({ screws, out, expected, pairs }: Sum, isFew: boolean): Tried {
  const interval = isFew ? null : clustered(out, screws, pairs);
  return {
    ...{ screws, out, expected },
    forecast: isFew || screws === 0 ? null : expected / screws,
    ...{ low: interval?.low ?? null, high: interval?.high ?? null },
  };
}

/** Values of a sort in their own order; a bone by its name, own words last. */
const orders: Record<keyof Sort, readonly string[]> = {
  stage: workingStages satisfies readonly WorkingStage[],
  locking: ['yes', 'no', 'unknown'],
  months: monthBands,
  bone: [],
};

/**
 * Forecast and outcome over all cases reckoned so far.
 *
 * @param of cases that could be reckoned
 * @param content how few screws are too few
 * @example calibration(noLessons(), 0, content).screws // 0
 */
export function calibration(lessons: Lessons, of: number, content: Content): Calibration {
  const fewBelow = content.rates.fewTries.value;
  const { tenths, sorts, minutes } = lessons;
  const rows = sortKeys.flatMap((by) => {
    const found = [...sorts.values()].filter((one) => one.by === by);
    const names = found.map(({ value }) => value);
    const isOwn = (name: string) => name === 'own-words';
    const values = [
      ...inOrder<string>(
        orders[by],
        names.filter((name) => !isOwn(name)),
      ),
      ...names.filter(isOwn),
    ];
    return values.map((value): SortRow => {
      const sum = found.find((one) => one.value === value) as Sum;
      const few = sum.screws / effectOf(sum.screws, sum.pairs) < fewBelow;
      return { by, value, ...tried(sum, few), few };
    });
  });
  return {
    cases: { reckoned: lessons.cases, of },
    screws: tenths.reduce((all, { screws }) => all + screws, 0),
    bounded: lessons.bounded,
    notJudged: Object.fromEntries(lessons.notJudged),
    interval: intervalMethod,
    tenths: tenths.map((sum, i) => ({ from: i / 10, to: (i + 1) / 10, ...tried(sum, false) })),
    sorts: rows,
    minutes: {
      cases: minutes.length,
      byMedian: minutes.filter(({ p50, taken }) => taken <= p50).length,
      within: minutes.filter(({ p10, p90, taken }) => taken >= p10 && taken <= p90).length,
      few: minutes.length < fewBelow,
      rows: minutes.map(({ p10, p50, p90, taken }) => ({ p10, p50, p90, taken })),
      notTimed: Object.fromEntries(lessons.notTimed),
    },
  };
}

/** What to buy next, and what nobody can say. */
export interface NextTool {
  cases: { reckoned: number; of: number };
  /** Dead ends that tools of known sizes would close, over all plans. */
  deadEnds: Closes;
  buy: Purchase[];
  alone: (Item & Closes)[];
  /** Stages of which nobody can say whether they are dead ends, or which size would open them. */
  cannotSay: Closes & { unknown: Partial<Record<Unknown, number>> };
  /** Dead ends that no tool is known to open. */
  closed: Closes;
}

/**
 * What to buy next for the plans reckoned so far.
 *
 * @example nextTool(noLessons(), 0, content).buy // []
 */
export function nextTool(lessons: Lessons, of: number, content: Content): NextTool {
  const wants = [...lessons.wants.values()];
  const { unknown, ...cannotSay } = lessons.cannotSay;
  return {
    cases: { reckoned: lessons.cases, of },
    deadEnds: {
      deadEnds: wants.reduce((sum, { deadEnds }) => sum + deadEnds, 0),
      weight: wants.reduce((sum, { weight }) => sum + weight, 0),
    },
    buy: buyList(wants, content.ids.tools),
    alone: closedAlone(wants, content.ids.tools),
    cannotSay: { ...cannotSay, unknown: Object.fromEntries(unknown) },
    closed: { ...lessons.closed },
  };
}

/** What cases taught, as it is shown. */
export interface Learned {
  calibration: Calibration;
  nextTool: NextTool;
}

/**
 * What was learned so far.
 *
 * @param of cases that there are to reckon
 * @example learnedFrom(noLessons(), 0, content).calibration.screws // 0
 */
export const learnedFrom = (lessons: Lessons, of: number, content: Content): Learned => ({
  calibration: calibration(lessons, of, content),
  nextTool: nextTool(lessons, of, content),
});
