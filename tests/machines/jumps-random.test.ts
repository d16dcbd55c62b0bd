/**
 * Clocks of random logs against arithmetic of their own: the device clock jumps forward and back, much is told late, and
 * the cuff and the moves are told in any order. What is right is known beforehand, for every log is made from a true time
 * that no jump touches; of what the machines compute, nothing is used to say what they should.
 */
import { describe, expect, it } from 'vitest';
import type { Entry } from '../../machines/entry.ts';
import { fold, step, unfolded } from '../../machines/fold.ts';
import { attemptsOf } from '../../machines/trace.ts';
import { view } from '../../machines/view.ts';
import { content } from './build.ts';

const logs = 200;
const screws = ['1', '2', '3', '4'] as const;
const begin = Date.UTC(2026, 2, 4, 8);
const minute = 60_000;

/** Numbers from a seed, 0 ≤ x < 1, the same on every machine (xorshift, 32 bits). */
function numbersOf(seed: number): () => number {
  // Seeds that lie close together begin far apart.
  let state = Math.imul(seed ^ 0x9e3779b9, 0x85ebca6b) >>> 0 || 1;
  return () => {
    state ^= state << 13;
    state >>>= 0;
    state ^= state >>> 17;
    state ^= state << 5;
    state >>>= 0;
    return state / 4294967296;
  };
}

interface Change {
  to: 'up' | 'down';
  ms: number;
}

/** A log, and the times that its entries are truly about: ms since 1970 by a clock that never jumped. */
interface Made {
  entries: Entry[];
  cuff: Change[];
  /** When each start and end of a move truly was, by the number of its entry. */
  truly: Map<number, number>;
  jumps: { n: number; seconds: number }[];
  /** Pairs of a start and its end. */
  moves: [start: number, end: number][];
  /** The latest true time that anything is about. */
  last: number;
}

function madeOf(seed: number): Made {
  const next = numbersOf(seed);
  const below = (count: number) => Math.floor(next() * count);
  const entries: Entry[] = [];
  const made: Made = { entries, cuff: [], truly: new Map(), jumps: [], moves: [], last: begin };
  let now = begin;
  /** What the device shows, less what is true. */
  let ahead = 0;
  const tell = (draft: object, truly = now) => {
    const text = (ms: number) => new Date(ms + ahead).toISOString();
    const n = entries.length + 1;
    entries.push({ n, at: text(truly), logged: text(now), ...draft } as Entry);
    made.truly.set(n, truly);
    made.last = Math.max(made.last, truly);
    return n;
  };
  const jump = () => {
    const seconds = (next() < 0.5 ? -1 : 1) * (1 + below(next() < 0.3 ? 4 * 3600 : 600));
    ahead += seconds * 1000;
    made.jumps.push({ n: tell({ type: 'clock-jumped', seconds }), seconds });
  };
  tell({
    ...{ type: 'case-opened', rules: 2, contentVersion: '2026.1', label: 'Room 4', zone: 'UTC', side: 'left' },
    ...{ bone: 'tibia', construct: 'plate', planned: 'Metal out' },
  });
  const size = { diameter: 4.5, thread: 'cortical', locking: false, drive: 'hexagonal', material: 'steel' };
  for (const screw of screws) tell({ type: 'screw-listed', screw, ...size, length: 36, cortices: 2 });
  tell({ type: 'work-started' });
  // Whole seconds, and no two about the same one: what is equal in time would be told apart by its number alone.
  const taken = new Set<number>();
  const free = (from: number, to: number): number => {
    for (;;) {
      const ms = from + 1000 * (1 + below(Math.max(1, Math.floor((to - from) / 1000) - 1)));
      if (!taken.has(ms) && ms < to) return (taken.add(ms), ms);
      if (taken.size > (to - from) / 2000) return (taken.add(to), to);
    }
  };
  const open = new Map<string, { n: number; ms: number }>();
  const events = 6 + below(24);
  for (let i = 0; i < events; i++) {
    now += (1 + below(12)) * minute;
    taken.add(now);
    const isLate = next() < 0.4;
    const about = () => (isLate ? free(begin, now - 61_000) : now);
    const kind = next();
    if (kind < 0.25) jump();
    else if (kind < 0.65) {
      const to = next() < 0.55 ? 'up' : 'down';
      const ms = about();
      made.cuff.push({ to, ms });
      tell({ type: 'tourniquet', to }, ms);
    } else {
      const screw = screws[below(screws.length)] as string;
      const running = open.get(screw);
      if (!running) {
        const ms = about();
        open.set(screw, { n: tell({ type: 'move-started', screw, move: 'turn-out' }, ms), ms });
      } else {
        // Now and then a time is touched that lies before the start.
        const before = next() < 0.25 && running.ms - begin > 2 * minute;
        const late = isLate && now - running.ms > 2 * minute;
        const ms = before ? free(begin, running.ms) : late ? free(running.ms, now - 61_000) : now;
        // A late one names its start, as the screen writes it.
        const end = tell({ type: 'move-ended', screw, outcome: 'no-change', start: running.n }, ms);
        made.moves.push([running.n, end]);
        open.delete(screw);
      }
    }
    if (next() < 0.2) jump();
  }
  // An entry that is heard whatever stood before it: the clocks stand as of its time.
  tell({ type: 'remark', text: 'nothing more' });
  return made;
}

/** Minutes that the cuff was up: the union of what lies between an inflation and the deflation that follows it in time. */
function cuffMinutes(
  cuff: readonly Change[],
  last: number,
): { total: number; up: number | null; spans: [number, number | null][] } {
  const spans: [number, number | null][] = [];
  const times = [...cuff].sort((a, b) => a.ms - b.ms);
  let since: number | null = null;
  for (const { to, ms } of times) {
    if (to === 'up' && since === null) since = ms;
    if (to === 'down' && since !== null) {
      spans.push([since, ms]);
      since = null;
    }
  }
  if (since !== null) spans.push([since, null]);
  const total = spans.reduce((sum, [from, until]) => sum + ((until ?? last) - from) / minute, 0);
  return { total, up: since === null ? null : (last - since) / minute, spans };
}

/** Minutes from a start to its end, negative when it was said to have ended before it began. */
const lengthOf = ([start, end]: Made['moves'][number], truly: Made['truly']) =>
  ((truly.get(end) as number) - (truly.get(start) as number)) / minute;

/** Corrected time by its definition: `at` less every jump logged before the entry, and its own where it is one. */
function correctedBy(made: Made, entry: Entry): number {
  let ms = Date.parse(entry.at);
  for (const { n, seconds } of made.jumps) if (n <= entry.n) ms -= 1000 * seconds;
  return ms;
}

const seed = Number(process.env.SEED ?? 0);
const seeds = Array.from({ length: logs }, (_, i) => (i < logs / 2 ? i + 1 : (seed + i) >>> 0));
const all = seeds.map((one) => [one, madeOf(one)] as const);
/** The seed stands in whatever fails. */
const eachLog = (look: (made: Made) => void) => {
  for (const [one, made] of all)
    try {
      look(made);
    } catch (error) {
      if (error instanceof Error) error.message = `Again: SEED=${seed}, log of seed ${one}\n${error.message}`;
      throw error;
    }
};

describe(`clocks of ${logs} random logs (SEED=${seed})`, () => {
  it('the logs jump, tell late and have cuff and moves, each many times over', () => {
    const counts = all.map(([, { jumps, entries, moves, cuff }]) => ({
      jumps: jumps.length,
      back: jumps.filter(({ seconds }) => seconds < 0).length,
      late: entries.filter(({ at, logged }) => Date.parse(logged) - Date.parse(at) > minute).length,
      moves: moves.length,
      cuff: cuff.length,
    }));
    const impossible = all.flatMap(([, { moves, truly }]) => moves.filter((move) => lengthOf(move, truly) < 0));
    expect(impossible.length).toBeGreaterThan(5);
    for (const key of ['jumps', 'back', 'late', 'moves', 'cuff'] as const)
      expect(
        counts.reduce((sum, one) => sum + one[key], 0),
        key,
      ).toBeGreaterThan(logs);
  });

  it('a corrected time is the time that the entry is truly about', () =>
    eachLog((made) => {
      const { entries, truly } = made;
      expect(entries.map((entry) => correctedBy(made, entry))).toEqual([...truly.values()]);
      const folded = fold(entries, content);
      expect(folded.jumps.map(({ n, seconds }) => ({ n, seconds }))).toEqual(made.jumps);
    }));

  it('the cuff was up as long as the union of its spans, by time, whatever jumped and however late it was told', () =>
    eachLog(({ entries, cuff, last }) => {
      const folded = fold(entries, content);
      const { clocks } = view(folded);
      const { total, up, spans } = cuffMinutes(cuff, last);
      expect(clocks.tourniquetTotalMinutes).toBeCloseTo(total, 6);
      expect(clocks.tourniquetUp).toBe(up !== null);
      expect(clocks.tourniquetMinutes).toBeCloseTo(up ?? 0, 6);
      expect(folded.case.context.inflations.map(({ up: from, down }) => [from, down])).toEqual(spans);
    }));

  it('a move lasted from its start to its own end, and exactly the ends before their own starts are impossible', () =>
    eachLog(({ entries, moves, truly }) => {
      const folded = fold(entries, content);
      const known = new Map(
        attemptsOf(folded.trace).map(({ start, end, minutes }) => [start.n, { end: end?.n, minutes }]),
      );
      for (const [start, end] of moves) {
        expect(known.get(start)?.end).toBe(end);
        const lasted = lengthOf([start, end], truly);
        if (lasted > 0) expect(known.get(start)?.minutes).toBeCloseTo(lasted, 6);
      }
      const impossible = moves.filter((move) => lengthOf(move, truly) < 0).map(([, end]) => end);
      expect(folded.impossibleTimes).toEqual(impossible);
    }));

  it('the work has lasted from its start to the latest time in the log', () =>
    eachLog(({ entries, last }) => {
      expect(view(fold(entries, content)).clocks.caseMinutes).toBeCloseTo((last - begin) / minute, 6);
    }));

  it('exactly what was told more than a minute after is late', () =>
    eachLog(({ entries }) => {
      const late = entries.filter(({ at, logged }) => Date.parse(logged) - Date.parse(at) > minute).map(({ n }) => n);
      expect(view(fold(entries, content)).late).toEqual(late);
    }));

  it('entry by entry it reads as it reads all at once', () =>
    eachLog(({ entries }) => {
      const lived = entries.reduce((state, entry, i) => step(state, entry, entries.slice(0, i)), unfolded(content));
      expect(view(lived)).toEqual(view(fold(entries, content)));
    }));

  it('a deflation that was heard through a late inflation stays heard when a late deflation lies between the two', () => {
    const text = (minutes: number) => new Date(begin + minutes * minute).toISOString();
    const cuff = (n: number, to: Change['to'], about: number, told: number) =>
      ({ n, at: text(about), logged: text(told), type: 'tourniquet', to }) as Entry;
    const [opened] = madeOf(1).entries as [Entry];
    const entries = [opened, cuff(2, 'down', 10, 10), cuff(3, 'up', 5, 20), cuff(4, 'down', 7, 30)];
    const lived = entries.reduce((state, entry, i) => step(state, entry, entries.slice(0, i)), unfolded(content));
    for (const state of [lived, fold(entries, content)]) {
      expect(state.outOfOrder).toEqual([]);
      expect(view(state).clocks.tourniquetTotalMinutes).toBe(2);
    }
  });
});
