/** Every function here throws RangeError where its value is not finite: a bug, not a brewer's mistake. */
import type { UnitSystem } from '../dimension.ts';
import {
  EBC_PER_SRM,
  GRAMS_PER_POUND,
  KILOPASCALS_PER_PSI,
  LITRES_PER_US_GALLON,
  MALT_EBC_SHIFT,
  MALT_EBC_SLOPE,
  METRES_PER_FOOT,
} from '../table.ts';
import type { FormatOptions } from './amounts.ts';
import { fixed, joined, mustBeFinite, type Parts, trimmed } from './round.ts';

function plainParts(value: number, unit: string, decimals: number, what: string): Parts {
  mustBeFinite(value, what);
  return { number: trimmed(value, decimals), unit };
}

/** A temperature in °C, whole degrees; US: °F. */
export function temperatureParts(
  temperature_C: number,
  units: UnitSystem,
  options: FormatOptions = {},
): Parts {
  const value = units === 'us' ? temperature_C * 1.8 + 32 : temperature_C;
  return plainParts(value, units === 'us' ? '°F' : '°C', options.decimals ?? 0, 'a temperature in °C');
}

/** A difference of temperatures in K, tenths; printed as brewers say it, in °C or °F. */
export function temperatureDifferenceParts(
  difference_K: number,
  units: UnitSystem,
  options: FormatOptions = {},
): Parts {
  const value = units === 'us' ? difference_K * 1.8 : difference_K;
  return plainParts(value, units === 'us' ? '°F' : '°C', options.decimals ?? 1, 'a difference in K');
}

/** A specific gravity with three decimals and no unit, `1.050`. */
export function gravityParts(sg: number, options: FormatOptions = {}): Parts {
  mustBeFinite(sg, 'a specific gravity');
  return { number: fixed(sg, options.decimals ?? 3), unit: '' };
}

/** Degrees Plato, tenths. */
export function platoParts(plato: number, options: FormatOptions = {}): Parts {
  return plainParts(plato, '°P', options.decimals ?? 1, 'an extract in °P');
}

/** A colour of beer or wort in EBC, whole; US: SRM = EBC · 12.7/25, tenths under 10. */
export function colourParts(colour_EBC: number, units: UnitSystem, options: FormatOptions = {}): Parts {
  if (units === 'metric') return plainParts(colour_EBC, 'EBC', options.decimals ?? 0, 'a colour in EBC');
  const srm = colour_EBC / EBC_PER_SRM;
  const like = (options.like ?? colour_EBC) / EBC_PER_SRM;
  return plainParts(srm, 'SRM', options.decimals ?? (like < 10 ? 1 : 0), 'a colour in EBC');
}

/** A malt's colour in EBC, whole; US: °L = (EBC + 1.2)/2.65 (from memory), tenths under 10. */
export function maltColourParts(colour_EBC: number, units: UnitSystem, options: FormatOptions = {}): Parts {
  if (units === 'metric') return plainParts(colour_EBC, 'EBC', options.decimals ?? 0, 'a colour in EBC');
  const lovibond = (colour_EBC + MALT_EBC_SHIFT) / MALT_EBC_SLOPE;
  const like = ((options.like ?? colour_EBC) + MALT_EBC_SHIFT) / MALT_EBC_SLOPE;
  return plainParts(lovibond, '°L', options.decimals ?? (like < 10 ? 1 : 0), 'a colour in EBC');
}

/** A gauge pressure in kPa, as tenths of a bar; US: whole psi. */
export function pressureParts(pressure_kPa: number, units: UnitSystem, options: FormatOptions = {}): Parts {
  if (units === 'metric')
    return plainParts(pressure_kPa / 100, 'bar', options.decimals ?? 1, 'a pressure in kPa');
  return plainParts(pressure_kPa / KILOPASCALS_PER_PSI, 'psi', options.decimals ?? 0, 'a pressure in kPa');
}

/** A share from 0 to 1 as a percentage, tenths. */
export function percentParts(share: number, options: FormatOptions = {}): Parts {
  return plainParts(share * 100, '%', options.decimals ?? 1, 'a share');
}

/** Volumes of carbon dioxide, tenths. */
export function volumesParts(carbonation_vol: number, options: FormatOptions = {}): Parts {
  return plainParts(carbonation_vol, 'vol', options.decimals ?? 1, 'a carbonation in volumes');
}

/** A bitterness in IBU, whole. */
export function ibuParts(bitterness_IBU: number, options: FormatOptions = {}): Parts {
  return plainParts(bitterness_IBU, 'IBU', options.decimals ?? 0, 'a bitterness in IBU');
}

/** A heating power in kW, tenths. */
export function powerParts(power_kW: number, options: FormatOptions = {}): Parts {
  return plainParts(power_kW, 'kW', options.decimals ?? 1, 'a power in kW');
}

/** A volume in a time in L/h, tenths; US: gal/h, hundredths. */
export function volumeRateParts(rate_L_per_h: number, units: UnitSystem, options: FormatOptions = {}): Parts {
  if (units === 'metric') return plainParts(rate_L_per_h, 'L/h', options.decimals ?? 1, 'a rate in L/h');
  return plainParts(rate_L_per_h / LITRES_PER_US_GALLON, 'gal/h', options.decimals ?? 2, 'a rate in L/h');
}

/** A volume for a weight in L/kg, tenths; US: qt/lb, hundredths. For absorption and for water to grain. */
export function absorptionParts(
  volume_L_per_kg: number,
  units: UnitSystem,
  options: FormatOptions = {},
): Parts {
  if (units === 'metric')
    return plainParts(volume_L_per_kg, 'L/kg', options.decimals ?? 1, 'a volume in L/kg');
  const value = (volume_L_per_kg * (GRAMS_PER_POUND / 1000)) / (LITRES_PER_US_GALLON / 4);
  return plainParts(value, 'qt/lb', options.decimals ?? 2, 'a volume in L/kg');
}

/** A height in metres, whole; US: feet. */
export function altitudeParts(altitude_m: number, units: UnitSystem, options: FormatOptions = {}): Parts {
  if (units === 'metric') return plainParts(altitude_m, 'm', options.decimals ?? 0, 'a height in m');
  return plainParts(altitude_m / METRES_PER_FOOT, 'ft', options.decimals ?? 0, 'a height in m');
}

/** A dose in ml/L, hundredths; US: fluid ounces to the gallon. */
export function doseParts(dose_ml_per_L: number, units: UnitSystem, options: FormatOptions = {}): Parts {
  if (units === 'metric') return plainParts(dose_ml_per_L, 'ml/L', options.decimals ?? 2, 'a dose in ml/L');
  return plainParts((dose_ml_per_L * 128) / 1000, 'fl oz/gal', options.decimals ?? 2, 'a dose in ml/L');
}

export function formatTemperature(temperature_C: number, units: UnitSystem, options?: FormatOptions): string {
  return joined(temperatureParts(temperature_C, units, options));
}

export function formatTemperatureDifference(
  difference_K: number,
  units: UnitSystem,
  options?: FormatOptions,
): string {
  return joined(temperatureDifferenceParts(difference_K, units, options));
}

export function formatGravity(sg: number, options?: FormatOptions): string {
  return joined(gravityParts(sg, options));
}

export function formatPlato(plato: number, options?: FormatOptions): string {
  return joined(platoParts(plato, options));
}

export function formatColour(colour_EBC: number, units: UnitSystem, options?: FormatOptions): string {
  return joined(colourParts(colour_EBC, units, options));
}

export function formatMaltColour(colour_EBC: number, units: UnitSystem, options?: FormatOptions): string {
  return joined(maltColourParts(colour_EBC, units, options));
}

export function formatPressure(pressure_kPa: number, units: UnitSystem, options?: FormatOptions): string {
  return joined(pressureParts(pressure_kPa, units, options));
}

export function formatPercent(share: number, options?: FormatOptions): string {
  return joined(percentParts(share, options));
}

export function formatVolumes(carbonation_vol: number, options?: FormatOptions): string {
  return joined(volumesParts(carbonation_vol, options));
}

export function formatIbu(bitterness_IBU: number, options?: FormatOptions): string {
  return joined(ibuParts(bitterness_IBU, options));
}

export function formatPower(power_kW: number, options?: FormatOptions): string {
  return joined(powerParts(power_kW, options));
}

export function formatVolumeRate(rate_L_per_h: number, units: UnitSystem, options?: FormatOptions): string {
  return joined(volumeRateParts(rate_L_per_h, units, options));
}

export function formatAbsorption(
  volume_L_per_kg: number,
  units: UnitSystem,
  options?: FormatOptions,
): string {
  return joined(absorptionParts(volume_L_per_kg, units, options));
}

export function formatAltitude(altitude_m: number, units: UnitSystem, options?: FormatOptions): string {
  return joined(altitudeParts(altitude_m, units, options));
}

export function formatDose(dose_ml_per_L: number, units: UnitSystem, options?: FormatOptions): string {
  return joined(doseParts(dose_ml_per_L, units, options));
}
