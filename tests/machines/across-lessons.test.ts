/** Many cases held against their forecasts: what makes one row, and which say too little for a share. */
import { describe, expect, it } from 'vitest';
import { wilson } from '../../machines/across/intervals.ts';
import { addLesson, calibration, clustered, nextTool, noLessons, tenthOf } from '../../machines/across/lessons.ts';
import { movedRates } from '../../machines/across/moved.ts';
import { updatedRates } from '../../machines/across/rates.ts';
import type { Judged, Reckoned } from '../../machines/across/reckon.ts';
import { addCase, emptyTally } from '../../machines/across/tally.ts';
import { alikeness } from '../../content/series.ts';
import jstat from 'jstat';
import { atTheTable, content } from './build.ts';

const screw = (forecast: number, out: boolean, more: Partial<Judged> = {}): Judged => ({
  ...{ stage: 'seated', locking: 'yes', months: 'to-12', bone: 'tibia', bounded: false, forecast, out },
  ...more,
});
const reckoned = (more: Partial<Reckoned> = {}): Reckoned => ({
  ...{ judged: [], notJudged: [], minutes: 'not-known', deadEnds: { open: [], cannotSay: [], closed: [] } },
  ...more,
});
function learned(...cases: Partial<Reckoned>[]) {
  const lessons = noLessons();
  for (const one of cases) addLesson(lessons, reckoned(one));
  return lessons;
}
const told = (...cases: Partial<Reckoned>[]) => calibration(learned(...cases), 50, content);
const alone = (count: number, forecast: number, out: boolean, more: Partial<Judged> = {}) =>
  Array.from({ length: count }, () => ({ judged: [screw(forecast, out, more)] }));

describe('a tenth', () => {
  it.each([
    [0, 0],
    [0.0999, 0],
    [0.1, 1],
    [0.3, 3],
    [0.7, 7],
    [0.999, 9],
    [1, 9],
  ])('holds %s in number %i', (forecast, tenth) => expect(tenthOf(forecast)).toBe(tenth));

  it('counts its screws, those that came out, and the mean of their forecasts', () => {
    const { tenths, screws } = told(
      { judged: [screw(0.82, true)] },
      { judged: [screw(0.88, false), screw(0.3, true)] },
    );
    expect(tenths).toHaveLength(10);
    expect(tenths[8]).toMatchObject({
      from: 0.8,
      to: 0.9,
      screws: 2,
      out: 1,
      forecast: expect.closeTo(0.85, 12) as number,
    });
    expect(tenths[3]).toMatchObject({ screws: 1, out: 1, forecast: 0.3 });
    expect(tenths[0]).toEqual({
      from: 0,
      to: 0.1,
      screws: 0,
      out: 0,
      expected: 0,
      forecast: null,
      low: null,
      high: null,
    });
    expect(screws).toBe(3);
  });

  it('has Wilson’s interval where each screw is of a patient of its own', () => {
    const [tenth] = told(...alone(8, 0.82, true), ...alone(2, 0.85, false)).tenths.slice(8);
    expect([tenth?.low, tenth?.high]).toEqual(Object.values(wilson(8, 10) ?? {}));
  });

  it('has a wider one where screws are of one patient, by how alike they are', () => {
    const five = Array.from({ length: 5 }, (_, i) => screw(0.82, i < 4));
    const [tenth] = told({ judged: five }, { judged: five }).tenths.slice(8);
    const effect = 1 + alikeness.value * 4;
    const interval = wilson(8 / effect, 10 / effect);
    expect(tenth?.low).toBeCloseTo(interval?.low ?? NaN, 12);
    expect(tenth?.high).toBeCloseTo(interval?.high ?? NaN, 12);
    expect(clustered(0, 0, 0)).toBeNull();
  });
});

describe('a sort of screw', () => {
  it('with fewer than say anything has its counts and no share', () => {
    const { sorts } = told(...alone(29, 0.8, true), { judged: [screw(0.8, false, { locking: 'no' })] });
    expect(sorts.find(({ by, value }) => by === 'locking' && value === 'yes')).toEqual({
      ...{ by: 'locking', value: 'yes', screws: 29, out: 29, expected: expect.closeTo(23.2, 9) as number },
      ...{ forecast: null, low: null, high: null, few: true },
    });
    expect(sorts.find(({ by }) => by === 'stage')).toMatchObject({ screws: 30, out: 29, few: false });
    expect(sorts.find(({ by }) => by === 'stage')?.forecast).toBeCloseTo(0.8, 12);
  });

  it('says as little as its patients do, not as much as its screws', () => {
    const ten = { judged: Array.from({ length: 10 }, () => screw(0.8, true)) };
    // 40 screws of 4 patients say as much as 40 / (1 + 0.275 × 9) = 11.5.
    expect(told(ten, ten, ten, ten).sorts[0]).toMatchObject({ screws: 40, few: true, low: null });
  });

  it('stands in the order of the ladder and of time, bones by name, own words last', () => {
    const { sorts } = told(
      {
        judged: [screw(0.5, true, { stage: 'head-sheared', months: 'unknown', bone: 'own-words', locking: 'unknown' })],
      },
      {
        judged: [
          screw(0.5, true, { months: 'over-24', bone: 'ulna' }),
          screw(0.5, true, { bone: 'femur', locking: 'no' }),
        ],
      },
    );
    expect(sorts.map(({ by, value }) => `${by} ${value}`)).toEqual([
      ...['stage seated', 'stage head-sheared', 'locking yes', 'locking no', 'locking unknown'],
      ...['months to-12', 'months over-24', 'months unknown', 'bone femur', 'bone ulna', 'bone own-words'],
    ]);
  });
});

describe('what is left out', () => {
  it('is counted by its reason, with how many of how many cases were reckoned', () => {
    const found = told(
      { judged: [screw(0.5, true, { bounded: true })], notJudged: ['unsaid', 'not-tried'] },
      { notJudged: ['unsaid'], minutes: 'unfinished' },
    );
    expect(found).toMatchObject({
      ...{ cases: { reckoned: 2, of: 50 }, screws: 1, bounded: 1, notJudged: { unsaid: 2, 'not-tried': 1 } },
      minutes: { cases: 0, few: true, notTimed: { 'not-known': 1, unfinished: 1 } },
    });
  });
});

describe('minutes', () => {
  it('are counted by the median and within the band, its ends among them', () => {
    const of = (taken: number) => ({ minutes: { p10: 20, p50: 40, p90: 80, taken } });
    expect(told(of(19), of(20), of(40), of(41), of(80), of(81)).minutes).toMatchObject({
      ...{ cases: 6, byMedian: 3, within: 4, few: true },
      rows: [{ p10: 20, p50: 40, p90: 80, taken: 19 }, {}, {}, {}, {}, {}],
    });
    expect(told(...Array.from({ length: 30 }, () => of(30))).minutes.few).toBe(false);
  });
});

describe('the next tool', () => {
  const gouge = { tool: 'gouge', size: null } as const;
  const reamer = { tool: 'hollow-reamer', size: 3.5 } as const;
  const plans = learned(
    { deadEnds: { open: [{ sets: [[gouge], [reamer]], chance: 0.2 }], cannotSay: [], closed: [{ chance: 0.1 }] } },
    {
      deadEnds: {
        open: [
          { sets: [[reamer], [gouge]], chance: 0.3 },
          { sets: [[reamer]], chance: 0.4 },
        ],
        cannotSay: [
          { unknown: ['drive-size', 'diameter'], chance: 0.5 },
          { unknown: ['diameter'], chance: 0.25 },
        ],
        closed: [],
      },
    },
  );
  const found = nextTool(plans, 9, content);

  it('weighs dead ends by the chance to come there, over all plans', () => {
    expect(found.cases).toEqual({ reckoned: 2, of: 9 });
    expect(found.deadEnds).toEqual({ deadEnds: 3, weight: expect.closeTo(0.9, 12) as number });
    expect(found.buy).toHaveLength(1);
    expect(found.buy[0]).toMatchObject({ tools: [reamer], deadEnds: 3 });
    expect(found.alone.map(({ tool, deadEnds }) => [tool, deadEnds])).toEqual([
      ['hollow-reamer', 3],
      ['gouge', 2],
    ]);
  });

  it('takes sets in another order for the same', () => expect(plans.wants.size).toBe(2));

  it('counts what nobody can say apart, and what no tool opens', () => {
    expect(found.cannotSay).toEqual({ deadEnds: 2, weight: 0.75, unknown: { 'drive-size': 1, diameter: 2 } });
    expect(found.closed).toEqual({ deadEnds: 1, weight: 0.1 });
  });
});

describe('what own counts moved', () => {
  const closed = (end: 'out' | 'slipped', i: number) =>
    atTheTable({}, { label: `case ${i}` })
      .tries('1', 'turn-out', end)
      .write({ type: 'work-ended' })
      .write({ type: 'case-closed' });
  const tally = emptyTally();
  for (let i = 0; i < 12; i++) addCase(tally, closed(i < 9 ? 'out' : 'slipped', i).entries, content);
  const rows = movedRates(updatedRates(tally, content), content);
  const row = (outcome: string) => rows.find((one) => one.move === 'turn-out' && one.outcome === outcome);

  it('are the rows that own tries bear on, before and after', () => {
    expect(rows.every(({ move, of }) => move === 'turn-out' && of === 12)).toBe(true);
    // Published slips weigh 198 screws: 12 tries move them little, and narrow hardly anything.
    expect(row('slipped')).toMatchObject({ status: 'seen', count: 3, of: 12, before: { value: 0.005 } });
    expect(row('slipped')?.after.value).toBeCloseTo((198 * 0.005 + 3) / 210, 12);
    // Coming out is from memory: four tries, moved by nine.
    expect(row('out')?.before?.value).toBe(0.97);
  });

  it('have a band that eight of ten lie in, held against a library', () => {
    const beta = (p: number) => jstat.beta.inv(p, 198 * 0.005 + 3, 198 * 0.995 + 9);
    expect(row('slipped')?.after.p10).toBeCloseTo(beta(0.1), 6);
    expect(row('slipped')?.after.p90).toBeCloseTo(beta(0.9), 6);
    for (const { before, after } of rows)
      for (const { value, p10, p90 } of [after, ...(before ? [before] : [])]) {
        expect(p10).toBeLessThanOrEqual(value);
        expect(p90).toBeGreaterThanOrEqual(value);
      }
  });

  it('have nothing before where no release lists the outcome', () => {
    const broke = atTheTable()
      .tries('1', 'turn-out', 'tool-broke')
      .write({ type: 'work-ended' })
      .write({ type: 'case-closed' });
    const more = emptyTally();
    addCase(more, broke.entries, content);
    const found = movedRates(updatedRates(more, content), content).find(({ outcome }) => outcome === 'tool-broke');
    expect(found).toMatchObject({ before: null, count: 1, of: 1 });
    expect(movedRates(updatedRates(emptyTally(), content), content)).toEqual([]);
  });
});
