import { WATER_HEAT_CAPACITY_kJ_per_kgK, wortHeat_kJ_per_kg } from './heat.ts';
import { requireWithin } from './range.ts';

/** Heat of melting ice at 0 °C, kJ/kg: IAPWS-06. */
export const LATENT_HEAT_OF_MELTING_kJ_per_kg = 333.4;

/** Mean heat capacity of ice between −18 and 0 °C, kJ/(kg K): (369.9 − 333.4) / 18, both IAPWS-06. */
export const ICE_HEAT_CAPACITY_kJ_per_kgK = (369.9 - 333.4) / 18;

/**
 * Ice whose warming, melting and warming again takes as much heat as cooling a wort gives off.
 *
 * m (h(from) − h(to)) / (c_ice (0 − t_ice) + 333.4 + 4.1868 to): the ice lies in the bath, and its meltwater ends at
 * the wort's temperature; none of the cold is lost. A real bath uses some 60 % of it (assumed): the caller
 * divides by that. Source: conservation of energy with IAPWS-06; derived. Wort 0 to 1e6 kg, −8 to 85 °P, 0 to 110 °C,
 * to at most from; ice −40 to 0 °C; result in kg, ± 5 %. Throws RangeError outside. Cases: tests/formulas/heat.cases.ts.
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
