/**
 * Plans that look ready and are not known to be: what each said while an unknown counted as a yes, and what is said now.
 * Invented plans.
 */
import { describe, expect, it } from 'vitest';
import type { ToolId } from '../../content/ids.ts';
import { nothingAgainst, readiness, verdictOf } from '../../machines/readiness.ts';
import { seeded } from '../seeded.ts';
import { Log } from './build.ts';
import { second } from './ladder-2/build.ts';

const opened = (construct: 'plate' | 'nail' | 'screws' = 'plate') =>
  new Log(undefined, second).opened({ construct, rules: 2 }).bone(27, 5);
const ready = (log: Log) => readiness(log.folded);
const may = (log: Log) => nothingAgainst(log.folded, ready(log));
const dead = (log: Log) => ready(log).deadEnds.map(({ screw, stage, opensWith }) => [screw, stage, opensWith]);
const unsaid = (log: Log) => ready(log).cannotSay.map(({ screw, stage, unknown }) => [screw, stage, unknown]);

/** Past every failure without a size: pliers on a proud head, gouge, window, burr. */
const sizeless: readonly ToolId[] = ['locking-pliers', 'gouge', 'metal-cutting-burr', 'irrigation', 'osteotome'];
/** One plain screw of 4.5 mm with a 3.5 mm hexagon. */
const plain = { driveSize: 3.5 };
const driven = (log: Log) => log.tool('driver-hexagonal', { size: 3.5 });
const stocked = () => driven(opened('screws').screw('1', plain)).room(...sizeless);

describe('a plan that is not known to be ready', () => {
  it('has a way on from everything once all that it uses is known', () => {
    expect(ready(stocked())).toMatchObject({ doNotStart: [], deadEnds: [], cannotSay: [], heldBy: [], bring: [] });
    expect(verdictOf(ready(stocked()))).toBe('way-on');
    expect(may(stocked())).toBe(true);
  });

  it('1: every tool for trouble, and no driver', () => {
    const log = opened('screws')
      .screw('1', plain)
      .room(...sizeless);
    expect(dead(log)).toEqual([['1', 'seated', ['driver-hexagonal']]]);
    expect(ready(log).bring).toEqual(['driver-hexagonal']);
    expect(verdictOf(ready(log))).toBe('dead-ends');
    expect(may(log)).toBe(false);
  });

  it('2: a flat driver for a recess that nobody has seen', () => {
    const log = opened('screws')
      .screw('1', { drive: 'unknown' })
      .room('driver-slotted', ...sizeless);
    expect(unsaid(log)).toEqual([['1', 'seated', ['drive']]]);
    expect(dead(log)).toEqual([]);
    expect(verdictOf(ready(log))).toBe('cannot-say');
    log.screw('1', { drive: 'hexagonal', driveSize: 3.5 });
    expect(dead(log)).toEqual([['1', 'seated', ['driver-hexagonal']]]);
  });

  it('3: a drill and a tap of no size', () => {
    const log = driven(opened('screws').screw('1', plain)).room('hard-metal-drill', 'reverse-tap', 't-handle');
    const stripped = () => unsaid(log).find(([, stage]) => stage === 'recess-stripped');
    expect(stripped()).toEqual(['1', 'recess-stripped', ['tool:hard-metal-drill', 'tool:reverse-tap']]);
    log.tool('hard-metal-drill', { present: false }).tool('hard-metal-drill', { fits: [4.5] });
    expect(stripped()).toEqual(['1', 'recess-stripped', ['tool:reverse-tap']]);
  });

  it('4: a reamer of no size, and one without play round the thread', () => {
    const room = ['reversing-drive', 'conical-extractor', 't-handle'] as const;
    const log = (inner?: number) =>
      driven(opened('screws').screw('1', plain))
        .room(...room)
        .tool('extraction-sleeve', { fits: [4.5] })
        .tool('hollow-reamer', inner === undefined ? {} : { inner });
    const deep = ['head-sheared', 'fragment-retained'];
    expect(unsaid(log())).toEqual(deep.map((stage) => ['1', stage, ['tool:hollow-reamer']]));
    expect(dead(log(4.5))).toEqual([
      ['1', 'head-sheared', ['hollow-reamer']],
      ['1', 'fragment-retained', ['hollow-reamer']],
    ]);
    expect([unsaid(log(4.7)), dead(log(4.7))]).toEqual([[], []]);
  });

  it('5: a driver of the right form, its size or that of the recess never read', () => {
    const log = (size: object, recess: object) =>
      opened('screws')
        .screw('1', { diameter: 6.5, ...recess })
        .tool('driver-hexagonal', size)
        .room(...sizeless);
    expect(unsaid(log({}, { driveSize: 5 }))).toEqual([['1', 'seated', ['tool:driver-hexagonal']]]);
    expect(unsaid(log({ size: 5 }, {}))).toEqual([['1', 'seated', ['drive-size']]]);
    expect(unsaid(log({}, {}))).toEqual([['1', 'seated', ['drive-size', 'tool:driver-hexagonal']]]);
    expect(dead(log({ size: 4 }, { driveSize: 5 }))).toEqual([['1', 'seated', ['driver-hexagonal']]]);
  });

  it('6: a sheared head under a plate that another screw holds fast', () => {
    const log = driven(opened().screw('1', plain))
      .screw('2', { diameter: 3.5, drive: 'hexagonal', driveSize: 2.5 })
      .tool('driver-hexagonal', { size: 2.5 })
      .tool('hard-metal-drill', { fits: [4.5] })
      .tool('reverse-tap', { fits: [4.5] })
      .room('t-handle', 'locking-pliers', 'gouge');
    // Screw 1 can be drilled and tapped; screw 2 cannot, so the plate stays on the stump of screw 1.
    expect(ready(log).heldBy).toEqual([{ screw: '1', by: ['2'] }]);
    expect(dead(log)).toContainEqual(['1', 'head-sheared', ['conical-extractor']]);
    log.room('conical-extractor');
    expect(ready(log).heldBy).toEqual([]);
    expect(dead(log).filter(([, stage]) => stage === 'head-sheared')).toEqual([]);
  });

  it('7: a head to be drilled off, and nothing to take hold of the shank with', () => {
    const log = driven(opened('screws').screw('1', plain))
      .tool('hard-metal-drill', { fits: [4.5] })
      .room('bolt-cutter', 'irrigation');
    expect(dead(log).map(([, stage]) => stage)).toEqual(['recess-stripped', 'head-sheared', 'fragment-retained']);
  });

  it('8: a screw of which nobody knows how thick it is', () => {
    const log = opened('screws')
      .screw('1', { diameter: null as never, drive: 'cruciform' })
      .tool('hard-metal-drill', { fits: [4.5] })
      .tool('reverse-tap', { fits: [4.5] })
      .room('t-handle', 'driver-cruciform');
    expect(unsaid(log)).toContainEqual(['1', 'recess-stripped', ['diameter']]);
  });
});

describe('an unknown', () => {
  it('is cleared for eight equal screws by one measure of one tool', () => {
    const log = opened();
    for (let i = 1; i <= 8; i++) log.screw(String(i), plain);
    driven(log)
      .room('reverse-tap', 't-handle')
      .tool('hard-metal-drill', { fits: [4.5] });
    expect(unsaid(log)).toEqual(
      [1, 2, 3, 4, 5, 6, 7, 8].map((id) => [String(id), 'recess-stripped', ['tool:reverse-tap']]),
    );
    log.tool('reverse-tap', { present: false }).tool('reverse-tap', { fits: [4.5] });
    expect(unsaid(log)).toEqual([]);
  });

  it('is none in ten plans of which every size is given', () => {
    const random = seeded(51);
    for (let plan = 0; plan < 10; plan++) {
      const log = opened(plan % 2 ? 'plate' : 'screws');
      for (let i = 1; i <= 3; i++) log.screw(String(i), { ...plain, locking: random() < 0.5 });
      for (const tool of second.ids.tools) {
        if (random() < 0.5) continue;
        const measures = second.tools.find(({ id }) => id === tool)?.measures ?? [];
        const fits = measures.includes('fits') && { fits: [random() < 0.5 ? 4.5 : 3.5] };
        const inner = measures.includes('inner') && { inner: 4.8, outer: 7 };
        log.tool(tool, { ...fits, ...inner, ...(measures.includes('size') && { size: random() < 0.5 ? 3.5 : 2.5 }) });
      }
      expect(unsaid(log)).toEqual([]);
    }
  });

  it('of a recess does not matter where a driver for every recess that is usual for the diameter is there', () => {
    // Usual for 3.5 mm by the release: hexagonal 2.5 and hexalobular 15 (from memory, so the team reads it off first).
    const log = (...sizes: number[]) => {
      const one = opened('screws')
        .screw('1', { diameter: 3.5, drive: 'unknown' })
        .room(...sizeless);
      for (const size of sizes) one.tool(size < 10 ? 'driver-hexagonal' : 'driver-hexalobular', { size });
      return unsaid(one);
    };
    expect(log(2.5)).toEqual([['1', 'seated', ['drive']]]);
    expect(log(2.5, 15)).toEqual([]);
  });

  it('of a fact that nobody has entered is none: it opens nothing and is not asked for', () => {
    const log = driven(opened('screws').screw('1', plain)).room('locking-pliers');
    expect(unsaid(log)).toEqual([]);
    expect(dead(log).map(([, stage]) => stage)).toEqual(['recess-stripped', 'head-sheared', 'fragment-retained']);
    log.finds('1', { headProud: true });
    expect(dead(log).map(([, stage]) => stage)).toEqual(['head-sheared', 'fragment-retained']);
  });
});

describe('what speaks against starting', () => {
  it('is no failure of a lone plain screw whose driver is there', () => {
    const log = driven(opened('screws').screw('1', plain));
    expect(dead(log)).toHaveLength(3);
    expect(ready(log).doNotStart).toEqual([]);
    expect(may(log)).toBe(true);
  });

  it.each([
    ['a plate screw', 'plate', {}],
    ['a bolt of a nail', 'nail', {}],
    ['a screw that locks', 'screws', { locking: true }],
  ] as const)('is %s of which every failure is dead or cannot be said', (_, construct, facts) => {
    const log = driven(opened(construct).screw('1', { ...plain, ...facts })).room('hard-metal-drill', 'reverse-tap');
    log.room('t-handle');
    // The tap may fit; deeper there is nothing: no failure is known to have a way on.
    expect(ready(log).doNotStart).toEqual([]);
    expect(may(log)).toBe(false);
    log.tool('hard-metal-drill', { fits: [4.5] }).tool('reverse-tap', { fits: [4.5] });
    expect(may(log)).toBe(true);
  });

  it('is a screw that nothing in the room turns, even a lone one', () => {
    expect(
      may(
        opened('screws')
          .screw('1', plain)
          .room(...sizeless),
      ),
    ).toBe(false);
  });
});

describe('the plate', () => {
  it('is held by no screw that is out, has lost its head, has none, or lies beside it', () => {
    const log = () => opened().screw('1', plain);
    const held = (one: Log) =>
      ready(driven(one).room('locking-pliers', 'gouge')).heldBy.find(({ screw }) => screw === '1');
    expect(held(log().screw('2'))).toEqual({ screw: '1', by: ['2'] });
    expect(held(log().screw('2', { stage: 'head-sheared' }))).toBeUndefined();
    expect(held(log().screw('2', { form: 'headless' }))).toBeUndefined();
    expect(held(log().screw('2', { underPlate: false }))).toBeUndefined();
    expect(held(log().screw('2').start().tries('2', 'turn-out', 'out'))).toBeUndefined();
  });

  it('is held by a screw that was left in with its head on, whatever is brought', () => {
    const log = driven(
      opened()
        .screw('1', { ...plain, stage: 'head-sheared' })
        .screw('2'),
    )
      .start()
      .leaves('2');
    expect(ready(log).heldBy).toEqual([{ screw: '1', by: ['2'] }]);
    expect(dead(log)).toContainEqual(['1', 'head-sheared', []]);
  });

  it('is held by nobody where it is off, and in a nail', () => {
    expect(ready(driven(opened('nail').screw('1').screw('2'))).heldBy).toEqual([]);
    expect(ready(driven(opened().screw('1').screw('2')).write({ type: 'plate-off' })).heldBy).toEqual([]);
  });
});
