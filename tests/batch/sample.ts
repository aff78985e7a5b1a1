/** A batch built by hand, for tests of the planner that need no file. */

import {
  hydrometerUncertainty,
  SETUP_DEFAULTS,
  type SetupDefaultKey,
} from '../../lib/batch/model/defaults.ts';
import type { Batch } from '../../lib/batch/types/batch.ts';
import type { Ingredient } from '../../lib/batch/types/ingredient.ts';
import type {
  ExtractItem,
  GrainItem,
  HopItem,
  Looked,
  Recipe,
  YeastItem,
} from '../../lib/batch/types/recipe.ts';
import type { Setup, SetupFigure } from '../../lib/batch/types/setup.ts';
import type { Given } from '../../lib/units/parse/given.ts';

export const given = <T extends number>(value: number, written = String(value)): Given<T> => ({
  value: value as T,
  u: null,
  written,
});
const looked = <T extends number>(value: number): Looked<T> => ({
  value: value as T,
  u: null,
  from: 'table',
});

export function figure(key: SetupDefaultKey, own?: number): SetupFigure {
  const { value, u } = SETUP_DEFAULTS[key];
  if (own === undefined) return { value, u, written: null, assumed: true };
  return { value: own, u, written: String(own), assumed: false };
}

export function sampleSetup(over: Partial<Setup> = {}): Setup {
  return {
    key: 'stove',
    title: 'Stove',
    kettle_L: { value: 15, u: 0, written: '15 L', assumed: false },
    heat_kW: figure('heat'),
    boilOff_L_per_h: figure('boil_off'),
    kettleLoss_L: figure('kettle_loss'),
    hopAbsorption_L_per_kg: figure('hop_absorption'),
    grainAbsorption_L_per_kg: figure('grain_absorption'),
    fermenter_L: null,
    fermenterLoss_L: figure('fermenter_loss'),
    steepEfficiency: figure('steep_efficiency'),
    mashEfficiency: figure('mash_efficiency'),
    chill: { to_C: figure('chill.to'), in_min: figure('chill.in'), with: 'cold-water bath', assumed: true },
    waterTemperature_C: figure('water_temperature'),
    topUpTemperature_C: figure('top_up_temperature'),
    roomTemperature_C: figure('room_temperature'),
    altitude_m: figure('altitude'),
    hydrometer: {
      at_C: figure('hydrometer.at'),
      step: 0.002,
      u: hydrometerUncertainty(0.002),
      assumed: true,
    },
    refractometerFactor: figure('refractometer_factor'),
    sanitiser: null,
    instruments: {
      kettleMark_L: figure('uncertainty.kettle_mark'),
      fermenterMark_L: figure('uncertainty.fermenter_mark'),
      scale: figure('uncertainty.scale'),
      thermometer_C: figure('uncertainty.thermometer'),
    },
    learned: 'show',
    ...over,
  };
}

export function extract(weight_g: number, over: Partial<ExtractItem> = {}): ExtractItem {
  return {
    name: 'pale liquid extract',
    kind: 'extract',
    weight_g: given(weight_g, `${weight_g} g`),
    yield: looked(0.79),
    colour_EBC: looked(8),
    fermentability: looked(1),
    fermentableAs: 'malt',
    form: 'liquid',
    needsMash: false,
    allergens: ['gluten'],
    note: null,
    add: { at: 'boil', minutesLeft: 60 as never, written: 'start of the boil' },
    bitterness: null,
    ...over,
  };
}

export function grain(weight_g: number, over: Partial<GrainItem> = {}): GrainItem {
  return {
    name: 'crystal malt 150',
    kind: 'grain',
    weight_g: given(weight_g, `${weight_g} g`),
    yield: looked(0.75),
    colour_EBC: looked(150),
    fermentability: looked(0.65),
    fermentableAs: 'malt',
    form: null,
    needsMash: false,
    allergens: ['gluten'],
    note: null,
    in: 'steep',
    ...over,
  };
}

export function hop(weight_g: number, add: HopItem['add'], over: Partial<HopItem> = {}): HopItem {
  return {
    name: 'Fuggle',
    weight_g: given(weight_g, `${weight_g} g`),
    alpha: looked(0.046),
    form: 'pellet',
    add,
    note: null,
    ...over,
  };
}

export const boilFor = (minutesLeft: number): HopItem['add'] => ({
  at: 'boil',
  minutesLeft: minutesLeft as never,
  written: `${minutesLeft} min`,
});

export function yeast(over: Partial<YeastItem> = {}): YeastItem {
  return {
    name: 'English ale',
    form: 'dry',
    amount: { value: 11, unit: 'g', written: '11 g' },
    attenuation: looked(0.75),
    temperature_C: { low: 17 as never, high: 21 as never, written: '17-21 °C' },
    kind: 'ale',
    pack: null,
    cells: null,
    note: null,
    ...over,
  };
}

/** 19 L from a 10.5 L boil: steeped crystal malt, two extract additions, three hop additions. */
export function sampleRecipe(over: Partial<Recipe> = {}): Recipe {
  return {
    label: null,
    intoFermenter_L: given(19, '19 L'),
    boil_min: given(60, '60 min'),
    boilVolume_L: given(10.5, '10.5 L'),
    steep: { temperature_C: given(68, '68 °C'), time_min: given(20, '20 min'), water_L: null },
    mash: null,
    rinse_L: null,
    grain: [grain(350)],
    extract: [extract(1500), extract(1100, { add: boilFor(12) })],
    sugar: [],
    hops: [hop(30, boilFor(60)), hop(20, boilFor(15)), hop(15, { at: 'flameout' })],
    stand: null,
    other: [],
    yeast: [yeast()],
    ferment: [{ temperature_C: given(19, '19 °C'), time_min: given(14 * 1440, '14 days') }],
    packaging: [
      {
        into: 'bottles',
        carbonation_vol: given(2.3, '2.3 vol'),
        sugar: { name: 'table sugar', co2_g_per_g: 0.5143, extract: 1 },
        bottle_L: given(0.5, '500 ml'),
        limit: { unit: 'vol', value: 3, written: '3 vol', assumed: false },
        temperature_C: null,
        volume_L: null,
      },
    ],
    ...over,
  };
}

export function sampleBatch(over: Partial<Batch> = {}): Batch {
  return {
    slug: 'winding-hole-bitter',
    title: 'Winding Hole Bitter',
    number: 7,
    brewed: '2026-02-14',
    start: '13:30',
    setup: sampleSetup(),
    style: 'Bitter',
    tags: [],
    basedOn: null,
    pictures: [],
    publish: 'all',
    recipe: sampleRecipe(),
    readings: {},
    notes: '',
    ...over,
  };
}

/** Ten litres of plain water to boil: what is read of it is due to the kit alone. */
export const WATER: Partial<Recipe> = {
  grain: [],
  steep: null,
  extract: [],
  hops: [],
  yeast: [],
  boilVolume_L: given(10, '10 L'),
};

/** A row of a table of extracts. */
export const dryRow: Ingredient = {
  name: 'pale dry extract',
  also: [],
  kind: 'extract',
  yield: 0.96,
  colour_EBC: 12,
  fermentability: 1,
  fermentableAs: 'malt',
  moisture: 0.04,
  form: 'dry',
  needsMash: false,
  alpha: null,
  attenuation: null,
  temperature_C: null,
  yeastKind: null,
  priming_g_per_g: null,
  allergens: ['gluten'],
  source: 'made up for this test',
};
