/**
 * The ladder from where a screw stands, as a chain of states: at each the first open move that stays within the bone
 * limit, and where each of its ends leads. Built by the statechart and the offer themselves. States that hardly any path
 * comes to are not followed.
 */
import { chanceLeft } from './slips.ts';
import { outOf, withOut } from './difficulty.ts';
import type { MoveId, Stage, WorkingStage } from '../content/ids.ts';
import type { Content, Move, Rate } from '../content/types.ts';
import { isPlateOn, type Room } from './case.context.ts';
import { holdsBefore } from './before.ts';
import { triangle } from './compute/absorb.ts';
import { boneAt, boneCost, projected } from './compute/bone-cost.ts';
import type { ScrewSnapshot } from './folded.ts';
import { closedBecause, movesFor } from './offer.ts';
import type { OwnRate } from './own-rates.ts';
import { lookedAgain, played } from './play.ts';
import { chancesOf, rowOf, type Row, type Share } from './prior.ts';
import { rateFor } from './rate-for.ts';
import { isWorking, type ScrewContext } from './screw.context.ts';
import { screwMachine } from './screw.machine.ts';
import { secondOf } from './second-ladder.ts';
import { transition } from './transition.ts';

/** Minutes of a tick. */
export const tickMinutes = 1;

/** Ends of a chain, by their place. */
export const ends = ['out', 'leftByChoice', 'stoppedAtBone', 'untold'] as const;
export type End = (typeof ends)[number];
const endAt = (end: End): number => -1 - ends.indexOf(end);

/** Paths that so few come by are not followed; the others stand for them. */
const negligible = 1e-4;

export interface Step {
  /** As in `Chain`: a state, or an end as a negative number. */
  to: number;
  /** Which share of the row leads there, and which part of it. */
  at: number;
  part: number;
  /** Where the screw then stands. */
  stage: Stage;
}

export interface Climb {
  row: Row;
  /** By how much a slip that went before lowers the share that comes out. */
  keeps: number;
  ticks: readonly number[];
  steps: Step[];
}

export interface Ladder {
  states: Climb[];
}

export interface Footing {
  content: Content;
  room: Room;
  own: readonly OwnRate[];
  lastIn: boolean;
  /** The plate can be off before this screw has to be. */
  plateGoes: boolean;
}

/** Was the bone at this level measured, and is it still what was measured? */
export const isBoneKnown = (content: Content, room: Room, screw: string): boolean => {
  const bone = boneAt(content, room, screw);
  return bone !== null && bone.source !== 'assumed' && !(content.ladder === 2 && room.said.broke);
};

/**
 * Moves that were made in a stage, by how often. The second ladder offers a move again once something has changed; ahead
 * nobody counts on that for ever.
 */
type Spent = readonly MoveId[];

/** Ends after which a move goes on: the screw comes, if slowly. */
const goesOn = (outcome: Share['outcome']) => outcome === 'moving';

/** What of a screw's memory the next moves depend on. */
function keyOf({ context: c }: ScrewSnapshot, plateOff: boolean, boneKnown: boolean, spent: Spent): string {
  // Of what was tried, what and how often: with one room the rest follows.
  const climb = c.climb && {
    ...c.climb,
    ...{ reamings: 0, tries: c.climb.tries.map(({ move, tool }) => `${move} ${tool}`).sort() },
  };
  const bores = boneKnown ? [...new Set(c.bores.map(({ wall, diameter }) => `${wall} ${diameter}`))].sort() : 0;
  return JSON.stringify([
    ...[c.stage, c.usedUp, Math.min(c.slips, 4), c.jammedSeat, c.turnOutReopened, c.reassessed, c.toolInRecess],
    ...[c.reamed, c.shankProud, climb, bores, plateOff, spent],
  ]);
}

/** Rule of thumb of the release: each slip that went before the one a move is made for halves its chance. */
export function keepsAfterSlips(content: Content, screw: ScrewContext, move: Move): number {
  if (!move.turnsInRecess) return 1;
  const expected = move.fits.includes('seated') ? 0 : 1;
  return chanceLeft(Math.max(0, screw.slips - expected), content.limits.slipKeeps.value);
}

/** The next move, or why there is none. */
type Next = { move: Move } | { end: End };

function nextOf({ content, lastIn }: Footing, room: Room, screw: ScrewContext, boneKnown: boolean, spent: Spent): Next {
  const second = secondOf(content);
  /** As often as there are tools for it, and once more where a look gave it back; what makes ready, once. */
  const most = (move: Move): number => {
    if (!second) return Infinity;
    if (move.prepares) return 1;
    const again = move.id === 'turn-out' && screw.turnOutReopened ? 1 : 0;
    return Math.max(1, second.among(content, move, screw.facts, room).length) + again;
  };
  const open = movesFor(content, screw).filter(
    (move) =>
      move.aim !== 'left-in' &&
      // The piece is reamed once: what follows is the sleeve.
      !(move.id === 'hollow-ream' && screw.reamed) &&
      spent.filter((id) => id === move.id).length < most(move) &&
      closedBecause(move, { screw, reassess: false, lastIn }, room, content) === null,
  );
  const stops = (move: Move): boolean => {
    if (!boneKnown) return false;
    const { loss, costsBone } = boneCost(content, room, screw, move);
    return holdsBefore(content, room, screw, move, { loss, costsBone }).includes('bone-stop');
  };
  const move = open.find((one) => !stops(one));
  if (move) return { move };
  return { end: open.length > 0 ? 'stoppedAtBone' : 'leftByChoice' };
}

/** The screw once the plate was said to be off. */
function withPlateOff(content: Content, screw: ScrewSnapshot): ScrewSnapshot {
  const time = '2000-01-01T00:00:00Z';
  const entry = { n: 1, at: time, logged: time, type: 'plate-off' as const };
  return transition(screwMachine(content), screw, { type: 'plate-off', entry, corrected: 0, format: 2 }) ?? screw;
}

/** A screw on its way: where it stands, and whether the plate is off by then. */
interface Stand {
  screw: ScrewSnapshot;
  room: Room;
  spent: Spent;
  move: Move;
  rate: Rate;
}

/** Where one end of a move leads. */
interface Lead {
  at: number;
  part: number;
  next: ScrewSnapshot;
  spent: Spent;
}

function* leadsOf({ content }: Footing, stand: Stand, row: Row, boneKnown: boolean): Generator<void, Lead[]> {
  const { screw, move, room } = stand;
  const machine = screwMachine(content);
  const { context } = screw;
  const tools = secondOf(content)?.foreseen(content, context, room.tools) ?? room.tools;
  const made = boneKnown ? projected(content, move, context.stage as WorkingStage, context.facts, tools).bores : [];
  const bores = made.filter((one) => !context.bores.some((b) => b.wall === one.wall && b.diameter === one.diameter));
  const reach = content.rates.shankReachable.value;
  const found: Lead[] = [];
  for (const [at, { outcome }] of row.shares.entries()) {
    const leads = (part: number, reachable: boolean) => {
      const after = part > 0 ? played(machine, screw, move, { outcome, reachable, bores }) : null;
      if (!after) return;
      // Deeper, nothing was tried yet.
      const isDeeper = after.context.stage !== context.stage;
      const more = content.ladder === 1 || goesOn(outcome) ? stand.spent : [...stand.spent, move.id as MoveId].sort();
      found.push({ at, part, next: lookedAgain(machine, after), spent: isDeeper ? [] : more });
    };
    if (outcome === 'shank-broke') {
      leads(reach, true);
      leads(1 - reach, false);
    } else leads(1, true);
    yield;
  }
  return found;
}

/** Shares of a state as they count there, in the order of its row: what slips take from coming out slips. */
export function sharesAt({ row, keeps }: Pick<Climb, 'row' | 'keeps'>, values: readonly number[]): readonly number[] {
  if (keeps === 1) return values;
  const out = outOf(row);
  const slipped = row.shares.findIndex((share) => share.outcome === 'slipped');
  if (out < 0) return values;
  const lost = (values[out] as number) * (1 - keeps);
  return values.map((value, i) => {
    if (i === out) return value - lost;
    return i === slipped ? value + lost : value;
  });
}

/** Steps with their shares, those that cannot be left out and the others making up for them. */
export function weighted(
  state: Climb,
  values: readonly number[],
): (Pick<Step, 'to' | 'at' | 'stage'> & { share: number })[] {
  const here = sharesAt(state, values);
  const all = state.steps.map(({ to, at, part, stage }) => ({ to, at, stage, share: (here[at] as number) * part }));
  const mass = all.reduce((sum, { share }) => sum + share, 0);
  return mass > 0 ? all.map((step) => ({ ...step, share: step.share / mass })) : [];
}

/** The shares of a row where screws come hard: what is seldom come to by most is followed for those too. */
function hardValues(row: Row): readonly number[] {
  const values = chancesOf(row);
  const out = outOf(row);
  const before = values[out];
  return before === undefined || before >= 1 ? values : withOut(values, out, before / 2);
}

/**
 * The ladder from a screw's present state, pausing after every move that is played.
 *
 * @param start no move running, no look waited for
 */
export function* ladderFrom(footing: Footing, start: ScrewSnapshot): Generator<void, Ladder> {
  const { content, own } = footing;
  const boneKnown = isBoneKnown(content, footing.room, start.context.id);
  const known = new Map<string, number>();
  const stands: (Stand | null)[] = [];
  const masses: number[] = [];
  const states: (Climb | null)[] = [];
  const rows = new Map<Rate, Row>();
  const rowFor = (rate: Rate): Row => {
    let row = rows.get(rate);
    if (!row) rows.set(rate, (row = rowOf(content, rate, own)));
    return row;
  };
  const under = { ...footing.room, plateOff: true };
  /** The state that a screw comes to, as it is followed in a chain. */
  const place = (screw: ScrewSnapshot, room: Room, spent: Spent): number => {
    const { context } = screw;
    if (context.stage === 'out') return endAt('out');
    if (!isWorking(context.stage)) return endAt('leftByChoice');
    const key = keyOf(screw, room.plateOff, boneKnown, spent);
    const index = known.get(key);
    if (index !== undefined) return index;
    const next = nextOf(footing, room, context, boneKnown, spent);
    const waits = content.ladder === 2 && footing.plateGoes && isPlateOn(room);
    if ('end' in next && waits) {
      const off = place(withPlateOff(content, screw), under, spent);
      known.set(key, off);
      return off;
    }
    const rate = 'move' in next ? rateFor(content, next.move.id, context.facts) : undefined;
    if (!('move' in next) || !rate) {
      const end = endAt('end' in next ? next.end : 'leftByChoice');
      known.set(key, end);
      return end;
    }
    const fresh = stands.length;
    known.set(key, fresh);
    stands.push({ screw, room, spent, move: next.move, rate });
    masses.push(0);
    states.push(null);
    return fresh;
  };
  const first = place(start, footing.room, []);
  if (first < 0) {
    // A screw with nothing to try stays at once: one state that leads nowhere else, in no time worth counting.
    const row: Row = { ...nothing, shares: [{ outcome: 'no-change', value: 1, status: 'from-memory' }] };
    return {
      states: [{ row, keeps: 1, ticks: [1], steps: [{ to: first, at: 0, part: 1, stage: start.context.stage }] }],
    };
  }
  masses[0] = 1;
  for (;;) {
    const open = stands.flatMap((stand, i) => (stand && states[i] === null ? [i] : []));
    const index = open.sort((a, b) => (masses[b] as number) - (masses[a] as number))[0];
    if (index === undefined || (masses[index] as number) < negligible) break;
    const stand = stands[index] as Stand;
    const row = rowFor(stand.rate);
    const { low, mid, high } = row.minutes;
    const state: Climb = {
      row,
      keeps: keepsAfterSlips(content, stand.screw.context, stand.move),
      ticks: triangle(low / tickMinutes, mid / tickMinutes, high / tickMinutes),
      steps: [],
    };
    for (const { at, part, next, spent } of yield* leadsOf(footing, stand, row, boneKnown))
      state.steps.push({ to: place(next, stand.room, spent), at, part, stage: next.context.stage });
    states[index] = state;
    for (const { to, share } of weighted(state, hardValues(row)))
      if (to >= 0) masses[to] = (masses[to] as number) + (masses[index] as number) * share;
    yield;
  }
  return { states: followed(states) };
}

/** The states that were followed, numbered anew; a step to any other leads to the end that is not told. */
function followed(states: readonly (Climb | null)[]): Climb[] {
  const places = new Map<number, number>();
  states.forEach((state, i) => state && places.set(i, places.size));
  const to = (place: number) => (place < 0 ? place : (places.get(place) ?? endAt('untold')));
  return states.flatMap((state) =>
    state ? [{ ...state, steps: state.steps.map((step) => ({ ...step, to: to(step.to) })) }] : [],
  );
}

const nothing: Omit<Row, 'shares'> = {
  ...{ move: 'leave-in', minutes: { low: 0, mid: 0, high: 0, source: '' } },
  knows: { published: 0, own: 0, memory: 0 },
  ...{ first: { at: [], weight: 0 }, rest: { at: [0], weight: 1 } },
};
