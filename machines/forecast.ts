/**
 * What to expect of a plan: each screw as an absorbing Markov chain over the ladder. The states are the statechart's
 * own, the next move is the first one open, and the shares are the content's rates or a department's own. An estimate.
 */
import type { MoveId, Outcome } from '../content/ids.ts';
import type { Content, Move, Rate, SourceStatus } from '../content/types.ts';
import type { Room } from './case.context.ts';
import { workedMinutes } from './clocks.ts';
import {
  absorbing,
  convolve,
  quantile,
  slices,
  stretch,
  triangle,
  type Absorption,
  type Chain,
} from './compute/absorb.ts';
import { through } from './compute/through.ts';
import type { Folded, ScrewSnapshot } from './folded.ts';
import { closedBecause, movesFor } from './offer.ts';
import { sameWhen, type OwnRate } from './own-rates.ts';
import { lookedAgain, played } from './play.ts';
import { rateFor } from './rate-for.ts';
import { afterReassessment, isWorking, type ScrewContext } from './screw.context.ts';
import { screwMachine } from './screw.machine.ts';

export interface Forecast {
  screws: Record<string, { out: number; leftIn: number; moves: number }>;
  case: { allOut: number; anyLeft: number; minutes: Spread };
  rates: { move: MoveId; outcome: Outcome; value: number; status: SourceStatus | string }[];
  method: string;
  /** By the second ladder, where the bone broke today: chances and minutes are those of the metal alone. */
  bone?: 'broken';
}

/** Minutes by which so many of a hundred have ended. */
export interface Spread {
  p10: number;
  p50: number;
  p90: number;
}

/** The forecast with what is drawn of it. */
export interface Outlook extends Forecast {
  /** Minutes of a screw's own moves still to come. */
  screwMinutes: Record<string, Spread>;
  /** Share of operations that end within each tick of `tickMinutes`, from 0. */
  ends: Float64Array;
  /** Minutes worked so far, which are part of the whole; null before the start. */
  worked: number | null;
}

/** Half minutes. */
export const tickMinutes = 0.5;
/** Twelve hours. */
const horizon = 12 * 60 * 2;

const method =
  'Absorbing Markov chain over the states of the ladder: at each state the first open move, in ladder order, with the ' +
  'rates listed; a hold is taken as passed after a look. Chances and moves by the fundamental matrix. Minutes: each ' +
  'move triangular, the chain and the sum of all screws and the set-up by convolution in half minutes, screws taken ' +
  'as independent, one after the other; the sum is then stretched by one triangular pace for the whole case; in a ' +
  'running case what was used so far is added. No random numbers. Estimates: most rates are from memory and yours to ' +
  'change.';

type Share = { outcome: Outcome; value: number; status: SourceStatus | string };

/** The rates of one move for one screw, with a department's own in the place of the released ones. */
function sharesOf(content: Content, rate: Rate, own: readonly OwnRate[]): Share[] {
  const status = (id: string) => content.sources.find((row) => row.id === id)?.status ?? 'from-memory';
  const given = own.filter(({ move, when }) => move === rate.move && (!when || sameWhen(when, rate.when)));
  const rest = rate.outcomes.filter(({ outcome }) => !given.some((row) => row.outcome === outcome));
  const left = 1 - given.reduce((sum, { value }) => sum + value, 0);
  const mass = rest.reduce((sum, { value }) => sum + value, 0);
  const scaled = rest.map(({ outcome, value, source }) => ({
    outcome,
    value: given.length === 0 ? value : mass > 0 ? (value / mass) * left : 0,
    status: status(source),
  }));
  return [...given.map(({ outcome, value, status: s }) => ({ outcome, value, status: s ?? 'own' })), ...scaled];
}

/** What of a screw's memory the next moves depend on. */
const keyOf = ({ context: c }: ScrewSnapshot): string =>
  JSON.stringify([
    c.stage,
    c.usedUp,
    Math.min(c.slips, 2),
    c.jammedSeat,
    c.turnOutReopened,
    c.reassessed,
    c.toolInRecess,
    c.reamed,
    c.shankProud,
    // Of what was tried, what and how often: with one room the rest follows.
    c.climb && { ...c.climb, reamings: 0, tries: c.climb.tries.map(({ move, tool }) => `${move} ${tool}`).sort() },
  ]);

interface Ahead {
  chain: Chain;
  used: Map<string, Share & { move: MoveId }>;
}

/** Walks the ladder from a screw's present state. Ends: 0 out, 1 left in. */
function* chainOf(
  content: Content,
  room: Room,
  start: ScrewSnapshot,
  lastIn: boolean,
  own: readonly OwnRate[],
): Generator<void, Ahead> {
  const known = new Map<string, number>();
  const ahead: Ahead = { chain: { states: [], ends: 2 }, used: new Map() };
  const machine = screwMachine(content);
  const place = function* (snapshot: ScrewSnapshot): Generator<void, number> {
    if (snapshot.context.stage === 'out') return -1;
    const move = firstOpen(content, room, snapshot.context, lastIn);
    const rate = move && rateFor(content, move.id, snapshot.context.facts);
    if (!move || !rate) return -2;
    const key = keyOf(snapshot);
    const index = known.get(key);
    if (index !== undefined) return index;
    const fresh = known.size;
    known.set(key, fresh);
    const { low, mid, high } = rate.minutes;
    const ticks = triangle(low / tickMinutes, mid / tickMinutes, high / tickMinutes);
    const state = { steps: [] as { to: number; share: number }[], ticks };
    ahead.chain.states[fresh] = state;
    const reachable = content.rates.shankReachable.value;
    const steps: { next: ScrewSnapshot | null; share: number }[] = [];
    for (const share of sharesOf(content, rate, own)) {
      ahead.used.set(`${rate.move} ${share.outcome} ${share.value}`, { ...share, move: rate.move });
      const { outcome, value } = share;
      const play = (reach: boolean) => {
        const after = played(machine, snapshot, move, { outcome, reachable: reach });
        return after && lookedAgain(machine, after);
      };
      if (outcome === 'shank-broke')
        steps.push(
          { next: play(true), share: value * reachable },
          { next: play(false), share: value * (1 - reachable) },
        );
      else steps.push({ next: play(true), share: value });
      yield;
    }
    const possible = steps.filter(({ next, share }) => next !== null && share > 0);
    const mass = possible.reduce((sum, { share }) => sum + share, 0);
    for (const { next, share } of possible)
      state.steps.push({ to: yield* place(next as ScrewSnapshot), share: share / mass });
    return fresh;
  };
  const first = yield* place(start);
  // A screw with nothing to try is left in at once: one state that leads nowhere else, in no time worth counting.
  if (first < 0) ahead.chain.states = [{ steps: [{ to: first, share: 1 }], ticks: [1] }];
  return ahead;
}

function firstOpen(content: Content, room: Room, screw: ScrewContext, lastIn: boolean): Move | undefined {
  return movesFor(content, screw).find(
    (move) => move.aim !== 'left-in' && closedBecause(move, { screw, reassess: false, lastIn }, room, content) === null,
  );
}

const spreadOf = (time: Float64Array): Spread => {
  const at = (share: number) => quantile(time, share) * tickMinutes;
  return { p10: at(0.1), p50: at(0.5), p90: at(0.9) };
};

/**
 * The forecast for a plan, or for what is left of a running case.
 *
 * @param own a department's shares; the rest of a move's shares is scaled to make up 1
 * @returns chances 0–1, moves to be expected, minutes of the whole operation as 10–50–90 %
 * @example forecast(fold([], content)).case.allOut // 1: nothing is to come out
 */
export function forecast(state: Folded, own: readonly OwnRate[] = []): Forecast {
  const { screws, case: whole, rates, method, bone } = through(forecasting(state, own));
  return { screws, case: whole, rates, method, ...(bone && { bone }) };
}

/**
 * As `forecast`, with what is drawn of it, pausing after every small part: for a screen that must not stand still.
 *
 * @example through(forecasting(fold([], content))).screwMinutes // {}
 */
export function* forecasting(state: Folded, own: readonly OwnRate[] = []): Generator<void, Outlook> {
  const { content } = state;
  const { context } = state.case;
  const { low, mid, high } = content.rates.pace;
  const paces = slices(low, mid, high, 24);
  const screws: Outlook['screws'] = {};
  const screwMinutes: Outlook['screwMinutes'] = {};
  const used: Ahead['used'] = new Map();
  const known = new Map<string, Absorption & { minutes: Spread }>();
  const worked = workedMinutes(context, state.latest);
  let ahead = setUp(content, worked === null ? 1 : 0.5);
  for (const [id, screw] of state.screws) {
    if (!isWorking(screw.context.stage)) {
      const out = screw.context.stage === 'out' ? 1 : 0;
      screws[id] = { out, leftIn: 1 - out, moves: 0 };
      screwMinutes[id] = { p10: 0, p50: 0, p90: 0 };
      continue;
    }
    const lastIn = [...state.screws].every(([other, s]) => other === id || s.context.stage === 'out');
    const { diameter, drive, driveSize, locking } = screw.context.facts;
    const kind = JSON.stringify([keyOf(screw), diameter, drive, driveSize, locking, screw.context.found, lastIn]);
    let solved = known.get(kind);
    if (!solved) {
      const way = yield* chainOf(content, context.room, resting(content, screw), lastIn, own);
      for (const [key, share] of way.used) used.set(key, share);
      const found = yield* absorbing(way.chain, horizon);
      solved = { ...found, minutes: spreadOf(stretch(found.time, paces)) };
      known.set(kind, solved);
    }
    const [out = 0, leftIn = 0] = solved.ends;
    screws[id] = { out, leftIn, moves: solved.steps };
    screwMinutes[id] = solved.minutes;
    ahead = convolve(ahead, solved.time);
    yield;
  }
  const paced = stretch(ahead, paces);
  const whole = later(paced, Math.round((worked ?? 0) / tickMinutes));
  const allOut = Object.values(screws).reduce((product, { out }) => product * out, 1);
  return {
    screws,
    screwMinutes,
    case: { allOut, anyLeft: 1 - allOut, minutes: spreadOf(whole) },
    rates: [...used.values()].map(({ move, outcome, value, status }) => ({ move, outcome, value, status })),
    method,
    ...(content.ladder === 2 && context.room.said.broke && { bone: 'broken' as const }),
    ends: whole,
    worked,
  };
}

/** A screw as if the move that runs had not started, after the look that an open slip asks for. */
function resting(content: Content, screw: ScrewSnapshot): ScrewSnapshot {
  const slipped = screw.matches({ reassess: 'open' } as never);
  if (!screw.context.running && !slipped) return screw;
  const context = { ...(slipped ? afterReassessment(screw.context, false) : screw.context), running: null };
  const value = { ...(screw.value as object), hand: 'empty', reassess: 'closed' } as ScrewSnapshot['value'];
  return screwMachine(content).resolveState({ value, context });
}

/** To the metal and out again; once the work runs, half of it is still to come. */
function setUp(content: Content, part: 1 | 0.5): Float64Array {
  const { low, mid, high } = content.rates.setup;
  const time = new Float64Array(horizon + 1);
  triangle((low / tickMinutes) * part, (mid / tickMinutes) * part, (high / tickMinutes) * part).forEach((share, i) => {
    time[i + 1] = share;
  });
  return time;
}

/** The same time so many ticks later; what would come after the horizon is added to its end. */
function later(time: Float64Array, ticks: number): Float64Array {
  const moved = new Float64Array(horizon + 1);
  time.forEach((share, tick) => {
    const at = Math.min(tick + ticks, horizon);
    moved[at] = (moved[at] as number) + share;
  });
  return moved;
}
