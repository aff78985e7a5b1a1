import type { TargetKey } from '../types/plan.ts';

/** What a target is rounded to on paper, and how it is bounded. */
export interface PrintRule {
  /** Step in the unit of the key. */
  readonly step: number;
  /** Step above a value, for masses that a kitchen scale shows in fives. */
  readonly coarse?: { readonly from: number; readonly step: number };
  /** Printed ranges never go below. */
  readonly floor?: number;
  /** Whole things: the value itself is rounded up. */
  readonly whole?: true;
}

const VOLUME: PrintRule = { step: 0.1, floor: 0 };
const TEMPERATURE: PrintRule = { step: 1 };
const MINUTES: PrintRule = { step: 1, floor: 0 };
const PRESSURE: PrintRule = { step: 1 };

export const PRINT_RULES: Readonly<Record<TargetKey, PrintRule | 'gravity'>> = {
  original_gravity: 'gravity',
  final_gravity: 'gravity',
  original_extract_plato: { step: 0.1 },
  alcohol_volume_percent: { step: 0.1, floor: 0 },
  alcohol_mass_percent: { step: 0.1, floor: 0 },
  bitterness_ibu: { step: 1, floor: 0 },
  colour_ebc: { step: 1, floor: 0 },
  colour_srm: { step: 1, floor: 0 },
  energy_kcal_per_litre: { step: 10, floor: 0 },
  apparent_attenuation_percent: { step: 1 },
  water_to_heat_l: VOLUME,
  boil_start_volume_l: VOLUME,
  boil_start_gravity: 'gravity',
  boil_end_volume_l: VOLUME,
  boil_end_gravity: 'gravity',
  boil_start_volume_hot_l: VOLUME,
  boil_end_volume_hot_l: VOLUME,
  kettle_fill_percent: { step: 1, floor: 0 },
  top_up_l: VOLUME,
  top_up_c: TEMPERATURE,
  fermenter_volume_l: VOLUME,
  chill_to_c: TEMPERATURE,
  steep_water_c: TEMPERATURE,
  strike_water_c: TEMPERATURE,
  minutes_to_steep: MINUTES,
  minutes_to_boil: MINUTES,
  minutes_back_to_boil: MINUTES,
  ice_kg: { step: 0.1, floor: 0 },
  yeast_cells_billion: { step: 1, floor: 0 },
  yeast_packs: { step: 1, floor: 0, whole: true },
  packaged_volume_l: VOLUME,
  bottles: { step: 1, floor: 0, whole: true },
  priming_sugar_g: { step: 1, coarse: { from: 100, step: 5 }, floor: 0 },
  residual_co2_vol: { step: 0.1, floor: 0 },
  bottle_pressure_20c_kpa: PRESSURE,
  bottle_pressure_30c_kpa: PRESSURE,
  keg_pressure_kpa: PRESSURE,
};

/** A figure that is a hair over a step through binary arithmetic is on the step, not beyond it. */
const HAIR = 1e-9;

/** Rounds outward to whole steps: the printed range never hides a part of the real one. */
export function roundOutward(low: number, high: number, step: number): { low: number; high: number } {
  const tidy = (n: number) => Number((n * step).toPrecision(12));
  return { low: tidy(Math.floor(low / step + HAIR)), high: tidy(Math.ceil(high / step - HAIR)) };
}

/** Range as the sheet prints it; gravities go by the hydrometer's own step. */
export function printedRange(
  key: TargetKey,
  range: { readonly value: number; readonly low: number; readonly high: number },
  hydrometerStep_SG: number,
): { readonly low: number; readonly high: number } {
  const rule = PRINT_RULES[key];
  if (rule === 'gravity') return roundOutward(range.low, range.high, hydrometerStep_SG);
  const step = rule.coarse && range.value > rule.coarse.from ? rule.coarse.step : rule.step;
  const printed = roundOutward(range.low, range.high, step);
  const floor = rule.floor ?? Number.NEGATIVE_INFINITY;
  return { low: Math.max(floor, printed.low), high: Math.max(floor, printed.high) };
}

export const isWhole = (key: TargetKey): boolean => {
  const rule = PRINT_RULES[key];
  return rule !== 'gravity' && rule.whole === true;
};
