/** Specific gravity and degrees Plato, each from the other. */
import { HIGHEST_EXTRACT_P, LOWEST_EXTRACT_P, sucroseDensity20_kgm3, WATER_20_KGM3 } from './density.ts';
import { requireWithin } from './range.ts';
import { settle } from './solve.ts';
import { excessAt20, excessSlopeAt20 } from './sucrose-set.ts';

/**
 * Specific gravity 20/20, in vacuum, of an extract.
 *
 * Formula: ρ(P, 20 °C) / ρ(water, 20 °C). Below 0 °P no solution exists, but alcohol brings the apparent
 *   extract of dry beers and meads there: the same polynomial is continued through zero. It is smooth and
 *   rises strictly from −8 °P (SG 0.970), so that a gravity below 1.000 and its apparent extract stay a
 *   pair.
 * Source: ICUMSA SPS-4, see `sucrose-set.ts`.
 * Range: −8 to 85 °P; result without unit; RangeError outside.
 * Uncertainty: within 0.00006 of a printed sucrose table to 20 °P. Weighed in air the figure would be up to
 *   0.00016 higher at 30 °P.
 */
export function specificGravityFromPlato(plato_P: number): number {
  return sucroseDensity20_kgm3(plato_P) / WATER_20_KGM3;
}

const LOWEST_SG = specificGravityFromPlato(LOWEST_EXTRACT_P);
const HIGHEST_SG = specificGravityFromPlato(HIGHEST_EXTRACT_P);

/**
 * Extract of a specific gravity 20/20: the inverse of `specificGravityFromPlato`.
 *
 * Formula: that function, solved by Newton's method to 1e-9 °P; legal below 1.000.
 * Source: ICUMSA SPS-4, see `sucrose-set.ts`.
 * Range: SG 0.96998 to 1.44854 (−8 to 85 °P); result in °P; RangeError outside.
 */
export function platoFromSpecificGravity(sg: number): number {
  requireWithin('specific gravity', sg, LOWEST_SG, HIGHEST_SG);
  const excess_kgm3 = (sg - 1) * WATER_20_KGM3;
  // 385.1761 is the set's slope at 0 °P; 0.35 bends the chord to within 2.4 °P of the curve, up to the top.
  const chord = excess_kgm3 / (385.1761 + 0.35 * excess_kgm3);
  return 100 * settle(chord, 1e-12, (w) => w - (excessAt20(w) - excess_kgm3) / excessSlopeAt20(w));
}
