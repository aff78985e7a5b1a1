import { sucroseDensity_kgm3 } from './density.ts';

// A name of this module: an imported one is looked up again at each use, and this runs some hundred times a plan.
const density = sucroseDensity_kgm3;

/**
 * Volume of a wort at one temperature over its volume at another, its mass being the same.
 *
 * Formula: V(to) / V(from) = ρ(from) / ρ(to), densities of `sucroseDensity_kgm3`, which above 80 °C follows
 *   water's expansion.
 * Source: ICUMSA SPS-4, see `sucrose-set.ts`. Water from 100 to 20 °C shrinks by 3.99 % (IAPWS-95).
 * Range: −8 to 85 °P, 0 to 105 °C both; result without unit; RangeError outside.
 * Uncertainty: 0.001; wort of 12 °P is within 0.0007 of water.
 */
export function thermalVolumeRatio(of: { plato_P: number; from_C: number; to_C: number }): number {
  return density(of.plato_P, of.from_C) / density(of.plato_P, of.to_C);
}
