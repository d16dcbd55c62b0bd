/** What is told after the touch: how a move ended, whose end it was, that work stopped or was put off, what was found. */
import { describe, expect, it } from 'vitest';
import type { EntryDraft, EntryOf } from '../../machines/entry.ts';
import { attemptsOf } from '../../machines/trace.ts';
import { attempts, bothWays, faultsOf, fileOf, isCounted, table2 } from './build-2.ts';
import { inTheRoom, type Log } from './build.ts';

type Answer = Omit<EntryOf<'move-answered'>, 'n' | 'at' | 'logged' | 'type' | 'of'>;
const answers = (log: Log, of: number, more: Answer) => log.write({ type: 'move-answered', of, ...more });
const same = (log: Log) => {
  const [lived, whole] = bothWays(log);
  expect(lived).toEqual(whole);
};
const day = (time: string) => `2026-03-04T${time}Z`;
const plateOut: EntryDraft = { type: 'part-ended', part: 'plate', end: 'out' };

describe('an answer to what a move left', () => {
  const slipped = (more: Partial<EntryOf<'move-ended'>> = {}) => table2().tries('1', 'turn-out', 'slipped', more);

  it('that the recess is sound brings a screw that slipped back into its seat', () => {
    const log = slipped();
    const start = log.n - 1;
    expect(log.of('1').stage).toBe('recess-stripped');
    answers(log, start, { recess: 'sound' });
    expect(log.of('1')).toMatchObject({ stage: 'seated', slips: 1, holds: ['reassess'] });
    expect(faultsOf(fileOf(log.entries))).toEqual([]);
    same(log);
  });

  it.each(['damaged', 'not-seen'] as const)('that the recess is %s leaves it stripped', (recess) =>
    expect(answers(slipped(), slipped().n - 1, { recess }).of('1').stage).toBe('recess-stripped'),
  );

  it('that was given with the end itself needs no other, and the last one counts', () => {
    const log = slipped({ recess: 'sound' });
    const start = log.n - 1;
    expect(log.of('1').stage).toBe('seated');
    expect(answers(log, start, { recess: 'damaged' }).of('1').stage).toBe('recess-stripped');
    expect(answers(log, start, { recess: 'sound' }).of('1').stage).toBe('seated');
    same(log);
  });

  it('that is struck was never given', () => {
    const log = slipped();
    answers(log, log.n - 1, { recess: 'sound' });
    expect(log.strikes(log.n).of('1').stage).toBe('recess-stripped');
  });

  it('on the head is read with the move that it came off under', () => {
    const log = table2().tries('1', 'turn-out', 'head-sheared');
    const start = log.n - 1;
    log.tries('1', 'grip-shank', 'out', { recovered: 29, lengthHow: 'measured' });
    expect(log.of('1').metal.closes).toBe('open');
    answers(log, start, { head: 'in-plate' }).write(plateOut);
    expect(log.of('1').metal).toMatchObject({ unaccounted: 0, closes: 'difference' });
    same(log);
  });

  it('on the bores takes the place of those that were to be expected, of that move alone', () => {
    const bored = (log: Log) =>
      attemptsOf(log.folded.trace).map(({ bores, boresEntered }) => [bores.length, boresEntered]);
    const log = table2({ stage: 'head-sheared' }).tries('1', 'burr-out', 'no-change');
    const start = log.n - 1;
    log.tries('1', 'burr-out', 'no-change');
    const [first, second] = bored(log) as [unknown[], unknown[]];
    answers(log, start, { bores: [] });
    expect(bored(log)).toEqual([[0, true], second]);
    expect(first[1]).toBe(false);
    answers(log, start, { bores: [{ wall: 'near', diameter: 5 }] });
    expect(bored(log)).toEqual([[1, true], second]);
    same(log);
  });

  it('adds to the one before it, field by field', () => {
    const log = slipped();
    const start = log.n - 1;
    answers(answers(log, start, { recess: 'sound' }), start, { depth: 12 });
    expect(log.of('1').stage).toBe('seated');
    expect(attemptsOf(log.folded.trace)[0]?.end).not.toBeNull();
  });

  it('may come while the move still runs: its end reads with it', () => {
    const log = table2().begins('1', 'turn-out');
    answers(log, log.n, { head: 'shavings' }).ends('1', 'head-sheared');
    log.tries('1', 'grip-shank', 'out', { recovered: 29, lengthHow: 'measured' });
    expect(log.of('1').metal).toMatchObject({ destroyed: 7, closes: 'difference' });
    same(log);
  });

  it('moves nothing of another screw, nor of another move', () => {
    const log = slipped().screw('2').tries('2', 'turn-out', 'slipped');
    answers(log, log.n - 1, { recess: 'sound' });
    expect([log.of('1').stage, log.of('2').stage]).toEqual(['recess-stripped', 'seated']);
  });
});

describe('an end that names its start', () => {
  /** A first move that nobody ended, and a second one. */
  const forgotten = () => {
    const log = table2().begins('1', 'turn-out');
    const first = log.n;
    log.tries('1', 'grip-head', 'no-change');
    return { log, first };
  };

  it('was for a move that the next one had cut off: without it nobody knows how that ended', () => {
    const { log, first } = forgotten();
    expect(attempts(log).map(([, move, outcome]) => [move, outcome])).toEqual([
      ['turn-out', null],
      ['grip-head', 'no-change'],
    ]);
    log.ends('1', 'slipped', { start: first });
    expect(attempts(log).map(([, move, outcome]) => [move, outcome])).toEqual([
      ['turn-out', 'slipped'],
      ['grip-head', 'no-change'],
    ]);
    expect(log.of('1')).toMatchObject({ slips: 1, stage: 'recess-stripped' });
    expect(log.view.outOfOrder).toEqual([]);
    same(log);
  });

  it('leaves the running move running', () => {
    const log = table2().begins('1', 'turn-out');
    const first = log.n;
    log.begins('1', 'grip-head').ends('1', 'slipped', { start: first });
    expect(log.of('1')).toMatchObject({ move: 'grip-head', slips: 1 });
    log.ends('1', 'moving');
    expect(attempts(log).map(([, move, outcome]) => [move, outcome])).toEqual([
      ['turn-out', 'slipped'],
      ['grip-head', 'moving'],
    ]);
    same(log);
  });

  it('may name the running one', () => {
    const log = table2().begins('1', 'turn-out');
    log.ends('1', 'moving', { start: log.n });
    expect(attempts(log)).toEqual([['1', 'turn-out', 'moving', 'seated', 'seated']]);
    expect(log.view.outOfOrder).toEqual([]);
  });

  it('tells two moves apart that are both told late', () => {
    const late = (time: string) => ({ at: day(time), logged: day('10:30:00') });
    const log = table2()
      .begins('1', 'grip-head', { at: day('10:00:00') })
      .ends('1', 'no-change', { at: day('10:01:00') });
    log.begins('1', 'turn-out', late('09:10:00'));
    const first = log.n;
    log.begins('1', 'conical-extractor', late('09:20:00'));
    const second = log.n;
    log
      .ends('1', 'no-change', { ...late('09:25:00'), start: second })
      .ends('1', 'slipped', { ...late('09:15:00'), start: first });
    const told = attempts(log).map(([, move, outcome]) => [move, outcome]);
    expect(told).toEqual(
      expect.arrayContaining([
        ['turn-out', 'slipped'],
        ['conical-extractor', 'no-change'],
      ]),
    );
    expect(log.view).toMatchObject({ outOfOrder: [], impossibleTimes: [] });
    same(log);
  });

  it('that nothing began, or that lies on another screw, is kept and has no effect', () => {
    const log = table2().screw('2').begins('1', 'turn-out');
    const start = log.n;
    for (const [screw, of] of [
      ['1', 1],
      ['2', start],
    ] as const) {
      const wrong = log.fork().ends(screw, 'slipped', { start: of });
      expect(wrong.view.outOfOrder).toEqual([wrong.n]);
      expect(wrong.of('1').move).toBe('turn-out');
    }
  });
});

describe('work that is stopped', () => {
  const stop = (log: Log, more: Omit<EntryOf<'stopped'>, 'n' | 'at' | 'logged' | 'type'> = {}) =>
    log.write({ type: 'stopped', ...more });
  const running = () => table2({ stage: 'head-sheared' }).begins('1', 'burr-out');

  it('breaks off the move that runs: it was no try, and its bores stand', () => {
    const log = stop(running());
    expect(log.of('1')).toMatchObject({ stage: 'head-sheared', move: null });
    const [attempt] = attemptsOf(log.folded.trace);
    expect(attempt).toMatchObject({ outcome: null, gained: false, boresEntered: false });
    expect(attempt?.bores.length).toBeGreaterThan(0);
    expect(log.folded.screws.get('1')?.context).toMatchObject({ withoutGain: 0, usedUp: [], slips: 0 });
    same(log);
  });

  it('breaks off every move that runs', () => {
    const log = stop(running().screw('2').begins('2', 'turn-out'));
    expect(attemptsOf(log.folded.trace).map(({ end }) => end?.type)).toEqual(['stopped', 'stopped']);
  });

  it('is one touch, and a second one adds the reason', () => {
    const log = stop(table2());
    const n = log.n;
    expect(log.view.stopped).toBe(n);
    stop(log, { reason: 'bleeding', text: 'from the canal' });
    expect(log.view.stopped).toBe(n);
    expect(log.folded.case.context.stopped).toEqual({ n, reason: 'bleeding', text: 'from the canal' });
    stop(log, { reason: 'patient' });
    expect(log.folded.case.context.stopped).toEqual({ n, reason: 'patient', text: 'from the canal' });
  });

  it('leaves every stage as it was, and asks for no image of what never broke', () => {
    const log = stop(table2().screw('2', { stage: 'fragment-retained' }).tries('1', 'turn-out', 'slipped'));
    expect([log.of('1').stage, log.of('2').stage]).toEqual(['recess-stripped', 'fragment-retained']);
    expect(log.of('1').metal).toMatchObject({ unaccounted: 0, closes: 'assumed' });
    expect(isCounted(log)).toBe(true);
  });

  it('leaves what broke open, whatever was measured of it', () => {
    const log = table2().tries('1', 'turn-out', 'shank-broke', { recovered: 20, lengthHow: 'measured' });
    expect(stop(log).of('1').metal).toMatchObject({ unaccounted: 16, closes: 'open' });
    expect(isCounted(log)).toBe(false);
  });

  const broken = (reason: NonNullable<EntryOf<'stopped'>['reason']>) =>
    stop(table2().tries('1', 'turn-out', 'shank-broke'), { reason }).write({ type: 'work-ended' });
  const counted = (log: Log, image?: EntryOf<'count-answered'>['image']) =>
    !log
      .write({
        ...{ type: 'count-answered', by: ['scrub', 'surgeon'], discrepancy: 'the shank is in' },
        ...(image && { image }),
      })
      .view.holds.includes('count');

  it.each(['anaesthesia', 'patient', 'bleeding', 'bone', 'infection'] as const)(
    'for %s may leave the rest unlooked for, in words',
    (reason) => expect(counted(broken(reason), 'not-taken')).toBe(true),
  );

  it.each(['time', 'planned', 'other'] as const)('for %s does not: it asks for an image', (reason) => {
    expect(counted(broken(reason), 'not-taken')).toBe(false);
    expect(counted(broken(reason), 'metal-seen')).toBe(true);
    expect(counted(broken(reason))).toBe(false);
  });

  it('is taken back by the next move, of whatever screw', () => {
    const log = stop(table2().screw('2'));
    expect(log.fork().begins('2', 'turn-out').view.stopped).toBeNull();
    expect(log.fork().begins('2', 'turn-out').of('1').metal.closes).toBeNull();
    expect(log.fork().write({ type: 'work-ended' }).view.stopped).toBe(log.n);
  });

  it('is not taken back by a move that is told late', () => {
    const log = table2()
      .begins('1', 'turn-out', { at: day('10:00:00') })
      .ends('1', 'no-change', { at: day('10:01:00') });
    stop(log, {}).write({ type: 'remark', text: 'x' });
    const before = log.view.stopped;
    log.begins('1', 'grip-head', { at: day('09:50:00'), logged: day('10:40:00') });
    expect(log.view.outOfOrder).toEqual([]);
    expect(log.view.stopped).toBe(before);
  });

  it('is not told before any work', () => {
    const log = stop(inTheRoom({}, { rules: 2 }));
    expect(log.view).toMatchObject({ stopped: null, outOfOrder: [log.n] });
  });

  it('that is struck goes on as if it had not been told', () => {
    const log = stop(running());
    expect(log.strikes(log.n).of('1').move).toBe('burr-out');
    expect(log.view.stopped).toBeNull();
  });
});

describe('a screw that is put off', () => {
  const puts = (log: Log, screw = '1') => log.write({ type: 'deferred', screw });

  it('ends its move without a try, and stays where it is', () => {
    const log = puts(table2().screw('2').call('1').begins('1', 'turn-out'));
    expect(log.of('1')).toMatchObject({ stage: 'seated', move: null });
    expect(attempts(log)).toEqual([['1', 'turn-out', null, 'seated', 'seated']]);
    expect(log.folded.screws.get('1')?.context).toMatchObject({ withoutGain: 0, usedUp: [], jammedSeat: false });
    expect(log.view.outOfOrder).toEqual([]);
    same(log);
  });

  it('calls nobody', () => {
    const log = puts(table2().screw('2').call('1'));
    expect(log.view.called).toBeNull();
    expect(puts(table2().screw('2').call('2')).view.called).toBe('2');
  });

  it('is put off also while somebody has to look again, and the hold stands after', () => {
    const log = puts(table2().screw('2').tries('1', 'turn-out', 'slipped'));
    expect(log.view.outOfOrder).toEqual([]);
    expect(log.of('1').holds).toEqual(['reassess']);
  });

  it('spends no answer', () => {
    const log = table2({ stage: 'head-sheared' }).screw('2').answers('reverse', { screw: '1' });
    expect(puts(log).folded.screws.get('1')?.context.answered).toEqual(['reverse']);
  });

  it('can be put off while another one is in, or a plate is on', () => {
    const alone = table2({}, { construct: 'screws' });
    expect(alone.of('1').mayDefer).toBe(false);
    expect(alone.fork().screw('2').of('1').mayDefer).toBe(true);
    expect(alone.screw('2').tries('2', 'turn-out', 'out').of('1').mayDefer).toBe(false);
    expect(table2().of('1').mayDefer).toBe(true);
    expect(table2().write({ type: 'plate-off' }).of('1').mayDefer).toBe(false);
    expect(table2().tries('1', 'turn-out', 'out').of('1').mayDefer).toBe(false);
  });

  it('is none that is out', () => {
    const log = puts(table2().tries('1', 'turn-out', 'out'));
    expect(log.view.outOfOrder).toEqual([log.n]);
  });
});

describe('the count, once it is answered', () => {
  const counted = () => {
    const log = table2().tries('1', 'turn-out', 'out', { recovered: 36, lengthHow: 'measured' }).write(plateOut);
    return log.write({ type: 'work-ended' }).write({ type: 'count-answered', by: ['scrub', 'circulating'] });
  };
  const isOpen = (log: Log) => log.view.holds.includes('count');

  it.each<[string, (log: Log) => Log]>([
    ['a screw that nobody had listed', (log) => log.screw('2')],
    [
      'a tip that is missing',
      (log) => log.write({ type: 'tool-damaged', tool: 'gouge', how: 'gone', tipMissing: true }),
    ],
    ['a part that nobody spoke of', (log) => log.write({ type: 'part-listed', part: 'clip', kind: 'other' })],
    ['a part that is not found', (log) => log.write({ type: 'part-ended', part: 'plate', end: 'not-found' })],
    ['a longer screw than was listed', (log) => log.screw('1', { length: 50 })],
    [
      'a break that is told late',
      (log) =>
        log
          .begins('1', 'turn-out', { at: day('07:59:00'), logged: day('10:00:00') })
          .ends('1', 'shank-broke', { at: day('07:59:30'), logged: day('10:00:30') }),
    ],
    ['an end that is struck', (log) => log.strikes(log.entries.find(({ type }) => type === 'move-ended')?.n as number)],
  ])('is open again after %s', (_, tell) => {
    expect(isOpen(counted())).toBe(false);
    const log = tell(counted());
    expect(log.view.outOfOrder).toEqual([]);
    expect(isOpen(log)).toBe(true);
    same(log);
  });

  it('is open again when anybody says that it does not agree, until it is looked for', () => {
    const disagree = { type: 'count-answered', discrepancy: 'one swab holder short' } as const;
    const log = counted().write({ ...disagree, by: ['scrub'] });
    expect(isOpen(log)).toBe(true);
    expect(isOpen(log.write({ ...disagree, by: ['scrub', 'surgeon'], image: 'clear' }))).toBe(false);
  });

  it.each<[string, (log: Log) => Log]>([
    ['a remark', (log) => log.remarks()],
    ['a part that came out', (log) => log.write({ type: 'part-ended', part: 'clip', end: 'out' })],
    ['what was put in', (log) => log.write({ type: 'put-in', part: 'new', kind: 'plate', where: 'tibia' })],
    ['an image', (log) => log.write({ type: 'images', shots: 1 })],
  ])('stays answered after %s', (_, tell) => expect(isOpen(tell(counted()))).toBe(false));

  it('stays answered for what was open then, and opens for what became open since', () => {
    const log = table2().tries('1', 'turn-out', 'shank-broke').write(plateOut).write({ type: 'work-ended' });
    log.write({
      type: 'count-answered',
      by: ['scrub', 'surgeon'],
      discrepancy: 'the shank is in',
      image: 'metal-seen',
    });
    expect(isOpen(log)).toBe(false);
    expect(isOpen(log.remarks().finds('1', { tipProud: true }))).toBe(false);
    expect(isOpen(log.screw('2'))).toBe(true);
  });
});

describe('after the case was closed', () => {
  const closed = (before: (log: Log) => Log = (log) => log) =>
    before(table2()).write({ type: 'work-ended' }).write({ type: 'case-closed' });

  it('a screw that is all of it moves no stage, and its account closes', () => {
    const log = closed((before) => before.leaves('1'));
    log.write({ type: 'piece-recovered', screw: '1', complete: true });
    expect(log.of('1')).toMatchObject({ stage: 'left-in', metal: { closes: 'assumed' } });
    const inside = closed().write({
      type: 'piece-recovered',
      screw: '1',
      whole: true,
      length: 35,
      lengthHow: 'measured',
    });
    expect(inside.of('1')).toMatchObject({ stage: 'seated', metal: { recovered: 35, closes: 'measured' } });
    expect(inside.view.outOfOrder).toEqual([]);
    same(inside);
  });

  it('a screw that is said to stay moves no stage either', () => {
    const log = closed().leaves('1');
    expect(log.of('1')).toMatchObject({ stage: 'seated', metal: { closes: 'assumed' } });
    expect(log.view.outOfOrder).toEqual([]);
  });

  it('a screw, a tip and a part that are found stand in the account as open', () => {
    const log = closed((before) => before.tries('1', 'turn-out', 'out').write(plateOut));
    log.screw('2').write({ type: 'tool-damaged', tool: 'gouge', how: 'gone', tipMissing: true });
    log.write({ type: 'part-listed', part: 'clip', kind: 'other' });
    expect(log.of('2').metal.closes).toBe('open');
    expect(log.view).toMatchObject({
      ...{ phase: 'closed', outOfOrder: [], toolTips: [{ closes: 'open' }], parts: { clip: { closes: 'open' } } },
    });
    same(log);
  });

  it('a deeper stage of a screw moves no stage', () => {
    const log = closed().screw('1', { stage: 'fragment-retained' });
    expect(log.of('1').stage).toBe('seated');
    expect(log.view.outOfOrder).toEqual([]);
  });

  it('what became open is no hold', () => {
    const log = closed((before) =>
      before
        .tries('1', 'turn-out', 'out', { recovered: 36, lengthHow: 'measured' })
        .write(plateOut)
        .write({ type: 'work-ended' })
        .write({ type: 'count-answered', by: ['scrub', 'circulating'] }),
    );
    expect(log.view.holds).toEqual([]);
    log.write({ type: 'part-ended', part: 'plate', end: 'not-found' });
    expect(log.view).toMatchObject({ holds: [], phase: 'closed', parts: { plate: { closes: 'open' } } });
  });

  it('a slip is struck as at any time: stages read as the law says', () => {
    const log = closed((before) => before.tries('1', 'turn-out', 'slipped'));
    const slip = log.entries.find(({ type }) => type === 'move-ended')?.n as number;
    expect(log.of('1').stage).toBe('recess-stripped');
    expect(log.strikes(slip).of('1')).toMatchObject({ stage: 'seated', slips: 0 });
  });

  it('no move is begun', () => {
    const log = closed().begins('1', 'turn-out');
    expect(log.view.outOfOrder).toEqual([log.n]);
  });
});
