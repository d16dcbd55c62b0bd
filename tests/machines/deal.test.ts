/** Outcomes dealt for a rehearsal: as often as the rates of the plan say, the same from the same seed, and only what can be. */
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import { fetchReleases } from '../../content/later.ts';
import type { MoveId, Outcome } from '../../content/ids.ts';
import type { Content } from '../../content/types.ts';
import { dealerFor, minutesAt, possibleEnds, type Deal } from '../../machines/deal.ts';
import type { ScrewSnapshot } from '../../machines/folded.ts';
import type { OwnRate } from '../../machines/own-rates.ts';
import { rateFor } from '../../machines/rate-for.ts';
import { overPatients } from '../patients.ts';
import { seeded } from '../seeded.ts';
import { Log, content, inTheRoom } from './build.ts';

await fetchReleases();
const second = loadContent('2026.2-draft') as Content;
const deals = 20_000;
/** Of a share of so many deals, 4.5 standard deviations: by chance alone, one of 150,000 such shares lies beyond. */
const within = (share: number) => 4.5 * Math.sqrt((share * (1 - share)) / deals) + 1e-9;

const kindOf = ({ outcome, reachable }: Pick<Deal, 'outcome' | 'reachable'>) =>
  reachable === undefined ? outcome : `${outcome} ${reachable ? 'near' : 'deep'}`;

/** How often each end is dealt, of a plan not begun, for the move that runs on screw "1" at the end of a log. */
function dealt(log: Log, own: readonly OwnRate[] = []): Record<string, number> {
  const state = log.folded;
  const plan = new Log(undefined, log.content).opened().folded;
  const counted: Record<string, number> = {};
  for (let seed = 0; seed < deals; seed++) {
    const kind = kindOf(dealerFor(plan, own, seed).deal(state, '1') as Deal);
    counted[kind] = (counted[kind] ?? 0) + 1 / deals;
  }
  return counted;
}

function expectShares(found: Record<string, number>, wanted: Record<string, number>): void {
  const possible = Object.entries(wanted).filter(([, share]) => share > 0);
  expect(Object.keys(found).filter((kind) => !possible.some(([one]) => one === kind))).toEqual([]);
  for (const [kind, share] of possible)
    expect(Math.abs((found[kind] ?? 0) - share), `${kind}: ${found[kind]} for ${share}`).toBeLessThan(within(share));
}

/** The released shares of a move on one kind of screw, a broken shank by where its end is. */
function released(of: Content, move: MoveId, facts: Parameters<typeof rateFor>[2]): Record<string, number> {
  const reach = of.rates.shankReachable.value;
  const row = rateFor(of, move, facts)?.outcomes ?? [];
  return Object.fromEntries(
    row.flatMap(({ outcome, value }): [string, number][] =>
      outcome === 'shank-broke'
        ? [
            ['shank-broke near', value * reach],
            ['shank-broke deep', value * (1 - reach)],
          ]
        : [[outcome, value]],
    ),
  );
}

describe(`${deals} deals`, () => {
  const plain = { locking: false, diameter: 4.5 };
  const kinds = [
    ['a plain screw', plain],
    ['a small locking screw', { locking: true, diameter: 3.5 }],
    ['a large locking screw', { locking: true, diameter: 5 }],
  ] as const;

  it.each(kinds)('of turning out %s come as often as its own released rates say', (_, facts) => {
    const log = inTheRoom(facts).start().begins('1', 'turn-out');
    expectShares(dealt(log), released(content, 'turn-out', facts));
  });

  it('tell a small locking screw from a plain one', () => {
    const [one, other] = kinds.map(([, facts]) => released(content, 'turn-out', facts).out as number) as [
      number,
      number,
    ];
    expect(Math.abs(one - other)).toBeGreaterThan(2 * within(one));
  });

  it('come by the rates of the second release where the plan is of that one', () => {
    const log = new Log(undefined, second)
      .opened({ rules: 2 })
      .bone(27, 5)
      .screw('1', { locking: true, diameter: 3.5 });
    log.tool('driver-hexagonal').start().begins('1', 'turn-out');
    expectShares(dealt(log), released(second, 'turn-out', { locking: true, diameter: 3.5 }));
  });

  it('come by what a department put in the place of the released rates', () => {
    const own: OwnRate[] = [
      { move: 'turn-out', outcome: 'out', value: 0.3 },
      { move: 'turn-out', outcome: 'head-sheared', value: 0.7 },
    ];
    expectShares(dealt(inTheRoom().start().begins('1', 'turn-out'), own), { out: 0.3, 'head-sheared': 0.7 });
  });

  it('after slips come out less often: each but the one that the move is made for halves it, and it slips instead', () => {
    const slipped = () => inTheRoom().start().tries('1', 'turn-out', 'slipped').looksAgain('1');
    const own: OwnRate[] = [
      { move: 'pack-recess', outcome: 'out', value: 0.4 },
      { move: 'pack-recess', outcome: 'slipped', value: 0.6 },
    ];
    expectShares(dealt(slipped().begins('1', 'pack-recess'), own), { out: 0.4, slipped: 0.6 });
    const twice = slipped().tries('1', 'reseat-driver', 'slipped').looksAgain('1').begins('1', 'pack-recess');
    expectShares(dealt(twice, own), { out: 0.2, slipped: 0.8 });
  });

  it('leave out what cannot be, and the others make up for it for each patient', () => {
    const own: OwnRate[] = [
      { move: 'gouge-and-grip', outcome: 'out', value: 0.5 },
      { move: 'gouge-and-grip', outcome: 'head-sheared', value: 0.25 },
      { move: 'gouge-and-grip', outcome: 'no-change', value: 0.25 },
    ];
    const log = inTheRoom({ stage: 'head-sheared' }).start().begins('1', 'gouge-and-grip');
    const out = overPatients((chance) => chance(0.5) / (chance(0.5) + (1 - chance(0.5)) / 2));
    expect(out).toBeGreaterThan(0.5 + 2 * within(0.5));
    expectShares(dealt(log, own), { out, 'no-change': 1 - out });
  });

  it('bring two screws of one patient out together more often than by chance', () => {
    const own: OwnRate[] = [
      { move: 'turn-out', outcome: 'out', value: 0.6 },
      { move: 'turn-out', outcome: 'no-change', value: 0.4 },
    ];
    const log = inTheRoom().screw('2').start().begins('1', 'turn-out').begins('2', 'turn-out');
    const state = log.folded;
    let both = 0;
    for (let seed = 0; seed < deals; seed++) {
      const { deal } = dealerFor(state, own, seed);
      if (deal(state, '1')?.outcome === 'out' && deal(state, '2')?.outcome === 'out') both += 1 / deals;
    }
    const wanted = overPatients((chance) => chance(0.6) ** 2);
    expect(wanted - 0.36).toBeGreaterThan(2 * within(0.36));
    expect(Math.abs(both - wanted)).toBeLessThan(within(wanted) + 0.003);
  });

  it('take as long as the release says: by a triangle, none shorter or longer', () => {
    const state = inTheRoom().start().begins('1', 'turn-out').folded;
    const { low, mid, high } = rateFor(content, 'turn-out', plain)!.minutes;
    const minutes = Array.from({ length: deals }, (_, seed) => dealerFor(state, [], seed).deal(state, '1')!.minutes);
    expect(Math.min(...minutes)).toBeGreaterThanOrEqual(low);
    expect(Math.max(...minutes)).toBeLessThanOrEqual(high);
    const mean = minutes.reduce((sum, one) => sum + one, 0) / deals;
    const deviation = Math.sqrt((low ** 2 + mid ** 2 + high ** 2 - low * mid - low * high - mid * high) / 18);
    expect(Math.abs(mean - (low + mid + high) / 3)).toBeLessThan((4.5 * deviation) / Math.sqrt(deals));
  });
});

describe('a deal', () => {
  const running = () => inTheRoom().start().begins('1', 'turn-out');
  const seeds = Array.from({ length: 200 }, (_, seed) => seed);
  const all = (log: Log, screw = '1') => {
    const plan = inTheRoom().screw('2').folded;
    return seeds.map((seed) => dealerFor(plan, [], seed).deal(log.folded, screw));
  };

  it('is none where no move runs, on a screw that is not listed, and for a move that has no rates', () => {
    const plan = inTheRoom().start();
    expect(dealerFor(plan.folded, [], 1).deal(plan.folded, '1')).toBeNull();
    expect(dealerFor(plan.folded, [], 1).deal(plan.folded, '9')).toBeNull();
    const told = plan.write({ type: 'move-started', screw: '1', move: 'other', what: 'a strap' });
    expect(told.folded.screws.get('1')?.context.running?.move).toBe('other');
    expect(dealerFor(plan.folded, [], 1).deal(told.folded, '1')).toBeNull();
  });

  it('is the same from the same seed, and not from another', () => {
    expect(all(running())).toEqual(all(running()));
    expect(new Set(all(running()).map((deal) => JSON.stringify(deal))).size).toBeGreaterThan(150);
  });

  it('is the same when the move was taken back and is begun again, and when other screws came first', () => {
    const again = running().strikes(running().n).begins('1', 'turn-out');
    expect(all(again)).toEqual(all(running()));
    const later = inTheRoom().screw('2').start().tries('2', 'turn-out', 'out').begins('1', 'turn-out');
    expect(all(later)).toEqual(all(running()));
  });

  it('is another at the next try, on another screw and for another move', () => {
    const second = inTheRoom().start().tries('1', 'turn-out', 'moving').begins('1', 'turn-out');
    expect(all(second)).not.toEqual(all(running()));
    const both = inTheRoom().screw('2').start().begins('1', 'turn-out').begins('2', 'turn-out');
    expect(all(both, '2')).not.toEqual(all(both, '1'));
    const hollow = inTheRoom({ stage: 'head-sheared' }).start();
    const minutes = (move: MoveId) => all(hollow.fork().begins('1', move)).map((deal) => deal?.outcome);
    expect(minutes('grip-shank')).not.toEqual(minutes('burr-out'));
  });

  it('is of a patient whose metal is hard where the plan already met hard metal', () => {
    const met = inTheRoom().screw('2').screw('3').start();
    for (const screw of ['2', '3']) met.tries(screw, 'turn-out', 'no-change');
    const own: OwnRate[] = [{ move: 'turn-out', outcome: 'out', value: 0.8 }];
    const log = met.fork().begins('1', 'turn-out');
    const outs = (plan: Log) =>
      Array.from(
        { length: 2000 },
        (_, seed) => dealerFor(plan.folded, own, seed).deal(log.folded, '1')?.outcome,
      ).filter((outcome) => outcome === 'out').length;
    expect(outs(met)).toBeLessThan(outs(inTheRoom()) - 200);
  });
});

describe('minutes', () => {
  it.each([
    [{ low: 2, mid: 2, high: 2 }, 0.3, 2],
    [{ low: 0, mid: 0, high: 0 }, 0.9, 0],
    [{ low: 1, mid: 2, high: 3 }, 0, 1],
    [{ low: 1, mid: 2, high: 3 }, 0.5, 2],
    [{ low: 1, mid: 2, high: 3 }, 1, 3],
    [{ low: 0, mid: 4, high: 4 }, 0.25, 2],
    [{ low: 0, mid: 0, high: 4 }, 0.75, 2],
    [{ low: 0, mid: 1, high: 4 }, 0.25, 1],
  ])('by the triangle %j below which %f of all lies are %f', (triangle, share, minutes) =>
    expect(minutesAt(triangle, share)).toBeCloseTo(minutes, 9),
  );
});

describe('the ends that can be', () => {
  it('add up to 1 and are none for a screw that nothing runs on', () => {
    const log = inTheRoom().start();
    const screw = (one: Log) => one.folded.screws.get('1') as ScrewSnapshot;
    expect(possibleEnds(content, screw(log), [], 10)).toEqual([]);
    const ends = possibleEnds(content, screw(log.begins('1', 'turn-out')), [], 10);
    expect(ends.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
  });

  it('that nothing was counted for are not dealt', () => {
    const own: OwnRate[] = [{ move: 'turn-out', outcome: 'out', value: 1 }];
    const screw = inTheRoom().start().begins('1', 'turn-out').folded.screws.get('1') as ScrewSnapshot;
    expect(possibleEnds(content, screw, own, 63).map(({ outcome }) => outcome)).toEqual(['out']);
  });
});

describe('a rehearsal played to its end by what is dealt', () => {
  const play = (seed: number, log: Log) => {
    const plan = log.folded;
    const { deal } = dealerFor(plan, [], seed);
    const random = seeded(seed);
    const seen: Outcome[] = [];
    log.start();
    for (let steps = 0; steps < 60; steps++) {
      const { screws } = log.view;
      const [id, screw] = Object.entries(screws).find(([, { stage }]) => stage !== 'out' && stage !== 'left-in') ?? [];
      if (id === undefined || !screw) break;
      const moves = screw.offered.filter(({ move }) => move !== 'leave-in');
      const next = moves[Math.floor(random() * moves.length)];
      if (screw.holds.includes('reassess')) log.looksAgain(id);
      else if (!next) log.leaves(id);
      else {
        log.begins(id, next.move, { reverseConfirmed: true });
        const end = deal(log.folded, id) as Deal;
        seen.push(end.outcome);
        log.ends(id, end.outcome, end.reachable === undefined ? {} : { reachable: end.reachable });
      }
    }
    return { log, seen };
  };

  it.each([
    ['first', content],
    ['second', second],
  ] as const)('by the %s ladder comes to nothing that cannot be, and holds stand as after any such end', (_, of) => {
    const seen = new Set<Outcome>();
    let slips = 0;
    for (let seed = 0; seed < 60; seed++) {
      const log = new Log(undefined, of).opened({ rules: 2 }).bone(27, 5).screw('1', { locking: true, diameter: 3.5 });
      for (const tool of of.ids.tools) log.tool(tool);
      const played = play(seed, log.screw('2'));
      for (const one of played.seen) seen.add(one);
      expect(played.log.view.outOfOrder).toEqual([]);
      const isEnded = Object.values(played.log.view.screws).every(
        ({ stage }) => stage === 'out' || stage === 'left-in',
      );
      expect(isEnded || played.log.n > 100).toBe(true);
      slips += played.log.entries.filter(({ type }) => type === 'reassessed').length;
    }
    expect([...seen]).toEqual(expect.arrayContaining(['out', 'slipped', 'no-change', 'head-sheared']));
    expect(slips).toBeGreaterThan(5);
  });
});
