/** Specific gravity and degrees Plato, each from the other. */
import { HIGHEST_EXTRACT_P, LOWEST_EXTRACT_P, sucroseDensity20_kgm3 } from './density.ts';
import { requireWithin } from './range.ts';

const WATER_20_KGM3 = sucroseDensity20_kgm3(0);

/**
 * Specific gravity 20/20, in vacuum, of an extract.
 *
 * SG = ρ(P, 20 °C) / ρ(water, 20 °C), densities of the sucrose set (see `sucroseDensity_kgm3` for the source).
 * Below 0 °P, where no solution exists but where alcohol brings the apparent extract of dry beers and meads, the
 * same polynomial is continued through zero: it is smooth and rises strictly down to −8 °P (SG 0.970), so that a
 * gravity below 1.000 and its apparent extract stay a pair. Range −8 to 85 °P; within 0.00005 of printed sucrose
 * tables to 20 °P. Throws RangeError outside. Cases: tests/formulas/gravity.cases.ts.
 */
export function specificGravityFromPlato(plato_P: number): number {
  return sucroseDensity20_kgm3(plato_P) / WATER_20_KGM3;
}

const LOWEST_SG = specificGravityFromPlato(LOWEST_EXTRACT_P);
const HIGHEST_SG = specificGravityFromPlato(HIGHEST_EXTRACT_P);

/**
 * Extract of a specific gravity 20/20: the inverse of `specificGravityFromPlato`.
 *
 * Newton's method on that function, from the chord; legal below 1.000. Range 0.970 to 1.446 (−8 to 85 °P); result
 * in °P, exact to 1e-9. Throws RangeError outside. Cases: tests/formulas/gravity.cases.ts.
 */
export function platoFromSpecificGravity(sg: number): number {
  requireWithin('specific gravity', sg, LOWEST_SG, HIGHEST_SG);
  const excess = (sg - 1) * WATER_20_KGM3;
  let w = excess / (385.1761 + 0.35 * excess);
  for (let round = 0; round < 12; round++) {
    const f =
      w * (385.1761 + w * (135.3705 + w * (40.9299 + w * (-3.9643 + w * (13.4853 + w * -17.289))))) - excess;
    const slope = 385.1761 + w * (270.741 + w * (122.7897 + w * (-15.8572 + w * (67.4265 + w * -103.734))));
    const step = f / slope;
    w -= step;
    if (Math.abs(step) < 1e-12) break;
  }
  return w * 100;
}
