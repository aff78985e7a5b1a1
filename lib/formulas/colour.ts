/** Colour of malt and beer on the scales that brewers use. */
import { requireWithin } from './range.ts';

/** Both scales are absorbance at 430 nm through 1 cm times a factor, by definition of the two (opened). */
const SRM_PER_ABSORBANCE = 12.7;
const EBC_PER_ABSORBANCE = 25;

/** Exact: 0.45359237 kg and 3.785411784 L. */
const POUND_g = 453.59237;
const US_GALLON_L = 3.785411784;

function requireColour(name: string, value: number): void {
  requireWithin(name, value, 0, 5000);
}

/**
 * EBC of a colour in SRM.
 *
 * Formula: EBC = 25/12.7 SRM.
 * Source: the definitions of the two scales, absorbance at 430 nm through 1 cm times 25 and 12.7 (opened).
 * Range: 0 to 5000 SRM; result in EBC; RangeError outside.
 * Cases: tests/formulas/colour.cases.ts.
 */
export function ebcFromSrm(srm: number): number {
  requireColour('colour in SRM', srm);
  return (srm * EBC_PER_ABSORBANCE) / SRM_PER_ABSORBANCE;
}

/**
 * SRM of a colour in EBC: the inverse of `ebcFromSrm`.
 *
 * Formula: SRM = 12.7/25 EBC.
 * Source: as `ebcFromSrm`.
 * Range: 0 to 5000 EBC; result in SRM; RangeError outside.
 * Cases: tests/formulas/colour.cases.ts.
 */
export function srmFromEbc(ebc: number): number {
  requireColour('colour in EBC', ebc);
  return (ebc * SRM_PER_ABSORBANCE) / EBC_PER_ABSORBANCE;
}

/**
 * Degrees Lovibond of a malt from the EBC colour of its laboratory wort.
 *
 * Formula: (EBC + 1.2) / 2.65.
 * Source: common practice, no source.
 * Range: 0 to 5000 EBC; result in °L; RangeError outside.
 * Cases: tests/formulas/colour.cases.ts.
 */
export function lovibondFromEbcMalt(ebc: number): number {
  requireColour('malt colour in EBC', ebc);
  return (ebc + 1.2) / 2.65;
}

/**
 * EBC colour of a malt's laboratory wort from degrees Lovibond: the inverse of `lovibondFromEbcMalt`.
 *
 * Formula: 2.65 °L − 1.2, never below 0.
 * Source: common practice, no source.
 * Range: 0 to 2000 °L; result in EBC; RangeError outside.
 * Cases: tests/formulas/colour.cases.ts.
 */
export function ebcFromLovibondMalt(lovibond: number): number {
  requireWithin('malt colour in °L', lovibond, 0, 2000);
  return Math.max(0, 2.65 * lovibond - 1.2);
}

interface ColouredItem {
  readonly weight_g: number;
  readonly colour_EBC: number;
  /** Volume of the finished wort that the item's colour is spread over. */
  readonly volume_L: number;
}

function poundsPerGallon(item: ColouredItem): number {
  requireWithin('weight in g', item.weight_g, 0, 1e9);
  requireWithin('volume in L', item.volume_L, 1e-6, 1e9);
  return item.weight_g / POUND_g / (item.volume_L / US_GALLON_L);
}

/**
 * Colour units that a malt or malt extract brings, in the unit that Morey's fit is made in.
 *
 * Formula: pounds × °L per US gallon, °L by `lovibondFromEbcMalt`.
 * Source: common practice, no source; pound and gallon are exact.
 * Range: weight 0 to 1e9 g, colour 0 to 5000 EBC, volume above 0 (1e-6) to 1e9 L; result in lb·°L/US gal;
 *   RangeError outside.
 * Cases: tests/formulas/colour.cases.ts.
 */
export function mcu(item: ColouredItem): number {
  return poundsPerGallon(item) * lovibondFromEbcMalt(item.colour_EBC);
}

/**
 * Colour units that a sugar or syrup brings, whose EBC is that of a solution and of no malt's laboratory
 * wort.
 *
 * Formula: as `mcu`, with °L = 12.7/25 EBC.
 * Source: common practice, no source.
 * Range: as `mcu`; result in lb·°L/US gal; RangeError outside.
 * Cases: tests/formulas/colour.cases.ts.
 */
export function mcuSugar(item: ColouredItem): number {
  return poundsPerGallon(item) * srmFromEbc(item.colour_EBC);
}

/**
 * Colour of a beer in SRM from its malt colour units.
 *
 * Formula: SRM = 1.4922 MCU^0.6859.
 * Source: Morey, a published fit of the 1990s (from memory).
 * Range: 0 to 5000 lb·°L/US gal; result in SRM; RangeError outside.
 * Uncertainty: about 20 %, and not less than 2 SRM (common practice, no source).
 * Cases: tests/formulas/colour.cases.ts.
 */
export function srmMorey(mcu_lbL_per_gal: number): number {
  requireWithin('malt colour units', mcu_lbL_per_gal, 0, 5000);
  return 1.4922 * mcu_lbL_per_gal ** 0.6859;
}
