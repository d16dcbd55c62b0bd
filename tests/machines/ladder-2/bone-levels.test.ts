/** What a level of bone bears, why a level has no figure, which is the weakest, and which openings may meet. */
import { describe, expect, it } from 'vitest';
import type { Bore } from '../../../machines/entry.ts';
import type { BoneMeasure, Room } from '../../../machines/case.context.ts';
import { boneLevel, boneView, strength } from '../../../machines/ladder/bone.ts';
import type { ScrewContext } from '../../../machines/screw.context.ts';
import { screw, type More } from './remembered.ts';
import { atTable, loose, second } from './build.ts';

const { case: bare } = atTable({ ...loose, tools: [] }).folded;
const measured: BoneMeasure = { outer: 24, cortex: 5, source: 'measured' };
const room = (more: Partial<Omit<Room, 'said'>> & { said?: Partial<Room['said']> } = {}): Room => ({
  ...bare.context.room,
  bone: measured,
  ...more,
  said: { ...bare.context.room.said, ...more.said },
});
/** Section modulus of a tube, mm³: π/32 · (D⁴ − d⁴) / D. */
const tube = (outer: number, cortex: number) => (Math.PI / 32) * ((outer ** 4 - (outer - 2 * cortex) ** 4) / outer);
const opened = (more: object) => ({ ...bare.context.room.opened, ...more }) as Room['opened'];

describe('what a section bears', () => {
  const half = { bendingKept: 0.5, torsionBand: [0.4, 0.6] as const };

  it('is what it keeps of its own tube, and the same held against a sound tibia of 24/5 mm', () => {
    const of = strength(second, room(), { ...measured, outer: 30, cortex: 6 }, half as never);
    expect(of.modulus).toBeCloseTo(0.5 * tube(30, 6), 8);
    expect(of.ofSound).toBeCloseTo((0.5 * tube(30, 6)) / tube(24, 5), 10);
    expect(of.torsionBand).toEqual([0.4, 0.6]);
  });

  it('is held against nothing where no sound bone of the name is listed', () => {
    const talus = strength(second, room({ opened: opened({ bone: 'talus' }) }), measured, half as never);
    expect(talus.ofSound).toBeNull();
    expect(talus.modulus).toBeCloseTo(0.5 * tube(24, 5), 8);
  });

  it('is nothing without a bone, or without a section', () => {
    const nothing = { modulus: null, ofSound: null, torsionBand: null };
    expect(strength(second, room(), null, half as never)).toEqual(nothing);
    expect(strength(second, room(), measured, null)).toEqual(nothing);
  });
});

describe('a level', () => {
  const level = (more: More = {}, there = room()) => boneLevel(second, there, screw(more));
  const why = (...args: Parameters<typeof level>) => level(...args).why;
  const noFigures = {
    ...{ cortexLost: null, bendingKept: null, modulus: null, ofSound: null },
    ...{ torsionKept: null, torsionBand: null, torsionTested: null },
  };

  it('is reckoned with its own hole and every bore that was made', () => {
    const own = level();
    expect(own).toMatchObject({ why: null, assumed: false, torsionTested: true });
    // A hole of 4.5 mm through both walls of 5 mm: two slabs of about 5 mm by 4.5 mm out of a ring of π · 19 · 5 mm².
    expect(own.cortexLost).toBeCloseTo((2 * 5 * 4.5) / (Math.PI * 19 * 5), 2);
    const bored = level({ bores: [{ wall: 'near', diameter: 9 }] });
    expect(bored.cortexLost).toBeGreaterThan((own.cortexLost as number) + 0.06);
    expect(bored.modulus).toBeLessThan(own.modulus as number);
    expect(own.modulus).toBeCloseTo((own.bendingKept as number) * tube(24, 5), 8);
  });

  it('has no figure for a reason, the first that applies', () => {
    const all: More = {
      facts: { thread: 'partly', diameter: null },
      climb: { boneUnsaid: true },
      found: { openingsMeet: true },
    };
    const near = room({ bone: { ...measured, place: 'near-joint' } });
    expect(why(all, room({ bone: null, opened: opened({ bone: 'talus' }), said: { broke: true } }))).toBe('broken');
    expect(why(all, room({ bone: null, opened: opened({ bone: 'talus' }) }))).toBe('bone-not-known');
    expect(why(all, near)).toBe('near-joint');
    expect(why(all, room({ bone: { ...measured, place: 'neck' } }))).toBe('neck');
    expect(why({ ...all, facts: { thread: 'partly', diameter: 11 } })).toBe('lag-screw');
    expect(why({ ...all, facts: { diameter: null } })).toBe('diameter-not-known');
    expect(why({ ...all, facts: {} })).toBe('opening-not-said');
    expect(why({ found: { openingsMeet: true } })).toBe('openings-meet');
    expect(why({ found: { openingsMeet: false } })).toBeNull();
    expect(why({ bores: [{ wall: 'near', diameter: 30 }] })).toBe('as-wide');
    expect(level(all, near)).toEqual({ why: 'near-joint', ...noFigures, assumed: false });
    expect(level({ bores: [{ wall: 'near', diameter: 30 }] })).toEqual({
      why: 'as-wide',
      ...noFigures,
      assumed: false,
    });
  });

  it('says that its bone was assumed, and takes the one measured at the screw before that of the case', () => {
    expect(level({}, room({ bone: null }))).toMatchObject({ why: null, assumed: true });
    expect(level({}, room({ bone: { ...measured, source: 'assumed', place: 'neck' } }))).toMatchObject({
      ...{ why: 'neck', assumed: true },
    });
    const wider = room({ boneAt: { '1': { ...measured, outer: 30, cortex: 6 } } });
    expect(level({}, wider).modulus).toBeGreaterThan(level().modulus as number);
  });
});

describe('the bone of a case', () => {
  const slot = (length: number): Bore[] => [{ wall: 'near', diameter: 6, length }];
  const view = (all: ScrewContext[], there = room()) =>
    boneView({
      ...{ content: second, unanswered: [], case: { context: { ...bare.context, room: there } } },
      screws: new Map(all.map((context) => [context.id, { context }])),
    });
  const one = (id: string, more: More = {}) => ({ ...screw(more), id });

  it('is weakest at the screw with the least modulus, the first of equals, and nowhere without a figure', () => {
    const weak = { bores: [{ wall: 'near', diameter: 9 }] as Bore[] };
    expect(view([one('1'), one('2', weak), one('3')]).weakest).toBe('2');
    expect(view([one('1', weak), one('2')]).weakest).toBe('1');
    expect(view([one('1'), one('2')]).weakest).toBe('1');
    expect(view([one('1'), one('2', { ...weak, facts: { diameter: null } })]).weakest).toBe('1');
    expect(view([one('1', { facts: { diameter: null } })]).weakest).toBeNull();
    expect(view([]).weakest).toBeNull();
  });

  it('names each level, and what a sound one would bear', () => {
    const of = view([one('1'), one('a', { facts: { diameter: null } })]);
    expect(Object.entries(of.levels).map(([id, { why }]) => [id, why])).toEqual([
      ['1', null],
      ['a', 'diameter-not-known'],
    ]);
    expect(of.sound).toBeCloseTo(tube(24, 5), 8);
    expect(view([one('1')], room({ opened: opened({ bone: 'talus' }) })).sound).toBeNull();
  });

  it('asks of two long openings or more whether they meet, each until it was said', () => {
    const asked = (all: ScrewContext[], there = room()) => view(all, there).openingsAsked;
    expect(asked([one('1', { bores: slot(9) }), one('2', { bores: slot(9) })])).toEqual(['1', '2']);
    expect(asked([one('1', { bores: slot(9) }), one('2', { climb: { windowed: true } })])).toEqual(['1', '2']);
    expect(asked([one('1', { bores: slot(9) }), one('2')])).toEqual([]);
    // As long as it is wide it is round; where nobody said, too.
    expect(asked([one('1', { bores: slot(9) }), one('2', { bores: slot(6) })])).toEqual([]);
    expect(asked([one('1', { bores: slot(9) }), one('2', { bores: [{ wall: 'far', diameter: 6 }] })])).toEqual([]);
    expect(asked([one('1', { bores: slot(9) }), one('2', { bores: [...slot(2), ...slot(7)] })])).toEqual(['1', '2']);
    const said = { bores: slot(9), found: { openingsMeet: false } };
    expect(asked([one('1', said), one('2', { bores: slot(9) })])).toEqual(['2']);
    expect(
      asked([one('1', { bores: slot(9) }), one('2', { bores: slot(9) })], room({ said: { broke: true } })),
    ).toEqual([]);
  });

  it('is broken, and then bears nothing that anybody could reckon', () => {
    const of = view([one('1')], room({ said: { broke: true } }));
    expect(of).toMatchObject({ broken: true, weakest: null, levels: { '1': { why: 'broken', modulus: null } } });
    expect(view([one('1')]).broken).toBe(false);
  });

  it('is reckoned again where the room or the screw changed', () => {
    const same = one('1');
    const before = view([same]).levels['1'];
    expect(view([same], room({ bone: { ...measured, outer: 30, cortex: 6 } })).levels['1']?.modulus).toBeGreaterThan(
      before?.modulus as number,
    );
    const there = room();
    expect(view([same], there).levels['1']).toBe(view([same], there).levels['1']);
    expect(view([{ ...same, bores: slot(9) }], there).levels['1']?.modulus).toBeLessThan(before?.modulus as number);
  });
});
