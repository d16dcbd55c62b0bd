/** Which move an end is told for, which late move is still the one in hand, and which two stories contradict each other. */
import { describe, expect, it } from 'vitest';
import type { EntryDraft } from '../../machines/entry.ts';
import { attempts, bothWays, table2 } from './build-2.ts';
import { inTheRoom, type Log } from './build.ts';

const at = (time: string) => `2026-03-04T${time}:00Z`;
/** Told at `logged` of what happened at `time`; the table of `table2` began a little after eight. */
const told = (log: Log, time: string, logged: string, draft: EntryDraft) =>
  log.write({ ...draft, at: at(time), logged: at(logged) });
const now = (log: Log, time: string, draft: EntryDraft) => told(log, time, time, draft);
const start = (move: string, screw = '1') => ({ type: 'move-started', screw, move }) as EntryDraft;
const end = (outcome: string, more: object = {}) =>
  ({ type: 'move-ended', screw: '1', outcome, ...more }) as EntryDraft;
/** Move and outcome of every attempt, in the order in which they were told. */
const tries = (log: Log) => attempts(log).map(([, move, outcome]) => [move, outcome]);

describe('a move that is told late', () => {
  const isInHand = (log: Log) => log.of('1').move !== null;

  it('is in hand where nothing was done to the screw since, whatever was said of it or done to another', () => {
    const log = table2().screw('2');
    now(log, '09:20', start('turn-out', '2'));
    now(log, '09:21', { type: 'screw-called', screw: '1' });
    now(log, '09:22', { type: 'bone-measured', screw: '1', outer: 20, cortex: 4, source: 'measured' });
    log.screw('1', { length: 40, ...{ at: at('09:23'), logged: at('09:23') } });
    told(log, '09:10', '09:30', start('turn-out'));
    expect(isInHand(log)).toBe(true);
    expect(log.folded.case.context.called).toBe('1');
  });

  it('is in hand also where the last that was done to it was at the same time', () => {
    const log = now(table2(), '09:10', { type: 'found', screw: '1', tipProud: true });
    expect(isInHand(told(log.fork(), '09:10', '09:30', start('turn-out')))).toBe(true);
    expect(isInHand(told(log, '09:09', '09:30', start('turn-out')))).toBe(false);
  });

  it('that is in hand is neither unoffered nor unanswered: nobody was asked', () => {
    // With its head on, nobody is offered to burr a screw out, and of such a thin bone it would have stopped.
    const log = told(table2().bone(12, 2.5), '09:10', '09:30', start('burr-out'));
    expect(log.of('1').move).toBe('burr-out');
    expect(log.view).toMatchObject({ unoffered: [], unanswered: [] });
  });

  it('is not in hand where a move runs on the screw, nor where the screw has ended', () => {
    const running = now(table2(), '09:10', start('grip-head'));
    told(running, '09:20', '09:30', start('turn-out'));
    expect(running.of('1').move).toBe('grip-head');
    const left = now(table2(), '09:10', {
      ...{ type: 'left-in', screw: '1', length: null, where: 'canal', reason: 'deep' },
    });
    told(left, '09:20', '09:30', start('turn-out'));
    expect(left.of('1')).toMatchObject({ move: null, stage: 'left-in' });
    expect(left.view.outOfOrder).toEqual([]);
  });

  it('takes the work up again only where it began after the end of the work', () => {
    const log = now(table2(), '09:30', { type: 'work-ended' });
    const before = told(log.fork(), '09:20', '09:40', start('turn-out'));
    expect([before.view.phase, isInHand(before)]).toEqual(['closing', false]);
    for (const time of ['09:30', '09:35']) {
      const after = told(log.fork(), time, '09:40', start('turn-out'));
      expect([after.view.phase, isInHand(after)]).toEqual(['working', true]);
    }
  });

  it('before the work began is out of order, also where something was done to the screw since', () => {
    const log = now(inTheRoom({}, { rules: 2 }), '09:20', { type: 'found', screw: '1', tipProud: true });
    told(log, '09:10', '09:30', start('turn-out'));
    expect(log.view.outOfOrder).toEqual([log.n]);
  });

  it('began in the stage that was reached by then, also where only late entries told of it', () => {
    // A head that sheared at half past; told since: a slip at ten past, and one more move right after that slip.
    const log = now(table2(), '09:30', start('turn-out'));
    now(log, '09:31', end('head-sheared'));
    told(log, '09:09', '09:40', start('turn-out'));
    told(log, '09:10', '09:41', end('slipped', { start: log.n }));
    told(log, '09:11', '09:42', start('grip-head'));
    told(log, '09:12', '09:43', end('no-change', { start: log.n }));
    told(log, '09:07', '09:44', start('turn-out'));
    told(log, '09:08', '09:45', end('no-change', { start: log.n }));
    expect(attempts(log).map(([, move, , before, after]) => [move, before, after])).toEqual([
      ['turn-out', 'seated', 'head-sheared'],
      ['turn-out', 'seated', 'recess-stripped'],
      ['grip-head', 'recess-stripped', 'recess-stripped'],
      ['turn-out', 'seated', 'seated'],
    ]);
    expect(log.of('1').stage).toBe('head-sheared');
  });

  it('of a screw that nobody listed is out of order', () => {
    const log = told(table2(), '09:10', '09:30', start('turn-out', '9'));
    expect(log.view.outOfOrder).toEqual([log.n]);
  });

  it('made its bores by the stage that the screw was in then', () => {
    // A burr makes its bore at a sheared head and beyond, and none where there still is a head.
    const log = now(table2(), '09:10', start('turn-out'));
    now(log, '09:12', end('head-sheared'));
    const bores = (time: string) => {
      const one = told(log.fork(), time, '09:40', start('burr-out'));
      told(one, '09:13', '09:41', end('no-change', { start: one.n }));
      return one.folded.screws.get('1')?.context.bores.length;
    };
    expect([bores('09:11'), bores('09:12')]).toEqual([0, 1]);
  });
});

describe('an end', () => {
  /** The cone runs since twenty past; two more moves were told late. */
  const three = () => {
    const log = now(table2(), '09:20', start('conical-extractor'));
    told(log, '09:05', '09:30', start('turn-out'));
    return told(log, '09:10', '09:31', start('grip-head'));
  };
  const first = three().n - 2;

  it('told in time is that of the move that runs', () => {
    expect(tries(now(three(), '09:32', end('no-change')))).toEqual([
      ['conical-extractor', 'no-change'],
      ['turn-out', null],
      ['grip-head', null],
    ]);
  });

  it('told late is that of the last one told late that had begun by then', () => {
    const ended = (time: string) => tries(told(three(), time, '09:40', end('no-change'))).map(([, how]) => how);
    expect(ended('09:11')).toEqual([null, null, 'no-change']);
    expect(ended('09:10')).toEqual([null, null, 'no-change']);
    expect(ended('09:09')).toEqual([null, 'no-change', null]);
    // Before both: the one that runs is all that is left, and its times cannot be.
    const before = told(three(), '09:04', '09:40', end('no-change'));
    expect(tries(before).map(([, how]) => how)).toEqual(['no-change', null, null]);
    expect(before.view.impossibleTimes).toEqual([before.n]);
  });

  it('is that of the start which it names, late or not', () => {
    const named = (n: number) => tries(now(three(), '09:32', end('no-change', { start: n }))).map(([, how]) => how);
    expect(named(first)).toEqual(['no-change', null, null]);
    expect(named(first + 1)).toEqual([null, 'no-change', null]);
    expect(named(first + 2)).toEqual([null, null, 'no-change']);
  });

  it('that names no start that is open has no effect', () => {
    const log = now(three(), '09:32', end('no-change', { start: first - 1 }));
    expect(log.view.outOfOrder).toEqual([log.n]);
    expect(log.of('1').move).toBe('conical-extractor');
  });

  it('is that of a move told late where none runs: the last that had begun by then, else the last told', () => {
    const idle = () => {
      const log = now(table2(), '09:20', start('conical-extractor'));
      now(log, '09:22', end('moving'));
      told(log, '09:05', '09:30', start('turn-out'));
      return told(log, '09:10', '09:31', start('grip-head'));
    };
    const ended = (time: string) => tries(told(idle(), time, '09:32', end('no-change'))).map(([, how]) => how);
    expect(ended('09:32')).toEqual(['moving', null, 'no-change']);
    expect(ended('09:06')).toEqual(['moving', 'no-change', null]);
    expect(ended('09:04')).toEqual(['moving', null, 'no-change']);
  });

  it('at the very time of its start is possible, before it is not, and both count', () => {
    const log = now(table2(), '09:20', start('turn-out'));
    expect(told(log.fork(), '09:20', '09:22', end('no-change')).view.impossibleTimes).toEqual([]);
    const before = told(log, '09:19', '09:22', end('no-change'));
    expect(before.view.impossibleTimes).toEqual([before.n]);
    expect(tries(before)).toEqual([['turn-out', 'no-change']]);
  });

  it('before its start is no fault of the times where the log was taken up between the two after an unknown gap', () => {
    const resumed = (log: Log) => now(log, '09:22', { type: 'resumed', device: 'two', gap: 'not-known' });
    const across = told(resumed(now(table2(), '09:20', start('turn-out'))), '09:10', '09:25', end('no-change'));
    expect(across.view.impossibleTimes).toEqual([]);
    const since = now(resumed(table2()), '09:24', start('turn-out'));
    told(since, '09:23', '09:26', end('no-change'));
    expect(since.view.impossibleTimes).toEqual([since.n]);
  });

  it('of a screw that nobody listed, or without any move, has no effect', () => {
    const log = now(table2(), '09:20', end('no-change', { screw: '9' }));
    now(log, '09:21', end('no-change'));
    expect(log.view.outOfOrder).toEqual([log.n - 1, log.n]);
  });
});

describe('a screw that was out', () => {
  /** Out at twenty past. */
  const out = () => now(now(table2(), '09:10', start('turn-out')), '09:20', end('out', { recovered: 36 }));
  const outAt = out().n;
  const late = (log: Log, from: string, to: string, outcome: string) => {
    told(log, from, '09:40', start('grip-head'));
    return told(log, to, '09:41', end(outcome, { start: log.n }));
  };

  it('is contradicted by what began or ended after it, not by what was over by then', () => {
    const conflicts = (from: string, to: string) => late(out(), from, to, 'no-change').view.conflicts;
    expect(conflicts('09:12', '09:15')).toEqual([]);
    expect(conflicts('09:12', '09:20')).toEqual([]);
    expect(conflicts('09:12', '09:21')).toEqual([[outAt, outAt + 2]]);
    expect(conflicts('09:21', '09:22')).toEqual([[outAt, outAt + 2]]);
    // Its end lies before its start: one of the two is after the screw was out.
    expect(conflicts('09:21', '09:12')).toEqual([[outAt, outAt + 2]]);
  });

  it('is contradicted by another story of its coming out, at whatever time', () => {
    expect(late(out(), '09:12', '09:15', 'out').view.conflicts).toEqual([[outAt, outAt + 2]]);
  });

  it('contradicts what was done to it later by what was told before', () => {
    const log = now(table2(), '09:10', start('conical-extractor'));
    now(log, '09:20', end('moving'));
    const moved = log.n;
    expect(late(log.fork(), '09:12', '09:15', 'out').view.conflicts).toEqual([[moved, moved + 2]]);
    expect(late(log.fork(), '09:12', '09:20', 'out').view.conflicts).toEqual([]);
    expect(late(log.fork(), '09:12', '09:15', 'no-change').view.conflicts).toEqual([]);
    const other = log.screw('2');
    now(other, '09:30', start('turn-out', '2'));
    expect(late(other, '09:22', '09:25', 'out').view.conflicts).toEqual([]);
  });

  it('may have been left in: what was done to it after that contradicts it too', () => {
    const log = now(table2(), '09:20', {
      ...{ type: 'left-in', screw: '1', length: null, where: 'canal', reason: 'deep' },
    });
    const left = log.n;
    expect(late(log.fork(), '09:12', '09:15', 'no-change').view.conflicts).toEqual([]);
    expect(late(log, '09:25', '09:26', 'no-change').view.conflicts).toEqual([[left, left + 2]]);
  });
});

describe('what is said to whom, told after the closing of the time before it', () => {
  const closed = () => now(now(table2(), '09:30', { type: 'work-ended' }), '09:31', { type: 'case-closed' });
  const words: EntryDraft[] = [
    { type: 'screw-called', screw: '1' },
    { type: 'reassessed', screw: '1', checks: {} },
    { type: 'hold-answered', hold: 'time', answer: 'go-on' },
    { type: 'colleague-called' },
    { type: 'deferred', screw: '1' },
    { type: 'stopped', reason: 'time' },
  ];

  it.each(words)('$type is written down, and out of order where it is of the time after it', (word) => {
    const log = told(closed(), '09:20', '09:50', word);
    expect(log.view.outOfOrder).toEqual([]);
    told(log, '09:45', '09:50', word);
    expect(log.view.outOfOrder).toEqual([log.n]);
    const [lived, whole] = bothWays(log);
    expect(lived).toEqual(whole);
  });

  it('changes nothing of a screw: neither that it was looked at again, nor what ran there', () => {
    const slipped = table2();
    now(slipped, '09:10', start('turn-out'));
    now(slipped, '09:11', end('slipped'));
    now(slipped, '09:12', start('grip-head'));
    now(slipped, '09:30', { type: 'work-ended' });
    now(slipped, '09:31', { type: 'case-closed' });
    const before = slipped.folded.screws.get('1')?.context;
    for (const word of words) told(slipped, '09:20', '09:50', word);
    expect(slipped.folded.screws.get('1')?.context).toEqual(before);
  });
});
