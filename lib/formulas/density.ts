/**
 * Density of water and of sucrose solutions, the scale that degrees Plato are defined on.
 *
 * Everything else about gravity rests on this file: it is called some ten thousand times a plan, so the
 * polynomials are in Horner form and the one of 20 °C has its own path.
 */
import { requireWithin } from './range.ts';

/** Extract that the density scale is continued to: down to the driest of meads, up to syrups. */
export const LOWEST_EXTRACT_P = -8;
export const HIGHEST_EXTRACT_P = 85;

/** Above this the sucrose set is outside its range, and water's expansion takes over. */
export const SUCROSE_SET_HIGHEST_C = 80;

/** Water just above 100 °C stays liquid in a boiling wort, whose boiling point its extract raises. */
const HIGHEST_C = 105;

function densityOfWater(t: number): number {
  return (
    (999.83952 +
      t * (16.952577 + t * (-7.9905127e-3 + t * (-46.241757e-6 + t * (105.84601e-9 + t * -281.03006e-12))))) /
    (1 + 16.887236e-3 * t)
  );
}

const WATER_20_KGM3 = densityOfWater(20);
const WATER_80_KGM3 = densityOfWater(SUCROSE_SET_HIGHEST_C);

/**
 * Density of air-free water at 1 atm.
 *
 * A polynomial of the fifth degree in the temperature over (1 + 0.016887236 t).
 * Source: the form is Kell 1975, J. Chem. Eng. Data 20:97 (from memory; stated for 0 to 150 °C); the
 * coefficients, on the temperature scale of 1990, are those that go with the sucrose set below, seen in two
 * transcriptions. Range 0 to 105 °C. Result in kg/m³, within 0.02 of IAPWS-95.
 * Throws RangeError outside the range. Cases: tests/formulas/density.cases.ts.
 */
export function waterDensity_kgm3(t_C: number): number {
  requireWithin('water temperature in °C', t_C, 0, HIGHEST_C);
  return densityOfWater(t_C);
}

/** ρ(20 °C) of a sucrose solution less that of water, of the mass fraction w. */
function excessAt20(w: number): number {
  return w * (385.1761 + w * (135.3705 + w * (40.9299 + w * (-3.9643 + w * (13.4853 + w * -17.289)))));
}

function densityOfSucrose(w: number, t: number): number {
  const τ = (t - 20) / 100;
  const first = w * (-46.272 + w * (-7.172 + w * (1.1597 + w * (5.1126 + w * 17.5254))));
  const second = w * (59.7712 + w * (7.2491 + w * (12.363 + w * -35.4791)));
  const third = w * (-47.2207 + w * (-21.6977 + w * 27.6301));
  const fourth = w * (18.3184 + w * 12.3081);
  return densityOfWater(t) + excessAt20(w) + τ * (first + τ * (second + τ * (third + τ * fourth)));
}

/**
 * Density of a sucrose solution of an extract and a temperature.
 *
 * ρ = ρw(t) + Σj ((t − 20)/100)^j Σi c_ji w^i, w the mass fraction. Source: the density formula of ICUMSA
 * SPS-4 (that it is this one: from memory; coefficients seen in two transcriptions). The set reaches from 0 to
 * about 80 °C; between 80 and 105 °C the solution is taken to expand in the same ratio as water does from
 * 80 °C, because the polynomial has no data behind it there, while the two expansions from 20 to 80 °C differ by
 * less than 0.001 of the volume at the gravities of worts. Below 0 °P the polynomial is continued, as for
 * `specificGravityFromPlato`. Extract −8 to 85 °P, temperature 0 to 105 °C; result in kg/m³.
 * Throws RangeError outside the ranges. Cases: tests/formulas/density.cases.ts.
 */
export function sucroseDensity_kgm3(plato_P: number, t_C: number): number {
  requireWithin('extract in °P', plato_P, LOWEST_EXTRACT_P, HIGHEST_EXTRACT_P);
  requireWithin('temperature in °C', t_C, 0, HIGHEST_C);
  if (t_C <= SUCROSE_SET_HIGHEST_C) return densityOfSucrose(plato_P / 100, t_C);
  return (densityOfSucrose(plato_P / 100, SUCROSE_SET_HIGHEST_C) * densityOfWater(t_C)) / WATER_80_KGM3;
}

/**
 * Density of a sucrose solution at 20 °C, the fast path of `sucroseDensity_kgm3`.
 *
 * Source and range of extract as there; result in kg/m³. Throws RangeError outside −8 to 85 °P.
 */
export function sucroseDensity20_kgm3(plato_P: number): number {
  requireWithin('extract in °P', plato_P, LOWEST_EXTRACT_P, HIGHEST_EXTRACT_P);
  return WATER_20_KGM3 + excessAt20(plato_P / 100);
}

/**
 * Extract of a sucrose solution of a density and a temperature: the inverse of `sucroseDensity_kgm3`.
 *
 * Solved by Newton's method. Temperature 0 to 80 °C, density that of −8 to 85 °P there; result in °P, exact to
 * 1e-9. Throws RangeError outside the ranges.
 */
export function platoFromDensity(density_kgm3: number, t_C: number): number {
  requireWithin('temperature in °C', t_C, 0, SUCROSE_SET_HIGHEST_C);
  const lowest = densityOfSucrose(LOWEST_EXTRACT_P / 100, t_C);
  const highest = densityOfSucrose(HIGHEST_EXTRACT_P / 100, t_C);
  requireWithin('density in kg/m³', density_kgm3, lowest, highest);
  const atZero = densityOfWater(t_C);
  // The density is close to a straight line: from the chord, the secant's steps settle in four or five rounds.
  let w0 = 0;
  let f0 = atZero - density_kgm3;
  let w = -f0 / 400;
  for (let round = 0; round < 30; round++) {
    const f = densityOfSucrose(w, t_C) - density_kgm3;
    if (Math.abs(f) < 1e-10 || f === f0) break;
    const next = w - (f * (w - w0)) / (f - f0);
    w0 = w;
    f0 = f;
    w = next;
  }
  return w * 100;
}
