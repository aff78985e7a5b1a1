/** What comes of putting worts, water and grain together: mass, extract mass and heat are conserved. */
import { HIGHEST_EXTRACT_P, LOWEST_EXTRACT_P } from './density.ts';
import {
  DRY_MALT_HEAT_CAPACITY,
  WATER_HEAT_CAPACITY_kJ_per_kgK,
  wortHeat_kJ_per_kg,
  wortHeatCapacity_kJ_per_kgK,
} from './heat.ts';
import { requireWithin } from './range.ts';

/** A wort or (0 °P) water. */
export interface WortPart {
  readonly mass_kg: number;
  readonly plato_P: number;
  readonly t_C: number;
}

function requireMass(name: string, value: number): void {
  requireWithin(name, value, 0, 1e6);
}

/**
 * Extract of a mix of worts and water.
 *
 * Formula: mass of extract over mass, Σ m P / Σ m.
 * Source: conservation of both. Derived.
 * Range: masses 0 to 1e6 kg, not all 0, −8 to 85 °P; result in °P; RangeError outside.
 * Cases: tests/formulas/mixing.cases.ts.
 */
export function mixPlato_P(parts: readonly { mass_kg: number; plato_P: number }[]): number {
  let mass_kg = 0;
  let extract = 0;
  for (const part of parts) {
    requireMass('mass in kg', part.mass_kg);
    requireWithin('extract in °P', part.plato_P, LOWEST_EXTRACT_P, HIGHEST_EXTRACT_P);
    mass_kg += part.mass_kg;
    extract += part.mass_kg * part.plato_P;
  }
  requireWithin('mass of all parts in kg', mass_kg, Number.MIN_VALUE, Number.MAX_VALUE);
  return extract / mass_kg;
}

/**
 * Extract of a wort after water has boiled away: the extract stays, the mass goes.
 *
 * Formula: m P / (m − water).
 * Source: conservation of the mass of extract. Derived.
 * Range: wort 0 to 1e6 kg, −8 to 85 °P, less water than would leave a syrup above 85 °P; result in °P;
 *   RangeError outside.
 * Cases: tests/formulas/mixing.cases.ts.
 */
export function platoAfterEvaporation_P(of: { mass_kg: number; plato_P: number; water_kg: number }): number {
  requireMass('mass in kg', of.mass_kg);
  requireWithin('extract in °P', of.plato_P, LOWEST_EXTRACT_P, HIGHEST_EXTRACT_P);
  requireMass('water boiled away in kg', of.water_kg);
  if (of.water_kg >= of.mass_kg) throw new RangeError('water boiled away must be less than the wort');
  const left_P = (of.mass_kg * of.plato_P) / (of.mass_kg - of.water_kg);
  requireWithin('extract after evaporation in °P', left_P, LOWEST_EXTRACT_P, HIGHEST_EXTRACT_P);
  return left_P;
}

/**
 * Temperature of a mix of worts and water, no heat lost.
 *
 * Formula: Σ m h(P, t) = the heat of the mix, h by `wortHeat_kJ_per_kg`, solved for its temperature. The
 *   heat of dilution, below 0.1 K at the gravities of worts (from memory), is left out.
 * Source: conservation of energy. Derived.
 * Range: masses 0 to 1e6 kg, not all 0, −8 to 85 °P, −5 to 110 °C; result in °C; RangeError outside.
 * Uncertainty: 0.6 K, for the heat capacities of wort.
 * Cases: tests/formulas/heat.cases.ts.
 */
export function mixTemperature_C(parts: readonly WortPart[]): number {
  let mass_kg = 0;
  let heat_kJ = 0;
  // The mix's heat is a t + b t², since the heat capacity is linear in the temperature.
  let a = 0;
  let b = 0;
  for (const { mass_kg: mass, plato_P, t_C } of parts) {
    requireMass('mass in kg', mass);
    const atZero = wortHeatCapacity_kJ_per_kgK(plato_P, 0);
    heat_kJ += mass * wortHeat_kJ_per_kg(plato_P, t_C);
    mass_kg += mass;
    a += mass * atZero;
    b += mass * (wortHeatCapacity_kJ_per_kgK(plato_P, 1) - atZero) * 0.5;
  }
  requireWithin('mass of all parts in kg', mass_kg, Number.MIN_VALUE, Number.MAX_VALUE);
  return (2 * heat_kJ) / (a + Math.sqrt(a * a + 4 * b * heat_kJ));
}

/**
 * Temperature of a mix of water and dry grain, no heat lost and none set free by the wetting.
 *
 * Formula: (mw cw tw + mg cg tg) / (mw cw + mg cg), cw = 4.1868 and cg = 1.7 ± 0.1 kJ/(kg K).
 * Source: conservation of energy. Derived.
 * Range: masses 0 to 1e6 kg, not both 0, water 0 to 110 °C, grain −40 to 110 °C; result in °C; RangeError
 *   outside.
 * Uncertainty: 0.4 K, for the heat capacity of malt.
 * Cases: tests/formulas/heat.cases.ts.
 */
export function grainMixTemperature(of: {
  water_kg: number;
  water_C: number;
  grain_kg: number;
  grain_C: number;
}): number {
  requireMass('water in kg', of.water_kg);
  requireMass('grain in kg', of.grain_kg);
  requireWithin('water and grain in kg', of.water_kg + of.grain_kg, Number.MIN_VALUE, Number.MAX_VALUE);
  requireWithin('water temperature in °C', of.water_C, 0, 110);
  requireWithin('grain temperature in °C', of.grain_C, -40, 110);
  const water = of.water_kg * WATER_HEAT_CAPACITY_kJ_per_kgK;
  const grain = of.grain_kg * DRY_MALT_HEAT_CAPACITY.value;
  return (water * of.water_C + grain * of.grain_C) / (water + grain);
}

/**
 * Temperature that water must have for the mix with dry grain to land on a target, for a steep or a mash.
 *
 * Formula: the inverse of `grainMixTemperature`, target + (mg cg / (mw cw)) (target − tg).
 * Source: conservation of energy. Derived.
 * Range: water above 0 (0.001) to 1e6 kg, grain 0 to 1e6 kg and −40 to 110 °C, target 0 to 100 °C; result
 *   in °C; RangeError outside. Much grain in little water asks for more than water can reach: the caller
 *   must say so.
 * Uncertainty: 0.4 K, for the heat capacity of malt.
 * Cases: tests/formulas/heat.cases.ts.
 */
export function waterTemperatureForGrain(of: {
  water_kg: number;
  grain_kg: number;
  grain_C: number;
  target_C: number;
  /** Dry malt, 1.7 where not given. */
  grainHeatCapacity_kJ_per_kgK?: number;
}): number {
  requireWithin('water in kg', of.water_kg, 0.001, 1e6);
  requireMass('grain in kg', of.grain_kg);
  requireWithin('grain temperature in °C', of.grain_C, -40, 110);
  requireWithin('target temperature in °C', of.target_C, 0, 100);
  const water = of.water_kg * WATER_HEAT_CAPACITY_kJ_per_kgK;
  const grain = of.grain_kg * (of.grainHeatCapacity_kJ_per_kgK ?? DRY_MALT_HEAT_CAPACITY.value);
  return of.target_C + (grain / water) * (of.target_C - of.grain_C);
}
