import { WATER_HEAT_CAPACITY_kJ_per_kgK, wortHeat_kJ_per_kg } from './heat.ts';
import { requireWithin } from './range.ts';

/** Heat of melting ice at 0 °C, kJ/kg: IAPWS-06. */
const LATENT_HEAT_OF_MELTING_kJ_per_kg = 333.4;

/** Mean heat capacity of ice between −18 and 0 °C, kJ/(kg K): (369.9 − 333.4) / 18, both IAPWS-06. */
const ICE_HEAT_CAPACITY_kJ_per_kgK = (369.9 - 333.4) / 18;

/**
 * Ice that takes as much heat to warm, melt and warm again as cooling a wort gives off.
 *
 * Formula: m (h(from) − h(to)) / (2.03 (0 − t_ice) + 333.4 + 4.1868 to). The ice lies in the bath, its
 *   meltwater ends at the wort's temperature, and none of the cold is lost; a real bath uses part of it,
 *   which is the caller's to reckon.
 * Source: conservation of energy with IAPWS-06. Derived.
 * Range: wort 0 to 1e6 kg, −8 to 85 °P, from 0 to 110 °C, to at most from, ice −40 to 0 °C; result in kg;
 *   RangeError outside.
 * Uncertainty: 5 %.
 */
export function iceMass_kg(of: {
  wort_kg: number;
  plato_P: number;
  from_C: number;
  to_C: number;
  ice_C: number;
}): number {
  requireWithin('wort in kg', of.wort_kg, 0, 1e6);
  requireWithin('temperature before the ice in °C', of.from_C, 0, 110);
  requireWithin('temperature after the ice in °C', of.to_C, 0, of.from_C);
  requireWithin('ice temperature in °C', of.ice_C, -40, 0);
  const given_kJ =
    of.wort_kg * (wortHeat_kJ_per_kg(of.plato_P, of.from_C) - wortHeat_kJ_per_kg(of.plato_P, of.to_C));
  const taken_kJ_per_kg =
    -of.ice_C * ICE_HEAT_CAPACITY_kJ_per_kgK +
    LATENT_HEAT_OF_MELTING_kJ_per_kg +
    of.to_C * WATER_HEAT_CAPACITY_kJ_per_kgK;
  return given_kJ / taken_kJ_per_kg;
}
