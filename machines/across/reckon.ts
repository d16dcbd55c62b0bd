/**
 * What is learned from one case: its forecast as it was before the first move, by the content and the rates that stood
 * then, beside what came of it; and the dead ends of its plan. Slow, so it pauses often.
 */
import type { WorkingStage } from '../../content/ids.ts';
import type { Content } from '../../content/types.ts';
import type { Entry } from '../entry.ts';
import { step, unfolded } from '../fold.ts';
import type { Folded, ScrewSnapshot } from '../folded.ts';
import { expecting } from '../forecast.ts';
import type { OwnRate } from '../own-rates.ts';
import type { Course } from './course.ts';
import type { CaseOutcome } from './outcome.ts';
import { needsOf, type Item, type Unsaid } from './needs.ts';
import type { Spread } from '../outlook-times.ts';

/** How long metal has been in, in bands. Common practice, no source. */
export const monthBands = ['to-12', 'to-24', 'over-24', 'unknown'] as const;
export type MonthBand = (typeof monthBands)[number];

/**
 * The band of so many months.
 *
 * @param months since it was placed; undefined when nobody knows
 * @example monthBand(24) // 'to-24'
 */
export function monthBand(months: number | undefined): MonthBand {
  if (months === undefined) return 'unknown';
  if (months <= 12) return 'to-12';
  return months <= 24 ? 'to-24' : 'over-24';
}

/** By what screws are told apart. */
export interface Sort {
  stage: WorkingStage;
  locking: 'yes' | 'no' | 'unknown';
  months: MonthBand;
  /** Id of a bone of the content; `own-words` for any other text, which is carried out of no case. */
  bone: string;
}

/** A screw whose forecast can be held against what came of it. */
export interface Judged extends Sort {
  /** The chance that it comes out, 0–1, as it was given before the first move. */
  forecast: number;
  /** Bone and agreed time were known; else the forecast said "if they allow". */
  bounded: boolean;
  out: boolean;
}

/** Why a screw is in no figure of a calibration. */
export const notJudgedReasons = [
  'still-open',
  'unsaid',
  'not-tried',
  'listed-later',
  'ended-before',
  'told-later',
] as const;
export type NotJudged = (typeof notJudgedReasons)[number];

/** Why the minutes of a case are in no figure. */
export const notTimedReasons = ['still-open', 'not-known', 'unfinished', 'told-later'] as const;
export type NotTimed = (typeof notTimedReasons)[number];

/** A dead end of a plan with its chance to be come to. */
export interface Weighed {
  sets: readonly (readonly Item[])[];
  /** 0–1. */
  chance: number;
}

export interface Reckoned {
  judged: Judged[];
  notJudged: NotJudged[];
  minutes: (Spread & { taken: number }) | NotTimed;
  deadEnds: {
    open: Weighed[];
    cannotSay: (Pick<Unsaid, 'unknown'> & { chance: number })[];
    closed: { chance: number }[];
  };
}

/** The plan of a case: the state before its first move, as the log told it then, when that move began. */
function* planOf(
  entries: readonly Entry[],
  { planned, firstAt }: Course,
  content: Content,
  format: number,
): Generator<void, Folded> {
  const then = entries.slice(0, planned);
  let state = unfolded(content, undefined, format);
  for (const entry of then) {
    state = step(state, entry, then);
    yield;
  }
  return { ...state, latest: Math.max(state.latest, firstAt ?? -Infinity) };
}

function sortOf(plan: Folded, { context: { facts, stage } }: ScrewSnapshot): Sort {
  const { opened } = plan.case.context.room;
  const bone = opened?.bone ?? '';
  return {
    stage: stage as WorkingStage,
    locking: facts.assumed?.includes('locking') ? 'unknown' : facts.locking ? 'yes' : 'no',
    months: monthBand(opened?.placedMonthsAgo),
    bone: plan.content.bones.some(({ id }) => id === bone) ? bone : 'own-words',
  };
}

/**
 * Reckons one case.
 *
 * @param entries checked entries, as they were written
 * @param outcome what `readingOutcome` gave for them
 * @param own the department's own rates as they stood before its first move: its own tries must not be in them
 * @param format that the log begins in
 * @example through(reckoning([], caseOutcome([], content), content, [])).judged // []
 */
export function* reckoning(
  entries: readonly Entry[],
  { course, phase }: Pick<CaseOutcome, 'course' | 'phase'>,
  content: Content,
  own: readonly OwnRate[],
  format = 1,
): Generator<void, Reckoned> {
  const plan = yield* planOf(entries, course, content, format);
  const { screws: expected, minutes } = yield* expecting(plan, own);
  const needs = yield* needsOf(plan);
  const isOpen = phase !== 'closed';
  const judged: Judged[] = [];
  const notJudged: NotJudged[] = [];
  for (const [id, { fate, tried }] of Object.entries(course.screws)) {
    const screw = plan.screws.get(id);
    const then = expected[id];
    if (isOpen) notJudged.push('still-open');
    else if (course.toldLater) notJudged.push('told-later');
    else if (!screw) notJudged.push('listed-later');
    else if (!then) notJudged.push('ended-before');
    else if (fate === 'unsaid') notJudged.push('unsaid');
    else if (!tried) notJudged.push('not-tried');
    else judged.push({ ...sortOf(plan, screw), forecast: then.out, bounded: then.bounded, out: fate === 'out' });
  }
  const timed = (): Reckoned['minutes'] => {
    if (isOpen) return 'still-open';
    if (course.toldLater) return 'told-later';
    if (Object.values(course.screws).some(({ fate }) => fate === 'unsaid')) return 'unfinished';
    const isForecast = Object.keys(expected).length > 0 && course.begunAt !== null;
    return course.minutes === null || !isForecast ? 'not-known' : { ...minutes, taken: course.minutes };
  };
  const chanceOf = ({ screw, stage }: { screw: string; stage: WorkingStage }) => expected[screw]?.comesTo[stage] ?? 0;
  return {
    ...{ judged, notJudged, minutes: timed() },
    deadEnds: {
      open: needs.open.map((one) => ({ sets: one.sets, chance: chanceOf(one) })),
      cannotSay: needs.cannotSay.map((one) => ({ unknown: one.unknown, chance: chanceOf(one) })),
      closed: needs.closed.map((one) => ({ chance: chanceOf(one) })),
    },
  };
}
