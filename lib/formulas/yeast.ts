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

/** Grams of dry yeast to a litre of ordinary wort, and how much more a lager takes: suppliers' doses, common practice, no source. */
const DRY_YEAST_g_per_L = { low: 0.5, high: 0.8 } as const;
const DRY_LAGER_FACTOR = 1.6;
/** Stronger wort than this takes more, in proportion. Judgment. */
const STRONG_WORT_P = 15;

/**
 * Dry yeast wanted for a wort, g: 0.5 to 0.8 g/L × max(1, °P/15), for a lager × 1.6.
 *
 * Source: common practice, no source; the scaling is judgment. Range: 0 to 1e6 L, 0 to 85 °P; RangeError outside.
 */
export function dryYeastWanted_g(of: { volume_L: number; plato_P: number; lager: boolean }): {
  low: number;
  high: number;
} {
  requireWithin('wort in L', of.volume_L, 0, 1e6);
  requireWithin('extract in °P', of.plato_P, 0, 85);
  const litres = of.volume_L * Math.max(1, of.plato_P / STRONG_WORT_P) * (of.lager ? DRY_LAGER_FACTOR : 1);
  return { low: DRY_YEAST_g_per_L.low * litres, high: DRY_YEAST_g_per_L.high * litres };
}

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
