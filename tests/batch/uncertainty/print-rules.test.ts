/** How every target is rounded on paper: gravity to the hydrometer's step, volume 0.1 L, temperature 1 °C, masses as scales go. */
import { expect, it } from 'vitest';
import { TARGET_KEYS, type TargetKey } from '../../../lib/batch/types/targets.ts';

import { isWhole, printedRange } from '../../../lib/batch/uncertainty/printed.ts';

/** Step in the unit of the key; whether nothing below 0 is printed. */
const RULES: Readonly<Record<TargetKey, readonly [step: number, never_below_0: boolean]>> = {
  original_gravity: [0.002, false],
  final_gravity: [0.002, false],
  original_extract_plato: [0.1, false],
  alcohol_volume_percent: [0.1, true],
  alcohol_mass_percent: [0.1, true],
  bitterness_ibu: [1, true],
  colour_ebc: [1, true],
  colour_srm: [1, true],
  energy_kcal_per_litre: [10, true],
  apparent_attenuation_percent: [1, false],
  water_to_heat_l: [0.1, true],
  boil_start_volume_l: [0.1, true],
  boil_start_gravity: [0.002, false],
  boil_end_volume_l: [0.1, true],
  boil_end_gravity: [0.002, false],
  boil_start_volume_hot_l: [0.1, true],
  boil_end_volume_hot_l: [0.1, true],
  kettle_fill_percent: [1, true],
  top_up_l: [0.1, true],
  top_up_c: [1, false],
  fermenter_volume_l: [0.1, true],
  chill_to_c: [1, false],
  steep_water_c: [1, false],
  strike_water_c: [1, false],
  minutes_to_steep: [1, true],
  minutes_to_boil: [1, true],
  minutes_back_to_boil: [1, true],
  ice_kg: [0.1, true],
  yeast_cells_billion: [1, true],
  yeast_packs: [1, true],
  packaged_volume_l: [0.1, true],
  bottles: [1, true],
  priming_sugar_g: [1, true],
  residual_co2_vol: [0.1, true],
  bottle_pressure_20c_kpa: [1, false],
  bottle_pressure_30c_kpa: [1, false],
  keg_pressure_kpa: [1, false],
};

it.each(TARGET_KEYS)('%s is rounded outward to its step', (key) => {
  const [step] = RULES[key];
  const range = { value: 10 * step, low: 9.4 * step, high: 10.6 * step };
  const { low, high } = printedRange(key, range, 0.002);
  expect(low).toBeCloseTo(9 * step, 9);
  expect(high).toBeCloseTo(11 * step, 9);
});

it.each(TARGET_KEYS)('%s on its step stays there', (key) => {
  const [step] = RULES[key];
  const { low, high } = printedRange(key, { value: 10 * step, low: 9 * step, high: 11 * step }, 0.002);
  expect(low).toBeCloseTo(9 * step, 9);
  expect(high).toBeCloseTo(11 * step, 9);
});

it.each(TARGET_KEYS)('%s goes below nothing only where there is such a thing', (key) => {
  const [step, never_below_0] = RULES[key];
  const { low } = printedRange(key, { value: 0, low: -2.5 * step, high: step }, 0.002);
  expect(low).toBeCloseTo(never_below_0 ? 0 : -3 * step, 9);
});

it('packs and bottles are the whole things', () => {
  expect(TARGET_KEYS.filter(isWhole)).toEqual(['yeast_packs', 'bottles']);
});
