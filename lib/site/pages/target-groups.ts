import type { TargetKey } from '../../batch/types/plan.ts';

/** The order in which a reader looks for a target. */
export const TARGET_GROUPS: readonly { readonly title: string; readonly keys: readonly TargetKey[] }[] = [
  {
    title: 'The beer',
    keys: [
      'original_gravity',
      'original_extract_plato',
      'final_gravity',
      'apparent_attenuation_percent',
      'alcohol_volume_percent',
      'alcohol_mass_percent',
      'bitterness_ibu',
      'colour_ebc',
      'colour_srm',
      'energy_kcal_per_litre',
    ],
  },
  {
    title: 'The kettle',
    keys: [
      'water_to_heat_l',
      'steep_water_c',
      'strike_water_c',
      'minutes_to_steep',
      'minutes_to_boil',
      'minutes_back_to_boil',
      'kettle_fill_percent',
      'boil_start_volume_hot_l',
      'boil_start_volume_l',
      'boil_start_gravity',
      'boil_end_volume_hot_l',
      'boil_end_volume_l',
      'boil_end_gravity',
    ],
  },
  {
    title: 'Chilling and topping up',
    keys: ['chill_to_c', 'ice_kg', 'top_up_l', 'top_up_c', 'fermenter_volume_l'],
  },
  {
    title: 'Yeast, gas and bottles',
    keys: [
      'yeast_cells_billion',
      'yeast_packs',
      'packaged_volume_l',
      'residual_co2_vol',
      'priming_sugar_g',
      'bottles',
      'bottle_pressure_20c_kpa',
      'bottle_pressure_30c_kpa',
      'keg_pressure_kpa',
    ],
  },
];
