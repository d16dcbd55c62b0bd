/** What only later entries tell of an earlier one. */
import { describe, expect, it } from 'vitest';
import { correctedTime } from '../../machines/clocks.ts';
import { hindsightOf } from '../../machines/hindsight.ts';
import { inTheRoom } from './build.ts';

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
});

it('a log without a cuff has no idle change, and its strikes are named', () => {
  const log = table().remarks();
  log.strikes(log.n);
  log.strikes(log.n + 1);
  const { struck, refused, idle: none } = hindsightOf(log.entries, correctedTime, 1);
  expect([[...struck], [...refused], [...none]]).toEqual([[log.n - 2], [log.n], []]);
});
