/** What is told after a case was closed, of the time before that. */
import { describe, expect, it } from 'vitest';
import type { Bore, EntryDraft } from '../../machines/entry.ts';
import { epoch } from '../../machines/time.ts';
import { attempts, bothWays, table2 } from './build-2.ts';
import type { Log } from './build.ts';

const closingOf = (log: Log) => epoch(log.entries.find(({ type }) => type === 'case-closed')?.at as string);

/** Tells something an hour after the closing, of so many minutes before it (after it, where negative). */
function later(log: Log, draft: EntryDraft, minutesBefore = 10): Log {
  const closed = closingOf(log);
  const logged = new Date(closed + 3_600_000 + log.n * 1000).toISOString();
  return log.write({ ...draft, at: new Date(closed - minutesBefore * 60_000).toISOString(), logged });
}

const closed = (log = table2()) => log.after(60).write({ type: 'work-ended' }).write({ type: 'case-closed' });
const same = (log: Log) => {
  const [lived, whole] = bothWays(log);
  expect(lived).toEqual(whole);
  return log;
};

describe('told after the closing, of the time before it', () => {
  it('a cuff, images, a dose and a wash-out count at their own time', () => {
    const log = closed();
    later(log, { type: 'tourniquet', to: 'up' }, 50);
    later(log, { type: 'tourniquet', to: 'down' }, 20);
    later(log, { type: 'images', shots: 4 });
    expect(log.view.outOfOrder).toEqual([]);
    expect(log.view.clocks).toMatchObject({ tourniquetUp: false, tourniquetTotalMinutes: 30, shots: 4 });
    expect(log.view.late).toEqual([log.n - 2, log.n - 1, log.n]);
    same(log);
  });

  it('is out of order where it is of the time after it', () => {
    const log = closed();
    for (const draft of [
      { type: 'images', shots: 4 },
      { type: 'found', screw: '1', tipProud: true },
      { type: 'plate-off' },
      { type: 'move-started', screw: '1', move: 'turn-out' },
    ] as const)
      later(log, draft, -5);
    expect(log.view.outOfOrder).toEqual([log.n - 3, log.n - 2, log.n - 1, log.n]);
    expect(log.view.clocks.shots).toBe(0);
    same(log);
  });

  it('is of before it by the times alone, however soon it was entered', () => {
    const log = closed();
    const at = new Date(closingOf(log) - 10_000).toISOString();
    log.write({ type: 'images', shots: 2, at, logged: new Date(closingOf(log) + 20_000).toISOString() });
    expect(log.view.clocks.shots).toBe(2);
    expect(log.view.outOfOrder).toEqual([]);
  });

  it('a move with its end counts, and moves no stage', () => {
    const log = closed();
    later(log, { type: 'move-started', screw: '1', move: 'turn-out' }, 40);
    later(log, { type: 'move-ended', screw: '1', outcome: 'slipped' }, 39);
    expect(attempts(log)).toEqual([['1', 'turn-out', 'slipped', 'seated', 'recess-stripped']]);
    expect(log.of('1')).toMatchObject({ stage: 'seated', slips: 1 });
    expect(log.view).toMatchObject({ phase: 'closed', outOfOrder: [], unoffered: [] });
    // The closing itself left the count; the move asked nothing.
    expect(log.view.unanswered.map(({ hold }) => hold)).toEqual(['count']);
    same(log);
  });

  it('a plate that came off, a part that was moved and who was there change the papers and no stage', () => {
    const log = closed();
    later(log, { type: 'plate-off' });
    later(log, { type: 'part-move', part: 'plate', move: 'lever-plate', outcome: 'out' });
    later(log, { type: 'person-listed', role: 'assistant', who: 'T. Invented' });
    expect(log.view.parts['plate']).toMatchObject({ end: 'out', closes: 'assumed' });
    expect(log.folded.case.context.people.at(-1)?.who).toBe('T. Invented');
    expect(log.of('1').stage).toBe('seated');
    same(log);
  });

  it('the end of the work, where nobody had told it, ends it', () => {
    const log = table2().after(60).write({ type: 'case-closed' });
    expect(log.folded.case.context.workEnded).toBeNull();
    later(log, { type: 'work-ended' }, 5);
    expect(log.folded.case.context.workEnded).toBe(closingOf(log) - 300_000);
    later(log, { type: 'work-ended' }, 2);
    expect(log.folded.case.context.workEnded).toBe(closingOf(log) - 300_000);
    expect(log.of('1').metal.closes).toBe('open');
  });

  it('that the work was stopped: what is in stays, and the account says so', () => {
    const log = closed();
    expect(log.of('1').metal.closes).toBe('open');
    later(log, { type: 'stopped', reason: 'bleeding' });
    expect(log.view.stopped).toBe(log.n);
    expect(log.of('1')).toMatchObject({ stage: 'seated', metal: { closes: 'assumed' } });
    same(log);
  });

  it('a jump of the clock, also after it, so that what follows can be read', () => {
    const log = closed();
    const at = new Date(closingOf(log) + 7_200_000).toISOString();
    log.write({ type: 'clock-jumped', seconds: 7200, at });
    expect(log.view.outOfOrder).toEqual([]);
    log.write({ type: 'images', shots: 3, at: new Date(closingOf(log) + 6_600_000).toISOString(), logged: at });
    expect(log.view.clocks.shots).toBe(3);
    same(log);
  });
});

describe('answered after the closing', () => {
  const short = () => table2().tries('1', 'turn-out', 'out', { recovered: 20, lengthHow: 'measured' });
  const why = (answer: 'listed-wrong' | 'lost') => ({ type: 'length-answered', screw: '1', answer }) as const;

  it('why a screw came out short changes its account, and no stage', () => {
    const log = closed(short());
    expect(log.of('1')).toMatchObject({ stage: 'seated', lengthAsked: expect.any(Number), metal: { closes: 'open' } });
    log.write(why('listed-wrong'));
    expect(log.of('1')).toMatchObject({ stage: 'seated', lengthAsked: null, metal: { closes: 'measured' } });
    same(log);
  });

  it.each([why('lost'), { type: 'length-answered', screw: '1', answer: 'broke', reachable: true } as const])(
    'that the rest is lost or broke off leaves it open',
    (answer) => {
      const log = closed(short()).write(answer);
      expect(log.of('1')).toMatchObject({
        ...{ stage: 'seated', lengthAsked: null, metal: { closes: 'open', unaccounted: 16 } },
      });
      same(log);
    },
  );

  it('how the recess was does not lift a stage any more; what it left does count', () => {
    const slipped = () => table2().tries('1', 'turn-out', 'slipped');
    const of = slipped().n - 1;
    const bores: Bore[] = [{ wall: 'near', diameter: 6 }];
    const answer: EntryDraft = { type: 'move-answered', of, recess: 'sound', bores };
    expect(slipped().write(answer).of('1').stage).toBe('seated');
    const log = closed(slipped()).write(answer);
    expect(log.of('1').stage).toBe('recess-stripped');
    expect(log.folded.screws.get('1')?.context.bores).toEqual(bores);
    same(log);
  });
});
