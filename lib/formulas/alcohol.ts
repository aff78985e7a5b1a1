/** Alcohol by mass and by volume. */
import { HIGHEST_EXTRACT_P, LOWEST_EXTRACT_P } from './density.ts';
import { requireWithin } from './range.ts';

/**
 * Extract that is used up for a gram of alcohol, g: Balling (from memory; 0.9565 g CO2 and 0.11 g yeast with
 * it).
 */
export const BALLING_EXTRACT_PER_ALCOHOL = 2.0665;

/**
 * Density of ethanol at 20 °C over that of water at 20 °C: 789.24 / 998.20, OIML R 22 (seen in two
 * transcriptions).
 */
const ETHANOL_GRAVITY_2020 = 0.7907;

/**
 * Alcohol in a beer, in percent of its mass, from its original and its real extract.
 *
 * Formula: (OE − RE) / (2.0665 − 0.010665 OE).
 * Source: Balling, as used in Cutaia, Reid & Speers 2009, J. Inst. Brew. 115:318 (excerpt opened; 2.0665
 *   from memory).
 * Range: original 0 to 85 °P, real −8 to 85 °P; result in percent by mass; RangeError outside. A real
 *   extract above the original, which only an error of reading can produce, gives a negative figure.
 * Uncertainty: 0.1 % by volume at original gravities to 1.050, all relations before it included.
 */
export function alcoholByMassBalling_percent(of: { original_P: number; real_P: number }): number {
  requireWithin('original extract in °P', of.original_P, 0, HIGHEST_EXTRACT_P);
  requireWithin('real extract in °P', of.real_P, LOWEST_EXTRACT_P, HIGHEST_EXTRACT_P);
  return (of.original_P - of.real_P) / (BALLING_EXTRACT_PER_ALCOHOL - 0.010665 * of.original_P);
}

/**
 * Alcohol in percent of volume at 20 °C from that in percent of mass.
 *
 * Formula: percent by mass × SG of the beer / 0.7907.
 * Source: OIML R 22, density of ethanol at 20 °C (coefficients seen in two transcriptions). The older
 *   figure of 0.794 is for 15.6 °C.
 * Range: −5 to 100 % by mass, SG 0.78 to 1.5; result in percent by volume; RangeError outside.
 * Uncertainty: 0.12 % by volume at original gravities to 1.050 and 0.25 % at 1.100, Balling's relations
 *   included.
 */
export function alcoholByVolume_percent(of: { alcoholByMass_percent: number; gravity_SG: number }): number {
  requireWithin('alcohol by mass in percent', of.alcoholByMass_percent, -5, 100);
  requireWithin('specific gravity of the beer', of.gravity_SG, 0.78, 1.5);
  return (of.alcoholByMass_percent * of.gravity_SG) / ETHANOL_GRAVITY_2020;
}
