import { describe, expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import type { ToolId } from '../../content/ids.ts';
import type { Content } from '../../content/types.ts';
import { quantile } from '../../machines/compute/absorb.ts';
import { through } from '../../machines/compute/through.ts';
import type { Entry } from '../../machines/entry.ts';
import { fold } from '../../machines/fold.ts';
import { forecast, forecasting, tickMinutes } from '../../machines/forecast.ts';
import { readRates } from '../../machines/own-rates.ts';
import { between, dealer } from '../dealer.ts';
import { seeded } from '../seeded.ts';
import { patientAt } from '../patients.ts';
import { Log } from './build.ts';

const content = loadContent('2026.1') as Content;
const at = '2026-03-02T09:00:00Z';
const full: ToolId[] = [
  'driver-hexagonal',
  'pick',
  'mallet',
  'metal-foil',
  'head-gripper',
  'locking-pliers',
  'conical-extractor',
  't-handle',
  'hard-metal-drill',
  'reverse-tap',
  'metal-cutting-burr',
  'gouge',
  'hollow-reamer',
  'extraction-sleeve',
  'reversing-drive',
  'irrigation',
  'driver-hexalobular',
];

interface Plan {
  screws: number;
  locking: boolean;
  diameter: number;
  tools: readonly ToolId[];
}

/** A plan as a log: so many screws alike, and the tools that are there. */
function planned({ screws, locking, diameter, tools }: Plan): Entry[] {
  let n = 0;
  const entry = (fields: object) => ({ n: ++n, at, logged: at, ...fields }) as Entry;
  return [
    entry({
      type: 'case-opened',
      label: 'plan',
      zone: 'UTC',
      side: 'left',
      bone: 'radius',
      construct: 'plate',
      planned: '',
    }),
    ...Array.from({ length: screws }, (_, i) =>
      entry({
        type: 'screw-listed',
        screw: String(i + 1),
        diameter,
        thread: 'cortical',
        locking,
        drive: 'hexagonal',
        material: 'titanium',
        length: 16,
        cortices: 2,
      }),
    ),
    ...tools.map((tool) => entry({ type: 'tool-in-room', tool, present: true })),
  ];
}

/** Plays the plan again and again on the log itself, with drawn outcomes, minutes and pace. */
function simulate(plan: Plan, times: number): { out: number; all: number; moves: number; minutes: number[] } {
  const random = seeded(7);
  const removal = dealer(content, planned(plan), random);
  const sum = { out: 0, moves: 0, all: 0 };
  const all = Float64Array.from({ length: times }, () => {
    let minutes = between(content.rates.setup, random());
    const chance = patientAt(random());
    let out = 0;
    for (let screw = 0; screw < plan.screws; screw++) {
      const dealt = removal(chance);
      minutes += dealt.minutes;
      out += dealt.out ? 1 : 0;
      sum.moves += dealt.history.filter((fields) => 'move' in fields).length;
    }
    sum.out += out;
    sum.all += out === plan.screws ? 1 : 0;
    return minutes * between(content.rates.pace, random());
  }).sort();
  const screws = times * plan.screws;
  const minutes = [0.1, 0.5, 0.9].map((share) => all[Math.floor(share * times)] as number);
  return { out: sum.out / screws, all: sum.all / times, moves: sum.moves / screws, minutes };
}

describe('the forecast', () => {
  it.each([
    { name: 'all the tools', tools: full },
    { name: 'a driver and foil alone', tools: ['driver-hexagonal', 'metal-foil'] as ToolId[] },
    {
      name: 'a gripper and a gouge',
      tools: ['driver-hexagonal', 'locking-pliers', 'gouge', 'hard-metal-drill'] as ToolId[],
    },
  ])(
    'agrees within 1 % with 100,000 simulated removals of three 3.5 mm locking screws: $name',
    ({ tools }) => {
      // Three screws, so that none is the last one in: the simulation plays screw 1 over and over.
      const plan: Plan = { screws: 3, locking: true, diameter: 3.5, tools };
      const { screws, case: whole } = forecast(fold(planned(plan), content));
      const seen = simulate(plan, 100_000);
      expect(Math.abs((screws['1']?.out.mean ?? 0) - seen.out)).toBeLessThan(0.01);
      expect(Math.abs(whole.allOut.mean - seen.all)).toBeLessThan(0.01);
      expect(Math.abs((screws['1']?.moves ?? 0) - seen.moves)).toBeLessThan(0.01 * seen.moves);
      // Beside the 1 %, half of the minute in which the forecast counts.
      const { p10, p50, p90 } = whole.minutes;
      [p10, p50, p90].forEach((minutes, i) => {
        const simulated = seen.minutes[i] as number;
        expect(Math.abs(minutes - simulated)).toBeLessThan(0.01 * simulated + 0.5);
      });
    },
    180_000,
  );

  it('covers the published medians: 72 min locked, 54 min conventional (Musters et al. 2012, seen)', () => {
    const minutes = (locking: boolean) =>
      forecast(fold(planned({ screws: 7, locking, diameter: 3.5, tools: full }), content)).case.minutes;
    for (const [locking, published] of [
      [true, 72],
      [false, 54],
    ] as const) {
      expect(minutes(locking).p10).toBeLessThan(published);
      expect(minutes(locking).p90).toBeGreaterThan(published);
    }
  });

  it('reaches from a quarter of an hour to four hours between an easy plan and a hard one (common practice, no source)', () => {
    const easy = forecast(fold(planned({ screws: 1, locking: false, diameter: 3.5, tools: full }), content));
    expect(easy.case.minutes.p10).toBeLessThanOrEqual(15);
    expect(easy.case.minutes.p90).toBeGreaterThan(15);
    const stripped = planned({ screws: 12, locking: true, diameter: 3.5, tools: full }).map((entry) =>
      entry.type === 'screw-listed' && Number(entry.screw) <= 4
        ? { ...entry, stage: 'recess-stripped' as const }
        : entry,
    );
    const hard = forecast(fold(stripped, content)).case.minutes;
    expect(hard.p10).toBeLessThan(240);
    expect(hard.p90).toBeGreaterThanOrEqual(240);
  });

  it('pauses often on the way, and comes to the same', () => {
    const state = fold(planned({ screws: 12, locking: true, diameter: 3.5, tools: full }), content);
    let pauses = 0;
    const steps = forecasting(state);
    let next = steps.next();
    for (; !next.done; next = steps.next()) pauses++;
    expect(pauses).toBeGreaterThan(100);
    const { screws, case: whole, knows, rates, method } = next.value;
    expect(forecast(state)).toMatchObject({ screws, case: whole, knows, rates, method });
  });

  it('gives the ends of the whole operation as shares that add up to 1, whose quantiles are the minutes told', () => {
    const { ends, case: whole } = through(
      forecasting(fold(planned({ screws: 3, locking: true, diameter: 3.5, tools: full }), content)),
    );
    expect(ends.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 4);
    expect(quantile(ends, 0.5) * tickMinutes).toBe(whole.minutes.p50);
  });

  it('gives minutes to each screw, none to one that is out', () => {
    const log = planned({ screws: 2, locking: false, diameter: 3.5, tools: full });
    const more = [
      { type: 'work-started' },
      { type: 'move-started', screw: '1', move: 'turn-out' },
      { type: 'move-ended', screw: '1', outcome: 'out' },
    ].map((fields, i) => ({ n: log.length + 1 + i, at, logged: at, ...fields }) as Entry);
    const { screwMinutes, screws } = through(forecasting(fold([...log, ...more], content)));
    expect(screws['1']).toMatchObject({ out: { mean: 1 }, leftByChoice: { mean: 0 }, moves: 0 });
    expect(screwMinutes['1']).toEqual({ p10: 0, p50: 0, p90: 0 });
    expect(screwMinutes['2']?.p50).toBeGreaterThan(0);
    expect(screwMinutes['2']?.p90).toBeGreaterThan(screwMinutes['2']?.p50 ?? 0);
  });

  it('adds what was worked so far to what is still to come', () => {
    const log = planned({ screws: 1, locking: false, diameter: 3.5, tools: full });
    const later = '2026-03-02T09:40:00Z';
    const started = { n: log.length + 1, at, logged: at, type: 'work-started' } as Entry;
    const remark = { n: log.length + 2, at: later, logged: later, type: 'remark', text: 'forty minutes on' } as Entry;
    const now = through(forecasting(fold([...log, started], content)));
    const then = through(forecasting(fold([...log, started, remark], content)));
    expect([now.worked, then.worked]).toEqual([0, 40]);
    expect(then.case.minutes.p50).toBe(now.case.minutes.p50 + 40);
  });

  it.each([
    {
      name: 'a second move after turning out brought nothing',
      log: () =>
        new Log()
          .opened()
          .screw('1')
          .room('driver-hexagonal', 'locking-pliers')
          .start()
          .tries('1', 'turn-out', 'no-change'),
      move: 'grip-head',
    },
    {
      name: 'the first move on a sheared head',
      log: () => new Log().opened().screw('1', { stage: 'head-sheared' }).room('gouge', 'locking-pliers').start(),
      move: 'gouge-and-grip',
    },
    {
      name: 'a move made over an open slip',
      log: () =>
        new Log().opened().screw('1').room('driver-hexagonal', 'metal-foil').start().tries('1', 'turn-out', 'slipped'),
      move: 'pack-recess',
    },
  ] as const)('gives the same chances while a move runs as before it began: $name', ({ log, move }) => {
    const before = forecast(log().folded);
    expect(forecast(log().begins('1', move).folded).screws).toEqual(before.screws);
  });

  it('gives chances that add up, and more with more tools', () => {
    const few = forecast(
      fold(planned({ screws: 3, locking: true, diameter: 3.5, tools: ['driver-hexagonal'] }), content),
    );
    const many = forecast(fold(planned({ screws: 3, locking: true, diameter: 3.5, tools: full }), content));
    for (const { out, leftByChoice } of [...Object.values(few.screws), ...Object.values(many.screws)])
      expect(out.mean + leftByChoice.mean).toBeCloseTo(1, 9);
    expect(many.case.allOut.mean).toBeGreaterThan(few.case.allOut.mean);
    // Hard screws come together: all out is likelier than if each were a matter of its own.
    expect(few.case.allOut.mean).toBeGreaterThan((few.screws['1']?.out.mean ?? 0) ** 3 + 0.05);
  });

  it('puts the own rates of a department in the place of the released ones, scaled to make up 1', () => {
    const state = fold(planned({ screws: 1, locking: false, diameter: 3.5, tools: ['driver-hexagonal'] }), content);
    const own = forecast(state, [{ move: 'turn-out', outcome: 'out', value: 0.5, status: 'our 2026 count' }]);
    expect(own.screws['1']?.out.mean).toBeLessThan(forecast(state).screws['1']?.out.mean ?? 0);
    const shares = own.rates.filter(({ move }) => move === 'turn-out');
    expect(shares.reduce((sum, { value }) => sum + value, 0)).toBeCloseTo(1, 9);
    expect(shares.find(({ outcome }) => outcome === 'out')?.status).toBe('our 2026 count');
  });

  it('refuses rates that make no sense, each with its path', () => {
    const faults = (value: unknown) => {
      const read = readRates(value, content);
      return 'faults' in read ? read.faults.map(({ path }) => path) : [];
    };
    expect(faults({})).toEqual(['file']);
    expect(faults([{ move: 'turn-out', outcome: 'out', value: 1.2 }])).toEqual(['[0].value']);
    expect(faults([{ move: 'dig', outcome: 'gone', value: 0.5 }])).toEqual(['[0].move', '[0].outcome']);
    expect(faults([{ move: 'turn-out', outcome: 'out', value: 0.5, extra: 1 }])).toEqual(['[0].extra']);
    expect(
      faults([
        { move: 'turn-out', outcome: 'out', value: 0.7 },
        { move: 'turn-out', outcome: 'slipped', value: 0.7 },
      ]),
    ).toEqual(['[1].value']);
  });
});
