/** What only later entries tell of an earlier one. */
import { describe, expect, it } from 'vitest';
import { correctedTime } from '../../machines/clocks.ts';
import type { EntryOf } from '../../machines/entry.ts';
import { hindsightOf, rereads } from '../../machines/hindsight.ts';
import { attemptsOf, rowsOf } from '../../machines/trace.ts';
import { attempts, bothWays, table2 } from './build-2.ts';
import { inTheRoom, type Log } from './build.ts';

/** `time` as in 10:05; entered then as well, unless `logged` says when. */
type Told = [to: 'up' | 'down', time: string, logged?: string];
const at = (time: string) => `2026-03-04T${time}:00Z`;
const table = () => inTheRoom().start({ at: at('10:00') });
const tell = (log: ReturnType<typeof table>, ...changes: Told[]) =>
  changes.reduce(
    (one, [to, time, logged = time]) => one.write({ type: 'tourniquet', to, at: at(time), logged: at(logged) }),
    log,
  );

/** The idle changes by their place among what `log` holds behind the start of the work, 1, 2, 3 … */
function idle(log: ReturnType<typeof table>): number[] {
  const { n } = table();
  return [...hindsightOf(log.entries, correctedTime, 1).idle].map((one) => one - n);
}
const idleOf = (...changes: Told[]) => idle(tell(table(), ...changes));

describe('a change of the cuff is idle', () => {
  it('when it set the cuff to what it was', () => {
    expect(idleOf(['down', '10:05'])).toEqual([1]);
    expect(idleOf(['up', '10:05'], ['up', '10:10'], ['down', '10:20'], ['down', '10:30'])).toEqual([2, 4]);
  });

  it('not when one told later, of a time before it, makes it a change after all', () => {
    expect(idleOf(['up', '10:05'], ['up', '11:00'], ['down', '10:45', '11:05'])).toEqual([]);
  });

  it('not when it was a change while it was told, whatever was told later', () => {
    expect(idleOf(['up', '10:05'], ['down', '11:00'], ['down', '10:45', '11:05'])).toEqual([]);
    expect(idleOf(['up', '10:05'], ['down', '11:00'], ['up', '10:02', '11:05'])).toEqual([]);
  });

  it('each by itself: one that waits for nothing stays idle beside one that is a change after all', () => {
    const changes: Told[] = [
      ['up', '10:05'],
      ['up', '10:10'],
      ['up', '11:00'],
      ['down', '10:45', '11:05'],
    ];
    expect(idleOf(...changes)).toEqual([2]);
  });
});

describe('what counts for nothing makes and moves nothing', () => {
  it('a struck change: what repeated it is a change itself', () => {
    const log = tell(table(), ['up', '10:05'], ['up', '10:10']);
    expect(idle(log)).toEqual([2]);
    expect(idle(log.fork().strikes(log.n - 1))).toEqual([]);
    expect(idle(log.fork().strikes(log.n))).toEqual([]);
  });

  it('a struck jump of the clock moves no time', () => {
    // Set back an hour at half past ten: what the clock calls 09:45 was 10:45, when the cuff was up.
    const log = tell(table(), ['up', '10:05'], ['up', '10:30']);
    log.write({ type: 'clock-jumped', seconds: -3600, at: at('09:30'), logged: at('10:30') });
    tell(log, ['down', '09:45', '10:30']);
    expect(idle(log)).toEqual([2]);
    // Without the jump 09:45 lies before both, where the cuff was down.
    expect(idle(log.strikes(log.n - 1))).toEqual([2, 4]);
  });

  /** Taken up again at 09:50 by its clock, after a remark of 10:50: the clock stands at 10:50 at the earliest. */
  const resumed = () => {
    const log = tell(table(), ['up', '10:05'], ['up', '10:30']).remarks('x', { at: at('10:50') });
    return log.write({ type: 'resumed', device: 'two', gap: 'not-known', at: at('09:50'), logged: at('10:50') });
  };

  it('a struck entry pushes nothing on that is told after a gap of unknown length', () => {
    const told = () => tell(resumed(), ['down', '09:55', '10:50']);
    // 09:55 was 10:55, when the cuff was up.
    expect(idle(told())).toEqual([2]);
    const { n } = table();
    // With the remark struck 10:30 is the last: 09:55 was 10:35, still after both.
    expect(idle(told().strikes(n + 3))).toEqual([2]);
    // With the second inflation struck as well, it is 10:05: 09:55 was 10:10.
    expect(
      idle(
        told()
          .strikes(n + 3)
          .strikes(n + 2),
      ),
    ).toEqual([]);
  });

  it('what is told late after such a gap lies as much later as the clock was put back', () => {
    // 09:20 of the clock was 10:20: the cuff came down between the two, so the second one was a change.
    expect(idle(tell(resumed(), ['down', '09:20', '10:50']))).toEqual([]);
    // 09:02 was 10:02, before both.
    expect(idle(tell(resumed(), ['down', '09:02', '10:50']))).toEqual([2, 5]);
  });

  it('a jump of the clock before such a gap is no time that passed', () => {
    const log = tell(table(), ['up', '10:05'], ['up', '10:30']);
    log.write({ type: 'clock-jumped', seconds: 3600, at: at('11:40'), logged: at('11:40') });
    // 11:20 less the hour is 10:20, and the last that is told was 10:40: twenty minutes more.
    log.write({ type: 'resumed', device: 'two', gap: 'not-known', at: at('11:20'), logged: at('11:40') });
    // 11:00 of this clock was 10:20.
    expect(idle(tell(log, ['down', '11:00', '11:41']))).toEqual([]);
  });
});

describe('the log itself', () => {
  const found = (log: Log, format = 1) => hindsightOf(log.entries, correctedTime, format);

  it('is closed by the first closing that was not struck, and by none before there is one', () => {
    const log = table().remarks();
    expect(found(log).closing).toBe(Infinity);
    log.write({ type: 'case-closed' });
    const first = log.n;
    expect(found(log).closing).toBe(first);
    log.remarks().write({ type: 'case-closed' });
    expect(found(log).closing).toBe(first);
    expect(found(log.strikes(first)).closing).toBe(first + 2);
  });

  it('says which starts have their end told by their number, struck ends not', () => {
    const log = table2().begins('1', 'turn-out');
    const start = log.n;
    expect([...found(log).awaited]).toEqual([]);
    log.ends('1', 'slipped', { start });
    expect([...found(log).awaited]).toEqual([start]);
    expect([...found(log.fork().strikes(log.n)).awaited]).toEqual([]);
    expect([...found(log.tries('1', 'grip-head', 'no-change')).awaited]).toEqual([start]);
  });

  it('lets its opening be struck in format 1, and not in format 2, whether it says its format or its file does', () => {
    const strikes = (log: Log, format: number) => {
      const { struck, refused } = found(log.strikes(1), format);
      return { struck: [...struck], refused: [...refused] };
    };
    const n = table().n + 1;
    expect(strikes(table(), 1)).toEqual({ struck: [1], refused: [] });
    expect(strikes(table(), 2)).toEqual({ struck: [], refused: [n] });
    expect(strikes(table2(), 1)).toEqual({ struck: [], refused: [n] });
  });

  it('that is raised to format 2 takes no such strike from there on, and what was struck before stays struck', () => {
    const jump = { type: 'clock-jumped', seconds: 60 } as const;
    const log = table().write(jump).write(jump);
    const [first, second] = [log.n - 1, log.n];
    log.strikes(first).write({ type: 'format-raised', to: 2, rules: 2 }).strikes(second).strikes(first);
    const { struck, refused } = found(log);
    // Striking again what is struck says nothing new, in whatever format; here it is of what cannot be struck any more.
    expect([[...struck], [...refused]]).toEqual([[first], [log.n - 1, log.n]]);
  });
});

describe('what changes how earlier entries read', () => {
  const reads = (log: Log) => rereads(log.entries, hindsightOf(log.entries, correctedTime, 1));

  it('is a word on whose they were, or on how a move ended, while it stands', () => {
    const log = table2().screw('2').tries('1', 'turn-out', 'slipped').looksAgain('1');
    expect(reads(log)).toBe(false);
    const moved = log.fork().write({ type: 'reassigned', entries: [log.n - 1], screw: '2' });
    const said = log.fork().write({ type: 'move-answered', of: log.n - 2, recess: 'sound' });
    for (const one of [moved, said]) {
      expect(reads(one)).toBe(true);
      expect(reads(one.fork().remarks())).toBe(true);
      expect(reads(one.strikes(one.n))).toBe(false);
    }
  });
});

describe('a move that nobody ended goes by its start alone', () => {
  const given = (log: Log, entries: number[]) => log.write({ type: 'reassigned', entries, screw: '2' });

  it('what cut it off stays where it was: the next move', () => {
    const log = table2().screw('2').begins('1', 'turn-out').begins('1', 'grip-head');
    given(log, [log.n - 1]);
    expect(attempts(log).map(([screw, move]) => [screw, move])).toEqual([
      ['2', 'turn-out'],
      ['1', 'grip-head'],
    ]);
    expect([log.of('1').move, log.of('2').move]).toEqual(['grip-head', 'turn-out']);
  });

  it('what cut it off stays where it was, and may be moved by itself: the word that the screw stays', () => {
    const log = table2().screw('2').begins('1', 'turn-out').leaves('1');
    const [start, left] = [log.n - 1, log.n];
    const stages = (one: Log) => ['1', '2'].map((id) => one.of(id).stage);
    expect(stages(given(log.fork(), [start]))).toEqual(['left-in', 'seated']);
    expect(stages(given(log.fork(), [left]))).toEqual(['seated', 'left-in']);
    expect(stages(given(log.fork(), [start, left]))).toEqual(['seated', 'left-in']);
  });

  it('what is said of its bores after work was stopped is said of it', () => {
    const log = table2({ stage: 'head-sheared' }).begins('1', 'burr-out');
    const of = log.n;
    log.write({ type: 'stopped' });
    const bored = () => attemptsOf(log.folded.trace).map(({ bores, boresEntered }) => [bores.length > 0, boresEntered]);
    expect(bored()).toEqual([[true, false]]);
    log.write({ type: 'move-answered', of, bores: [] });
    expect(bored()).toEqual([[false, true]]);
  });
});

describe('an answer that comes after the closing', () => {
  /** A slip in the recess, a head turned off, a bore: then the case is closed. */
  const closed = (log: Log) => log.write({ type: 'work-ended' }).write({ type: 'case-closed' });
  const says = (log: Log, of: number, more: Omit<EntryOf<'move-answered'>, 'n' | 'at' | 'logged' | 'type' | 'of'>) =>
    log.write({ type: 'move-answered', of, ...more });

  it('moves no stage: neither that the recess is sound nor that the driver alone turned', () => {
    const slipped = table2().tries('1', 'turn-out', 'slipped');
    const free = table2().tries('1', 'turn-out', 'turns-free');
    const of = slipped.n - 1;
    expect(says(slipped.fork(), of, { recess: 'sound' }).of('1').stage).toBe('seated');
    expect(says(closed(slipped), of, { recess: 'sound' }).of('1').stage).toBe('recess-stripped');
    expect(says(free.fork(), of, { turned: 'driver' }).of('1')).toMatchObject({ stage: 'recess-stripped', slips: 1 });
    expect(says(closed(free), of, { turned: 'driver' }).of('1')).toMatchObject({ stage: 'seated', slips: 0 });
  });

  it('tells where the head is, what was bored and how deep', () => {
    const sheared = table2().tries('1', 'turn-out', 'head-sheared');
    const of = sheared.n - 1;
    sheared.tries('1', 'grip-shank', 'out', { recovered: 29, lengthHow: 'measured' });
    sheared.write({ type: 'part-ended', part: 'plate', end: 'out' });
    expect(closed(sheared).of('1').metal.closes).toBe('open');
    expect(says(sheared, of, { head: 'in-plate' }).of('1').metal.closes).toBe('difference');
    const burred = closed(table2({ stage: 'head-sheared' }).tries('1', 'burr-out', 'no-change'));
    says(burred, of, { bores: [{ wall: 'near', diameter: 5 }], depth: 12 });
    const [attempt] = attemptsOf(burred.folded.trace);
    expect(attempt).toMatchObject({ bores: [{ wall: 'near', diameter: 5 }], boresEntered: true, end: { depth: 12 } });
  });
});

describe('two screws that were confused', () => {
  const swaps = (log: Log, from: number) => log.write({ type: 'reassigned', swap: ['1', '2'], from });

  it('keep the bone that was measured at each, and the words on whose an entry was', () => {
    const log = table2().screw('2');
    const from = log.n + 1;
    log.bone(20, 4, { screw: '1' }).tries('1', 'turn-out', 'slipped');
    log.write({ type: 'reassigned', entries: [log.n - 1], screw: '1' });
    const word = log.n;
    swaps(log, from);
    expect(log.folded.case.context.room.boneAt).toEqual({ '1': { outer: 20, cortex: 4, source: 'measured' } });
    expect(rowsOf(log.folded.trace)[word - 1]?.movedFrom).toBeNull();
    expect([log.of('1').slips, log.of('2').slips]).toEqual([0, 1]);
  });

  it('change places in what was told before the word, read entry by entry and all at once', () => {
    const log = swaps(table2().screw('2').tries('1', 'turn-out', 'slipped'), 1);
    log.tries('1', 'turn-out', 'slipped').tries('1', 'reseat-driver', 'no-change');
    const [lived, whole] = bothWays(log);
    expect(lived).toEqual(whole);
    expect([log.of('1').slips, log.of('2').slips]).toEqual([1, 1]);
  });
});

it('a word on entries that are yet to come is of none of them, read entry by entry and all at once', () => {
  const log = table2().screw('2');
  const { n } = log;
  log.write({ type: 'reassigned', entries: [n + 1, n + 2, n + 3], screw: '2' }).tries('1', 'turn-out', 'slipped');
  const [lived, whole] = bothWays(log);
  expect(lived).toEqual(whole);
  expect([log.of('1').slips, log.of('2').slips]).toEqual([1, 0]);
});
