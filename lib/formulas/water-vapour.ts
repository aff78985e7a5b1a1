/**
 * The saturation line of water: vapour pressure from temperature, and boiling temperature from pressure.
 *
 * Source: IAPWS-IF97, Revised Release 2007, region 4, equations 30 (pressure) and 31 (temperature);
 * coefficients of table 34, seen in two transcriptions.
 */
import { ZERO_CELSIUS_K } from './constants.ts';
import { requireWithin } from './range.ts';

// Names of this module: an imported one is looked up again at each use, and these run some thousand times a plan.
const within = requireWithin;
const ZERO_K = ZERO_CELSIUS_K;

const N1 = 1167.0521452767;
const N2 = -724213.16703206;
const N3 = -17.073846940092;
const N4 = 12020.82470247;
const N5 = -3232555.0322333;
const N6 = 14.91510861353;
const N7 = -4823.2657361591;
const N8 = 405113.40542057;
const N9 = -0.23855557567849;
const N10 = 650.17534844798;

/**
 * Pressure of the vapour over water.
 *
 * Formula: the quadratic of the saturation line, solved for the pressure.
 * Source: IAPWS-IF97, equation 30, see the head of this file.
 * Range: 0 to 150 °C; result in kPa absolute; RangeError outside.
 */
export function waterVapourPressure_kPa(t_C: number): number {
  within('water temperature in °C', t_C, 0, 150);
  const kelvin = t_C + ZERO_K;
  const θ = kelvin + N9 / (kelvin - N10);
  const a = θ * θ + N1 * θ + N2;
  const b = N3 * θ * θ + N4 * θ + N5;
  const c = N6 * θ * θ + N7 * θ + N8;
  return 1000 * ((2 * c) / (-b + Math.sqrt(b * b - 4 * a * c))) ** 4;
}

/**
 * Temperature at which water boils under a pressure.
 *
 * Formula: the quadratic of the saturation line, solved for the temperature.
 * Source: IAPWS-IF97, equation 31, see the head of this file.
 * Range: 0.62 to 470 kPa absolute; result in °C; RangeError outside.
 */
export function saturationTemperature_C(pressure_kPa: number): number {
  within('pressure in kPa', pressure_kPa, 0.62, 470);
  const β = (pressure_kPa / 1000) ** 0.25;
  const e = β * β + N3 * β + N6;
  const f = N1 * β * β + N4 * β + N7;
  const g = N2 * β * β + N5 * β + N8;
  const d = (2 * g) / (-f - Math.sqrt(f * f - 4 * e * g));
  return (N10 + d - Math.sqrt((N10 + d) ** 2 - 4 * (N9 + N10 * d))) / 2 - ZERO_K;
}
