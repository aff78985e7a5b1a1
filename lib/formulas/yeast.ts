/** How much yeast a wort wants. */
import { requireWithin } from './range.ts';

/**
 * Living cells wanted, in millions per millilitre and degree Plato, by kind of yeast. Common practice, no
 * source: 0.75 for ales and 1.5 for lagers are what brewers agree on; the others lie between or, for kveik,
 * below.
 */
export const PITCHING_RATES = {
  ale: 0.75,
  wheat: 0.75,
  belgian: 0.75,
  brett: 0.75,
  hybrid: 1,
  lager: 1.5,
  kveik: 0.5,
} as const;

/**
 * Cells wanted for a wort.
 *
 * Formula: volume × extract × rate.
 * Source: common practice, no source.
 * Range: 0 to 1e6 L, 0 to 85 °P, 0 to 20 million per mL and °P; result in billions; RangeError outside.
 */
export function cellsWanted_billion(of: {
  volume_L: number;
  plato_P: number;
  rate_million_per_mL_P: number;
}): number {
  requireWithin('wort in L', of.volume_L, 0, 1e6);
  requireWithin('extract in °P', of.plato_P, 0, 85);
  requireWithin('pitching rate in millions per mL and °P', of.rate_million_per_mL_P, 0, 20);
  // A million per millilitre is a billion per litre.
  return of.volume_L * of.plato_P * of.rate_million_per_mL_P;
}
