/** Colour of malt and beer on the scales that brewers use. */
import {
  EBC_PER_SRM,
  GRAMS_PER_POUND,
  LITRES_PER_US_GALLON,
  MALT_EBC_SHIFT,
  MALT_EBC_SLOPE,
} from '../units/table.ts';
import { requireWithin } from './range.ts';

function requireColour(name: string, value: number): void {
  requireWithin(name, value, 0, 5000);
}

/**
 * EBC of a colour in SRM.
 *
 * Formula: EBC = 25/12.7 SRM.
 * Source: the definitions of the two scales, absorbance at 430 nm through 1 cm times 25 and 12.7 (opened).
 * Range: 0 to 5000 SRM; result in EBC; RangeError outside.
 */
export function ebcFromSrm(srm: number): number {
  requireColour('colour in SRM', srm);
  return srm * EBC_PER_SRM;
}

/**
 * SRM of a colour in EBC: the inverse of `ebcFromSrm`.
 *
 * Formula: SRM = 12.7/25 EBC.
 * Source: as `ebcFromSrm`.
 * Range: 0 to 5000 EBC; result in SRM; RangeError outside.
 */
export function srmFromEbc(ebc: number): number {
  requireColour('colour in EBC', ebc);
  return ebc / EBC_PER_SRM;
}

/**
 * Degrees Lovibond of a malt from the EBC colour of its laboratory wort.
 *
 * Formula: (EBC + 1.2) / 2.65.
 * Source: common practice, no source.
 * Range: 0 to 5000 EBC; result in °L; RangeError outside.
 */
export function lovibondFromEbcMalt(ebc: number): number {
  requireColour('malt colour in EBC', ebc);
  return (ebc + MALT_EBC_SHIFT) / MALT_EBC_SLOPE;
}

/**
 * Colour units that an item brings to a wort, in the unit that Morey's fit is made in.
 *
 * Formula: pounds × °L per US gallon. Source: common practice, no source; pound and gallon are exact.
 * Range: weight 0 to 1e6 kg, colour 0 to 2000 °L, volume above 0 (1e-6) to 1e9 L; result in lb·°L/US gal; RangeError outside.
 */
export function mcu(item: { weight_kg: number; colour_L: number; volume_L: number }): number {
  requireWithin('weight in kg', item.weight_kg, 0, 1e6);
  requireWithin('colour in °L', item.colour_L, 0, 2000);
  requireWithin('volume in L', item.volume_L, 1e-6, 1e9);
  const pounds = (1000 * item.weight_kg) / GRAMS_PER_POUND;
  return (pounds * item.colour_L) / (item.volume_L / LITRES_PER_US_GALLON);
}

/**
 * Colour of a beer in SRM from its malt colour units.
 *
 * Formula: SRM = 1.4922 MCU^0.6859.
 * Source: Morey, a published fit of the 1990s (from memory).
 * Range: 0 to 5000 lb·°L/US gal; result in SRM; RangeError outside.
 * Uncertainty: about 20 %, and not less than 2 SRM (common practice, no source).
 */
export function srmMorey(mcu_lbL_per_gal: number): number {
  requireWithin('malt colour units', mcu_lbL_per_gal, 0, 5000);
  return 1.4922 * mcu_lbL_per_gal ** 0.6859;
}
