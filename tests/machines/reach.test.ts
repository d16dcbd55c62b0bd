/** How likely each stage is come to: against removals played one by one on the log itself. */
import { describe, expect, it } from 'vitest';
import { workingStages, type ToolId, type WorkingStage } from '../../content/ids.ts';
import { through } from '../../machines/compute/through.ts';
import { expecting, forecast } from '../../machines/forecast.ts';
import { dealer } from '../dealer.ts';
import { patientAt } from '../patients.ts';
import { seeded } from '../seeded.ts';
import { Log, content } from './build.ts';

const plan = (stage: WorkingStage, ...tools: ToolId[]) =>
  new Log()
    .opened({ bone: 'radius' })
    .screw('1', { stage, locking: true, diameter: 3.5 })
    .screw('2', { stage, locking: true, diameter: 3.5 })
    .room('driver-hexagonal', ...tools);

/** Depth that a removal came to, by the ends of its moves. */
function deepest(from: WorkingStage, history: readonly object[]): WorkingStage {
  const ends = history.filter((one) => 'outcome' in one) as { outcome: string; reachable?: boolean }[];
  let at = workingStages.indexOf(from);
  for (const { outcome, reachable } of ends) {
    if (outcome === 'slipped' && at === 0) at = 1;
    if (outcome === 'head-sheared' || (outcome === 'shank-broke' && reachable)) at = Math.max(at, 2);
    if (outcome === 'shank-broke' && !reachable) at = 3;
  }
  return workingStages[at] as WorkingStage;
}

describe('the chance to come to a stage', () => {
  it.each([
    { from: 'seated', tools: ['metal-foil', 'locking-pliers', 'hard-metal-drill', 'gouge'] },
    { from: 'recess-stripped', tools: ['metal-foil', 'conical-extractor', 't-handle', 'hard-metal-drill'] },
  ] as const)('agrees within 1 % with 40,000 removals from $from', ({ from, tools }) => {
    const log = plan(from, ...tools);
    const random = seeded(11);
    const deal = dealer(content, log.entries, random);
    const passed = new Map<WorkingStage, number>();
    const times = 40_000;
    for (let i = 0; i < times; i++) {
      const { history } = deal(patientAt(random()));
      // A stage is come to when the way ends there, or when it leads through it.
      let soFar: object[] = [];
      const seen = new Set<WorkingStage>([from]);
      for (const one of history) seen.add(deepest(from, (soFar = [...soFar, one])));
      for (const stage of seen) passed.set(stage, (passed.get(stage) ?? 0) + 1);
    }
    const { comesTo } = through(expecting(log.folded)).screws['1'] ?? { comesTo: null };
    for (const stage of workingStages)
      expect(Math.abs((comesTo?.[stage] ?? NaN) - (passed.get(stage) ?? 0) / times), stage).toBeLessThan(0.01);
    expect(comesTo?.[from]).toBe(1);
  });

  it('is none for a stage that lies behind, and certain for a dead end that a screw stands in', () => {
    const { screws } = through(expecting(plan('head-sheared').folded));
    expect(screws['1']?.comesTo).toEqual({
      ...{ seated: 0, 'recess-stripped': 0, 'head-sheared': 1, 'fragment-retained': 0 },
    });
  });
});

describe('what is to be expected', () => {
  it('is the mean and the minutes of the forecast, for every screw that is in', () => {
    const log = plan('seated', 'locking-pliers').write({ type: 'limits-set', theatreMinutes: 40 }).leaves('2');
    const expected = through(expecting(log.folded));
    const { screws, case: whole } = forecast(log.folded);
    expect(Object.keys(expected.screws)).toEqual(['1']);
    expect(expected.screws['1']?.out).toBe(screws['1']?.out.mean);
    expect(expected.minutes).toEqual(whole.minutes);
  });

  it('says whether bone and time were known', () => {
    const bounded = (log: Log) => through(expecting(log.folded)).screws['1']?.bounded;
    expect(bounded(plan('seated'))).toBe(false);
    expect(bounded(plan('seated').bone(14, 3))).toBe(false);
    expect(bounded(plan('seated').write({ type: 'limits-set', theatreMinutes: 90 }))).toBe(false);
    expect(bounded(plan('seated').bone(14, 3).write({ type: 'limits-set', theatreMinutes: 90 }))).toBe(true);
  });
});
