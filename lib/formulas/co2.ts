/**
 * Carbon dioxide dissolved in beer, taken as water: solubility, what stays after fermentation, and the
 * pressure that holds a carbonation.
 *
 * One volume is a litre of the gas at 0 °C and 1 atm per litre of beer.
 */
import { CO2_GRAMS_PER_VOLUME_LITRE } from '../units/table.ts';
import { STANDARD_ATMOSPHERE_kPa } from './air.ts';
import { GAS_CONSTANT_L_atm_per_molK, ZERO_CELSIUS_K } from './constants.ts';
import { requireWithin } from './range.ts';
import { settle } from './solve.ts';
import { waterVapourPressure_kPa } from './water-vapour.ts';

// Names of this module: an imported one is looked up again at each use, and these run some thousand times a plan.
const within = requireWithin;
const vapour_kPa = waterVapourPressure_kPa;
const ATMOSPHERE_kPa = STANDARD_ATMOSPHERE_kPa;
const ZERO_K = ZERO_CELSIUS_K;
const R_cm3_atm_per_molK = 1000 * GAS_CONSTANT_L_atm_per_molK;

/** A volume of carbon dioxide, as a real gas, weighs this much per litre of beer. */
export const CO2_DENSITY_g_per_L_vol = CO2_GRAMS_PER_VOLUME_LITRE;

/** 44.0095 g/mol over the density: 22.263 L/mol, less than an ideal gas has. */
const CO2_MOLAR_VOLUME_L = 44.0095 / CO2_DENSITY_g_per_L_vol;

function requireTemperature(t_C: number): void {
  within('beer temperature in °C', t_C, 0, 40);
}

/**
 * Solubility of carbon dioxide in pure water, per atmosphere of its fugacity.
 *
 * Formula: ln K0 = −58.0931 + 90.5069 (100/T) + 22.2940 ln(T/100), T in kelvin.
 * Source: Weiss 1974, Mar. Chem. 2:203 (coefficients seen in two transcriptions).
 * Range: 0 to 40 °C; result in mol/(L atm); RangeError outside.
 * Uncertainty: within 2.5 % of Carroll 1991. Beer holds 1 to 5 % less than water (from memory).
 */
export function co2Solubility_mol_per_L_atm(t_C: number): number {
  requireTemperature(t_C);
  const t = (t_C + ZERO_K) / 100;
  return Math.exp(-58.0931 + 90.5069 / t + 22.294 * Math.log(t));
}
const solubility = co2Solubility_mol_per_L_atm;

/**
 * Fugacity of carbon dioxide over its partial pressure, in carbon dioxide with a little water vapour.
 *
 * Formula: e^(B P / RT), B = −1636.75 + 12.0408 T − 0.0327957 T² + 3.16528e-5 T³ in cm³/mol, P the total
 *   pressure. The term for pairs of unlike molecules is left out: for a little vapour it is below 1e-4.
 * Source: Weiss 1974, Mar. Chem. 2:203, equations 6 and 9 (from memory).
 * Range: as its callers, which check it: 0 to 40 °C, to some 10 atm; result without unit.
 */
function co2FugacityCoefficient(t_C: number, total_atm: number): number {
  const t = t_C + ZERO_K;
  const virial_cm3_per_mol = -1636.75 + t * (12.0408 + t * (-3.27957e-2 + t * 3.16528e-5));
  return Math.exp((virial_cm3_per_mol * total_atm) / (R_cm3_atm_per_molK * t));
}

/** Volumes held under a pressure of carbon dioxide and water vapour alone. */
function volumesUnder(total_atm: number, t_C: number): number {
  const partial_atm = total_atm - vapour_kPa(t_C) / ATMOSPHERE_kPa;
  const fugacity_atm = partial_atm * co2FugacityCoefficient(t_C, total_atm);
  return solubility(t_C) * fugacity_atm * CO2_MOLAR_VOLUME_L;
}

/**
 * Carbonation that a beer keeps under the gas of its own fermentation, open to the air's pressure.
 *
 * Formula: K0 × fugacity × 22.263 L/mol, the partial pressure being the ambient one less water's vapour
 *   pressure.
 * Source: Weiss 1974, Mar. Chem. 2:203, with its virial equation; IAPWS-IF97 for the vapour.
 * Range: 0 to 40 °C (the warmest since fermentation ended), ambient 30 to 110 kPa; result in volumes;
 *   RangeError outside.
 * Uncertainty: 1 to 5 % high, beer being taken as water.
 */
export function residualCo2_vol(of: { t_C: number; ambient_kPa: number }): number {
  requireTemperature(of.t_C);
  within('air pressure in kPa', of.ambient_kPa, 30, 110);
  return volumesUnder(of.ambient_kPa / ATMOSPHERE_kPa, of.t_C);
}

/**
 * Gauge pressure that belongs to a carbonation in a keg, or a bottle without head space.
 *
 * Formula: p(CO2) + p(H2O) − ambient pressure, solved by repetition.
 * Source: as `residualCo2_vol`.
 * Range: 0 to 20 volumes, 0 to 40 °C, ambient 30 to 110 kPa; result in kPa, negative where the beer holds
 *   less than it would in the open; RangeError outside.
 * Uncertainty: 7 kPa for cold kegs, 8 % for bottles; above about 10 atm the virial equation leaves its
 *   range, and the figure says only that the pressure is far too high.
 */
export function co2Pressure_kPa_gauge(of: { volumes: number; t_C: number; ambient_kPa: number }): number {
  requireTemperature(of.t_C);
  within('carbonation in volumes', of.volumes, 0, 20);
  within('air pressure in kPa', of.ambient_kPa, 30, 110);
  const vapour_atm = vapour_kPa(of.t_C) / ATMOSPHERE_kPa;
  // Henry's law gives the start; the fugacity bends it by a few percent, so plain repetition settles quickly.
  const fugacity_atm = of.volumes / CO2_MOLAR_VOLUME_L / solubility(of.t_C);
  const partial_atm = settle(
    fugacity_atm,
    1e-12,
    (atm) => fugacity_atm / co2FugacityCoefficient(of.t_C, atm + vapour_atm),
  );
  return (partial_atm + vapour_atm) * ATMOSPHERE_kPa - of.ambient_kPa;
}
