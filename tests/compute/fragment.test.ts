import { describe, expect, it } from 'vitest';
import { fragmentPlace } from '../../machines/compute/fragment.ts';

const known = { length: 36, nearSurface: 4, recovered: 20, outer: 27, cortex: 5 };

describe('where the fragment lies', () => {
  it('finds 5 mm in the far wall and 5 mm beyond it', () => {
    const place = { left: 16, proudNear: 0, inNearWall: 0, inCanal: 6, inFarWall: 5, proudBeyond: 5 };
    expect(fragmentPlace(known)).toEqual(place);
  });

  it('finds nothing beyond the far cortex when the screw ends within it', () => {
    expect(fragmentPlace({ ...known, length: 29 })).toMatchObject({ left: 9, inFarWall: 3, proudBeyond: 0 });
  });

  it('finds a one-cortex stump standing above the near wall', () => {
    const place = { left: 10, proudNear: 1, inNearWall: 5, inCanal: 4, inFarWall: 0, proudBeyond: 0 };
    expect(fragmentPlace({ ...known, length: 13, recovered: 3 })).toEqual(place);
  });

  it('follows a head sunk below the surface', () => {
    expect(fragmentPlace({ ...known, nearSurface: -1, recovered: 0, length: 28 })).toMatchObject({
      left: 28,
      proudNear: 0,
      inNearWall: 4,
      inFarWall: 5,
      proudBeyond: 2,
    });
  });

  it.each([36, 40])('leaves nothing once %s mm of 36 are out', (recovered) => {
    const nothing = { left: 0, proudNear: 0, inNearWall: 0, inCanal: 0, inFarWall: 0, proudBeyond: 0 };
    expect(fragmentPlace({ ...known, recovered })).toEqual(nothing);
  });

  it.each(Object.keys(known))('says nothing without the figure for %s', (missing) => {
    expect(fragmentPlace({ ...known, [missing]: null })).toBeNull();
  });

  it('gives places that add up to the length left', () => {
    for (let recovered = 0; recovered <= 36; recovered += 0.5)
      for (let nearSurface = -6; nearSurface <= 40; nearSurface += 1.5) {
        const { left, ...places } = fragmentPlace({ ...known, recovered, nearSurface })!;
        expect(left).toBeCloseTo(36 - recovered, 12);
        expect(Object.values(places).reduce((sum, part) => sum + part)).toBeCloseTo(left, 12);
      }
  });
});
