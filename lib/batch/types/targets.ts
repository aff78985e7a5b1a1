/**
 * The one table of targets. From it follow the keys of a plan and their schema, how a figure is rounded and in which unit it is
 * shown, which instrument reads it, where it is on a page and what its columns in the tables are called.
 */

/** What a target measures, and so how it is written. */
export type TargetUnit =
  | 'SG'
  | '°P'
  | '%'
  | 'IBU'
  | 'EBC'
  | 'SRM'
  | 'kcal/L'
  | 'L'
  | '°C'
  | 'min'
  | 'kg'
  | 'g'
  | 'billion cells'
  | 'vol'
  | 'kPa'
  /** Whole things. */
  | 'count';

/** In the order in which a reader looks for them. */
export const TARGET_GROUPS = [
  'The beer',
  'The kettle',
  'Chilling and topping up',
  'Yeast, gas and bottles',
] as const;

export interface Target {
  readonly label: string;
  readonly group: (typeof TARGET_GROUPS)[number];
  readonly unit: TargetUnit;
  /** What it is rounded to on paper, in its own unit; null: the hydrometer's step. */
  readonly step: number | null;
  /** The step above a value, for masses that a kitchen scale shows in fives. */
  readonly coarse?: { readonly from: number; readonly step: number };
  /** Printed ranges never go below 0. */
  readonly neverBelow0?: true;
  /** The instrument that it is read with, whose uncertainty its range then holds too. */
  readonly readWith?: 'hydrometer' | 'kettle' | 'fermenter' | 'a careful pour';
  /** When it is worked out again from what was read; a target without this says how a beer is made, not what it is. */
  readonly brewed?: 'once read' | 'at its end';
}

const KETTLE = { group: 'The kettle', unit: 'L', step: 0.1, neverBelow0: true, readWith: 'kettle' } as const;
const GRAVITY = { unit: 'SG', step: null, readWith: 'hydrometer' } as const;
const BEER = { group: 'The beer', neverBelow0: true } as const;
const HEATING = { group: 'The kettle', unit: 'min', step: 1, neverBelow0: true } as const;
const DEGREES = { unit: '°C', step: 1 } as const;
const LAST = { group: 'Yeast, gas and bottles', neverBelow0: true } as const;
const PRESSURE = { group: 'Yeast, gas and bottles', unit: 'kPa', step: 1 } as const;

/** By key, in the order of `plan.json`. Volumes at 20 °C unless the key says `hot`; pressures are gauge. */
export const TARGETS = {
  original_gravity: { ...GRAVITY, group: 'The beer', label: 'Original gravity', brewed: 'once read' },
  final_gravity: { ...GRAVITY, group: 'The beer', label: 'Final gravity', brewed: 'at its end' },
  original_extract_plato: {
    group: 'The beer',
    unit: '°P',
    step: 0.1,
    label: 'Original extract',
    brewed: 'once read',
  },
  alcohol_volume_percent: { ...BEER, unit: '%', step: 0.1, label: 'Alcohol by volume', brewed: 'at its end' },
  alcohol_mass_percent: { ...BEER, unit: '%', step: 0.1, label: 'Alcohol by mass', brewed: 'at its end' },
  bitterness_ibu: { ...BEER, unit: 'IBU', step: 1, label: 'Bitterness', brewed: 'once read' },
  colour_ebc: { ...BEER, unit: 'EBC', step: 1, label: 'Colour', brewed: 'once read' },
  colour_srm: { ...BEER, unit: 'SRM', step: 1, label: 'Colour', brewed: 'once read' },
  energy_kcal_per_litre: { ...BEER, unit: 'kcal/L', step: 10, label: 'Energy', brewed: 'at its end' },
  apparent_attenuation_percent: {
    group: 'The beer',
    unit: '%',
    step: 1,
    label: 'Apparent attenuation',
    brewed: 'at its end',
  },
  water_to_heat_l: { ...KETTLE, label: 'Water to heat' },
  boil_start_volume_l: {
    ...KETTLE,
    label: 'Wort at the start of the boil, at room temperature',
    brewed: 'once read',
  },
  boil_start_gravity: {
    ...GRAVITY,
    group: 'The kettle',
    label: 'Gravity at the start of the boil',
    brewed: 'once read',
  },
  boil_end_volume_l: {
    ...KETTLE,
    label: 'Wort at the end of the boil, at room temperature',
    brewed: 'once read',
  },
  boil_end_gravity: {
    ...GRAVITY,
    group: 'The kettle',
    label: 'Gravity at the end of the boil',
    brewed: 'once read',
  },
  boil_start_volume_hot_l: { ...KETTLE, label: 'Wort at the start of the boil, hot' },
  boil_end_volume_hot_l: { ...KETTLE, label: 'Wort at the end of the boil, hot' },
  kettle_fill_percent: {
    group: 'The kettle',
    unit: '%',
    step: 1,
    neverBelow0: true,
    label: 'Kettle at its fullest',
  },
  top_up_l: {
    ...KETTLE,
    group: 'Chilling and topping up',
    readWith: 'fermenter',
    label: 'Top-up water',
  },
  top_up_c: { ...DEGREES, group: 'Chilling and topping up', label: 'Top-up water no warmer than' },
  fermenter_volume_l: {
    ...KETTLE,
    group: 'Chilling and topping up',
    readWith: 'a careful pour',
    label: 'Wort in the fermenter',
  },
  chill_to_c: { ...DEGREES, group: 'Chilling and topping up', label: 'Chill the wort to' },
  steep_water_c: { ...DEGREES, group: 'The kettle', label: 'Steeping water before the grain' },
  strike_water_c: { ...DEGREES, group: 'The kettle', label: 'Mash water before the grain' },
  minutes_to_steep: { ...HEATING, label: 'Heating to the steep' },
  minutes_to_boil: { ...HEATING, label: 'Heating to the boil' },
  minutes_back_to_boil: { ...HEATING, label: 'Back to the boil after the extract' },
  ice_kg: {
    group: 'Chilling and topping up',
    unit: 'kg',
    step: 0.1,
    neverBelow0: true,
    label: 'Ice for the bath',
  },
  yeast_cells_billion: { ...LAST, unit: 'billion cells', step: 1, label: 'Yeast cells wanted' },
  yeast_packs: { ...LAST, unit: 'count', step: 1, label: 'Yeast packs' },
  packaged_volume_l: {
    ...LAST,
    unit: 'L',
    step: 0.1,
    readWith: 'fermenter',
    label: 'Beer to package',
    brewed: 'once read',
  },
  bottles: { ...LAST, unit: 'count', step: 1, label: 'Bottles', brewed: 'once read' },
  priming_sugar_g: {
    ...LAST,
    unit: 'g',
    step: 1,
    coarse: { from: 100, step: 5 },
    label: 'Priming sugar',
    brewed: 'once read',
  },
  residual_co2_vol: {
    ...LAST,
    unit: 'vol',
    step: 0.1,
    label: 'Carbon dioxide still in the beer',
    brewed: 'once read',
  },
  bottle_pressure_20c_kpa: { ...PRESSURE, label: 'Bottle pressure, cool room', brewed: 'once read' },
  bottle_pressure_30c_kpa: { ...PRESSURE, label: 'Bottle pressure, hot day', brewed: 'once read' },
  keg_pressure_kpa: { ...PRESSURE, label: 'Keg pressure' },
} as const satisfies Readonly<Record<string, Target>>;

export type TargetKey = keyof typeof TARGETS;
export const TARGET_KEYS = Object.keys(TARGETS) as readonly TargetKey[];

/** One row of the table, with every column that a row may have. */
export const targetOf = (key: TargetKey): Target => TARGETS[key];

/** Targets of one group, in the order of the table. */
export const targetsIn = (group: Target['group']): readonly TargetKey[] =>
  TARGET_KEYS.filter((key) => TARGETS[key].group === group);
