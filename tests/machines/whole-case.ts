/**
 * Whole case files by chance, sealed, the same for the same seed: the statechart itself is asked what is open, and the
 * game is played to its end, with slips of the finger corrected, late entries, moves that nobody ended and holds that
 * nobody answered. Invented throughout. What was played is kept in a ledger of its own beside the log.
 */
import { outcomes, toolIds, workingStages, type AnyMoveId, type Outcome, type WorkingStage } from '../ids.ts';
import type { Move } from '../../content/types.ts';
import type { EntryDraft, Entry } from '../../machines/entry.ts';
import { materials1 } from '../../machines/fields-1.ts';
import { fold, step, unfolded } from '../../machines/fold.ts';
import type { Folded } from '../../machines/folded.ts';
import { screwHolds, situationOf } from '../../machines/standing.ts';
import { rateFor } from '../../machines/rate-for.ts';
import { belongs, closedBecause } from '../../machines/offer.ts';
import { isWorking } from '../../machines/screw.context.ts';
import { sealAll } from '../../machines/seal.ts';
import { content } from './build.ts';

export interface Played {
  screw: string;
  move: AnyMoveId;
  stage: WorkingStage;
  end: Outcome | 'stopped';
  minutes: number | null;
}

export interface WholeCase {
  entries: Entry[];
  ledger: Played[];
  left: { screw: string; stage: WorkingStage; reason: string }[];
  screws: Record<string, { diameter: number; locking: boolean; material: string }>;
  closed: boolean;
}

/** Mulberry32: 32 bits of state, the same numbers on every machine. 0 ≤ x < 1. */
function numbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const reasons = ['bone loss too great', 'too deep to reach', 'tool not in the house', 'as the family asked'];

class Game {
  readonly entries: Entry[] = [];
  readonly ledger: Played[] = [];
  readonly left: WholeCase['left'] = [];
  state: Folded = unfolded(content);
  readonly #next: () => number;
  #now: number;

  constructor(seed: number) {
    this.#next = numbers(seed);
    this.#now = Date.UTC(2026, 0, 5 + (seed % 300), 7, Math.floor(this.#next() * 120));
  }

  chance = (share: number): boolean => this.#next() < share;
  below = (count: number): number => Math.floor(this.#next() * count);
  pick = <T>(options: readonly T[]): T => options[this.below(options.length)] as T;
  /** Of weighted options. */
  weighted<T>(options: readonly { what: T; weight: number }[]): T {
    let left = this.#next() * options.reduce((sum, { weight }) => sum + weight, 0);
    for (const { what, weight } of options) if ((left -= weight) < 0) return what;
    return (options.at(-1) as { what: T }).what;
  }

  /** Writes an entry so many seconds after the last; returns when it happened, ms. */
  write(draft: EntryDraft, seconds = 20 + this.below(40), lateSeconds = 0): number {
    this.#now += seconds * 1000;
    const at = this.#now - lateSeconds * 1000;
    const entry = {
      n: this.entries.length + 1,
      at: new Date(at).toISOString(),
      logged: new Date(this.#now).toISOString(),
      ...draft,
    } as unknown as Entry;
    this.entries.push(entry);
    this.state = draft.type === 'struck' ? fold(this.entries, content) : step(this.state, entry, []);
    return at;
  }
}

const stageOf = (game: Game, screw: string) => game.state.screws.get(screw)?.context.stage as WorkingStage;

function openMoves(game: Game, screw: string): Move[] {
  const situation = situationOf(game.state, screw);
  if (!situation) return [];
  const { room } = game.state.case.context;
  return content.moves.filter(
    (move) =>
      move.aim !== 'left-in' &&
      belongs(move, situation.screw, content) &&
      closedBecause(move, situation, room, content) === null,
  );
}

function endOf(game: Game, screw: string, move: AnyMoveId): Outcome {
  const facts = game.state.screws.get(screw)?.context.facts;
  const rate = facts && rateFor(content, move, facts);
  const headGone = ['head-sheared', 'fragment-retained'].includes(stageOf(game, screw));
  const usual = (rate?.outcomes ?? []).map(({ outcome, value }) => ({ what: outcome, weight: value }));
  const rare = outcomes.map((what) => ({ what, weight: what === 'moving' ? 0.06 : 0.01 }));
  return game.weighted([...usual, ...rare].filter(({ what }) => !(headGone && what === 'head-sheared')));
}

function answerHolds(game: Game, screw: string): void {
  const snapshot = game.state.screws.get(screw);
  const holds = snapshot ? screwHolds(snapshot) : [];
  if (holds.includes('reassess')) {
    if (game.chance(0.8)) game.write({ type: 'reassessed', screw, checks: { inLine: true } });
    else if (game.chance(0.75)) game.write({ type: 'hold-answered', screw, hold: 'reassess', answer: 'go-on' });
  }
  if (holds.includes('second-surgeon')) {
    if (game.chance(0.5)) game.write({ type: 'colleague-called' });
    else if (game.chance(0.7)) game.write({ type: 'hold-answered', screw, hold: 'second-surgeon', answer: 'go-on' });
  }
}

function leave(game: Game, screw: string): void {
  const reason = game.pick(reasons);
  game.left.push({ screw, stage: stageOf(game, screw), reason });
  game.write({ type: 'left-in', screw, length: null, where: 'far cortex', reason });
}

/** One move from start to end; false when the screw was left in while it ran. */
function play(game: Game, screw: string, move: Move): boolean {
  const begin = (id: AnyMoveId) =>
    game.write({
      ...({ type: 'move-started', screw, move: id } as const),
      ...(move.reverse && game.chance(0.7) && { reverseConfirmed: true }),
    });
  const stage = stageOf(game, screw);
  let began = begin(move.id);
  if (game.chance(0.03)) {
    // Nobody said how it ended: the next start ends it.
    game.ledger.push({ screw, move: move.id, stage, end: 'no-change', minutes: null });
    began = begin(move.id);
  }
  if (game.chance(0.02)) {
    game.ledger.push({ screw, move: move.id, stage, end: 'stopped', minutes: null });
    leave(game, screw);
    return false;
  }
  const end = endOf(game, screw, move.id);
  const ends = (outcome: Outcome, seconds?: number, late?: number) =>
    game.write(
      {
        ...({ type: 'move-ended', screw, outcome } as const),
        ...(outcome === 'shank-broke' && { reachable: game.chance(0.5) }),
      },
      seconds,
      late,
    );
  const seconds = 30 + game.below(900);
  if (game.chance(0.06)) {
    ends(game.pick(outcomes), 10);
    game.write({ type: 'struck', entry: game.entries.length, reason: 'wrong touch' }, 5);
  }
  const ended = ends(end, seconds, game.chance(0.1) ? game.below(seconds) : 0);
  game.ledger.push({ screw, move: move.id, stage, end, minutes: (ended - began) / 60_000 });
  if (end === 'tool-broke' && game.chance(0.5))
    game.write({ type: 'tool-damaged', tool: game.pick(toolIds), how: 'broke', tipMissing: game.chance(0.5) });
  return true;
}

function work(game: Game, screw: string): void {
  game.write({ type: 'screw-called', screw });
  for (let turns = 0; turns < 14 && isWorking(stageOf(game, screw)); turns++) {
    answerHolds(game, screw);
    const open = openMoves(game, screw);
    const move = open.length ? (game.chance(0.8) ? open[0] : game.pick(open)) : undefined;
    if (move && game.chance(0.96)) {
      if (!play(game, screw, move)) return;
    } else if (game.chance(0.2)) {
      // Done all the same, though nothing offered it.
      if (!play(game, screw, game.pick(content.moves.filter(({ aim }) => aim !== 'left-in')))) return;
    } else leave(game, screw);
    // What cannot have happened is entered now and then.
    if (!isWorking(stageOf(game, screw)) && game.chance(0.05))
      game.write({ type: 'move-ended', screw, outcome: 'slipped' });
  }
}

/**
 * One case, played from its opening to its close; about one in twenty stays open.
 *
 * @param seed any whole number
 */
export function wholeCase(seed: number): WholeCase {
  const game = new Game(seed);
  game.write({
    ...({ type: 'case-opened', label: `Case ${seed}`, zone: 'Europe/Oslo', planned: 'Metal out' } as const),
    ...{ side: game.pick(['left', 'right'] as const), bone: game.pick(['tibia', 'femur', 'radius']) },
    ...{ construct: game.pick(['plate', 'nail', 'screws'] as const), theatreMinutes: 90 },
  });
  const screws: WholeCase['screws'] = {};
  const count = 1 + game.below(5);
  for (let i = 1; i <= count; i++) {
    const facts = {
      diameter: game.pick([2.7, 3.5, 4.5, 5, 6.5]),
      locking: game.chance(0.5),
      material: game.pick(materials1),
      // A third comes with its failure, or the deep stages would hardly be met.
      ...(game.chance(0.35) && { stage: game.pick(workingStages.slice(1)) }),
    };
    screws[i] = facts;
    game.write({
      ...({
        type: 'screw-listed',
        screw: String(i),
        thread: 'cortical',
        length: 30 + game.below(20),
        ...facts,
      } as const),
      ...{ drive: game.pick(['hexagonal', 'hexalobular'] as const), cortices: game.pick([1, 2] as const) },
    });
  }
  for (const tool of toolIds) if (game.chance(0.85)) game.write({ type: 'tool-in-room', tool, present: true }, 2);
  game.write({ type: 'work-started' });
  for (let i = 1; i <= count; i++) if (game.chance(0.97)) work(game, String(i));
  game.write({ type: 'work-ended' });
  if (game.chance(0.7)) game.write({ type: 'washed-out' });
  const answer = { discrepancy: 'looked for, not found', imageTaken: true } as const;
  if (game.chance(0.9)) game.write({ type: 'count-answered', by: ['scrub', 'circulating'], ...answer });
  const closed = game.chance(0.95);
  if (closed) game.write({ type: 'case-closed' });
  return { entries: sealAll(game.entries), ledger: game.ledger, left: game.left, screws, closed };
}
