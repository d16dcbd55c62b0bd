import { describe, expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import type { MoveId, Outcome, ToolId } from '../../content/ids.ts';
import type { Content } from '../../content/types.ts';
import { absorb, convolve, quantile, triangle } from '../../machines/compute/absorb.ts';
import type { Entry } from '../../machines/entry.ts';
import { fold } from '../../machines/fold.ts';
import { forecast, readRates } from '../../machines/forecast.ts';
import { view } from '../../machines/view.ts';

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

describe('an absorbing chain', () => {
  it('gives the geometric number of tries: 1 / p steps, and p (1 - p)^(k - 1) of them at try k', () => {
    const p = 0.25;
    const chain = {
      ends: 1,
      states: [
        {
          steps: [
            { to: -1, share: p },
            { to: 0, share: 1 - p },
          ],
          ticks: [1],
        },
      ],
    };
    const { ends, steps, time } = absorb(chain, 200);
    expect(ends[0]).toBeCloseTo(1, 12);
    expect(steps).toBeCloseTo(4, 12);
    for (const k of [1, 2, 5, 20]) expect(time[k]).toBeCloseTo(p * (1 - p) ** (k - 1), 12);
  });

  it("gives the gambler's ruin: from 1 of 3 with even odds, one third reach the top after 2 steps on average", () => {
    const even = (down: number, up: number) => ({
      steps: [
        { to: down, share: 0.5 },
        { to: up, share: 0.5 },
      ],
      ticks: [1],
    });
    const { ends, steps } = absorb({ ends: 2, states: [even(-1, 1), even(0, -2)] }, 10);
    expect(ends[0]).toBeCloseTo(2 / 3, 12);
    expect(ends[1]).toBeCloseTo(1 / 3, 12);
    expect(steps).toBeCloseTo(2, 12);
  });

  it('adds two times by convolution, and reads quantiles off the sum', () => {
    const die = new Float64Array(20);
    for (let face = 1; face <= 6; face++) die[face] = 1 / 6;
    const two = convolve(die, die);
    expect(two[7]).toBeCloseTo(6 / 36, 12);
    expect(two[12]).toBeCloseTo(1 / 36, 12);
    expect(quantile(two, 0.5)).toBe(7);
  });

  it('spreads a triangle over the ticks without losing a share, its mean at a third of its corners', () => {
    const shares = triangle(10, 20, 60);
    expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12);
    const mean = shares.reduce((sum, share, i) => sum + share * (i + 1), 0);
    expect(Math.abs(mean - (10 + 20 + 60) / 3)).toBeLessThan(0.05);
  });
});

/** Small seeded generator of numbers from 0 to 1. */
function seeded(seed: number): () => number {
  let a = seed;
  return () => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Plays one screw again and again on the log itself; what was played before is remembered by its history. */
function simulate(plan: Plan, times: number): { out: number; moves: number } {
  const random = seeded(7);
  const base = [...planned(plan), { n: 0, at, logged: at, type: 'work-started' } as Entry];
  const known = new Map<string, { move: MoveId | null; ended: boolean; out: boolean }>();
  const played = (history: readonly [MoveId, Outcome, boolean][]) => {
    const key = JSON.stringify(history);
    let now = known.get(key);
    if (!now) {
      const log = [...base];
      const add = (fields: object) => log.push({ n: 0, at, logged: at, ...fields } as Entry);
      for (const [move, outcome, reachable] of history) {
        add({ type: 'move-started', screw: '1', move });
        add({ type: 'move-ended', screw: '1', outcome, ...(outcome === 'shank-broke' && { reachable }) });
        if (outcome === 'slipped') add({ type: 'reassessed', screw: '1', checks: {} });
      }
      const screw = view(
        fold(
          log.map((entry, i) => ({ ...entry, n: i + 1 })),
          content,
        ),
      ).screws['1'];
      const next = screw?.offered.find(({ move }) => move !== 'leave-in')?.move ?? null;
      now = { move: next, ended: screw?.stage === 'out', out: screw?.stage === 'out' };
      known.set(key, now);
    }
    return now;
  };
  const sum = { out: 0, moves: 0 };
  for (let i = 0; i < times; i++) {
    const history: [MoveId, Outcome, boolean][] = [];
    for (let now = played(history); !now.ended && now.move; now = played(history)) {
      const rate = content.rates.moves.find(
        ({ move, when }) =>
          move === now.move && (!when || (when.locking === plan.locking && plan.diameter <= (when.upTo ?? Infinity))),
      );
      let draw = random();
      const outcome = rate?.outcomes.find(({ value }) => (draw -= value) < 0)?.outcome ?? 'no-change';
      history.push([now.move, outcome, random() < content.rates.shankReachable.value]);
    }
    sum.out += played(history).out ? 1 : 0;
    sum.moves += history.length;
  }
  return { out: sum.out / times, moves: sum.moves / times };
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
    'agrees within 1 % with 30,000 simulated removals of a 3.5 mm locking screw: $name',
    ({ tools }) => {
      const plan: Plan = { screws: 2, locking: true, diameter: 3.5, tools };
      const expected = forecast(fold(planned(plan), content)).screws['1'];
      const seen = simulate(plan, 30_000);
      expect(Math.abs((expected?.out ?? 0) - seen.out)).toBeLessThan(0.01);
      expect(Math.abs((expected?.moves ?? 0) - seen.moves)).toBeLessThan(0.01 * seen.moves);
    },
    120_000,
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

  it('gives chances that add up, and more with more tools', () => {
    const few = forecast(
      fold(planned({ screws: 3, locking: true, diameter: 3.5, tools: ['driver-hexagonal'] }), content),
    );
    const many = forecast(fold(planned({ screws: 3, locking: true, diameter: 3.5, tools: full }), content));
    for (const { out, leftIn } of [...Object.values(few.screws), ...Object.values(many.screws)])
      expect(out + leftIn).toBeCloseTo(1, 9);
    expect(many.case.allOut).toBeGreaterThan(few.case.allOut);
    expect(few.case.allOut).toBeCloseTo((few.screws['1']?.out ?? 0) ** 3, 9);
  });

  it('puts the own rates of a department in the place of the released ones, scaled to make up 1', () => {
    const state = fold(planned({ screws: 1, locking: false, diameter: 3.5, tools: ['driver-hexagonal'] }), content);
    const own = forecast(state, [{ move: 'turn-out', outcome: 'out', value: 0.5, status: 'our 2026 count' }]);
    expect(own.screws['1']?.out).toBeLessThan(forecast(state).screws['1']?.out ?? 0);
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
