/** Apparent and real extract, and the two attenuations. */
import { HIGHEST_EXTRACT_P, LOWEST_EXTRACT_P } from './density.ts';
import { requireWithin } from './range.ts';

/** Share of the original extract in Balling's relation between apparent and real extract. */
const BALLING_ORIGINAL_SHARE = 0.1808;
/** Share of the apparent extract: real attenuation is this times the apparent one. */
export const BALLING_APPARENT_SHARE = 0.8192;

function requireExtract(name: string, value: number): void {
  requireWithin(name, value, LOWEST_EXTRACT_P, HIGHEST_EXTRACT_P);
}

/**
 * Real extract of a beer from its original and its apparent extract.
 *
 * Formula: RE = 0.1808 OE + 0.8192 AE.
 * Source: Balling, as used in Cutaia, Reid & Speers 2009, J. Inst. Brew. 115:318 (excerpt opened).
 * Range: −8 to 85 °P both; result in °P; RangeError outside.
 * Uncertainty: other published regressions give 0.82 for 0.8192, physical densities 0.808 to 0.815, which
 *   moves the alcohol by at most 0.08 % by volume.
 */
export function realExtractBalling(of: { original_P: number; apparent_P: number }): number {
  requireExtract('original extract in °P', of.original_P);
  requireExtract('apparent extract in °P', of.apparent_P);
  return BALLING_ORIGINAL_SHARE * of.original_P + BALLING_APPARENT_SHARE * of.apparent_P;
}

/**
 * Apparent extract of a beer from its original and its real extract: the inverse of `realExtractBalling`.
 *
 * Formula: AE = (RE − 0.1808 OE) / 0.8192.
 * Source: as `realExtractBalling`.
 * Range: −8 to 85 °P both; result in °P; RangeError outside.
 */
export function apparentExtractBalling(of: { original_P: number; real_P: number }): number {
  requireExtract('original extract in °P', of.original_P);
  requireExtract('real extract in °P', of.real_P);
  return (of.real_P - BALLING_ORIGINAL_SHARE * of.original_P) / BALLING_APPARENT_SHARE;
}

/**
 * Apparent attenuation as a share; above 1 where the apparent extract is below 0 °P.
 *
 * Formula: (OE − AE) / OE.
 * Source: definition.
 * Range: original above 0 (1e-6) to 85 °P, apparent −8 to 85 °P; result without unit; RangeError outside.
 */
export function apparentAttenuation(of: { original_P: number; apparent_P: number }): number {
  requireWithin('original extract in °P', of.original_P, 1e-6, HIGHEST_EXTRACT_P);
  requireExtract('apparent extract in °P', of.apparent_P);
  return (of.original_P - of.apparent_P) / of.original_P;
}

/**
 * Real attenuation as a share, without the correction for the mass that a beer loses as gas and yeast.
 *
 * Formula: (OE − RE) / OE.
 * Source: definition.
 * Range: original above 0 (1e-6) to 85 °P, real −8 to 85 °P; result without unit; RangeError outside.
 */
export function realAttenuation(of: { original_P: number; real_P: number }): number {
  requireWithin('original extract in °P', of.original_P, 1e-6, HIGHEST_EXTRACT_P);
  requireExtract('real extract in °P', of.real_P);
  return (of.original_P - of.real_P) / of.original_P;
}
