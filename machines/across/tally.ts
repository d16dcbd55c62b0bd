/**
 * The department's own numbers, case by case. What is kept grows with the kinds of moves, screws and reasons there are,
 * not with the number of cases, but for 16 digits a case by which the same case in two files is counted once.
 */
import type { HoldId, MoveId, ToolId, WorkingStage } from '../../content/ids.ts';
import type { Content } from '../../content/types.ts';
import type { Entry } from '../entry.ts';
import type { ScrewFacts } from '../screw.context.ts';
import type { Minutes } from './intervals.ts';
import { fateOf, quarterOf, type QuarterCounts } from './quarters.ts';
import type { Wear, Which } from './uses.ts';
import { caseOutcome, type CaseOutcome, type Passed, type TryEnd } from './outcome.ts';

/** What distinguishes one kind of try from another. */
export interface Kind {
  move: MoveId;
  stage: WorkingStage;
  /** mm */
  /** mm; null when nobody knew. */
  diameter: number | null;
  locking: boolean;
  material: ScrewFacts['material'];
}

export interface Cell extends Kind {
  ends: Map<TryEnd, number>;
  /** Tries that brought the job further, those that only came thread by thread left out. */
  gain: number;
  minutes: Minutes;
}

/** Why a case is in none of the figures. */
export type NotCounted = 'open' | 'unopened' | 'twice' | 'invented' | 'broken' | 'unreadable';

export interface Tally {
  counted: number;
  /** First and last day on which a counted case was opened. */
  days: { from: string; to: string } | null;
  not: Record<NotCounted, number>;
  seen: Set<string>;
  cells: Map<string, Cell>;
  left: Map<string, { stage: WorkingStage; reason: string; screws: number }>;
  stillIn: Map<WorkingStage, number>;
  /** By quarter of the opening; null: no day. */
  quarters: Map<string | null, QuarterCounts>;
  deadEnds: Map<string, { stage: WorkingStage; missing: ToolId[]; screws: number }>;
  tools: Map<ToolId, { missing: number; broke: number; damaged: number }>;
  answers: Map<string, { hold: HoldId; answer: string; times: number }>;
  passed: Map<string, Omit<Passed, 'screw'> & { times: number }>;
  uses: Map<string, UseRow>;
}

/** A drill, a tap or a reamer by its measures: what it was used for, and what entries say became of it. */
export interface UseRow extends Which {
  uses: number;
  /** Uses in which the entry named it; the others were moves made with nothing else. */
  named: number;
  /** Screws that it was used on, each once a case. */
  screws: number;
  slipped: number;
  broke: number;
  jammed: number;
  /** Entries that it was damaged, by what they say of it, and how many of them say that its tip is missing. */
  damage: Partial<Record<Wear['what'], number>>;
  tipMissing: number;
}

/** Nothing counted yet. */
export const emptyTally = (): Tally => ({
  counted: 0,
  days: null,
  not: { open: 0, unopened: 0, twice: 0, invented: 0, broken: 0, unreadable: 0 },
  seen: new Set(),
  cells: new Map(),
  left: new Map(),
  stillIn: new Map(),
  quarters: new Map(),
  deadEnds: new Map(),
  tools: new Map(),
  answers: new Map(),
  passed: new Map(),
  uses: new Map(),
});

/** The row under a key, made when it is first asked for. */
function rowOf<K, V>(rows: Map<K, V>, key: K, make: () => V): V {
  let row = rows.get(key);
  if (row === undefined) rows.set(key, (row = make()));
  return row;
}

const more = <K>(counts: Map<K, number>, key: K) => counts.set(key, (counts.get(key) ?? 0) + 1);

/** Notes a case that is in none of the figures. */
export function passOver(tally: Tally, why: NotCounted): NotCounted {
  tally.not[why] += 1;
  return why;
}

/**
 * Adds what one case brought, once. A case that is not closed is only noted: what is still going on has no end to count.
 *
 * @returns whether it was counted, and if not, why; changes `tally`
 */
export function addOutcome(tally: Tally, outcome: CaseOutcome): 'counted' | NotCounted {
  if (outcome.phase !== 'closed') return passOver(tally, outcome.phase);
  if (tally.seen.has(outcome.id)) return passOver(tally, 'twice');
  tally.seen.add(outcome.id);
  tally.counted += 1;
  const { day } = outcome;
  if (day !== null) {
    const { from, to } = tally.days ?? { from: day, to: day };
    tally.days = { from: day < from ? day : from, to: day > to ? day : to };
  }
  const quarter = rowOf(tally.quarters, day === null ? null : quarterOf(day), () => ({ stays: 0, none: 0, unsaid: 0 }));
  quarter[fateOf(outcome)] += 1;
  for (const one of outcome.tries) addTry(tally, one, outcome);
  for (const { stage, reason } of outcome.left)
    rowOf(tally.left, `${stage} ${reason}`, () => ({ stage, reason, screws: 0 })).screws += 1;
  for (const { stage } of outcome.stillIn) more(tally.stillIn, stage);
  for (const { stage, missing } of outcome.deadEnds)
    rowOf(tally.deadEnds, `${stage} ${missing.join()}`, () => ({ stage, missing, screws: 0 })).screws += 1;
  const tool = (id: ToolId) => rowOf(tally.tools, id, () => ({ missing: 0, broke: 0, damaged: 0 }));
  for (const row of outcome.missing) tool(row.tool).missing += 1;
  for (const id of outcome.broke) tool(id).broke += 1;
  for (const id of outcome.damaged) tool(id).damaged += 1;
  for (const { hold, answer } of outcome.answers)
    rowOf(tally.answers, `${hold} ${answer}`, () => ({ hold, answer, times: 0 })).times += 1;
  for (const { hold, next, fate } of outcome.passed)
    rowOf(tally.passed, `${hold} ${next} ${fate}`, () => ({ hold, next, fate, times: 0 })).times += 1;
  addUses(tally, outcome);
  return 'counted';
}

function addUses(tally: Tally, { uses, wears }: CaseOutcome) {
  const row = ({ tool, measures }: Which) =>
    rowOf(tally.uses, JSON.stringify([tool, measures]), (): UseRow => ({
      ...{ tool, measures, uses: 0, named: 0, screws: 0, slipped: 0, broke: 0, jammed: 0, damage: {}, tipMissing: 0 },
    }));
  const seen = new Set<string>();
  for (const use of uses) {
    const one = row(use);
    one.uses += 1;
    if (use.named) one.named += 1;
    if (use.end !== 'other') one[use.end] += 1;
    const key = JSON.stringify([use.tool, use.measures, use.screw]);
    if (!seen.has(key)) one.screws += 1;
    seen.add(key);
  }
  for (const wear of wears) {
    const one = row(wear);
    one.damage[wear.what] = (one.damage[wear.what] ?? 0) + 1;
    if (wear.tipMissing) one.tipMissing += 1;
  }
}

function addTry(
  tally: Tally,
  { move, stage, end, gain, minutes, screw }: CaseOutcome['tries'][number],
  { facts }: CaseOutcome,
) {
  const { diameter, locking, material } = facts[screw] as CaseOutcome['facts'][string];
  const kind: Kind = { move, stage, diameter, locking, material };
  const cell = rowOf(tally.cells, Object.values(kind).join(' '), (): Cell => ({
    ...kind,
    ends: new Map(),
    gain: 0,
    minutes: new Map(),
  }));
  more(cell.ends, end);
  if (gain && end !== 'moving') cell.gain += 1;
  if (minutes !== null) more(cell.minutes, Math.round(minutes * 10));
}

/**
 * Adds one case from its entries.
 *
 * @param entries checked entries, 1, 2, 3 …
 * @param content the version the case was written with
 * @returns whether it was counted, and if not, why; changes `tally`
 * @example addCase(emptyTally(), [], content) // 'unopened'
 */
export const addCase = (
  tally: Tally,
  entries: readonly Entry[],
  content: Content,
  format?: number,
): 'counted' | NotCounted => addOutcome(tally, caseOutcome(entries, content, format));
