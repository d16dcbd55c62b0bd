/**
 * Outcomes dealt for a rehearsal of a plan: of the ends that the statechart takes from where a screw stands, by the rates
 * that the forecast of this plan rests on. Nothing of it is a prediction for one screw; it is one of the many operations
 * that the forecast reckons with.
 */
import type { Outcome } from '../content/ids.ts';
import { moveOf } from '../content/moves.ts';
import type { Content, Move } from '../content/types.ts';
import { keepsAfterSlips, sharesAt } from './chain.ts';
import { randomFrom, type Random } from './compute/draws.ts';
import { patientAt, patientWeights, sharesFor } from './difficulty.ts';
import type { Folded, ScrewSnapshot } from './folded.ts';
import type { OwnRate } from './own-rates.ts';
import { eventsOf, type SupposedEnd } from './play.ts';
import { rowOf } from './prior.ts';
import { rateFor } from './rate-for.ts';
import { screwMachine } from './screw.machine.ts';
import { attemptsOf } from './trace.ts';
import { transition } from './transition.ts';

/** How a move ends in a rehearsal. `reachable` belongs to `shank-broke` alone. */
export interface Deal {
  outcome: Outcome;
  reachable?: boolean;
  /** How long it took, minutes; 0 where the release has none for the move. */
  minutes: number;
}

export interface Dealer {
  /**
   * How the move ends that runs on a screw.
   *
   * @param state of the rehearsal so far
   * @returns null where none runs, or where the release has no rates for it: then the team says how it ended
   */
  deal: (state: Folded, screw: string) => Deal | null;
}

/** An end that a running move can come to, and its share among those that it can. */
export interface PossibleEnd extends Pick<SupposedEnd, 'outcome' | 'reachable'> {
  share: number;
}

/** A whole number for a text, by FNV-1a (Fowler, Noll, Vo, public domain; from memory), so that a word draws the same everywhere. */
function numberOf(text: string): number {
  let hash = 0x811c9dc5;
  for (const char of text) hash = Math.imul(hash ^ (char.codePointAt(0) as number), 0x01000193);
  return hash >>> 0;
}

const taken = new WeakMap<ScrewSnapshot, Map<string, boolean>>();

/** Does the statechart take this end of the move that runs? Asked of it once for each end. */
function takes(content: Content, screw: ScrewSnapshot, move: Move, end: SupposedEnd): boolean {
  const known = taken.get(screw) ?? new Map<string, boolean>();
  taken.set(screw, known);
  const key = `${end.outcome} ${end.reachable}`;
  let answer = known.get(key);
  if (answer === undefined) {
    answer = transition(screwMachine(content), screw, eventsOf(screw.context.id, move, end)[1]) !== null;
    known.set(key, answer);
  }
  return answer;
}

/**
 * The ends that a running move can come to for a patient, adding up to 1; none where the release has no rates for it.
 *
 * @param screw on which a move runs
 * @param patient place on the line from easy to hard, as in `difficulty.ts`
 */
export function possibleEnds(
  content: Content,
  screw: ScrewSnapshot,
  own: readonly OwnRate[],
  patient: number,
): PossibleEnd[] {
  const { running, facts } = screw.context;
  const rate = running && rateFor(content, running.move, facts);
  if (!rate) return [];
  const move = moveOf(content, rate.move);
  const row = rowOf(content, rate, own);
  const values = sharesAt({ row, keeps: keepsAfterSlips(content, screw.context, move) }, sharesFor(row, patient));
  const reach = content.rates.shankReachable.value;
  const ends = row.shares.flatMap(({ outcome }, i): PossibleEnd[] => {
    const share = values[i] as number;
    if (outcome !== 'shank-broke') return [{ outcome, share }];
    return [
      { outcome, reachable: true, share: share * reach },
      { outcome, reachable: false, share: share * (1 - reach) },
    ];
  });
  const possible = ends.filter((end) => end.share > 0 && takes(content, screw, move, end));
  const mass = possible.reduce((sum, { share }) => sum + share, 0);
  return possible.map((end) => ({ ...end, share: end.share / mass }));
}

/** The end below which a share of all lies. */
function endAt(ends: readonly PossibleEnd[], share: number): PossibleEnd | undefined {
  let sum = 0;
  return ends.find((end) => (sum += end.share) >= share) ?? ends.at(-1);
}

/** Minutes by a triangle from low over mid to high, below which a share of all lies. */
export function minutesAt({ low, mid, high }: { low: number; mid: number; high: number }, share: number): number {
  if (high <= low) return low;
  const rising = (mid - low) / (high - low);
  return share < rising
    ? low + Math.sqrt(share * (high - low) * (mid - low))
    : high - Math.sqrt((1 - share) * (high - low) * (high - mid));
}

/**
 * Deals for one rehearsal of a plan. The same seed deals the same patient, and to the same try of a move on a screw the
 * same luck, in whatever order the screws are gone about: what was taken back and is done again ends as before.
 *
 * @param plan as it stands before the rehearsal
 * @param own rates of the department, as the forecast of the plan rests on them
 * @param seed whole number, 0 to 4,294,967,295
 * @example dealerFor(plan, [], 7).deal(plan, '1') // null: no move runs
 */
export function dealerFor(plan: Folded, own: readonly OwnRate[], seed: number): Dealer {
  const { content } = plan;
  const luck = (of: string): Random => randomFrom(numberOf(`${seed} ${of}`));
  const patient = patientAt(luck('patient')(), patientWeights(plan, own));
  return {
    deal(state, id) {
      const screw = state.screws.get(id);
      const running = screw?.context.running;
      if (!screw || !running) return null;
      const { move, entry } = running;
      const tries = attemptsOf(state.trace).filter((one) => one.screw === id && one.move === move);
      const before = tries.filter(({ start }) => start.n < entry).length;
      const random = luck(JSON.stringify([id, move, before]));
      const end = endAt(possibleEnds(content, screw, own, patient), random());
      if (!end) return null;
      const minutes = rateFor(content, move, screw.context.facts)?.minutes ?? { low: 0, mid: 0, high: 0 };
      const { outcome, reachable } = end;
      return { outcome, ...(reachable !== undefined && { reachable }), minutes: minutesAt(minutes, random()) };
    },
  };
}
