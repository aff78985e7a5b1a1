/** A wort as a mass of extract and a mass of water: its strength, its volume, and either mass from the other. */
import { HIGHEST_EXTRACT_P, sucroseDensity20_kgm3 } from './density.ts';
import { platoFromSpecificGravity } from './gravity.ts';
import { settle } from './solve.ts';

// Names of this module: an imported one is looked up again at each of the sixty-odd calls of a run.
const density20 = sucroseDensity20_kgm3;
const HIGHEST_P = HIGHEST_EXTRACT_P;

/** Extract and water, kg. Worts that are mixed, topped up or boiled down add or lose masses, never volumes. */
export interface Wort {
  readonly extract_kg: number;
  readonly water_kg: number;
}

/** Density of water at 20 °C, kg/L, by the same function as every wort's, so that SG of water is exactly 1. */
export const WATER_KG_PER_L = density20(0) / 1000;

/**
 * Strength of a wort, °P: 100 × extract / (extract + water).
 *
 * Source: definition. Range: any masses; at most 85 °P, 0 for plain water and for nothing.
 */
export function platoOf(wort: Wort): number {
  const mass = wort.extract_kg + wort.water_kg;
  return mass > 0 ? Math.min((100 * wort.extract_kg) / mass, HIGHEST_P) : 0;
}

/** Volume of a wort, L at 20 °C: mass over density (ICUMSA SPS-4, see `sucrose-set.ts`). */
export function volumeOf(wort: Wort): number {
  return ((wort.extract_kg + wort.water_kg) * 1000) / density20(platoOf(wort));
}

/**
 * Water that makes a volume of wort (L at 20 °C) with a mass of extract (kg, at least 0), kg.
 *
 * Formula: V ρ(P) − extract, P being the wort's own, solved by Newton's method. Source: ICUMSA SPS-4. Derived.
 * Range: negative where the extract alone takes more room than the volume.
 */
export function waterForVolume(extract_kg: number, volume_L: number): number {
  if (extract_kg <= 0) return volume_L * WATER_KG_PER_L;
  // Dissolved extract takes about 0.62 L/kg; a few Newton steps with the slope of the density settle the rest.
  const near_kg = volume_L * WATER_KG_PER_L + 0.385 * extract_kg;
  const newton = (mass_kg: number): number => {
    const plato_P = Math.min((100 * extract_kg) / mass_kg, HIGHEST_P);
    const density = density20(plato_P) / 1000;
    const slope = 0.0041 + 0.00002 * plato_P;
    return mass_kg - (mass_kg - volume_L * density) / (1 + (volume_L * slope * plato_P) / mass_kg);
  };
  return settle(near_kg, 1e-11 * near_kg, newton) - extract_kg;
}

/**
 * Extract in a volume (L at 20 °C) of wort of a specific gravity 20/20, kg: V ρ(P) P/100.
 *
 * Source: ICUMSA SPS-4. Derived. Range: SG 0.96998 to 1.44854; RangeError outside.
 */
export function extractIn_kg(volume_L: number, gravity_SG: number): number {
  const plato_P = platoFromSpecificGravity(gravity_SG);
  return (((volume_L * density20(plato_P)) / 1000) * plato_P) / 100;
}
