import { describe, expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import { currentVersion } from '../../content/releases/index.ts';
import type { Content } from '../../content/types.ts';
import { torsionFit, torsionKept } from '../../machines/compute/torsion.ts';
import { section } from '../../machines/compute/ring.ts';

describe('torsional strength kept', () => {
  it('keeps all without a hole, and holds its band within nothing and all', () => {
    expect(torsionKept(0, 27)).toEqual({ kept: 1, band: [expect.closeTo(0.93, 12), 1], tested: true });
    expect(torsionKept(60, 27).band[0]).toBe(0);
  });

  it.each([
    [6.9, 30, true],
    [6.21, 27, true],
    [2.3, 10, true],
    [6.22, 27, false],
  ])('a hole of %s mm in %s mm of bone lies within the tested range: %s', (diameter, outer, tested) => {
    expect(torsionKept(diameter, outer).tested).toBe(tested);
  });

  it('goes by the widest single bore, never by their sum', () => {
    const two = section(22, 5, [
      { wall: 'near', diameter: 5 },
      { wall: 'far', diameter: 3, turn: 40 },
    ]);
    expect(two.torsionKept).toBe(torsionKept(5, 22).kept);
  });

  it('follows the rules it is given', () => {
    const rules = { torsionRate: 1, torsionBand: 0.1, torsionTestedTo: 0.1 };
    const bone = section(20, 4, [{ wall: 'near', diameter: 4 }], rules);
    expect(bone).toMatchObject({ torsionKept: Math.exp(-0.2), torsionTested: false });
    expect(bone.torsionBand[1] - bone.torsionBand[0]).toBeCloseTo(0.2, 12);
    expect(torsionFit).toEqual({ torsionRate: 2.2, torsionBand: 0.07, torsionTestedTo: 0.23 });
  });

  it('is in the released content what it is in the command for one bone', () => {
    const { torsionRate, torsionBand, torsionTestedTo } = (loadContent(currentVersion) as Content).limits;
    expect({
      torsionRate: torsionRate.value,
      torsionBand: torsionBand.value,
      torsionTestedTo: torsionTestedTo.value,
    }).toEqual(torsionFit);
  });
});
