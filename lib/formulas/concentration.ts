/**
 * Extract per volume and extract per mass, each from the other: how gravity follows from weighed extract and
 * measured volume.
 */
import { HIGHEST_EXTRACT_P, sucroseDensity20_kgm3, WATER_20_KGM3 } from './density.ts';
import { requireWithin } from './range.ts';
import { settle } from './solve.ts';
import { excessAt20 } from './sucrose-set.ts';

/**
 * Grams of extract in a litre of wort at 20 °C.
 *
 * Formula: P/100 × density at 20 °C.
 * Source: ICUMSA SPS-4, see `sucrose-set.ts`. Derived.
 * Range: 0 to 85 °P; result in g/L; RangeError outside.
 * Cases: tests/formulas/gravity.cases.ts.
 */
export function extractConcentration_g_per_L(plato_P: number): number {
  requireWithin('extract in °P', plato_P, 0, HIGHEST_EXTRACT_P);
  return (plato_P / 100) * sucroseDensity20_kgm3(plato_P);
}

const HIGHEST_g_per_L = extractConcentration_g_per_L(HIGHEST_EXTRACT_P);

/**
 * Extract of the wort that holds some grams of extract in a litre at 20 °C: the inverse of
 * `extractConcentration_g_per_L`.
 *
 * Formula: that function, solved by repetition to 1e-9 °P.
 * Source: ICUMSA SPS-4, see `sucrose-set.ts`. Derived.
 * Range: 0 to 1229 g/L; result in °P; RangeError outside.
 * Cases: tests/formulas/gravity.cases.ts.
 */
export function platoFromExtractConcentration(extract_g_per_L: number): number {
  requireWithin('extract in g/L', extract_g_per_L, 0, HIGHEST_g_per_L);
  const lighter = extract_g_per_L / WATER_20_KGM3;
  return 100 * settle(lighter, 1e-12, (w) => extract_g_per_L / (WATER_20_KGM3 + excessAt20(w)));
}
