/** The holds of the whole case: when each stands, when it closes, and what is listed as unanswered. */
import { describe, expect, it } from 'vitest';
import type { HoldId } from '../../content/ids.ts';
import { readiness } from '../../machines/readiness.ts';
import { closingHolds } from '../../machines/standing.ts';
import { view } from '../../machines/view.ts';
import { epoch } from '../../machines/time.ts';
import { atTheTable, inTheRoom, Log, type Log as Built } from './build.ts';

const at = (log: Built, time: string) => view(log.folded, epoch(time));
const unanswered = (log: Built) => log.view.unanswered;

describe('H6 hard-metal', () => {
  const plan = (locking: boolean) => new Log().opened().screw('1', { locking });

  it('stands in the briefing for a locking screw without a drill that fits', () => {
    expect(plan(true).view.holds).toEqual(['hard-metal']);
    expect(plan(false).view.holds).toEqual([]);
    expect(plan(true).tool('hard-metal-drill', { fits: [3.5] }).view.holds).toEqual(['hard-metal']);
    expect(plan(true).tool('hard-metal-drill', { fits: [3.5, 4.5] }).view.holds).toEqual([]);
    expect(plan(true).room('hard-metal-drill').view.holds).toEqual([]);
  });

  it('stands for one locking screw among others, as long as that one is still to come out', () => {
    const both = () => new Log().opened().screw('1').screw('2', { locking: true });
    expect(both().view.holds).toEqual(['hard-metal']);
    const doNotStart = (log: Built) => readiness(log.folded).doNotStart.map(({ reason }) => reason);
    expect(doNotStart(both().start())).toContain('no-hard-metal-drill');
    expect(doNotStart(both().start().tries('2', 'turn-out', 'out'))).not.toContain('no-hard-metal-drill');
    expect(doNotStart(both().start().leaves('2'))).not.toContain('no-hard-metal-drill');
  });

  it('closes on an answer; begun without one it is unanswered', () => {
    expect(plan(true).answers('hard-metal').view.holds).toEqual([]);
    expect(unanswered(plan(true).answers('hard-metal').start())).toEqual([]);
    const begun = plan(true).start();
    expect(begun.view.holds).toEqual([]);
    expect(unanswered(begun)).toEqual([{ hold: 'hard-metal', entry: begun.n }]);
  });

  it('withdraws at the table what needs the drill, with the reason', () => {
    const log = plan(true).start().tries('1', 'turn-out', 'no-change');
    expect(log.of('1').withdrawn).toContainEqual({
      move: 'drill-head-off',
      why: 'tool-missing',
      missing: ['hard-metal-drill'],
    });
  });
});

describe('H7 tourniquet', () => {
  const up = (at = '2026-03-04T09:00:00Z') => atTheTable().write({ type: 'tourniquet', to: 'up', at });

  it('speaks 15 minutes before the limit and stands at it: 120 minutes unless set', () => {
    const log = up();
    expect(at(log, '2026-03-04T10:44:59Z')).toMatchObject({ holds: [], notices: [] });
    expect(at(log, '2026-03-04T10:45:00Z')).toMatchObject({ holds: [], notices: ['tourniquet'] });
    expect(at(log, '2026-03-04T10:59:59Z')).toMatchObject({ holds: [], notices: ['tourniquet'] });
    expect(at(log, '2026-03-04T11:00:00Z')).toMatchObject({ holds: ['tourniquet'], notices: [] });
    const shorter = up().write({ type: 'limits-set', tourniquetMinutes: 60, at: '2026-03-04T09:01:00Z' });
    expect(at(shorter, '2026-03-04T10:00:00Z').holds).toEqual(['tourniquet']);
  });

  it('closes when it is let down, and stands anew at each inflation', () => {
    const down = up().write({ type: 'tourniquet', to: 'down', at: '2026-03-04T11:05:00Z' });
    expect(down.view.holds).toEqual([]);
    const again = down.write({ type: 'tourniquet', to: 'up', at: '2026-03-04T11:20:00Z' });
    expect(at(again, '2026-03-04T13:19:00Z').holds).toEqual([]);
    expect(at(again, '2026-03-04T13:20:00Z').holds).toEqual(['tourniquet']);
  });

  it('closes on an answer, for this inflation alone', () => {
    const answered = up().answers('tourniquet', { at: '2026-03-04T11:01:00Z', answer: 'go-on' });
    expect(at(answered, '2026-03-04T11:30:00Z').holds).toEqual([]);
    answered.write({ type: 'tourniquet', to: 'down', at: '2026-03-04T11:31:00Z' });
    answered.write({ type: 'tourniquet', to: 'up', at: '2026-03-04T11:50:00Z' });
    expect(at(answered, '2026-03-04T13:51:00Z').holds).toEqual(['tourniquet']);
  });

  it('is unanswered by a move begun while it stands', () => {
    const log = up().begins('1', 'turn-out', { at: '2026-03-04T11:10:00Z' });
    expect(unanswered(log)).toEqual([{ hold: 'tourniquet', entry: log.n }]);
    expect(unanswered(up().begins('1', 'turn-out', { at: '2026-03-04T10:50:00Z' }))).toEqual([]);
  });
});

describe('H8 time', () => {
  const begun = () => inTheRoom({}, { theatreMinutes: 60 }).start({ at: '2026-03-04T09:00:00Z' });

  it('stands once the planned minutes since the start of the work are used up', () => {
    expect(at(begun(), '2026-03-04T09:59:59Z').holds).toEqual([]);
    expect(at(begun(), '2026-03-04T10:00:00Z').holds).toEqual(['time']);
    expect(at(atTheTable(), '2026-03-05T10:00:00Z').holds).toEqual([]);
  });

  it('does not stand before the work began, not even where no minutes were planned', () => {
    const none = inTheRoom().write({ type: 'limits-set', theatreMinutes: 0 });
    expect(none.view.holds).toEqual([]);
    expect(none.start().view.holds).toEqual(['time']);
  });

  it('goes by the minutes last set, and once answered does not come again', () => {
    const longer = begun().write({ type: 'limits-set', theatreMinutes: 90, at: '2026-03-04T09:01:00Z' });
    expect(at(longer, '2026-03-04T10:29:00Z').holds).toEqual([]);
    expect(at(longer, '2026-03-04T10:30:00Z').holds).toEqual(['time']);
    const answered = longer
      .answers('time', { at: '2026-03-04T10:31:00Z' })
      .write({ type: 'limits-set', theatreMinutes: 100, at: '2026-03-04T10:32:00Z' });
    expect(at(answered, '2026-03-04T11:30:00Z').holds).toEqual([]);
  });

  it('is unanswered by a move begun while it stands', () => {
    const log = begun().begins('1', 'turn-out', { at: '2026-03-04T10:05:00Z' });
    expect(unanswered(log)).toEqual([{ hold: 'time', entry: log.n }]);
  });
});

const end = (log: Built) => log.write({ type: 'work-ended' });
const caseHolds = (log: Built): HoldId[] => log.view.holds;

describe('H9 shavings', () => {
  const cut = () => atTheTable({ stage: 'recess-stripped' }).tries('1', 'slot-head', 'out');

  it('stands from the end of the work when metal was cut after the last wash-out', () => {
    expect(caseHolds(cut())).toEqual([]);
    expect(caseHolds(end(cut()))).toContain('shavings');
    expect(caseHolds(end(cut().write({ type: 'washed-out' })))).not.toContain('shavings');
    expect(caseHolds(end(cut()).write({ type: 'washed-out' }))).not.toContain('shavings');
    expect(caseHolds(end(atTheTable().write({ type: 'washed-out' }).tries('1', 'turn-out', 'out')))).not.toContain(
      'shavings',
    );
  });

  it.each(['reverse-tap', 'free-plate', 'slot-head', 'drill-head-off', 'burr-out'] as const)(
    'counts %s, whatever its end',
    (move) => {
      expect(caseHolds(end(atTheTable().tries('1', move, 'no-change')))).toContain('shavings');
      expect(caseHolds(end(atTheTable().begins('1', move).leaves('1')))).toContain('shavings');
      expect(caseHolds(end(atTheTable().begins('1', move).begins('1', 'grip-head')))).toContain('shavings');
    },
  );

  it.each(['turn-out', 'conical-extractor', 'gouge-and-grip', 'hollow-ream', 'extraction-sleeve'] as const)(
    'does not count %s',
    (move) => {
      expect(caseHolds(end(atTheTable().tries('1', move, 'no-change')))).not.toContain('shavings');
    },
  );

  it('can be passed on the surgeon’s word once it stands, and not before', () => {
    expect(caseHolds(end(cut()).answers('shavings', { onWordOf: 'surgeon' }))).not.toContain('shavings');
    expect(caseHolds(end(cut().answers('shavings')))).toContain('shavings');
  });

  it('stands again when the work goes on and metal is cut again', () => {
    const again = end(cut().write({ type: 'washed-out' }).screw('2')).tries('2', 'drill-head-off', 'head-sheared');
    expect(again.view.phase).toBe('working');
    expect(caseHolds(end(again))).toContain('shavings');
  });

  it('is unanswered when the case is closed over it', () => {
    const log = end(cut())
      .write({ type: 'count-answered', by: ['scrub', 'circulating'] })
      .write({ type: 'case-closed' });
    expect(unanswered(log)).toEqual([{ hold: 'shavings', entry: log.n }]);
    expect(log.view).toMatchObject({ phase: 'closed', outOfOrder: [] });
  });
});

describe('H10 count', () => {
  const both = ['scrub', 'circulating'] as const;
  const count = (log: Built, more: object = {}, by: readonly string[] = both) =>
    log.write({ type: 'count-answered', by: [...by], ...more } as never);
  const whole = () => end(atTheTable().tries('1', 'turn-out', 'out', { recovered: 36 }));
  const short = () => end(atTheTable({ stage: 'fragment-retained' }));

  it('stands from the end of the work, also when all is accounted for', () => {
    expect(caseHolds(whole())).toEqual(['count']);
    expect(caseHolds(count(whole()))).toEqual([]);
  });

  it('needs two different roles', () => {
    expect(caseHolds(count(whole(), {}, ['scrub']))).toEqual(['count']);
    expect(caseHolds(count(whole(), {}, ['scrub', 'scrub']))).toEqual(['count']);
    expect(count(whole(), {}, ['scrub']).view.outOfOrder).toEqual([]);
  });

  it('needs the discrepancy in words and an image when metal is unaccounted for [Z18]', () => {
    expect(caseHolds(count(short()))).toEqual(['count']);
    expect(caseHolds(count(short(), { discrepancy: 'tip not found' }))).toEqual(['count']);
    expect(caseHolds(count(short(), { imageTaken: true }))).toEqual(['count']);
    expect(caseHolds(count(short(), { discrepancy: 'tip not found', imageTaken: false }))).toEqual(['count']);
    expect(caseHolds(count(short(), { discrepancy: 'tip not found', imageTaken: true }))).toEqual([]);
  });

  it('cannot be passed by an answer [Z18]', () => {
    expect(caseHolds(short().answers('count'))).toEqual(['count']);
  });

  it('is not settled by a count before the work ended, nor by an end before the work began', () => {
    const early = count(atTheTable().tries('1', 'turn-out', 'out', { recovered: 36 }));
    expect(caseHolds(end(early))).toEqual(['count']);
    const never = inTheRoom().write({ type: 'work-ended' });
    expect(never.view.outOfOrder).toEqual([never.n]);
    const begun = count(never.start().tries('1', 'turn-out', 'out', { recovered: 36 }));
    expect(caseHolds(end(begun))).toEqual(['count']);
  });

  it('stands again when the work goes on', () => {
    const log = count(whole().screw('2', { length: null }), { discrepancy: 'second screw still in', imageTaken: true });
    expect(caseHolds(log)).toEqual([]);
    log.tries('2', 'turn-out', 'out');
    expect(caseHolds(log)).toEqual([]);
    expect(caseHolds(end(log))).toEqual(['count']);
  });

  it('stands again when a tip is missed after the count, but not when one counted as lost is described [Z18]', () => {
    const missed = { type: 'tool-damaged', tool: 'pick', how: 'tip gone', tipMissing: true } as const;
    const log = count(whole()).write(missed);
    expect(caseHolds(log)).toEqual(['count']);
    expect(log.view.toolTips).toMatchObject([{ tool: 'pick', entry: log.n }]);
    expect(caseHolds(count(log, { discrepancy: 'tip not found', imageTaken: true }))).toEqual([]);
    expect(caseHolds(log.write({ ...missed, tipMissing: false }))).toEqual([]);
    const broke = count(end(atTheTable().tries('1', 'turn-out', 'tool-broke')), {
      discrepancy: 'tip not found',
      imageTaken: true,
    });
    expect(caseHolds(broke.write({ ...missed, tool: 'driver-hexagonal' }))).toEqual([]);
  });

  it('stands again when a move that still ran breaks its tool after the count [Z18]', () => {
    const log = end(atTheTable().begins('1', 'turn-out'));
    count(log, { discrepancy: 'screw 1 still in', imageTaken: true });
    expect(caseHolds(log)).toEqual([]);
    expect(caseHolds(log.ends('1', 'tool-broke'))).toEqual(['count']);
  });

  it('is unanswered when the case is closed over it [Z18]', () => {
    const log = short().write({ type: 'case-closed' });
    expect(unanswered(log)).toEqual([{ hold: 'count', entry: log.n }]);
    expect(log.view).toMatchObject({ phase: 'closed', outOfOrder: [] });
  });

  it('and with the shavings, when the case is closed straight from the work [Z18]', () => {
    const log = atTheTable({ stage: 'recess-stripped' }).tries('1', 'slot-head', 'out').write({ type: 'case-closed' });
    expect(log.view).toMatchObject({ phase: 'closed', outOfOrder: [] });
    expect(unanswered(log)).toEqual([
      { hold: 'shavings', entry: log.n },
      { hold: 'count', entry: log.n },
    ]);
  });

  it('does not stand before the work began, nor is it left open by a case closed then', () => {
    expect(closingHolds(inTheRoom().folded)).toEqual([]);
    const log = inTheRoom().write({ type: 'case-closed' });
    expect(unanswered(log)).toEqual([]);
    expect(closingHolds(log.folded)).toEqual([]);
  });
});
