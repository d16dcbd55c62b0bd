/** One case held against its forecast: the plan and the rates as they stood then, and nothing that came after. */
import { describe, expect, it } from 'vitest';
import { caseOutcome } from '../../machines/across/outcome.ts';
import { monthBand, reckoning } from '../../machines/across/reckon.ts';
import { ratesBefore } from '../../machines/across/then.ts';
import { through } from '../../machines/compute/through.ts';
import { fold } from '../../machines/fold.ts';
import { forecast } from '../../machines/forecast.ts';
import type { OwnRate } from '../../machines/own-rates.ts';
import { readiness } from '../../machines/readiness.ts';
import { Log, content } from './build.ts';

const closed = (log: Log) => log.write({ type: 'work-ended' }).write({ type: 'case-closed' });
const brought = (log: Log) => caseOutcome(log.entries, content);
const reckon = (log: Log, own: OwnRate[] = []) => through(reckoning(log.entries, brought(log), content, own));
const plan = (start = '2026-03-04T08:00:00Z', label = 'plan') =>
  new Log(start)
    .opened({ label, bone: 'radius', placedMonthsAgo: 18 })
    .screw('1', { locking: true, diameter: 3.5 })
    .screw('2', { locking: false, stage: 'recess-stripped' })
    .room('driver-hexagonal', 'metal-foil')
    .start();

describe('a screw that was worked at', () => {
  it('stands beside the forecast that was given for it before the first move', () => {
    const log = plan();
    const { screws } = forecast(log.folded);
    log.tries('1', 'turn-out', 'slipped').finds('1', { headProud: true }).tool('locking-pliers');
    const { judged } = reckon(
      closed(log.tries('1', 'grip-head', 'out').tries('2', 'pack-recess', 'no-change').leaves('2')),
    );
    expect(judged).toEqual([
      {
        ...{ stage: 'seated', locking: 'yes', months: 'to-24', bone: 'radius', bounded: false },
        ...{ forecast: screws['1']?.out.mean, out: true },
      },
      {
        ...{ stage: 'recess-stripped', locking: 'no', months: 'to-24', bone: 'radius', bounded: false },
        ...{ forecast: screws['2']?.out.mean, out: false },
      },
    ]);
  });

  it('is judged by the rates that it is reckoned with', () => {
    const half: OwnRate[] = [{ move: 'turn-out', when: {}, outcome: 'out', value: 0.5, of: 20 }];
    const log = new Log().opened().screw('1').room('driver-hexagonal').start();
    const then = forecast(log.folded, half).screws['1']?.out.mean;
    expect(reckon(closed(log.tries('1', 'turn-out', 'out')), half).judged[0]?.forecast).toBe(then);
  });

  it('is judged by the plan as it was told then: what was put right later is hindsight', () => {
    const log = plan();
    const before = forecast(log.folded).screws['1']?.out.mean;
    log.tries('1', 'turn-out', 'slipped').screw('1', { locking: false, diameter: 4.5 }).looksAgain('1');
    const [first] = reckon(closed(log.tries('1', 'reseat-driver', 'out').leaves('2'))).judged;
    expect(first).toMatchObject({ forecast: before, locking: 'yes' });
  });

  it('keeps nobody’s own words for a bone, and what is not known apart', () => {
    const log = new Log()
      .opened({ bone: 'the left one', rules: 2 })
      .screw('1', { locking: null })
      .room('driver-hexagonal');
    expect(reckon(closed(log.start().tries('1', 'turn-out', 'out'))).judged).toMatchObject([
      { bone: 'own-words', months: 'unknown', locking: 'unknown' },
    ]);
  });
});

describe('a screw of which nothing can be learned', () => {
  it('is left out with the reason, and never taken for one that stayed', () => {
    const log = plan().leaves('2').screw('4').tries('1', 'turn-out', 'slipped').screw('3');
    log.tries('3', 'turn-out', 'out').leaves('4');
    expect(reckon(closed(log))).toMatchObject({
      judged: [],
      notJudged: ['unsaid', 'ended-before', 'listed-later', 'not-tried'],
    });
  });

  it('is one of a case that is still open, or whose plan was told afterwards', () => {
    expect(reckon(plan().tries('1', 'turn-out', 'out'))).toMatchObject({
      ...{ judged: [], notJudged: ['still-open', 'still-open'], minutes: 'still-open' },
    });
    const late = plan().after(30).finds('1', { headProud: true });
    late.begins('1', 'turn-out', { at: '2026-03-04T08:10:00Z', logged: '2026-03-04T09:30:00Z' });
    late.ends('1', 'out', { at: '2026-03-04T08:12:00Z', logged: '2026-03-04T09:31:00Z' });
    expect(reckon(closed(late.leaves('2')))).toMatchObject({
      ...{ judged: [], notJudged: ['told-later', 'told-later'], minutes: 'told-later' },
    });
  });
});

describe('the minutes', () => {
  const told = () => plan().after(15).tries('1', 'turn-out', 'out').after(20).tries('2', 'pack-recess', 'out');

  it('stand beside the forecast as the first move began: the way there is behind it', () => {
    const log = plan();
    const planned = fold([...log.entries], content);
    const then = forecast({ ...planned, latest: planned.latest + 15 * 60_000 }).case.minutes;
    expect(reckon(closed(told())).minutes).toEqual({ ...then, taken: 36.5 });
  });

  it('are not known of work that nobody ended, and say nothing of work that was broken off', () => {
    expect(reckon(told().write({ type: 'case-closed' })).minutes).not.toHaveProperty('taken');
    expect(reckon(closed(plan().tries('1', 'turn-out', 'out'))).minutes).toBe('unfinished');
    expect(reckon(closed(plan().leaves('1').leaves('2'))).minutes).toBe('not-known');
  });
});

describe('the dead ends of a plan', () => {
  it('are those of readiness, each with the chance that a screw comes there', () => {
    const log = plan();
    const { deadEnds, cannotSay } = readiness(log.folded);
    const { open, cannotSay: unsaid, closed: none } = reckon(log).deadEnds;
    expect(open.length + unsaid.length + none.length).toBe(deadEnds.length + cannotSay.length);
    expect(open.length).toBeGreaterThan(3);
    // The second screw stands in one, the first may never come to any.
    expect(open.map(({ chance }) => chance)).toContain(1);
    expect(Math.min(...open.map(({ chance }) => chance))).toBeLessThan(0.2);
  });

  it('are those before the first move, however the room looked later', () => {
    const before = reckon(plan()).deadEnds;
    const after = plan().begins('1', 'turn-out').tool('locking-pliers').tool('gouge').ends('1', 'out');
    expect(reckon(after).deadEnds).toEqual(before);
  });
});

describe('the rates as they stood', () => {
  const one = (month: string, end: 'out' | 'slipped') =>
    brought(closed(plan(`2026-${month}-04T08:00:00Z`, month).tries('1', 'turn-out', end).leaves('2')));
  const tries = (rates: readonly OwnRate[]) => rates.find(({ move }) => move === 'turn-out')?.of ?? 0;

  it('hold what was closed before the first move, and no other case', () => {
    const cases = [one('05', 'out'), one('03', 'out'), one('04', 'slipped')] as const;
    const before = ratesBefore(cases);
    expect(cases.map((of) => tries(before(of, content)))).toEqual([2, 0, 1]);
    // Asked again, in whatever order: the same.
    expect([...cases].reverse().map((of) => tries(before(of, content)))).toEqual([1, 0, 2]);
  });

  it('hold none of the case’s own tries, whatever its clock says of when it was closed', () => {
    const own = one('05', 'out');
    const early = { ...own, course: { ...own.course, closedAt: (own.course.begunAt ?? 0) - 1 } };
    const before = ratesBefore([one('03', 'out'), early]);
    expect(tries(before(early, content))).toBe(1);
    expect(tries(before(one('06', 'out'), content))).toBe(2);
  });

  it('hold all that was closed for a plan that waits for its first move', () => {
    const before = ratesBefore([one('03', 'out'), one('04', 'out'), brought(plan().tries('1', 'turn-out', 'out'))]);
    expect(tries(before(brought(plan('2026-01-01T08:00:00Z', 'waits')), content))).toBe(2);
    expect(ratesBefore([])(brought(plan()), content)).toEqual([]);
  });
});

describe('months in the body', () => {
  it.each([
    [undefined, 'unknown'],
    [0, 'to-12'],
    [12, 'to-12'],
    [12.5, 'to-24'],
    [24, 'to-24'],
    [25, 'over-24'],
  ] as const)('%s are %s', (months, band) => expect(monthBand(months)).toBe(band));
});
