/** The bone figures against published measurements and plain geometry; the status of each source stands in its name. */
import { describe, expect, it } from 'vitest';
import { section } from '../../machines/compute/ring.ts';
import { torsionKept } from '../../machines/compute/torsion.ts';

const ho = 'Ho, Gilbody, Jameson, Miles 2010, Arch Orthop Trauma Surg 130:797';
const mcchesney = 'McChesney et al. 2022, Clin Biomech, art. 105686';
const edgerton = 'Edgerton, An, Morrey 1990, J Orthop Res 8:851';

describe('measured torsional strength beside a hole lies within the band shown', () => {
  it.each([
    { share: 0.1, kept: 1 - 0.2311, source: ho, of: 'pig femur', status: 'seen' },
    { share: 0.136, kept: 59.0 / 82.8, source: mcchesney, of: 'composite tibia', status: 'seen' },
    { share: 0.182, kept: 51.0 / 82.8, source: mcchesney, of: 'composite tibia', status: 'seen' },
    { share: 0.2, kept: 1 - 0.34, source: edgerton, of: 'sheep femur', status: 'seen-second-hand' },
    { share: 0.227, kept: 55.7 / 82.8, source: mcchesney, of: 'composite tibia', status: 'seen' },
  ])('hole of $share of the diameter, $of: $source ($status)', ({ share, kept }) => {
    const { band, tested } = torsionKept(share * 24, 24);
    expect(kept).toBeGreaterThan(band[0]);
    expect(kept).toBeLessThan(band[1]);
    expect(tested).toBe(true);
  });

  it('stands above the cat femora, which kept at least 80 % at 0.17 to 0.33: Hoon et al. 2021, Vet Comp Orthop Traumatol (seen)', () => {
    // Sources disagree: the curve is the more cautious one, and says at 0.33 that it is beyond its range.
    const { kept, tested } = torsionKept(0.33 * 12, 12);
    expect(kept).toBeLessThan(0.8);
    expect(tested).toBe(false);
  });
});

describe('the share of the circumference under a hole is asin(d/D)/π, not d/D (derived)', () => {
  it.each([
    [0.05, 1.6],
    [0.1, 3.2],
    [0.15, 4.8],
    [0.2, 6.4],
    [0.25, 8.0],
    [0.3, 9.7],
    [0.4, 13.1],
    [0.5, 16.7],
    [0.6, 20.5],
  ])('a hole of %s of the diameter takes %s %% of the circumference', (share, percent) => {
    const { circumferenceLost } = section(20, 4, [{ wall: 'near', diameter: share * 20 }]);
    expect(100 * circumferenceLost).toBeCloseTo(percent, 1);
    expect(circumferenceLost).toBeCloseTo(Math.asin(share) / Math.PI, 13);
  });

  it('a hole of 20 % of the diameter takes about 6 % of the circumference', () => {
    const { circumferenceLost } = section(24, 5, [{ wall: 'near', diameter: 4.8 }]);
    expect(Math.round(100 * circumferenceLost)).toBe(6);
  });
});

describe('open section', () => {
  it('begins beyond one outer diameter of slot: Elias, Frassica, Chao 2000, J Biomech 33:1517 (seen)', () => {
    const slot = (share: number) => section(28, 7, [{ wall: 'near', diameter: 6, length: 28 * share }]).openSection;
    expect([0.5, 1, 1.01, 2, 5].map(slot)).toEqual([false, false, true, true, true]);
  });
});
