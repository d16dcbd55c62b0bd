/** What stands open: of one screw, of the case, before a move. */
import type { HoldId } from '../content/ids.ts';
import { currentInflation, minutesBetween, workedMinutes } from './clocks.ts';
import { serves } from './compute/fit.ts';
import type { Folded, ScrewSnapshot } from './folded.ts';
import { noHardMetalDrillFits, shavingsNotWashedOut, theatreTimeUsedUp, tourniquetLimitReached } from './guards.ts';
import { secondOf } from './second-ladder.ts';
import { isWorking } from './screw.context.ts';
import type { Situation } from './situation.ts';

/** The screw that is being worked on; null when none was called or it has ended. */
export function calledScrew({ case: { context }, screws }: Folded): string | null {
  const screw = context.called === null ? undefined : screws.get(context.called);
  return screw && isWorking(screw.context.stage) ? context.called : null;
}

/** A washer or a barrel is listed, and nobody has said that it is off. */
export const hasPartsUnderHeads = ({ case: { context } }: Folded): boolean =>
  [...context.parts.values()].some(
    ({ kind, ends, off }) => (kind === 'washer' || kind === 'barrel') && ends.length === 0 && off === null,
  );

/** Is every other listed screw out? */
export const isLastIn = ({ screws }: Pick<Folded, 'screws'>, id: string): boolean =>
  [...screws].every(([other, { context }]) => other === id || context.stage === 'out');

/** What the offer needs to know of a screw; undefined when it isn't listed. */
export function situationOf(state: Folded, id: string): Situation | undefined {
  const screw = state.screws.get(id);
  if (!screw) return undefined;
  const reassess = screw.matches({ reassess: 'open' }) && !screw.context.climb?.lookIsLine;
  const around = secondOf(state.content) !== null && hasPartsUnderHeads(state);
  return { screw: screw.context, reassess, lastIn: isLastIn(state, id), ...(around && { around }) };
}

/**
 * Of the standing holds of one screw those that are a line and no stop: they can be answered, no sheet comes, no move is
 * closed by them, and a start past them is noted nowhere.
 */
export const screwLines = (screw: ScrewSnapshot): HoldId[] =>
  screw.context.climb?.lookIsLine && screwHolds(screw).includes('reassess') ? ['reassess'] : [];

/** Those that stop. */
export const screwStops = (screw: ScrewSnapshot): HoldId[] => {
  const lines = screwLines(screw);
  return screwHolds(screw).filter((hold) => !lines.includes(hold));
};

/** Standing holds of one screw, stops and lines; none once it has ended. */
export function screwHolds(screw: ScrewSnapshot): HoldId[] {
  if (!isWorking(screw.context.stage)) return [];
  return (['reassess', 'second-surgeon'] as const).filter((hold) => screw.matches({ [hold]: 'open' }));
}

/** Tourniquet and theatre time, as of a corrected time. */
export function timedHolds({ case: { context } }: Folded, now: number): HoldId[] {
  const holds: HoldId[] = [];
  const inflation = currentInflation(context);
  if (
    inflation &&
    !inflation.answered &&
    tourniquetLimitReached(minutesBetween(inflation.up, now), context.tourniquetLimit)
  )
    holds.push('tourniquet');
  if (!context.answered.time && theatreTimeUsedUp(workedMinutes(context, now), context.theatreMinutes))
    holds.push('time');
  return holds;
}

/** H6 stands in the briefing, until it is answered or the drill is there. */
export function hardMetalHold(state: Folded): HoldId[] {
  const { room, answered } = state.case.context;
  if (!state.case.matches({ open: { phase: 'briefing' } }) || answered['hard-metal']) return [];
  const screws = [...state.screws.values()].map(({ context }) => context);
  const drill = { anyOf: ['hard-metal-drill' as const] };
  return noHardMetalDrillFits(screws, ({ facts }) => room.tools.some((tool) => serves(tool, drill, facts)))
    ? ['hard-metal']
    : [];
}

/** H9 and H10: from the end of the work; also when a case is closed straight from the work. */
export function closingHolds(state: Folded): HoldId[] {
  const open = state.case.matches({ open: { phase: 'closing' } }) || state.case.matches({ open: { phase: 'working' } });
  if (!open) return [];
  const holds: HoldId[] = shavingsNotWashedOut(state.case.context) ? ['shavings'] : [];
  return state.case.matches({ open: { count: 'answered' } }) ? holds : [...holds, 'count'];
}
