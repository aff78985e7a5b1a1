/** Gas from sugar: what is added on purpose, and what an unfinished beer has still to give. */

import { BALLING_EXTRACT_PER_ALCOHOL } from './alcohol.ts';
import { BALLING_APPARENT_SHARE } from './attenuation.ts';
import { CO2_DENSITY_g_per_L_vol } from './co2.ts';
import { sucroseDensity20_kgm3 } from './density.ts';
import { platoFromSpecificGravity } from './gravity.ts';
import { requireWithin } from './range.ts';

/**
 * Sugar that brings a beer's carbonation up by what is missing.
 *
 * Formula: volume × missing volumes × 1.9768 g/L / (carbon dioxide per gram of sugar).
 * Source: stoichiometry. Derived.
 * Range: 0 to 1e6 L, −20 to 20 volumes missing (0 or less: the gas is there already, and the answer is 0),
 *   0.01 to 1 g/g; result in g; RangeError outside.
 * Uncertainty: 8 %. Too much sugar bursts bottles: the caller must look at the pressure.
 */
export function primingSugar_g(of: { volume_L: number; missing_vol: number; co2_g_per_g: number }): number {
  requireWithin('beer in L', of.volume_L, 0, 1e6);
  requireWithin('missing carbonation in volumes', of.missing_vol, -20, 20);
  requireWithin('carbon dioxide of the sugar in g/g', of.co2_g_per_g, 0.01, 1);
  return (of.volume_L * Math.max(0, of.missing_vol) * CO2_DENSITY_g_per_L_vol) / of.co2_g_per_g;
}

/**
 * Carbonation that a weight of sugar brings: the inverse of `primingSugar_g`.
 *
 * Range: 0 to 1e9 g, volume above 0 (1e-9) to 1e6 L, 0 to 1 g/g; result in volumes; RangeError outside.
 */
export function co2FromSugar_vol(of: { sugar_g: number; volume_L: number; co2_g_per_g: number }): number {
  requireWithin('sugar in g', of.sugar_g, 0, 1e9);
  requireWithin('beer in L', of.volume_L, 1e-9, 1e6);
  requireWithin('carbon dioxide of the sugar in g/g', of.co2_g_per_g, 0, 1);
  return (of.sugar_g * of.co2_g_per_g) / (of.volume_L * CO2_DENSITY_g_per_L_vol);
}

/** Carbon dioxide that goes with a gram of alcohol, g: Balling (from memory). */
const BALLING_CO2_PER_ALCOHOL = 0.9565;

/**
 * Carbonation still to come when a beer's gravity falls from one figure to another in a closed bottle.
 *
 * Formula: 0.8192 × the fall in apparent extract × density = extract fermented; 0.9565/2.0665 of it becomes
 *   carbon dioxide; about half a volume per 0.001 of gravity.
 * Source: Balling (0.9565 and 2.0665 from memory). Derived.
 * Range: both SG 0.97 to 1.3, 20/20; result in volumes, 0 where there is no fall; RangeError outside.
 * Uncertainty: 8 %, as for priming sugar.
 */
export function co2FromExtract_vol(of: { from_SG: number; to_SG: number }): number {
  requireWithin('gravity now', of.from_SG, 0.97, 1.3);
  requireWithin('gravity at the end', of.to_SG, 0.97, 1.3);
  const now_P = platoFromSpecificGravity(of.from_SG);
  const fall_P = Math.max(0, now_P - platoFromSpecificGravity(of.to_SG));
  const fermented_g_per_L = (BALLING_APPARENT_SHARE * fall_P * sucroseDensity20_kgm3(now_P)) / 100;
  const co2_g_per_L = (fermented_g_per_L * BALLING_CO2_PER_ALCOHOL) / BALLING_EXTRACT_PER_ALCOHOL;
  return co2_g_per_L / CO2_DENSITY_g_per_L_vol;
}
