/** Where water and wort boil. */
import { airPressure_kPa } from './air.ts';
import { requireWithin } from './range.ts';
import { saturationTemperature_C } from './water-vapour.ts';

/**
 * Temperature at which water boils at an altitude.
 *
 * Formula: mean air pressure into the saturation temperature.
 * Source: ISA (see `airPressure_kPa`) and IAPWS-IF97, equation 31 (see `saturationTemperature_C`).
 * Range: −500 to 11,000 m; result in °C; RangeError outside.
 * Uncertainty: 0.15 K for the formulas; the weather moves it by about 0.5 K.
 * Cases: tests/formulas/boiling.cases.ts.
 */
export function boilingPoint_C(altitude_m: number): number {
  return saturationTemperature_C(airPressure_kPa(altitude_m));
}

/** Ebullioscopic constant of water, K kg/mol (from memory). */
const EBULLIOSCOPIC_K_kg_per_mol = 0.512;

/** A wort's extract is taken as one of molecules of the mass of maltose or sucrose, g/mol. */
const ASSUMED_EXTRACT_MOLAR_MASS_g_per_mol = 342.3;

/**
 * How much higher than water a wort boils.
 *
 * Formula: 0.512 K kg/mol × moles of extract per kg of water, the extract taken as a disaccharide.
 * Source: ebullioscopy, the law of dilute solutions (constant from memory).
 * Range: 0 to 40 °P; result in kelvin (0.2 at 12 °P); RangeError outside.
 * Uncertainty: 0.1 K, since wort holds larger and smaller molecules.
 * Cases: tests/formulas/boiling.cases.ts.
 */
export function boilingElevation_K(plato_P: number): number {
  requireWithin('extract in °P', plato_P, 0, 40);
  const extract_g_per_kg_water = (1000 * plato_P) / (100 - plato_P);
  return (EBULLIOSCOPIC_K_kg_per_mol * extract_g_per_kg_water) / ASSUMED_EXTRACT_MOLAR_MASS_g_per_mol;
}
