/**
 * What to expect of a plan: each screw as an absorbing Markov chain over the ladder. The states are the statechart's
 * own, the next move is the first one open, and the shares are the content's rates or a department's own. An estimate.
 */
import { transition } from 'xstate';
import { outcomes, type MoveId, type Outcome } from '../content/ids.ts';
import type { Content, Move, Rate, Status } from '../content/types.ts';
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
import type { Fault } from './entry.ts';
import type { Folded, ScrewSnapshot } from './fold.ts';
import { belongs, closedBecause } from './offer.ts';
import { rateFor } from './rate-for.ts';
import { afterReassessment, isWorking, type ScrewContext } from './screw.context.ts';
import { screwMachine } from './screw.machine.ts';

/** A department's own share for one outcome of a move. */
export interface OwnRate {
  move: MoveId;
  /** As in the released rates; `{}` = the row for all other screws; left out = every row of the move. */
  when?: Partial<NonNullable<Rate['when']>>;
  outcome: Outcome;
  value: number;
  status?: string;
}

export interface Forecast {
  screws: Record<string, { out: number; leftIn: number; moves: number }>;
  case: { allOut: number; anyLeft: number; minutes: Spread };
  rates: { move: MoveId; outcome: Outcome; value: number; status: Status | string }[];
  method: string;
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

type Share = { outcome: Outcome; value: number; status: Status | string };

const sameWhen = (a: OwnRate['when'], b: OwnRate['when']) => a?.locking === b?.locking && a?.upTo === b?.upTo;

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

const time = '2000-01-01T00:00:00Z';

/** Plays one move to one outcome on the statechart, looking again where that is asked for. */
function played(
  content: Content,
  from: ScrewSnapshot,
  move: Move,
  outcome: Outcome,
  reachable: boolean,
): ScrewSnapshot | null {
  const machine = screwMachine(content);
  const common = { n: 1, at: time, logged: time, screw: from.context.id };
  const end = outcome === 'shank-broke' ? { outcome, reachable } : { outcome };
  const events = [
    { type: 'move-started', steady: 0, move, projected: [], entry: { ...common, type: 'move-started', move: move.id } },
    { type: 'move-ended', steady: 0, entry: { ...common, type: 'move-ended', recovered: 0, bores: [], ...end } },
  ];
  let now = from;
  for (const event of events) {
    if (!now.can(event as never)) return null;
    now = transition(machine, now, event as never)[0];
  }
  const look = { type: 'reassessed', steady: 0, entry: { ...common, type: 'reassessed', checks: {} } };
  return now.matches({ reassess: 'open' } as never) ? transition(machine, now, look as never)[0] : now;
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
      ahead.used.set(`${move.id} ${share.outcome} ${share.value}`, { ...share, move: move.id });
      const { outcome, value } = share;
      const play = (reach: boolean) => played(content, snapshot, move, outcome, reach);
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
  if (!isWorking(screw.stage)) return undefined;
  return content.moves.find(
    (move) =>
      move.aim !== 'left-in' &&
      belongs(move, screw) &&
      closedBecause(move, { screw, reassess: false, lastIn }, room) === null,
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
  const { screws, case: whole, rates, method } = through(forecasting(state, own));
  return { screws, case: whole, rates, method };
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
  const whole = worked === null ? paced : later(paced, Math.round(worked / tickMinutes));
  const allOut = Object.values(screws).reduce((product, { out }) => product * out, 1);
  return {
    screws,
    screwMinutes,
    case: { allOut, anyLeft: 1 - allOut, minutes: spreadOf(whole) },
    rates: [...used.values()].map(({ move, outcome, value, status }) => ({ move, outcome, value, status })),
    method,
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
  return screwMachine(content).resolveState({ value, context }) as ScrewSnapshot;
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

/** The same time so many ticks later; what would lie beyond the horizon gathers at its end. */
function later(time: Float64Array, ticks: number): Float64Array {
  const moved = new Float64Array(horizon + 1);
  time.forEach((share, tick) => {
    const at = Math.min(tick + ticks, horizon);
    moved[at] = (moved[at] as number) + share;
  });
  return moved;
}

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/**
 * Checks a department's own rates: a list of `{ move, when?, outcome, value, status? }`, the values of a move, or of
 * one of its kinds of screw, adding up to at most 1.
 *
 * @example readRates([{ move: 'turn-out', outcome: 'out', value: 2 }], content) // { faults: [{ path: '[0].value', … }] }
 */
export function readRates(value: unknown, content: Content): { rates: OwnRate[] } | { faults: Fault[] } {
  if (!Array.isArray(value)) return { faults: [{ path: 'file', message: 'expected a list' }] };
  const faults: Fault[] = [];
  const sums = new Map<string, number>();
  const seen = new Set<string>();
  value.forEach((row: unknown, i) => {
    const fault = (key: string, message: string) => faults.push({ path: `[${i}]${key}`, message });
    if (!isObject(row)) return void fault('', 'expected an object');
    for (const key of Object.keys(row))
      if (!['move', 'when', 'outcome', 'value', 'status'].includes(key)) fault(`.${key}`, 'unknown field');
    const rows = content.rates.moves.filter(({ move }) => move === row.move);
    if (rows.length === 0) fault('.move', 'not a move that has rates');
    const { when } = row;
    if (when !== undefined && (!isObject(when) || !rows.some((rate) => sameWhen(when, rate.when))))
      return void fault('.when', 'not one of the kinds of screw that this move has rates for');
    if (!(outcomes as readonly unknown[]).includes(row.outcome)) fault('.outcome', 'unknown outcome');
    if (typeof row.value !== 'number' || !(row.value >= 0 && row.value <= 1))
      return void fault('.value', 'must lie between 0 and 1');
    if (row.status !== undefined && typeof row.status !== 'string') fault('.status', 'expected text');
    const kind = `${String(row.move)} ${when ? JSON.stringify([when.locking, when.upTo]) : 'all'}`;
    const key = `${kind} ${String(row.outcome)}`;
    if (seen.has(key)) fault('', 'given twice');
    seen.add(key);
    if (value.some((other: unknown) => isObject(other) && other.move === row.move && !other.when === !!when))
      fault('.when', 'given for some rows of this move and left out in others');
    const sum = (sums.get(kind) ?? 0) + row.value;
    sums.set(kind, sum);
    if (sum > 1 + 1e-9) fault('.value', 'the shares of this move add up to more than 1');
  });
  return faults.length ? { faults } : { rates: value as OwnRate[] };
}
