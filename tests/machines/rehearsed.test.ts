/** What a rehearsal came upon: read off the log of plan and rehearsal, and off nothing of the plan alone. */
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import { fetchReleases } from '../../content/later.ts';
import type { Content } from '../../content/types.ts';
import { rehearsed } from '../../machines/rehearsed.ts';
import { Log, content, inTheRoom } from './build.ts';

await fetchReleases();
const second = loadContent('2026.2-draft') as Content;

/** A plan, and what a rehearsal of it found. */
function found(plan: Log, play: (log: Log) => Log) {
  const planned = plan.n;
  const log = play(plan.fork().start());
  return rehearsed(log.entries, planned, log.content);
}
const plan = (...tools: Parameters<Log['room']>) =>
  new Log()
    .opened()
    .bone(27, 5)
    .screw('1', { driveSize: 3.5 })
    .room(...tools);
const slipped = (log: Log) => log.call('1').tries('1', 'turn-out', 'slipped').looksAgain('1');

describe('the first tool that was missing', () => {
  it('is none where nothing was passed over, whatever else the ladder would ask for', () => {
    const { lack, deadEnds } = found(plan('driver-hexagonal'), (log) => log.call('1').tries('1', 'turn-out', 'out'));
    expect([lack, deadEnds]).toEqual([null, []]);
  });

  it('is none in an empty log', () => {
    expect(rehearsed([], 0, content)).toEqual({
      ...{ lack: null, deadEnds: [], brought: [], holds: [] },
      ...{ out: [], left: [], in: [], unmeasured: [], bores: [] },
    });
  });

  it('is the driver of the recess, with its size, where not even that is there', () => {
    expect(found(plan('mallet'), (log) => log.call('1')).lack).toEqual({
      ...{ screw: '1', stage: 'seated', move: 'turn-out', tools: ['driver-hexagonal'], last: true },
      facts: { diameter: 4.5, drive: 'hexagonal', driveSize: 3.5 },
    });
  });

  it('has no size where nobody told it', () => {
    const unknown = new Log().opened().screw('1').room('mallet');
    expect(found(unknown, (log) => log.call('1')).lack?.facts).toEqual({ diameter: 4.5, drive: 'hexagonal' });
  });

  it('is that of the first move that was passed over for the next that is open', () => {
    const { lack, deadEnds } = found(plan('driver-hexagonal', 'locking-pliers'), (log) =>
      slipped(log).tries('1', 'reseat-driver', 'no-change'),
    );
    expect(lack).toMatchObject({ screw: '1', stage: 'recess-stripped', move: 'pack-recess', last: false });
    expect(lack?.tools.length).toBeGreaterThan(0);
    expect(deadEnds).toEqual([]);
  });

  it('is not sought behind the move that is open, nor while a look is waited for that opens one', () => {
    const room = plan('driver-hexagonal');
    expect(found(room, slipped).lack).toBeNull();
    expect(found(room, (log) => log.call('1').tries('1', 'turn-out', 'slipped')).lack).toBeNull();
  });

  it('is not sought on a screw that is not in hand, nor while a move runs', () => {
    const room = plan('driver-hexagonal').screw('2', { drive: 'hexalobular' });
    expect(found(room, (log) => log.call('1').begins('1', 'turn-out')).lack).toBeNull();
    expect(found(room, (log) => log.call('2')).lack?.screw).toBe('2');
    const running = plan('mallet');
    expect(found(running, (log) => log.begins('1', 'turn-out')).lack).toBeNull();
  });

  it('stays the first, though more are missing later and though it is brought', () => {
    const { lack, brought } = found(plan('mallet'), (log) => {
      log.call('1').tool('driver-hexagonal').tool('mallet').tool('driver-hexagonal', { size: 4 });
      return slipped(log).tries('1', 'reseat-driver', 'no-change');
    });
    expect(lack?.tools).toEqual(['driver-hexagonal']);
    expect(brought).toEqual(['driver-hexagonal']);
  });

  it('was not brought where somebody said that it is not there, or took it back', () => {
    const none = found(plan('mallet'), (log) => log.tool('pick', { present: false }));
    expect(none.brought).toEqual([]);
    expect(found(plan('mallet'), (log) => log.tool('pick').strikes(log.n)).brought).toEqual([]);
  });

  it('is told with a dead end of its own where nothing is open any more, once a stage', () => {
    const { deadEnds, lack } = found(plan('driver-hexagonal'), (log) =>
      slipped(log).tries('1', 'reseat-driver', 'no-change').remarks().remarks(),
    );
    expect(lack?.last).toBe(true);
    expect(deadEnds).toHaveLength(1);
    expect(deadEnds[0]).toMatchObject({ screw: '1', stage: 'recess-stripped' });
    expect(deadEnds[0]?.missing).toContain('mallet');
    expect(new Set(deadEnds[0]?.missing).size).toBe(deadEnds[0]?.missing.length);
  });

  it('is found by the second ladder as well', () => {
    const log = new Log(undefined, second)
      .opened({ rules: 2 })
      .bone(27, 5)
      .screw('1', { driveSize: 3.5 })
      .tool('mallet');
    expect(found(log, (now) => now.call('1')).lack?.tools).toEqual(['driver-hexagonal']);
  });
});

describe('the holds that were met', () => {
  it('are each told with its answer, in order', () => {
    const { holds } = found(inTheRoom(), (log) =>
      slipped(log)
        .tries('1', 'reseat-driver', 'slipped')
        .answers('reassess', { screw: '1', answer: 'go-on', reason: 'seen before' })
        .begins('1', 'reverse-tap', { reverseConfirmed: true })
        .ends('1', 'no-change')
        .write({ type: 'colleague-called' }),
    );
    expect(holds).toEqual(
      expect.arrayContaining([
        { hold: 'reassess', screw: '1', answer: 'looked-again' },
        { hold: 'reassess', screw: '1', answer: 'go-on', reason: 'seen before' },
        { hold: 'reverse', screw: '1', answer: 'confirmed' },
        { hold: 'second-surgeon', screw: '1', answer: 'called' },
      ]),
    );
    expect(holds.map(({ answer }) => answer).indexOf('looked-again')).toBe(0);
    expect(holds.at(-1)).toMatchObject({ answer: 'called' });
  });

  it('are told as passed over where nobody said a word, and as open to the end where they still stand', () => {
    const passed = found(inTheRoom(), (log) =>
      log.call('1').tries('1', 'turn-out', 'slipped').begins('1', 'grip-head').ends('1', 'no-change'),
    ).holds;
    expect(passed).toContainEqual({ hold: 'reassess', screw: '1', answer: 'unanswered' });
    const open = found(inTheRoom(), (log) => log.call('1').tries('1', 'turn-out', 'slipped')).holds;
    expect(open).toEqual([{ hold: 'reassess', screw: '1', answer: 'standing' }]);
  });

  it('of the case name no screw: the tourniquet that was let down, the time that was not answered', () => {
    const room = inTheRoom({}, { theatreMinutes: 60 }).write({ type: 'limits-set', tourniquetMinutes: 30 });
    const { holds } = found(room, (log) =>
      log
        .call('1')
        .write({ type: 'tourniquet', to: 'up' })
        .after(40)
        .write({ type: 'tourniquet', to: 'down' })
        .after(60)
        .remarks(),
    );
    expect(holds).toEqual([
      { hold: 'tourniquet', screw: null, answer: 'let-down' },
      { hold: 'time', screw: null, answer: 'standing' },
    ]);
  });

  it('of the hard metal stands open from the start where the plan passed it', () => {
    const hard = new Log()
      .opened()
      .screw('1', { locking: true, diameter: 5, material: 'steel' })
      .room('driver-hexagonal');
    expect(hard.view.holds).toContain('hard-metal');
    expect(found(hard, (log) => log).holds).toContainEqual({ hold: 'hard-metal', screw: null, answer: 'unanswered' });
  });

  it('in the plan itself are not those of the rehearsal, nor are those that were taken back', () => {
    const hard = new Log()
      .opened()
      .screw('1', { locking: true, diameter: 5, material: 'steel' })
      .room('driver-hexagonal');
    hard.answers('hard-metal', { reason: 'none to be had' });
    expect(found(hard, (log) => log).holds).toEqual([]);
    expect(found(inTheRoom(), (log) => slipped(log).strikes(log.n)).holds).toEqual([
      { hold: 'reassess', screw: '1', answer: 'standing' },
    ]);
  });
});

describe('what nobody measured', () => {
  it('is the length of what came out, until it was measured', () => {
    const out = (log: Log) => log.call('1').tries('1', 'turn-out', 'out');
    expect(found(inTheRoom(), out)).toMatchObject({ out: ['1'], in: [], left: [], unmeasured: ['1'] });
    const measured = (log: Log) =>
      out(log).write({ type: 'piece-recovered', screw: '1', length: 36, lengthHow: 'measured' });
    expect(found(inTheRoom(), measured).unmeasured).toEqual([]);
  });

  it('is how wide a bone was opened where only the plan says so', () => {
    const opened = (log: Log) => log.call('1').tries('1', 'gouge-and-grip', 'no-change');
    const plan = inTheRoom({ stage: 'head-sheared' });
    expect(found(plan, opened)).toMatchObject({ bores: ['1'], in: ['1'] });
    const told = (log: Log) =>
      log
        .call('1')
        .begins('1', 'gouge-and-grip')
        .ends('1', 'no-change', { bores: [{ wall: 'near', diameter: 8 }] });
    expect(found(plan, told).bores).toEqual([]);
    expect(found(plan, (log) => log.call('1').begins('1', 'gouge-and-grip')).bores).toEqual([]);
  });

  it('tells screws that came out, that were left, and that are in', () => {
    const three = inTheRoom().screw('2').screw('3');
    expect(found(three, (log) => log.tries('1', 'turn-out', 'out').leaves('2'))).toMatchObject({
      ...{ out: ['1'], left: ['2'], in: ['3'] },
    });
  });
});
