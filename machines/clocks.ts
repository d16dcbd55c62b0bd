/**
 * Clocks, derived from entries alone, in minutes. Times are corrected ms: the log's times with the jumps of the device
 * clock taken out, so that an interval is a plain difference.
 */
import type { Content } from '../content/types.ts';
import type { CaseContext } from './case.context.ts';
import type { Inflation } from './cuff.ts';
import type { Entry } from './entry.ts';
import { epoch } from './time.ts';
import type { Clocks } from './view.types.ts';

/** A jump of the device clock: positive `seconds` = the wall clock moved forward. */
export interface Jump {
  n: number;
  at: number;
  seconds: number;
}

/**
 * Corrected time of an entry by rules 1: a jump counts for what was entered after it and happened, by what was written,
 * after it. Wrong once a clock was set forward and back: what lies between the two is counted on the other side of one.
 *
 * @param at ms since 1970 as written, @param n number of the entry
 * @example correctedByWriting(7_200_000, 9, [{ n: 5, at: 3_600_000, seconds: 60 }]) // 7_140_000
 */
export const correctedByWriting = (at: number, n: number, jumps: readonly Jump[]): number =>
  jumps.reduce((ms, jump) => (n > jump.n && at >= jump.at ? ms - jump.seconds * 1000 : ms), at);

/**
 * Corrected time of an entry: its `at` stands in the device clock in force when it was logged, so every jump logged
 * before it is taken out, and that of a `clock-jumped` itself. A clock set forward and back leaves a duration across
 * both as if nothing had happened. Exact by the jumps that are told; one below 2 s is not, so a duration may be off by
 * up to 2 s (`src/device/clock.ts`).
 *
 * @param at ms since 1970 as written, @param n number of the entry; Infinity for now
 * @example correctedTime(3_600_000, 9, [{ n: 5, at: 7_200_000, seconds: 60 }]) // 3_540_000
 */
export const correctedTime = (at: number, n: number, jumps: readonly Jump[]): number =>
  jumps.reduce((ms, jump) => (n >= jump.n ? ms - jump.seconds * 1000 : ms), at);

/**
 * The jumps of the device clock with that of this entry. Taken up again after a gap of unknown length, what follows
 * stands after all that stood before, so a clock that then shows less has jumped by as much at least.
 *
 * @param seen latest corrected time of what stood before, ms
 */
export function jumpsWith(
  jumps: readonly Jump[],
  entry: Entry,
  seen: number,
  corrected: (at: number, n: number, jumps: readonly Jump[]) => number,
): readonly Jump[] {
  const { n } = entry;
  const at = epoch(entry.at);
  if (entry.type === 'clock-jumped') return [...jumps, { n, at, seconds: entry.seconds }];
  if (entry.type !== 'resumed' || entry.gap === 'known') return jumps;
  const behind = corrected(at, n, jumps) - seen;
  return behind < 0 ? [...jumps, { n, at, seconds: behind / 1000 }] : jumps;
}

export const minutesBetween = (from: number, to: number): number => Math.max(0, (to - from) / 60_000);

/** The inflation that stands now, if any. */
export const currentInflation = (context: Pick<CaseContext, 'inflations'>): Inflation | null => {
  const last = context.inflations.at(-1);
  return last && last.down === null ? last : null;
};

/** Minutes worked up to `now` or the end of the work, whichever came first; null before it began. */
export const workedMinutes = (context: CaseContext, now: number): number | null =>
  context.workStarted === null ? null : minutesBetween(context.workStarted, Math.min(now, context.workEnded ?? now));

/**
 * Every clock as of `now`.
 *
 * @param now corrected ms
 * @param moveSince corrected ms at which the move began that is running, or null
 * @returns minutes; `antibioticDueMinutes` negative when overdue, null when none was given or none is due again
 */
export function clocks(content: Content, context: CaseContext, moveSince: number | null, now: number): Clocks {
  const current = currentInflation(context);
  const lastDown = context.inflations.findLast(({ down }) => down !== null)?.down ?? undefined;
  const { lastDose } = context;
  const drug = lastDose && content.antibiotics.find(({ id }) => id === lastDose.drug.trim().toLowerCase());
  return {
    caseMinutes: workedMinutes(context, now),
    moveMinutes: moveSince === null ? null : minutesBetween(moveSince, now),
    tourniquetUp: current !== null,
    tourniquetMinutes: current ? minutesBetween(current.up, now) : 0,
    tourniquetTotalMinutes: context.inflations.reduce((sum, { up, down }) => sum + minutesBetween(up, down ?? now), 0),
    reperfusionMinutes: lastDown === undefined ? null : minutesBetween(lastDown, now),
    antibioticDueMinutes:
      lastDose && drug && drug.redoseHours !== null
        ? drug.redoseHours * 60 - (now - lastDose.corrected) / 60_000
        : null,
    shots: context.shots,
  };
}
