import { STANDARD_ATMOSPHERE_kPa } from './air.ts';
import { CO2_MOLAR_VOLUME_L, co2FugacityCoefficient, co2Solubility_mol_per_L_atm } from './co2.ts';
import { GAS_CONSTANT_L_atm_per_molK, ZERO_CELSIUS_K } from './constants.ts';
import { requireWithin } from './range.ts';
import { settle } from './solve.ts';
import { waterVapourPressure_kPa } from './water-vapour.ts';

/**
 * Gauge pressure in a closed bottle whose head space was air when it was filled.
 *
 * Formula: n = K0 f + h p / RT is solved for p, with n the volumes as mol per litre of beer, h the head
 *   space per litre of beer and f the fugacity of the partial pressure p; then p + air + water vapour
 *   − ambient pressure, air = (ambient − vapour at filling) × T/T_fill. None of the air dissolves or is
 *   used up.
 * Source: Weiss 1974, Mar. Chem. 2:203; IAPWS-IF97; the gas laws. Derived.
 * Range: 0 to 20 volumes, beer and filling 0 to 40 °C, ambient 30 to 110 kPa, head space 0.005 to 1 L/L;
 *   result in kPa; RangeError outside.
 * Uncertainty: 8 %. A little head space makes the pressure higher than `co2Pressure_kPa_gauge` says, by the
 *   air that stays in it: for safety the larger of the two counts.
 * Cases: tests/formulas/co2.cases.ts.
 */
export function bottlePressure_kPa_gauge(of: {
  volumes: number;
  t_C: number;
  ambient_kPa: number;
  headSpace_L_per_L: number;
  filled_C: number;
}): number {
  requireWithin('carbonation in volumes', of.volumes, 0, 20);
  requireWithin('beer temperature in °C', of.t_C, 0, 40);
  requireWithin('air pressure in kPa', of.ambient_kPa, 30, 110);
  requireWithin('head space in L per L', of.headSpace_L_per_L, 0.005, 1);
  requireWithin('temperature at filling in °C', of.filled_C, 0, 40);
  const kelvin = of.t_C + ZERO_CELSIUS_K;
  const air_kPa =
    ((of.ambient_kPa - waterVapourPressure_kPa(of.filled_C)) * kelvin) / (of.filled_C + ZERO_CELSIUS_K);
  const vapour_kPa = waterVapourPressure_kPa(of.t_C);
  const vapour_atm = vapour_kPa / STANDARD_ATMOSPHERE_kPa;
  const amount_mol_per_L = of.volumes / CO2_MOLAR_VOLUME_L;
  const solubility = co2Solubility_mol_per_L_atm(of.t_C);
  const inHeadSpace = of.headSpace_L_per_L / (GAS_CONSTANT_L_atm_per_molK * kelvin);
  const partial_atm = settle(
    amount_mol_per_L / solubility,
    1e-12,
    (atm) => amount_mol_per_L / (solubility * co2FugacityCoefficient(of.t_C, atm + vapour_atm) + inHeadSpace),
  );
  return partial_atm * STANDARD_ATMOSPHERE_kPa + vapour_kPa + air_kPa - of.ambient_kPa;
}
