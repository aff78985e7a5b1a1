/** Colour of malt and beer on the scales that brewers use. */
import { requireWithin } from './range.ts';

/** Both scales are absorbance at 430 nm through 1 cm times a factor: ASBC Beer-10 and EBC 9.6 (opened). */
const SRM_PER_ABSORBANCE = 12.7;
const EBC_PER_ABSORBANCE = 25;

/** Exact: 0.45359237 kg and 3.785411784 L. */
const POUND_g = 453.59237;
const US_GALLON_L = 3.785411784;

function requireColour(name: string, value: number): void {
  requireWithin(name, value, 0, 5000);
}

/** EBC of a colour in SRM: EBC = 25/12.7 SRM, from the definitions of the two scales. Range 0 to 5000, else RangeError. */
export function ebcFromSrm(srm: number): number {
  requireColour('colour in SRM', srm);
  return (srm * EBC_PER_ABSORBANCE) / SRM_PER_ABSORBANCE;
}

/** SRM of a colour in EBC: SRM = 12.7/25 EBC, from the definitions of the two scales. Range 0 to 5000, else RangeError. */
export function srmFromEbc(ebc: number): number {
  requireColour('colour in EBC', ebc);
  return (ebc * SRM_PER_ABSORBANCE) / EBC_PER_ABSORBANCE;
}

/**
 * Degrees Lovibond of a malt from the EBC colour of its laboratory wort: (EBC + 1.2) / 2.65.
 *
 * Common practice, no source. Range 0 to 5000 EBC, never below 0. Throws RangeError outside.
 */
export function lovibondFromEbcMalt(ebc: number): number {
  requireColour('malt colour in EBC', ebc);
  return (ebc + 1.2) / 2.65;
}

/**
 * EBC colour of a malt's laboratory wort from degrees Lovibond: 2.65 °L − 1.2, never below 0.
 *
 * Common practice, no source. Range 0 to 2000 °L. Throws RangeError outside.
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
 * Colour units that a malt or malt extract brings: pounds × °Lovibond per US gallon, the unit Morey's fit is made in.
 *
 * Degrees Lovibond by `lovibondFromEbcMalt`. Definition: common practice, no source; pound and gallon exact. Throws
 * RangeError for a volume of 0 or negative figures.
 * Cases: tests/formulas/colour.cases.ts.
 */
export function mcu(item: ColouredItem): number {
  return poundsPerGallon(item) * lovibondFromEbcMalt(item.colour_EBC);
}

/**
 * Colour units that a sugar or syrup brings, whose EBC is that of a solution and no malt's laboratory wort.
 *
 * As `mcu`, with °L = 12.7/25 EBC. Cases: tests/formulas/colour.cases.ts.
 */
export function mcuSugar(item: ColouredItem): number {
  return poundsPerGallon(item) * srmFromEbc(item.colour_EBC);
}

/**
 * Colour of the beer in SRM from its malt colour units.
 *
 * SRM = 1.4922 MCU^0.6859. Source: Morey, a published fit of the 1990s (from memory). Range 0 to 5000; nothing better
 * than 20 % or 2 SRM should be read into it. Throws RangeError outside. Cases: tests/formulas/colour.cases.ts.
 */
export function srmMorey(mcu_lbL_per_gal: number): number {
  requireWithin('malt colour units', mcu_lbL_per_gal, 0, 5000);
  return 1.4922 * mcu_lbL_per_gal ** 0.6859;
}
