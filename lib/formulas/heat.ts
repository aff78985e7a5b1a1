/** Heat that water, wort and grain hold, and how long a stove takes to bring it in. */
import { HIGHEST_EXTRACT_P, LOWEST_EXTRACT_P } from './density.ts';
import { requireWithin } from './range.ts';

// Names of this module: an imported one is looked up again at each use, and these run some thousand times a plan.
const within = requireWithin;
const LOWEST_P = LOWEST_EXTRACT_P;
const HIGHEST_P = HIGHEST_EXTRACT_P;

/** Water's mean heat capacity between 0 and 100 °C, kJ/(kg K): wort of 0 °P. */
export const WATER_HEAT_CAPACITY_kJ_per_kgK = 4.1868;

/**
 * Heat capacity of wort.
 *
 * Formula: 4.1868 − 0.0251 P + 7.5e-5 P t.
 * Source: a formula of sugar technology (one transcription seen; from memory).
 * Range: −8 to 85 °P, −5 to 110 °C; result in kJ/(kg K); RangeError outside.
 * Uncertainty: within 2 % of Choi & Okos 1986 to 20 °P.
 */
export function wortHeatCapacity_kJ_per_kgK(plato_P: number, t_C: number): number {
  within('extract in °P', plato_P, LOWEST_P, HIGHEST_P);
  within('wort temperature in °C', t_C, -5, 110);
  return WATER_HEAT_CAPACITY_kJ_per_kgK - 0.0251 * plato_P + 7.5e-5 * plato_P * t_C;
}

/**
 * Heat in a kilogram of wort above that at 0 °C.
 *
 * Formula: the integral of `wortHeatCapacity_kJ_per_kgK` over the temperature.
 * Source: as there.
 * Range: −8 to 85 °P, −5 to 110 °C; result in kJ/kg; RangeError outside.
 */
export function wortHeat_kJ_per_kg(plato_P: number, t_C: number): number {
  within('wort temperature in °C', t_C, -5, 110);
  // The capacity is linear in the temperature: its mean from 0 °C is its value half way.
  return t_C * wortHeatCapacity_kJ_per_kgK(plato_P, t_C / 2);
}

/**
 * Minutes that a power takes to bring in an energy.
 *
 * Formula: E / (60 P), P being the power that arrives in the kettle.
 * Source: definition of power.
 * Range: 0 to 1e9 kJ, power above 0 (0.001) to 1000 kW; result in minutes; RangeError outside.
 */
export function heatingTime_min(of: { energy_kJ: number; power_kW: number }): number {
  within('energy in kJ', of.energy_kJ, 0, 1e9);
  within('power in kW', of.power_kW, 0.001, 1000);
  return of.energy_kJ / of.power_kW / 60;
}
