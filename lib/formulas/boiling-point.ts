/** Where water and wort boil. */
import { airPressure_kPa } from './air.ts';
import { saturationTemperature_C } from './water-vapour.ts';

/**
 * Temperature at which water boils at an altitude.
 *
 * Formula: mean air pressure into the saturation temperature.
 * Source: ISA (see `airPressure_kPa`) and IAPWS-IF97, equation 31 (see `saturationTemperature_C`).
 * Range: −500 to 11,000 m; result in °C; RangeError outside.
 * Uncertainty: 0.15 K for the formulas; the weather moves it by about 0.5 K.
 */
export function boilingPoint_C(altitude_m: number): number {
  return saturationTemperature_C(airPressure_kPa(altitude_m));
}
