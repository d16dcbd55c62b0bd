/** The department's own numbers as they are printed and shown. */
import { workingStages, type HoldId, type MoveId, type ToolId, type WorkingStage } from '../../content/ids.ts';
import { moveOfAny } from '../../content/names.ts';
import type { Content } from '../../content/types.ts';
import { quartiles, wilson, type Interval, type Minutes, type Spread } from './intervals.ts';
import type { Passed, TryEnd } from './outcome.ts';
import { inOrder } from './order.ts';
import { quarterRows, type QuarterRow } from './quarters.ts';
import type { Cell, Kind, NotCounted, Tally, UseRow } from './tally.ts';
import { wearing } from './uses.ts';

/** So many of so many, with Wilson's 95 % interval; null ends when there was nothing to count. */
export interface Share {
  count: number;
  of: number;
  low: number | null;
  high: number | null;
}

export interface Figures {
  /** Begun and ended; those that only came thread by thread are `wentOn`, and in no share. */
  tries: number;
  wentOn: number;
  /** Fewer tries than `few.below`. */
  few: boolean;
  out: Share;
  /** Brought the job further: out, a preparation done, or a head drilled off on purpose. */
  gain: Share;
  slipped: Share;
  /** Head sheared where that was not the aim, shank broken or tool broken. */
  broke: Share;
  /** Every way in which the tries ended, in the order of the outcomes; `stopped` = left in while the move ran. */
  ends: Partial<Record<TryEnd, number>>;
  /** Start to end of every timed move, those that went on among them. */
  minutes: Spread | null;
}

export type MoveRow = { move: MoveId; stage: WorkingStage } & Figures;
export type KindRow = Kind & Figures;

export interface HoldRow {
  hold: HoldId;
  /** How it was answered and how often; `unanswered` = gone past without a word. */
  answers: Record<string, number>;
  /** Gone past on a word or without one, and what came after. */
  passed: { times: number; next: Record<Passed['next'], number>; fate: Record<'out' | 'left-in' | 'still-in', number> };
}

export interface Report {
  cases: { counted: number; days: Tally['days']; not: Record<NotCounted, number> };
  level: 0.95;
  few: { below: number; source: string };
  /** By move and stage, in ladder order. */
  moves: MoveRow[];
  /** The same by kind of screw besides. */
  kinds: KindRow[];
  left: { stage: WorkingStage; reason: string; screws: number }[];
  stillIn: { stage: WorkingStage; screws: number }[];
  /** Cases in which metal of a screw stayed, by quarter. */
  quarters: QuarterRow[];
  deadEnds: { stage: WorkingStage; missing: ToolId[]; screws: number }[];
  tools: { tool: ToolId; missing: number; broke: number; damaged: number }[];
  holds: HoldRow[];
  /** Drills, taps and reamers, by kind, those in one row that were told apart by no entry. */
  uses: UseRow[];
}

const share = (count: number, of: number): Share => {
  const interval: Interval | null = wilson(count, of);
  return { count, of, low: interval?.low ?? null, high: interval?.high ?? null };
};

/** Cells taken together, as figures. */
export function figures(cells: readonly Cell[], content: Content): Figures {
  const ends: Partial<Record<TryEnd, number>> = {};
  const minutes: Minutes = new Map();
  let [gain, planned] = [0, 0];
  const known: readonly TryEnd[] = [...content.ids.outcomes, 'stopped'];
  for (const cell of cells) {
    for (const end of inOrder(known, cell.ends.keys())) ends[end] = (ends[end] ?? 0) + (cell.ends.get(end) ?? 0);
    for (const [tenths, times] of cell.minutes) minutes.set(tenths, (minutes.get(tenths) ?? 0) + times);
    gain += cell.gain;
    if (moveOfAny(content, cell.move)?.aim === 'head-sheared') planned += cell.ends.get('head-sheared') ?? 0;
  }
  const of = (...names: TryEnd[]) => names.reduce((sum, name) => sum + (ends[name] ?? 0), 0);
  const tries = Object.values(ends).reduce((sum, times) => sum + times, 0) - of('moving');
  return {
    tries,
    wentOn: of('moving'),
    few: tries < content.rates.fewTries.value,
    out: share(of('out'), tries),
    gain: share(gain, tries),
    slipped: share(of('slipped'), tries),
    broke: share(of('head-sheared', 'shank-broke', 'tool-broke') - planned, tries),
    ends,
    minutes: quartiles(minutes),
  };
}

const byStage = <T extends { stage: WorkingStage }>(a: T, b: T) =>
  workingStages.indexOf(a.stage) - workingStages.indexOf(b.stage);

/** Of two names that are never the same. */
const byName = (a: string, b: string) => (a < b ? -1 : 1);

function holdRows({ answers, passed }: Tally, content: Content): HoldRow[] {
  const found = [...answers.values(), ...passed.values()].map(({ hold }) => hold);
  return inOrder(content.ids.holds, found).map((hold) => {
    const given = [...answers.values()].filter((row) => row.hold === hold);
    const past = [...passed.values()].filter((row) => row.hold === hold);
    const times = (rows: typeof past) => rows.reduce((sum, row) => sum + row.times, 0);
    const next = (what: Passed['next']) => times(past.filter((row) => row.next === what));
    const fate = (what: Passed['fate']) => times(past.filter((row) => row.fate === what));
    return {
      hold,
      answers: Object.fromEntries(
        given.sort((a, b) => byName(a.answer, b.answer)).map((row) => [row.answer, row.times]),
      ),
      passed: {
        times: times(past),
        next: { out: next('out'), gain: next('gain'), 'no-gain': next('no-gain'), nothing: next('nothing') },
        fate: { out: fate('out'), 'left-in': fate('left-in'), 'still-in': fate('still-in') },
      },
    };
  });
}

/**
 * The figures of all cases counted so far.
 *
 * @param content moves in its ladder order; how few tries are said to be few
 * @returns counts with Wilson's 95 % intervals, minutes as quartiles; empty lists when nothing was counted
 * @example report(emptyTally(), content).moves // []
 */
export function report(tally: Tally, content: Content): Report {
  const moves = inOrder(
    content.moves.map(({ id }) => id),
    [...tally.cells.values()].map(({ move }) => move),
  );
  const ladder = (move: MoveId) => moves.indexOf(move);
  const cells = [...tally.cells.values()].sort(
    (a, b) =>
      byStage(a, b) ||
      ladder(a.move) - ladder(b.move) ||
      (a.diameter ?? Infinity) - (b.diameter ?? Infinity) ||
      Number(a.locking) - Number(b.locking) ||
      byName(a.material, b.material),
  );
  const groups = new Map<string, Cell[]>();
  for (const cell of cells) {
    const key = `${cell.stage} ${cell.move}`;
    groups.set(key, [...(groups.get(key) ?? []), cell]);
  }
  const { value, source } = content.rates.fewTries;
  return {
    cases: { counted: tally.counted, days: tally.days, not: { ...tally.not } },
    level: 0.95,
    few: { below: value, source: content.sources.find(({ id }) => id === source)?.cite ?? source },
    moves: [...groups.values()].map((group) => {
      const { move, stage } = group[0] as Cell;
      return { move, stage, ...figures(group, content) };
    }),
    kinds: cells.map((cell) => {
      const { move, stage, diameter, locking, material } = cell;
      return { move, stage, diameter, locking, material, ...figures([cell], content) };
    }),
    left: [...tally.left.values()].sort((a, b) => byStage(a, b) || b.screws - a.screws || byName(a.reason, b.reason)),
    stillIn: [...tally.stillIn].map(([stage, screws]) => ({ stage, screws })).sort(byStage),
    quarters: quarterRows(tally.quarters),
    deadEnds: [...tally.deadEnds.values()].sort(
      (a, b) => byStage(a, b) || b.screws - a.screws || byName(a.missing.join(), b.missing.join()),
    ),
    tools: inOrder(content.ids.tools, tally.tools.keys()).map((tool) => ({
      tool,
      ...(tally.tools.get(tool) as { missing: number; broke: number; damaged: number }),
    })),
    holds: holdRows(tally, content),
    uses: [...tally.uses.values()].sort(
      (a, b) =>
        wearing.indexOf(a.tool) - wearing.indexOf(b.tool) ||
        Number(a.measures === null) - Number(b.measures === null) ||
        byName(JSON.stringify(a.measures), JSON.stringify(b.measures)),
    ),
  };
}
