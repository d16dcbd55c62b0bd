/** The bone level by level under the second ladder: figures, what they are held against, and where there are none. */
import { describe, expect, it } from 'vitest';
import { byGrid } from './ring.grid.ts';
import type { Bore, EntryOf } from '../../machines/entry.ts';
import { forecast } from '../../machines/forecast.ts';
import { readiness } from '../../machines/readiness.ts';
import { content as first, offer, type Log } from '../machines/build.ts';
import { atTable, loose, second } from '../machines/ladder-2/build.ts';

const own: Bore = { wall: 'both', diameter: 4.5 };
/** Textbook form of the modulus of a hollow shaft, mm³: another way to write it than the code's. */
const shaft = (outer: number, cortex: number) => (Math.PI / 32) * ((outer ** 4 - (outer - 2 * cortex) ** 4) / outer);
const boneOf = (log: Log) => log.view.bone as NonNullable<Log['view']['bone']>;
const level = (log: Log, screw = '1') => boneOf(log).levels[screw];
const stripped = { facts: { stage: 'head-sheared', underPlate: false }, ...loose } as const;
const gouged = (log: Log, screw: string, ...bores: Bore[]) =>
  log.tries(screw, 'gouge-and-grip', 'no-change', { bores });
const slot = (diameter: number, length: number): Bore => ({ wall: 'near', diameter, length });

describe('the section modulus', () => {
  it.each<{ made: Bore[] }>([
    { made: [] },
    { made: [{ wall: 'near', diameter: 8.5 }] },
    { made: [{ wall: 'near', diameter: 6, turn: 50 }] },
  ])('is that of a section counted point by point, besides the own hole: $made', ({ made }) => {
    const log = atTable(stripped);
    if (made.length) gouged(log, '1', ...made);
    const counted = byGrid(27, 5, [own, ...made]).bendingKept * shaft(27, 5);
    expect(Math.abs((level(log)?.modulus as number) / counted - 1)).toBeLessThan(0.003);
  });

  it('[Z33] is held against a sound adult bone of the same name, and stands in the offer of a move as well', () => {
    const log = atTable(stripped);
    const sound = shaft(24, 5);
    expect(boneOf(log).sound).toBeCloseTo(sound, 6);
    expect(level(log)?.ofSound).toBeCloseTo((level(log)?.modulus as number) / sound, 10);
    const after = byGrid(27, 5, [own, { wall: 'near', diameter: 8.5 }]).bendingKept * shaft(27, 5);
    const offered = offer(log.of('1'), 'gouge-and-grip');
    expect(Math.abs((offered?.modulus as number) / after - 1)).toBeLessThan(0.003);
    expect(offered?.ofSound).toBeCloseTo((offered?.modulus as number) / sound, 10);
  });

  it('has nothing to be held against in a child, whose bone is not pre-filled, nor in a bone that is not listed', () => {
    const child = atTable({ opened: { patient: 'child', construct: 'screws' } });
    expect([boneOf(child).sound, level(child)?.ofSound]).toEqual([null, null]);
    expect(level(child)?.modulus).toBeGreaterThan(0);
    const unmeasured = (opened: Partial<EntryOf<'case-opened'>>) => {
      const log = atTable({ opened: { construct: 'screws', ...opened } });
      log.strikes(2);
      return level(log);
    };
    expect(unmeasured({ patient: 'child' })).toMatchObject({ why: 'bone-not-known', modulus: null });
    expect(unmeasured({})).toMatchObject({ why: null, assumed: true });
    expect(unmeasured({ bone: 'talus' })).toMatchObject({ why: 'bone-not-known', ofSound: null });
  });

  it('was not told by the first ladder', () => {
    const log = atTable({ content: first, tools: ['driver-hexagonal'] });
    expect(log.view.bone).toBeUndefined();
    expect(offer(log.of('1'), 'turn-out')).not.toHaveProperty('modulus');
  });
});

describe('the weakest level', () => {
  it('is the one with the least modulus, whatever share of its own ring is kept', () => {
    const log = atTable({ ...loose })
      .screw('2')
      .bone(16, 3, { screw: '2' });
    expect(level(log, '2')?.modulus).toBeLessThan(level(log, '1')?.modulus as number);
    expect(boneOf(log).weakest).toBe('2');
    log.bone(40, 6, { screw: '2' });
    expect(boneOf(log).weakest).toBe('1');
  });

  it('is none of those that have no figure', () => {
    const log = atTable({ ...loose })
      .screw('2')
      .bone(16, 3, { screw: '2', place: 'near-joint' });
    expect(level(log, '2')).toMatchObject({ why: 'near-joint', modulus: null, cortexLost: null });
    expect(boneOf(log).weakest).toBe('1');
  });
});

describe('where nothing is modelled', () => {
  const at = (more: Partial<EntryOf<'bone-measured'>>, facts = {}) =>
    level(atTable({ ...loose, facts }).bone(27, 5, { screw: '1', ...more }));

  it('is said by its reason: near a joint, in the neck, at a lag screw', () => {
    expect(at({ place: 'near-joint' })?.why).toBe('near-joint');
    expect(at({ place: 'neck' })?.why).toBe('neck');
    const lag = { thread: 'partly', diameter: 11 } as const;
    expect(at({}, lag)?.why).toBe('lag-screw');
    expect(at({ place: 'shaft' }, lag)?.why).toBeNull();
    expect(at({}, { diameter: null })?.why).toBe('diameter-not-known');
  });

  it('is all of a bone that broke: no share, no strength, no hold, in readiness and forecast too', () => {
    const log = gouged(atTable(stripped), '1', { wall: 'near', diameter: 9 });
    const narrow = atTable(stripped).bone(15, 3);
    expect(offer(narrow.of('1'), 'gouge-and-grip')?.holds).toContain('bone-stop');
    expect(readiness(log.folded).bone).toBeUndefined();
    for (const one of [log, narrow]) {
      one.write({ type: 'event', kind: 'bone-broke' });
      expect(boneOf(one)).toMatchObject({ broken: true, weakest: null, openingsAsked: [] });
      expect(level(one)).toMatchObject({ why: 'broken', cortexLost: null, modulus: null, bendingKept: null });
      for (const row of one.of('1').offered) {
        expect(row.holds.filter((hold) => hold.startsWith('bone'))).toEqual([]);
        expect([row.cortexLost, row.bendingKept, row.modulus, row.torsionKept]).toEqual([null, null, null, null]);
      }
      expect(readiness(one.folded)).toMatchObject({ bone: 'broken' });
      expect(readiness(one.folded).assumed.filter((what) => what.startsWith('bone'))).toEqual([]);
    }
    expect(forecast(log.folded).bone).toBe('broken');
  });
});

describe('long openings', () => {
  const two = () => {
    const log = atTable(stripped).screw('2', stripped.facts);
    return gouged(gouged(log, '1', slot(7, 20)), '2', slot(7, 20));
  };

  it('at two screws are asked about, not added together', () => {
    const log = two();
    expect(boneOf(log).openingsAsked).toEqual(['1', '2']);
    expect(level(log)?.why).toBeNull();
    log.finds('1', { openingsMeet: false });
    expect(boneOf(log).openingsAsked).toEqual(['2']);
    expect(level(log)?.why).toBeNull();
  });

  it('that meet leave no figure, and the holds of what was reckoned stand', () => {
    const log = two();
    const before = offer(log.of('1'), 'burr-out')?.holds;
    log.finds('1', { openingsMeet: true });
    expect(level(log)).toMatchObject({ why: 'openings-meet', modulus: null });
    expect(offer(log.of('1'), 'burr-out')).toMatchObject({ cortexLost: null, modulus: null, holds: before });
    expect(boneOf(log).weakest).toBe('2');
  });

  it('are none where the opening is round, or there is only one', () => {
    const round = gouged(gouged(atTable(stripped).screw('2', stripped.facts), '1', slot(7, 20)), '2', slot(7, 7));
    expect(boneOf(round).openingsAsked).toEqual([]);
  });
});

describe('torsion beyond the tested range', () => {
  it('is told with a band that widens until it holds what cat femora kept at a third: at least 80 % (Hoon et al. 2021, seen)', () => {
    const { torsionBand, torsionTestedTo } = second.limits;
    const width = (share: number) => {
      const log = atTable({ ...loose, facts: { diameter: share * 27 } });
      const [low, high] = level(log)?.torsionBand as readonly [number, number];
      return { half: (high - low) / 2, high, tested: level(log)?.torsionTested };
    };
    expect(width(0.2)).toMatchObject({ tested: true });
    expect(width(0.2).half).toBeCloseTo(torsionBand.value, 10);
    expect(width(0.28)).toMatchObject({ tested: false });
    expect(width(0.28).half).toBeGreaterThan(width(torsionTestedTo.value).half + 0.1);
    expect(width(0.33).high).toBeGreaterThan(0.8);
  });

  it('does not widen under the first release', () => {
    expect(first.limits.torsionWidens).toBeUndefined();
  });
});
