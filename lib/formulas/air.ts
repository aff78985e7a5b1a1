import { requireWithin } from './range.ts';

/** The standard atmosphere, exact. */
export const STANDARD_ATMOSPHERE_kPa = 101.325;

/**
 * Mean air pressure at an altitude.
 *
 * Formula: p = 101.325 kPa × (1 − 0.0065 h / 288.15)^5.25588.
 * Source: ISA, ISO 2533:1975 (from memory).
 * Range: −500 to 11,000 m; result in kPa absolute; RangeError outside.
 * Uncertainty: the weather moves it by some 2 kPa.
 */
export function airPressure_kPa(altitude_m: number): number {
  requireWithin('altitude in m', altitude_m, -500, 11_000);
  return STANDARD_ATMOSPHERE_kPa * (1 - (0.0065 * altitude_m) / 288.15) ** 5.25588;
}
