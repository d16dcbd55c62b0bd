/**
 * What to expect of a plan: each screw as a chain over the ladder with ends to be told apart, the metal of a patient alike
 * in how hard it comes, the rates as sure as what they rest on. An estimate, with its band.
 */
import { isLastIn } from './standing.ts';
import type { MoveId, Outcome, WorkingStage } from '../content/ids.ts';
import { alikeness } from '../content/series.ts';
import type { Content, SourceStatus } from '../content/types.ts';
import { isPlateOn, type Room } from './case.context.ts';
import { isBoneKnown, ladderFrom, tickMinutes } from './chain.ts';
import { workedMinutes } from './clocks.ts';
import { randomFrom } from './compute/draws.ts';
import { through } from './compute/through.ts';
import { patientAt, patientWeights } from './difficulty.ts';
import {
  endsOf,
  estimate,
  lookAhead,
  mean,
  soonMinutes,
  type Ahead,
  type Draw,
  type Ends,
  type Estimate,
  type Looks,
  type Seen,
} from './estimates.ts';
import type { Folded, ScrewSnapshot } from './folded.ts';
import { spreadOf, timesOf, type Counted, type Spread, type Times } from './outlook-times.ts';
import type { OwnRate } from './own-rates.ts';
import type { Kind, Share } from './prior.ts';
import { comingTo } from './reach.ts';
import { heldBy } from './readiness.ts';
import { afterReassessment, isWorking, metalOf } from './screw.context.ts';
import { screwMachine } from './screw.machine.ts';
import { drawn, drawnRows, grouped, solving, type Chances, type Solved } from './solved.ts';

export { tickMinutes, soonMinutes };
export type { Ahead, Ends, Estimate, Looks, Spread };

export interface Forecast {
  screws: Record<string, Ends & { moves: number }>;
  case: { allOut: Estimate; anyStays: Estimate; minutes: Spread };
  /** Of what it counts with, how much was published, is the department's own, is from memory: 0–1, adding up to 1. */
  knows: Record<Kind, number>;
  rates: { move: MoveId; outcome: Outcome; value: number; status: SourceStatus | string }[];
  method: string;
  ignores: string[];
  /** By the second ladder, where the bone broke today: chances and minutes are those of the metal alone. */
  bone?: 'broken';
}

/** What the forecast does not reckon with; worded by `ignoredWords` and by the screens. */
export type Ignored = keyof typeof ignoredWords;

/** The forecast with what is drawn of it. */
export interface Outlook extends Omit<Forecast, 'ignores'> {
  ignored: Ignored[];
  /** Minutes of a screw's own moves still to come. */
  screwMinutes: Record<string, Spread>;
  /** Of each screw that is in: its next move, its next half hour, and all that is still to come. */
  ahead: Record<string, Looks>;
  /** Share of operations that end within each tick of `tickMinutes`, from 0. */
  ends: Float64Array;
  /** Minutes worked so far, which are part of the whole; null before the start. */
  worked: number | null;
}

const method =
  'Absorbing Markov chain over the states of the ladder: at each state the first open move, in ladder order, that stays ' +
  'within the limit of bone; a hold is taken as passed after a look; a piece is reamed once and the sleeve follows; each ' +
  'slip that went before halves the chance of a later driver move (rule of thumb); paths that fewer than 1 in 10,000 come ' +
  'by are left out. How hard the metal of a patient comes, its screws and moves share (beta-binomial, correlation ' +
  `${alikeness.value}, ${alikeness.source}; that it holds for later moves as for the first is an assumption, no source); ` +
  'what was tried in the case so far moves it. Each row of rates is a Dirichlet distribution that weighs as many tries as ' +
  'its source counted, memory at most four, own counts on top; the band holds eight of ten of 150 draws of rates and ' +
  'patient, widened to hold the mean. Minutes: each move triangular, screws one after the other in any order, the sum stretched by one ' +
  'pace; in a running case what was used so far is added. Seeded: the same on every machine. An estimate, not a promise.';

export const ignoredWords = {
  bone: 'the cortex limit: the bone was not measured at every screw, so nobody can say where it would stop the work',
  'bone-broke': 'the cortex limit: the bone broke, and nothing of it is modelled',
  time: 'the theatre time: none is agreed, so nobody can say whether it would stop the work',
  'time-used': 'the theatre time: it is used up',
  plate: 'whether the plate itself comes off: it is taken to, once its screws let it go',
  months: 'months in the body: no source says by how much they change a rate',
  team: 'the team: no source says by how much it changes a rate',
  patient: 'age and thin or fragile bone: no source says by how much they change a rate',
  events: 'what nobody foresees: bleeding, a fracture, an instrument that is not sterile',
} as const;

/** No rates of a department's own. */
const released: readonly OwnRate[] = [];

const draws = 150;
const seed = 20260301;
/**
 * The forecast for a plan, or for what is left of a running case.
 *
 * @param own a department's shares; the rest of a move's shares is scaled to make up 1
 * @returns chances 0–1 with their bands, moves to be expected, minutes of the whole operation as 10–50–90 %
 * @example forecast(fold([], content)).case.allOut.mean // 1: nothing is to come out
 */
export function forecast(state: Folded, own: readonly OwnRate[] = released): Forecast {
  const { screws, case: whole, knows, rates, method, ignored, bone } = through(forecasting(state, own));
  const ignores = ignored.map((one) => ignoredWords[one]);
  return { screws, case: whole, knows, rates, method, ignores, ...(bone && { bone }) };
}

/**
 * As `forecast`, with what is drawn of it, pausing after every small part: for a screen that must not stand still.
 *
 * @example through(forecasting(fold([], content))).screwMinutes // {}
 */
export function* forecasting(state: Folded, own: readonly OwnRate[] = released): Generator<void, Outlook> {
  const { content } = state;
  const { room } = state.case.context;
  const { weights, byGroup, counted, times, worked, left, limit } = yield* reckoned(state, own);
  const kinds = [...new Set(counted.map(({ solved }) => solved))];
  const cases = yield* drawing(kinds, weights);
  const screws: Outlook['screws'] = {};
  const screwMinutes: Outlook['screwMinutes'] = {};
  const ahead: Outlook['ahead'] = {};
  for (const [id, screw] of state.screws) {
    const place = counted.findIndex((one) => one.id === id);
    if (place < 0) {
      screws[id] = ended(screw.context.stage === 'out');
      screwMinutes[id] = { p10: 0, p50: 0, p90: 0 };
      continue;
    }
    const { solved } = counted[place] as Counted;
    const view: Seen = {
      ...{ solved, weights, byGroup, paces: times.paces },
      draws: cases.get(solved) as Draw[],
      boneKnown: isBoneKnown(content, room, id),
    };
    screws[id] = { ...endsOf(view, times.onTime[place] as number[], limit), moves: mean(solved.moves, weights) };
    ahead[id] = lookAhead(view);
    screwMinutes[id] = ahead[id].end.minutes;
    yield;
  }
  const stays = [...state.screws.values()].some(({ context: { stage } }) => stage !== 'out' && !isWorking(stage));
  const broke = content.ladder === 2 && room.said.broke;
  const isBoneUnknown = counted.some(({ id }) => !isBoneKnown(content, room, id));
  return {
    ...{ screws, screwMinutes, ahead },
    case: { ...allOutOf(counted, weights, cases, times, stays), minutes: spreadOf(times.whole) },
    knows: knownBy(counted, byGroup),
    rates: usedBy(kinds),
    method,
    ignored: [
      ...(isBoneUnknown ? [broke ? ('bone-broke' as const) : ('bone' as const)] : []),
      ...(limit === null ? [left === null ? ('time' as const) : ('time-used' as const)] : []),
      ...(content.ladder === 2 && isPlateOn(room) ? (['plate'] as const) : []),
      ...(['months', 'team', 'patient', 'events'] as const),
    ],
    ...(broke && { bone: 'broken' as const }),
    ...{ ends: times.whole, worked },
  };
}

/** What every figure of a forecast is read from. */
function* reckoned(state: Folded, own: readonly OwnRate[]) {
  const { context } = state.case;
  const weights = patientWeights(state, own);
  const byGroup = grouped(weights);
  yield;
  const counted = yield* solvingAll(state, own);
  const worked = workedMinutes(context, state.latest);
  const left = context.theatreMinutes === null ? null : context.theatreMinutes - (worked ?? 0);
  const limit = left !== null && left > 0 ? left : null;
  const times = yield* timesOf(state.content, counted, byGroup, { worked, left: limit });
  return { weights, byGroup, counted, times, worked, left, limit };
}

/** The middle of a forecast, without its bands: what is compared with what came of it. */
export interface Expected {
  /** For each screw that is in. */
  screws: Record<
    string,
    {
      /** Chance that it comes out, 0–1: the mean that `forecast` gives. */
      out: number;
      /** Bone and agreed time were known, so that it says more than "if they allow". */
      bounded: boolean;
      /** Chance that it stands in each stage at some time, 0–1, with the tools that are there. */
      comesTo: Record<WorkingStage, number>;
    }
  >;
  minutes: Spread;
}

/**
 * What is to be expected of a plan, pausing after every small part: the means of `forecasting`, without what is drawn.
 *
 * @example through(expecting(fold([], content))).screws // {}
 */
export function* expecting(state: Folded, own: readonly OwnRate[] = released): Generator<void, Expected> {
  const { room } = state.case.context;
  const { weights, counted, times, limit } = yield* reckoned(state, own);
  const known = new Map<Solved, Record<WorkingStage, number>>();
  const screws: Expected['screws'] = {};
  for (const [place, { id, solved }] of counted.entries()) {
    const { stage } = (state.screws.get(id) as ScrewSnapshot).context;
    let comesTo = known.get(solved);
    if (!comesTo) known.set(solved, (comesTo = yield* comingTo(solved.ladder, stage as WorkingStage, weights)));
    const onTime = (times.onTime[place] as number[])[0] as number;
    screws[id] = {
      out: mean(
        solved.chances.map((chances) => (chances[0] as number) * onTime),
        weights,
      ),
      bounded: limit !== null && isBoneKnown(state.content, room, id),
      comesTo,
    };
    yield;
  }
  return { screws, minutes: spreadOf(times.whole) };
}

/** What was solved in a room by certain rates: a touch on one screw leaves the others as they were. */
const kept = new WeakMap<Room, { content: Content; own: string; kinds: Map<string, Solved> }>();
const mostKept = 40;

function keptIn(content: Content, room: Room, own: readonly OwnRate[]): Map<string, Solved> {
  const known = kept.get(room);
  const rates = JSON.stringify(own);
  if (known?.content === content && known.own === rates && known.kinds.size < mostKept) return known.kinds;
  const kinds = new Map<string, Solved>();
  kept.set(room, { content, own: rates, kinds });
  return kinds;
}

/** Every screw that is in, with what comes of its kind: screws of one kind are solved once. */
function* solvingAll(state: Folded, own: readonly OwnRate[]): Generator<void, Counted[]> {
  const { content } = state;
  const { room } = state.case.context;
  const held = new Set(content.ladder === 2 ? heldBy(state).map(({ screw }) => screw) : []);
  yield;
  const kinds = keptIn(content, room, own);
  const counted: Counted[] = [];
  for (const [id, screw] of state.screws) {
    if (!isWorking(screw.context.stage)) continue;
    const lastIn = isLastIn(state, id);
    const kind = kindOf(state, screw, lastIn, held.has(id));
    let solved = kinds.get(kind);
    if (!solved) {
      const footing = { content, room, own, lastIn, plateGoes: !held.has(id) };
      solved = yield* solving(yield* ladderFrom(footing, resting(content, screw)));
      kinds.set(kind, solved);
    }
    counted.push({ id, solved });
    yield;
  }
  return counted;
}

/** What makes two screws alike for a forecast. */
function kindOf({ case: { context } }: Folded, screw: ScrewSnapshot, lastIn: boolean, held: boolean): string {
  const { facts, found, stage, slips, usedUp, climb, bores, answered, id, ...rest } = screw.context;
  const done = [
    rest.jammedSeat,
    rest.turnOutReopened,
    rest.reassessed,
    rest.toolInRecess,
    rest.reamed,
    rest.shankProud,
  ];
  const past = [stage, slips, usedUp, climb, bores, answered, rest.turned, rest.running !== null];
  const level = Object.hasOwn(context.room.boneAt, id) ? context.room.boneAt[id] : null;
  // Its length tells how far it was reamed, and nothing else of what comes.
  return JSON.stringify([metalOf(facts), found, done, past, lastIn, held, level, rest.reamed ? facts.length : null]);
}

/** Draws rates and patients; what is drawn for one screw of a case is drawn for all. */
function* drawing(kinds: readonly Solved[], weights: readonly number[]): Generator<void, Map<Solved, Draw[]>> {
  const random = randomFrom(seed);
  const cases = new Map<Solved, Draw[]>(kinds.map((solved) => [solved, []]));
  for (let k = 0; k < draws; k++) {
    const rows = drawnRows(random, kinds);
    const patient = patientAt((k + 0.5) / draws, weights);
    for (const solved of kinds) (cases.get(solved) as Draw[]).push(drawn(solved, rows, patient));
    if (k % 4 === 3) yield;
  }
  return cases;
}

const certain = (value: number): Estimate => ({ mean: value, p10: value, p90: value });

/** A screw of which nothing is to come. */
function ended(out: boolean): Ends & { moves: number } {
  const [sure, none] = [certain(1), certain(0)];
  const chances = { out: out ? sure : none, leftByChoice: out ? none : sure };
  return { ...chances, stoppedAtBone: none, stoppedAtTime: none, moves: 0 };
}

/** That every screw comes out, and that some metal stays. */
function allOutOf(
  counted: readonly Counted[],
  weights: readonly number[],
  cases: ReadonlyMap<Solved, readonly Draw[]>,
  { allOnTime }: Times,
  stays: boolean,
): Pick<Forecast['case'], 'allOut' | 'anyStays'> {
  const product = (chance: (solved: Solved) => number) =>
    stays ? 0 : counted.reduce((all, { solved }) => all * chance(solved), allOnTime);
  const middle = mean(
    weights.map((_, patient) => product((solved) => (solved.chances[patient] as Chances)[0] as number)),
    weights,
  );
  const drawnAll = Array.from({ length: draws }, (_, k) =>
    product((solved) => ((cases.get(solved) as readonly Draw[])[k] as Draw).chances[0] as number),
  );
  return {
    allOut: estimate(middle, drawnAll),
    anyStays: estimate(
      1 - middle,
      drawnAll.map((chance) => 1 - chance),
    ),
  };
}

/** What the forecast rests on: each row as much as it is come to. */
function knownBy(counted: readonly Counted[], byGroup: readonly number[]): Record<Kind, number> {
  const sum = { published: 0, own: 0, memory: 0 };
  for (const { solved } of counted)
    solved.ladder.states.forEach(({ row: { knows } }, i) => {
      const visits = mean(
        solved.timed.map((one) => one.visits[i] as number),
        byGroup,
      );
      for (const kind of ['published', 'own', 'memory'] as const) sum[kind] += visits * knows[kind];
    });
  const all = sum.published + sum.own + sum.memory;
  // Where nothing is to come, it rests on what was done here.
  if (all === 0) return { published: 0, own: 1, memory: 0 };
  return { published: sum.published / all, own: sum.own / all, memory: sum.memory / all };
}

function usedBy(kinds: readonly Solved[]): Forecast['rates'] {
  const used = new Map<string, Share & { move: MoveId }>();
  for (const { ladder } of kinds)
    for (const { row } of ladder.states) {
      if (row.minutes.high === 0) continue;
      for (const share of row.shares)
        used.set(`${row.move} ${share.outcome} ${share.value}`, { ...share, move: row.move });
    }
  return [...used.values()].map(({ move, outcome, value, status }) => ({ move, outcome, value, status }));
}

/** A screw as if the move that runs had not started, after the look that an open slip asks for. */
function resting(content: Content, screw: ScrewSnapshot): ScrewSnapshot {
  const slipped = screw.matches({ reassess: 'open' } as never);
  if (!screw.context.running && !slipped) return screw;
  const context = { ...(slipped ? afterReassessment(screw.context, false) : screw.context), running: null };
  const value = { ...(screw.value as object), hand: 'empty', reassess: 'closed' } as ScrewSnapshot['value'];
  return screwMachine(content).resolveState({ value, context });
}
