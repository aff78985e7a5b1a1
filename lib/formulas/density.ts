/** Density of water and of sucrose solutions, and the extract that belongs to a density. */
import { requireWithin } from './range.ts';
import { settle } from './solve.ts';
import { excessAt20, excessSlopeAt20, solutionDensity, waterDensity } from './sucrose-set.ts';

// Names of this module: an imported one is looked up again at each use, and these run some thousand times a plan.
const within = requireWithin;
const excess = excessAt20;
const solution = solutionDensity;

/** Extract that the density scale is continued to: down to the driest of meads, up to syrups. */
export const LOWEST_EXTRACT_P = -8;
export const HIGHEST_EXTRACT_P = 85;

/** Above this the sucrose set is outside its range, and water's expansion takes over. */
const SUCROSE_SET_HIGHEST_C = 80;

/** A boiling wort is a little warmer than boiling water, and still a liquid. */
const HIGHEST_C = 105;

/** Density of water at 20 °C by the sucrose set, kg/m³: the unit of specific gravity 20/20. */
export const WATER_20_KGM3 = waterDensity(20);
const WATER_80_KGM3 = waterDensity(SUCROSE_SET_HIGHEST_C);

/**
 * Density of air-free water at 1 atm.
 *
 * Formula: a polynomial of the fifth degree in the temperature over (1 + 0.016887236 t).
 * Source: the water of the sucrose set in `sucrose-set.ts`; Kell 1975, J. Chem. Eng. Data 20:97 in form
 *   (from memory; stated for 0 to 150 °C).
 * Range: 0 to 105 °C; result in kg/m³; RangeError outside.
 * Uncertainty: within 0.02 kg/m³ of IAPWS-95.
 */
export function waterDensity_kgm3(t_C: number): number {
  within('water temperature in °C', t_C, 0, HIGHEST_C);
  return waterDensity(t_C);
}

/**
 * Density of a sucrose solution of an extract and a temperature.
 *
 * Formula: ρw(t) + Σj ((t − 20)/100)^j Σi c_ji w^i to 80 °C; from 80 to 105 °C ρ(80 °C) × ρw(t)/ρw(80 °C).
 *   The polynomial has no data behind it there, and from 20 to 80 °C the two ratios differ by only 0.0005
 *   at 12 °P.
 * Source: ICUMSA SPS-4, see `sucrose-set.ts`.
 * Range: −8 to 85 °P (below 0 the polynomial is continued, see `specificGravityFromPlato`), 0 to 105 °C;
 *   result in kg/m³; RangeError outside.
 * Uncertainty: 0.00015 of the density at 20 °C, sucrose standing for the sugars of wort.
 */
export function sucroseDensity_kgm3(plato_P: number, t_C: number): number {
  within('extract in °P', plato_P, LOWEST_EXTRACT_P, HIGHEST_EXTRACT_P);
  within('temperature in °C', t_C, 0, HIGHEST_C);
  if (t_C <= SUCROSE_SET_HIGHEST_C) return solution(plato_P / 100, t_C);
  return (solution(plato_P / 100, SUCROSE_SET_HIGHEST_C) * waterDensity(t_C)) / WATER_80_KGM3;
}

/**
 * Density of a sucrose solution at 20 °C: the fast path of `sucroseDensity_kgm3`.
 *
 * Formula: ρw(20 °C) + Σi c_0i w^i.
 * Source: ICUMSA SPS-4, see `sucrose-set.ts`.
 * Range: −8 to 85 °P; result in kg/m³; RangeError outside.
 */
export function sucroseDensity20_kgm3(plato_P: number): number {
  within('extract in °P', plato_P, LOWEST_EXTRACT_P, HIGHEST_EXTRACT_P);
  return WATER_20_KGM3 + excess(plato_P / 100);
}

/**
 * Extract of a sucrose solution of a density and a temperature: the inverse of `sucroseDensity_kgm3`.
 *
 * Formula: that function, solved by repetition with the slope at 20 °C to 1e-9 °P.
 * Source: ICUMSA SPS-4, see `sucrose-set.ts`.
 * Range: 0 to 80 °C, densities of −8 to 85 °P at that temperature; result in °P; RangeError outside.
 */
export function platoFromDensity(density_kgm3: number, t_C: number): number {
  within('temperature in °C', t_C, 0, SUCROSE_SET_HIGHEST_C);
  const lowest = solutionDensity(LOWEST_EXTRACT_P / 100, t_C);
  const highest = solutionDensity(HIGHEST_EXTRACT_P / 100, t_C);
  within(`density in kg/m³ at ${t_C} °C`, density_kgm3, lowest, highest);
  // The slope at 20 °C is that at other temperatures to a few percent: each round takes more than a digit off what is left.
  const nearer = (w: number) => w - (solutionDensity(w, t_C) - density_kgm3) / excessSlopeAt20(w);
  return 100 * settle(0, 1e-12, nearer);
}
