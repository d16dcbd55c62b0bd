import { describe, expect, it } from 'vitest';
import { bare, millimetres, percent, span, typed, typedNumber, type PadKey } from '../../src/format/figures.ts';
import { lengthAlong, mapLayout, middleAlong } from '../../src/pictures/map-layout.ts';
import { sideGeometry, type SideScrew } from '../../src/pictures/side-geometry.ts';

describe('figures as they are read', () => {
  it('never stand without a unit [Z9]', () => {
    expect(percent(0.1312)).toBe('13\u00a0%');
    expect(`${bare(0.1312)} → ${percent(0.172)}`).toBe('13 → 17\u00a0%');
    expect(millimetres(4.5)).toBe('4.5\u00a0mm');
    expect(millimetres(36.04)).toBe('36\u00a0mm');
    expect([percent(null), millimetres(null), bare(null)]).toEqual(['–', '–', '–']);
  });

  it('give spans in hours, minutes and seconds by name [Z9]', () => {
    const said = (minutes: number, seconds = false) => span(minutes, seconds).replaceAll('\u00a0', ' ');
    expect([0, 48.9, 60, 72, 125.5].map((m) => said(m))).toEqual([
      '0 min',
      '48 min',
      '1 h 00 min',
      '1 h 12 min',
      '2 h 05 min',
    ]);
    expect(said(2 + 10 / 60, true)).toBe('2 min 10 s');
    expect(said(0.1, true)).toBe('0 min 6 s');
    expect(said(61 + 5 / 60, true)).toBe('1 h 01 min 05 s');
    expect(said(-1)).toBe('0 min');
  });
});

describe('the number pad', () => {
  const keyed = (keys: string, decimals = 1) =>
    [...keys].reduce((text, key) => typed(text, (key === '<' ? 'back' : key) as PadKey, decimals), '');

  it.each([
    ['36', '36'],
    ['4.5', '4.5'],
    ['4.55', '4.5'],
    ['.5', '0.5'],
    ['05', '5'],
    ['4..5', '4.5'],
    ['36<<7', '7'],
    ['12345', '1234'],
    ['<', ''],
  ])('turns the keys %s into %s [Z9]', (keys, text) => expect(keyed(keys)).toBe(text));

  it('has no point where only whole numbers are meant', () => expect(keyed('1.5', 0)).toBe('15'));
  it('reads nothing as nothing, not as zero [Z21]', () =>
    expect([typedNumber(''), typedNumber('0'), typedNumber('4.')]).toEqual([null, 0, 4]));
});

describe('room on the construct', () => {
  it('gives every screw a touch while they fit, and folds when they do not [Z5]', () => {
    expect(mapLayout(9, { width: 227, height: 30 }, 'row')).toBe('one');
    expect(mapLayout(14, { width: 227, height: 53 }, 'row')).toBe('two');
    expect(mapLayout(8, { width: 53, height: 120 }, 'column')).toBe('two');
    expect(mapLayout(14, { width: 53, height: 120 }, 'column')).toBe('folded');
    expect(mapLayout(14, { width: 227, height: 52 }, 'row')).toBe('folded');
  });

  it('never gives less than 20 mm and 3 mm between neighbours on a side [Z5]', () => {
    for (const fold of ['one', 'two'] as const)
      for (let index = 0; index < 13; index++) {
        const next = index + (fold === 'one' ? 1 : 2);
        expect(middleAlong(next, fold, 20, 3) - middleAlong(index, fold, 20, 3)).toBe(23);
        expect(middleAlong(index, fold, 20, 3) + 10).toBeLessThanOrEqual(lengthAlong(index + 1, fold, 20, 3));
      }
  });
});

describe('a screw from the side', () => {
  const screw: SideScrew = {
    stage: 'seated',
    diameter: 4.5,
    length: 36,
    cortices: 2,
    outer: 27,
    cortex: 5,
    plate: 4,
    out: 0,
  };

  it('starts on the plate and ends as far in as it is long', () => {
    expect(sideGeometry(screw)).toMatchObject({ top: -4, tip: 32, from: -4, headed: true, lengthAssumed: false });
  });
  it('shows what is out as missing from above and the rest where it was', () => {
    const at = sideGeometry({ ...screw, stage: 'head-sheared', out: 6 });
    expect(at).toMatchObject({ from: 2, tip: 32, headed: false });
  });
  it('goes by a piece that was measured', () => {
    expect(sideGeometry({ ...screw, stage: 'fragment-retained', out: 20, pieceLength: 9 }).from).toBe(23);
  });
  it('draws a piece of unknown length in the wall that holds it', () => {
    const at = sideGeometry({ ...screw, stage: 'fragment-retained', out: 0 });
    expect(at.from).toBeGreaterThan(27 - 5 - 2);
    expect(at.from).toBeLessThan(27 - 5);
  });
  it('shows nothing in when it is out, and says when the length was not known', () => {
    expect(sideGeometry({ ...screw, stage: 'out' }).from).toBeNull();
    expect(sideGeometry({ ...screw, length: null })).toMatchObject({ lengthAssumed: true, tip: 29 });
    expect(sideGeometry({ ...screw, length: null, cortices: 1 }).tip).toBe(11);
  });
});
