/**
 * The constants of the torsion curve: `rate` k of exp(−k · d/D), `band` as a share of the intact strength on either
 * side, `testedTo` the largest d/D of a measured point, `widens` by how much the band grows on either side for each d/D
 * beyond that; left out, it does not.
 */
export interface TorsionRules {
  torsionRate: number;
  torsionBand: number;
  torsionTestedTo: number;
  torsionWidens?: number;
}

/**
 * The published fit, for callers without rules of their own. Derived: least squares over five torsion tests with
 * holes of 0.10 to 0.227 of the diameter (Ho et al. 2010, Arch Orthop Trauma Surg; McChesney et al. 2022, Clin
 * Biomech; Edgerton et al. 1990, J Orthop Res, second-hand), none further off the curve than 7 points.
 */
export const torsionFit: TorsionRules = { torsionRate: 2.2, torsionBand: 0.07, torsionTestedTo: 0.23 };

export interface TorsionKept {
  /** Share of the intact torsional strength kept, 0–1. */
  kept: number;
  /** Lower and upper end of the band around it, each 0–1. */
  band: [number, number];
  /** False beyond the largest hole that was ever measured. */
  tested: boolean;
}

/** Room for the last bit of a division: 6.9 mm in 30 mm counts as 0.23. */
const rounding = 1e-12;

/**
 * Torsional strength kept beside a round hole, from hole tests and not from theory: exp(−rate · diameter / outer).
 *
 * @param diameter the largest single bore at the level, mm, ≥ 0 (0: no bore); bores are never added together
 * @param outer outer diameter of the bone at that level, mm, > 0
 * @param rules the constants of the curve; see `torsionFit` for their source
 * @returns the share kept, its band and whether the hole lies within the tested range; never throws
 * @example torsionKept(4.5, 27) // { kept: 0.693, band: [0.623, 0.763], tested: true }
 */
export function torsionKept(diameter: number, outer: number, rules: TorsionRules = torsionFit): TorsionKept {
  const share = diameter / outer;
  const kept = Math.exp(-rules.torsionRate * share);
  const tested = share <= rules.torsionTestedTo + rounding;
  const beyond = tested ? 0 : share - rules.torsionTestedTo;
  const band = rules.torsionBand + (rules.torsionWidens ?? 0) * beyond;
  return { kept, band: [Math.max(0, kept - band), Math.min(1, kept + band)], tested };
}
