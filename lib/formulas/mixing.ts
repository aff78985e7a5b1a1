/** What comes of putting worts, water and grain together: mass, extract mass and heat are conserved. */
import { WATER_HEAT_CAPACITY_kJ_per_kgK, wortHeat_kJ_per_kg, wortHeatCapacity_kJ_per_kgK } from './heat.ts';
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
 * Temperature of a mix of worts and water, no heat lost.
 *
 * Formula: Σ m h(P, t) = the heat of the mix, h by `wortHeat_kJ_per_kg`, solved for its temperature. The
 *   heat of dilution, below 0.1 K at the gravities of worts (from memory), is left out.
 * Source: conservation of energy. Derived.
 * Range: masses 0 to 1e6 kg, not all 0, −8 to 85 °P, −5 to 110 °C; result in °C; RangeError outside.
 * Uncertainty: 0.6 K, for the heat capacities of wort.
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
 * Temperature that a wort or water must have for its mix with another to land on a target, no heat lost.
 *
 * Formula: m h(P, t) = the heat of both at the target − the heat that the other brings; the inverse of `mixTemperature_C`.
 * Source: conservation of energy. Derived.
 * Range: mass above 0 (1e-6) to 1e6 kg, the rest as there; result in °C, also one that no liquid can have: the caller must
 *   look; RangeError outside.
 * Uncertainty: as there, times the ratio of the masses.
 */
export function temperatureForMix_C(of: {
  mass_kg: number;
  plato_P: number;
  target_C: number;
  other: WortPart;
}): number {
  const { mass_kg, plato_P, target_C, other } = of;
  requireWithin('mass in kg', mass_kg, 1e-6, 1e6);
  requireMass('mass of the other in kg', other.mass_kg);
  const other_kJ =
    other.mass_kg *
    (wortHeat_kJ_per_kg(other.plato_P, target_C) - wortHeat_kJ_per_kg(other.plato_P, other.t_C));
  const heat_kJ_per_kg = wortHeat_kJ_per_kg(plato_P, target_C) + other_kJ / mass_kg;
  // h = a t + b t², as in the mix.
  const a = wortHeatCapacity_kJ_per_kgK(plato_P, 0);
  const b = (wortHeatCapacity_kJ_per_kgK(plato_P, 1) - a) * 0.5;
  return (2 * heat_kJ_per_kg) / (a + Math.sqrt(Math.max(0, a * a + 4 * b * heat_kJ_per_kg)));
}

/**
 * Temperature that water must have for the mix with dry grain to land on a target, for a steep or a mash.
 *
 * Formula: target + (mg cg / (mw cw)) (target − tg), cw = 4.1868 kJ/(kg K): no heat lost, none set free by the wetting.
 * Source: conservation of energy. Derived.
 * Range: water above 0 (0.001) to 1e6 kg, grain 0 to 1e6 kg and −40 to 110 °C, target 0 to 100 °C; result
 *   in °C; RangeError outside. Much grain in little water asks for more than water can reach: the caller
 *   must say so.
 * Uncertainty: 0.4 K, for the heat capacity of malt.
 */
export function waterTemperatureForGrain(of: {
  water_kg: number;
  grain_kg: number;
  grain_C: number;
  target_C: number;
  grainHeatCapacity_kJ_per_kgK: number;
}): number {
  requireWithin('water in kg', of.water_kg, 0.001, 1e6);
  requireMass('grain in kg', of.grain_kg);
  requireWithin('grain temperature in °C', of.grain_C, -40, 110);
  requireWithin('target temperature in °C', of.target_C, 0, 100);
  requireWithin('heat capacity of the grain in kJ/(kg K)', of.grainHeatCapacity_kJ_per_kgK, 0, 10);
  const water = of.water_kg * WATER_HEAT_CAPACITY_kJ_per_kgK;
  const grain = of.grain_kg * of.grainHeatCapacity_kJ_per_kgK;
  return of.target_C + (grain / water) * (of.target_C - of.grain_C);
}
