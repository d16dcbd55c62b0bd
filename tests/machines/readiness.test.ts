/** Readiness: dead ends, what opens them, what to bring, what is not agreed and what is only assumed. */
import { describe, expect, it } from 'vitest';
import { toolIds, workingStages, type ToolId } from '../ids.ts';
import { fold } from '../../machines/fold.ts';
import { smallestCover } from '../../machines/cover.ts';
import { neededFor, readiness } from '../../machines/readiness.ts';
import { seeded } from '../seeded.ts';
import { length, times } from '../lengths.ts';
import { content, inTheRoom, Log } from './build.ts';
import { second } from './ladder-2/build.ts';
import { byBruteForce, type Plan, type PlannedScrew, type PlannedTool } from './readiness.brute.ts';

const ready = (log: Log) => readiness(log.folded);

/** Tools that no way out of a failure asks for: left out so that every set of the others can be tried. */
const untold: readonly ToolId[] = [
  'pick',
  'mallet',
  'metal-foil',
  'fine-suction',
  'narrow-forceps',
  'elevator',
  'bone-drill',
  'long-handle',
  'nail-extractor',
];

const sized: readonly ToolId[] = ['hard-metal-drill', 'reverse-tap', 'extraction-sleeve', 'hollow-reamer'];

function randomPlan(random: () => number, ladder: 1 | 2, ids: readonly ToolId[]): Plan {
  const pick = <T>(options: readonly T[]) => options[Math.floor(random() * options.length)] as T;
  const density = random() * 0.6;
  const told = random() < 0.3 ? 1 : 0.6;
  const measure = (tool: ToolId): object => {
    if (random() >= told) return {};
    if (tool === 'driver-hexagonal') return { size: pick([2.5, 3.5]) };
    if (tool === 'driver-hexalobular') return { size: pick([15, 25]) };
    if (tool === 'hollow-reamer') return random() < 0.7 ? { inner: pick([3, 3.6, 4.5, 4.8]) } : { fits: [3.5] };
    if (tool === 'extraction-sleeve' && random() < 0.4) return { inner: pick([3, 5]) };
    return sized.includes(tool) ? { fits: pick([[3.5], [4.5], [3.5, 4.5]]) } : {};
  };
  const kits: readonly (readonly ToolId[])[] = [
    ['hard-metal-drill', 'reverse-tap', 't-handle'],
    ['hollow-reamer', 'reversing-drive', 'extraction-sleeve'],
    [],
  ];
  const kit = pick(kits);
  const tools = ids.flatMap((tool): PlannedTool[] =>
    random() > density && !kit.includes(tool)
      ? []
      : [{ tool, ...measure(tool) }, ...(random() < 0.15 ? [{ tool, ...measure(tool) }] : [])],
  );
  const isLoose = ladder === 2;
  const screws = Array.from({ length: 1 + Math.floor(random() * 3) }, (_, i): PlannedScrew => {
    const drive = pick(['hexagonal', 'hexagonal', 'hexalobular', 'cruciform', 'unknown'] as const);
    const sizes = { hexagonal: [2.5, 3.5], hexalobular: [15, 25], cruciform: [], unknown: [] }[drive];
    return {
      id: String(i + 1),
      diameter: isLoose && random() > told ? null : pick([3.5, 4.5]),
      drive,
      ...(sizes.length > 0 && random() < told && { driveSize: pick(sizes) }),
      locking: random() < 0.5,
      stage: random() < 0.5 ? ('seated' as const) : pick(workingStages),
      ...(isLoose && random() < 0.1 && { headless: true as const }),
      ...(isLoose && random() < 0.15 && { beside: true as const }),
      ...(random() < 0.3 && { headProud: random() < 0.5 }),
      ...(random() < 0.2 && { shankProud: true }),
      ...(random() < 0.2 && { tipProud: true }),
      ...(random() < 0.2 && { corridor: true }),
    };
  });
  const construct = pick(['plate', 'plate', 'nail', 'screws'] as const);
  return { ladder, construct, plateOff: construct === 'plate' && random() < 0.2, screws, tools };
}

function logOf({ ladder, construct, plateOff, screws, tools }: Plan): Log {
  const log = new Log(undefined, ladder === 2 ? second : content).opened({
    construct,
    ...(ladder === 2 && { rules: 2 }),
  });
  for (const { id, diameter, drive, driveSize, locking, stage, headless, beside } of screws)
    log.screw(id, {
      ...({ diameter, drive, locking } as { diameter: number; drive: 'hexagonal'; locking: boolean }),
      ...(driveSize !== undefined && { driveSize }),
      ...(stage !== 'seated' && { stage }),
      ...(headless && { form: 'headless' as const }),
      ...(beside && { underPlate: false }),
    });
  for (const { id, headProud, shankProud, tipProud, corridor } of screws)
    log.finds(id, JSON.parse(JSON.stringify({ headProud, shankProud, tipProud, corridor })));
  for (const { tool, ...measures } of tools) log.tool(tool, measures);
  return plateOff ? log.write({ type: 'plate-off' }) : log;
}

describe('readiness', () => {
  it.each([1, 2] as const)(
    'finds the dead ends, what cannot be said, the smallest ways out and the smallest set to bring that every set tried finds, on random plans of ladder %s',
    (ladder) => {
      const random = seeded(1959);
      const ids = (ladder === 2 ? second : content).ids.tools.filter((id) => !untold.includes(id));
      const plans = Array.from({ length: times(ladder === 2 ? 200 : 100) }, () => randomPlan(random, ladder, ids));
      const seen = plans.map((plan) => {
        const expected = byBruteForce(plan, ids);
        const { deadEnds, cannotSay, heldBy, bring, doNotStart } = ready(logOf(plan));
        expect({ plan, deadEnds, cannotSay, heldBy, bring, doNotStart }).toEqual({ plan, ...expected });
        return expected;
      });
      if (length < 1) return;
      const share = (test: (end: (typeof seen)[number]) => boolean) => seen.filter(test).length;
      expect(share(({ deadEnds }) => deadEnds.length === 0)).toBeGreaterThan(2);
      expect(share(({ bring }) => bring.length > 2)).toBeGreaterThan(5);
      expect(share(({ doNotStart }) => doNotStart.length === 2)).toBeGreaterThan(2);
      expect(share(({ heldBy }) => heldBy.length > 0)).toBeGreaterThan(5);
      const unknown = (token: string) => share(({ cannotSay }) => cannotSay.some((one) => one.unknown.includes(token)));
      for (const token of ladder === 1
        ? []
        : ['drive', 'drive-size', 'tool:hard-metal-drill', 'tool:hollow-reamer', 'tool:driver-hexagonal'])
        expect([token, unknown(token) > 1]).toEqual([token, true]);
      for (const token of ladder === 2 ? ['diameter', 'plate'] : [])
        expect([token, unknown(token) > 1]).toEqual([token, true]);
    },
    600_000,
  );

  it('has nothing to say against a room with everything', () => {
    expect(ready(inTheRoom())).toMatchObject({ doNotStart: [], deadEnds: [], bring: [] });
  });

  it('says do not start where a screw has no way past any of its failures', () => {
    expect(ready(new Log().opened().screw('1')).doNotStart.map(({ reason }) => reason)).toEqual(['no-way-past']);
    expect(ready(new Log().opened().screw('1', { locking: true })).doNotStart.map(({ reason }) => reason)).toEqual([
      'no-hard-metal-drill',
      'no-way-past',
    ]);
    const way = ['driver-hexagonal', 'conical-extractor', 't-handle'] as const;
    expect(
      ready(
        new Log()
          .opened()
          .screw('1')
          .room(...way),
      ).doNotStart,
    ).toEqual([]);
  });

  it('does not count the moves that turn in the recess', () => {
    const log = new Log().opened().screw('1').room('driver-hexagonal', 'driver-hexalobular', 'mallet', 'metal-foil');
    expect(ready(log).deadEnds.map(({ stage }) => stage)).toEqual([
      'recess-stripped',
      'head-sheared',
      'fragment-retained',
    ]);
  });

  it('looks at the failures at or below the present stage alone, and at no screw that has ended', () => {
    const stages = (stage: (typeof workingStages)[number]) =>
      ready(new Log().opened().screw('1', { stage })).deadEnds.map((end) => end.stage);
    expect(stages('seated')).toEqual(['seated', 'recess-stripped', 'head-sheared', 'fragment-retained']);
    expect(stages('head-sheared')).toEqual(['head-sheared', 'fragment-retained']);
    expect(stages('fragment-retained')).toEqual(['fragment-retained']);
    const nothing = { deadEnds: [], doNotStart: [], bring: [] };
    expect(ready(new Log().opened().screw('1').start().tries('1', 'turn-out', 'out'))).toMatchObject(nothing);
    expect(ready(new Log().opened().screw('1').start().leaves('1'))).toMatchObject(nothing);
    // Of two plain screws one was left in: the other is stuck, and the first of the smallest sets slots its head.
    const { doNotStart } = ready(new Log().opened().screw('1').screw('2').start().leaves('1'));
    expect(doNotStart).toEqual([{ reason: 'no-way-past', missing: ['driver-slotted', 'metal-cutting-burr'] }]);
  });

  it('counts freeing the plate for a plain screw once every other one is out, not left in', () => {
    const turned = { driveSize: 3.5 };
    const dead = (log: Log) => ready(log).deadEnds.map(({ screw, stage }) => `${screw} ${stage}`);
    const log = () =>
      new Log()
        .opened()
        .screw('1', turned)
        .screw('2', turned)
        .tool('driver-hexagonal', { size: 3.5 })
        .room('bolt-cutter')
        .start();
    const deeper = (id: string) => [`${id} head-sheared`, `${id} fragment-retained`];
    const both = ['1', '2'].flatMap((id) => [`${id} recess-stripped`, ...deeper(id)]);
    expect(dead(log())).toEqual(both);
    expect(dead(log().tries('2', 'turn-out', 'out'))).toEqual(deeper('1'));
    expect(dead(log().leaves('2'))).toEqual(both.slice(0, 3));
  });

  it('tells screws apart by all that makes a difference, however many are in one plan', () => {
    const log = new Log()
      .opened()
      .screw('plain')
      .screw('thin', { diameter: 3.5 })
      .screw('locked', { locking: true })
      .screw('thin and locked', { diameter: 3.5, locking: true })
      .screw('proud')
      .screw('shank')
      .screw('plain too', { length: 20 })
      .tool('hard-metal-drill', { fits: [4.5] })
      .tool('reverse-tap', { fits: [4.5] })
      .room('driver-hexagonal', 't-handle', 'bolt-cutter', 'locking-pliers')
      .finds('proud', { headProud: true, tipProud: true })
      .finds('shank', { shankProud: true });
    const { deadEnds } = ready(log);
    const stages = (id: string) => deadEnds.filter(({ screw }) => screw === id).map(({ stage }) => stage);
    // The drill fits 4.5 mm alone: the tap is a way for all but the thin ones, and the plate for the locked.
    expect(stages('thin')).toEqual(['recess-stripped', 'head-sheared', 'fragment-retained']);
    for (const id of ['plain', 'plain too', 'locked', 'thin and locked'])
      expect([id, stages(id)]).toEqual([id, ['head-sheared', 'fragment-retained']]);
    expect(stages('proud')).toEqual(['head-sheared']);
    expect(stages('shank')).toEqual(['fragment-retained']);
  });

  it('takes no move for a way out of the stage that it ends in', () => {
    const moves = content.moves.map((move) =>
      move.id === 'drill-head-off' ? { ...move, fits: [...move.fits, 'head-sheared' as const] } : move,
    );
    const { entries } = new Log().opened().screw('1', { stage: 'head-sheared' }).room('hard-metal-drill');
    const { deadEnds } = readiness(fold(entries, { ...content, moves }));
    expect(deadEnds.map(({ stage, opensWith }) => [stage, opensWith])).toEqual([
      ['head-sheared', ['head-gripper', 'gouge']],
      ['fragment-retained', ['metal-cutting-burr', 'irrigation']],
    ]);
  });

  it('counts a drill that does not fit as missing [Z9]', () => {
    const { doNotStart } = ready(
      new Log()
        .opened()
        .screw('1', { locking: true })
        .tool('hard-metal-drill', { fits: [3.5] }),
    );
    expect(doNotStart).toContainEqual({ reason: 'no-hard-metal-drill', missing: ['hard-metal-drill'] });
  });

  it('takes one way of each list and no more: the smallest union', () => {
    expect(smallestCover([])).toEqual([]);
    expect(smallestCover([[['gouge'], ['mallet']], [['mallet']]])).toEqual(['mallet']);
    expect(smallestCover([[['pick'], ['mallet', 'gouge']], [['mallet', 'gouge']]])).toEqual(['mallet', 'gouge']);
    expect(smallestCover([[['punch'], ['pick']]])).toEqual(['pick']);
  });
});

describe('what another operation would need for a screw that stays', () => {
  it.each([1, 2] as const)(
    'is what opens that stage in a room that has nothing, whatever stands in this one, on random screws of ladder %s',
    (ladder) => {
      const random = seeded(1961);
      const ids = (ladder === 2 ? second : content).ids.tools.filter((id) => !untold.includes(id));
      let opened = 0;
      for (let i = 0; i < times(120); i++) {
        const plan = randomPlan(random, ladder, ids);
        const alone = { ...plan, screws: plan.screws.slice(0, 1) };
        const { folded } = logOf(alone);
        const bare = ready(logOf({ ...alone, tools: [] }));
        for (const [id, { context }] of folded.screws)
          for (const stage of workingStages) {
            if (workingStages.indexOf(stage) < workingStages.indexOf(context.facts.stage ?? 'seated')) continue;
            const dead = bare.deadEnds.find((end) => end.screw === id && end.stage === stage);
            const needed = neededFor(folded, id, stage);
            expect({ plan, stage, opensWith: needed?.opensWith }).toEqual({ plan, stage, opensWith: dead?.opensWith });
            expect(needed?.moves.length === 0).toBe(needed?.opensWith.length === 0);
            opened += needed?.opensWith.length ? 1 : 0;
          }
      }
      expect(opened).toBeGreaterThan(times(20));
    },
  );

  it('names the moves that a way can begin with, and nothing of a screw that nobody listed', () => {
    const log = inTheRoom();
    expect(neededFor(log.folded, '1', 'seated')?.moves.map(({ id }) => id)).toEqual(['turn-out']);
    expect(neededFor(log.folded, '1', 'recess-stripped')?.moves.map(({ id }) => id)).toContain('drill-head-off');
    expect(neededFor(log.folded, 'none', 'seated')).toBeNull();
  });
});

describe('the smallest cover', () => {
  it('is the one that trying every set of eight tools finds, on 300 random choices of ways', () => {
    const random = seeded(71);
    const few = toolIds.slice(0, 8);
    const some = () => few.filter(() => random() < 0.3);
    const sets = Array.from({ length: 2 ** few.length }, (_, bits) => few.filter((_, i) => bits & (1 << i)));
    const rank = (set: readonly string[]) => set.map((tool) => String.fromCharCode(97 + few.indexOf(tool as never)));
    sets.sort((a, b) => a.length - b.length || (rank(a).join() < rank(b).join() ? -1 : 1));
    let larger = 0;
    for (let round = 0; round < times(300); round++) {
      const lists = Array.from({ length: 1 + Math.floor(random() * 5) }, () =>
        Array.from({ length: 1 + Math.floor(random() * 4) }, some),
      );
      const found = sets.find((set) =>
        lists.every((ways) => ways.some((way) => way.every((tool) => set.includes(tool)))),
      );
      expect({ lists, cover: smallestCover(lists) }).toEqual({ lists, cover: found });
      if ((found?.length ?? 0) > 2) larger++;
    }
    expect(larger).toBeGreaterThan(times(30));
  });
});

describe('consent still open', () => {
  const open = (log: Log) => ready(log).consentOpen;
  const always = [
    'this-metal',
    'may-break',
    'may-stay',
    'longer-incision',
    'bone-may-break',
    'may-be-abandoned',
    'no-guarantee',
  ];

  it('is every point that applies and was not confirmed', () => {
    const log = inTheRoom({ cortices: 1 });
    expect(open(log)).toEqual(always);
    expect(open(log.write({ type: 'consent-point', point: 'may-stay', confirmed: true }))).toEqual(
      always.filter((point) => point !== 'may-stay'),
    );
    expect(open(log.write({ type: 'consent-point', point: 'may-stay', confirmed: false }))).toEqual(always);
  });

  it('asks for a second approach with a two-cortex screw only', () => {
    expect(open(inTheRoom())).toContain('second-approach');
    expect(open(inTheRoom({ cortices: 1 }))).not.toContain('second-approach');
    expect(open(inTheRoom({ cortices: 1 }).screw('2'))).toContain('second-approach');
  });

  it('asks for metal of another team, and for more than 18 months', () => {
    const asks = (opened: object) =>
      open(inTheRoom({}, opened)).filter((point) => point === 'placed-elsewhere' || point === 'over-18-months');
    expect(asks({ placedBy: 'other-team', placedMonthsAgo: 18.5 })).toEqual(['placed-elsewhere', 'over-18-months']);
    expect(asks({ placedBy: 'same-team', placedMonthsAgo: 18 })).toEqual([]);
    expect(asks({ placedBy: 'unknown' })).toEqual([]);
    expect(asks({})).toEqual([]);
  });

  it('is every point that always applies while no case was opened, and nothing else is said of it', () => {
    const nothing = { doNotStart: [], deadEnds: [], cannotSay: [], heldBy: [], bring: [], assumed: [] };
    expect(ready(new Log())).toEqual({ ...nothing, consentOpen: always });
  });

  it('never asks whether the patient wished for it', () => {
    expect(
      open(inTheRoom().write({ type: 'consent-point', point: 'at-patients-request', confirmed: false })),
    ).not.toContain('at-patients-request');
  });
});

describe('what is assumed', () => {
  it('names bone, level, reamer and unlisted lengths', () => {
    const log = new Log().opened().screw('3', { length: null }).bone(20, 4, { screw: '3', source: 'assumed' });
    expect(ready(log).assumed).toEqual(['bone', 'bone:3', 'reamer', 'length:3']);
    log.bone(27, 5).bone(21, 4, { screw: '3' }).screw('3').tool('hollow-reamer', { inner: 5, outer: 7 });
    expect(ready(log).assumed).toEqual([]);
  });

  it('is the reamer where it fits not every screw that is still in, and only for these', () => {
    const log = () =>
      new Log()
        .opened()
        .bone(27, 5)
        .screw('1')
        .screw('2', { diameter: 6.5 })
        .tool('hollow-reamer', { inner: 5, outer: 7 });
    expect(ready(log()).assumed).toEqual(['reamer']);
    expect(ready(log().start().tries('2', 'turn-out', 'out')).assumed).toEqual([]);
    expect(ready(log().start().leaves('2')).assumed).toEqual([]);
    expect(ready(log().start().tries('1', 'turn-out', 'out')).assumed).toEqual(['reamer']);
  });
});
