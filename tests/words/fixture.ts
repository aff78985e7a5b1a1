/**
 * A batch and a plan made by hand for trying sheets: plausible figures, worked out by nobody, expected by no test.
 */
import { planBatch } from '../../lib/batch/plan/plan-batch.ts';
import type { Batch } from '../../lib/batch/types/batch.ts';
import type { Brewery } from '../../lib/batch/types/brewery.ts';
import type { Figure, Plan } from '../../lib/batch/types/plan.ts';
import type { Looked } from '../../lib/batch/types/recipe.ts';
import type { SetupFigure } from '../../lib/batch/types/setup.ts';
import { TARGET_KEYS, type TargetKey } from '../../lib/batch/types/targets.ts';
import {
  boilFor,
  extract,
  given,
  grain,
  hop,
  sampleBatch,
  sampleRecipe,
  sampleSetup,
  yeast,
} from '../batch/sample.ts';

const looked = <T extends number>(value: number): Looked<T> => ({
  value: value as T,
  u: null,
  from: 'recipe',
});
const kit = (value: number, assumed = false): SetupFigure => ({
  value,
  u: 0.1,
  written: assumed ? null : String(value),
  assumed,
});
const malt = {
  yield: looked<never>(0.8),
  colour_EBC: looked<never>(10),
  fermentability: looked<never>(1),
  allergens: ['gluten (barley)'],
};
const leaf = { alpha: looked<never>(0.046), form: 'leaf' } as const;

export const brewery: Brewery = {
  name: 'The Lock-keeper’s Kitchen',
  units: 'metric',
  paper: 'a4',
  author: 'Keeper of Lock 14',
  url: 'https://lock-fourteen.example/',
  language: 'en',
};

export const batch: Batch = sampleBatch({
  number: 12,
  style: 'Brown ale',
  setup: sampleSetup({
    title: 'Gas ring and the 15 L pot',
    kettle_L: { ...kit(15), written: '15 L' },
    heat_kW: kit(1.8),
    boilOff_L_per_h: kit(2.2),
    kettleLoss_L: kit(0.5, true),
    hopAbsorption_L_per_kg: kit(6, true),
    grainAbsorption_L_per_kg: kit(0.9, true),
    fermenter_L: kit(25),
    fermenterLoss_L: kit(0.7),
    steepEfficiency: kit(0.5, true),
    mashEfficiency: kit(0.7, true),
    chill: { to_C: kit(22), in_min: kit(25), with: 'ice bath', assumed: false },
    waterTemperature_C: kit(12),
    topUpTemperature_C: kit(8),
    roomTemperature_C: kit(20),
    altitude_m: kit(150),
    hydrometer: { at_C: kit(20), step: 0.002, u: 0.001, assumed: false },
    refractometerFactor: kit(1.04),
    sanitiser: {
      dose_ml_per_L: 1.5,
      doseWritten: '1.5 ml/L',
      make: { value: 8, unit: 'L', written: '8 L' },
      note: 'as on your label',
    },
    instruments: {
      kettleMark_L: kit(0.3),
      fermenterMark_L: kit(0.3),
      scale: kit(0.01),
      thermometer_C: kit(1),
    },
  }),
  recipe: sampleRecipe({
    grain: [grain(350, malt)],
    extract: [
      extract(1500, { ...malt, weight_g: given(1500, '1.5 kg'), add: boilFor(60) }),
      extract(1100, { ...malt, weight_g: given(1100, '1.1 kg'), add: boilFor(12) }),
    ],
    sugar: [
      extract(250, {
        ...malt,
        name: 'honey',
        kind: 'sugar',
        form: null,
        allergens: [],
        add: { at: 'flameout' },
      }),
    ],
    hops: [
      hop(30, boilFor(60), leaf),
      hop(20, { at: 'stand' }, leaf),
      hop(
        25,
        { at: 'dry', day: 7, for_min: 4320 as never, forWritten: '3 days' },
        { ...leaf, name: 'Goldings', alpha: looked(0.055) },
      ),
    ],
    stand: { temperature_C: given(80, '80 °C'), time_min: given(20, '20 min') },
    other: [
      {
        name: 'kettle finings',
        amount: { value: 1, unit: 'count', written: '1' },
        add: boilFor(10),
        allergens: [],
        note: 'half a tablet is enough for 10 L',
      },
      {
        name: 'bitter orange peel',
        amount: { value: 15, unit: 'g', written: '15 g' },
        add: { at: 'flameout' },
        allergens: [],
        note: null,
      },
      {
        name: 'yeast nutrient',
        amount: { value: 1, unit: 'count', written: '1 tsp' },
        add: boilFor(10),
        allergens: [],
        note: 'dissolve first',
      },
    ],
    yeast: [yeast({ attenuation: looked(0.75) })],
    packaging: sampleRecipe().packaging.map((step) => ({
      ...step,
      sugar: { name: 'table sugar', co2_g_per_g: 0.51, extract: 1 },
    })),
  }),
});

const figure = (value: number, low: number, high: number): Figure => ({
  value,
  low,
  high,
  printed: { low, high },
  contributors: [],
});

const figures: Partial<Record<TargetKey, Figure>> = {
  original_gravity: figure(1.0442, 1.04, 1.048),
  final_gravity: figure(1.0112, 1.006, 1.016),
  original_extract_plato: figure(10.99, 10, 11.9),
  alcohol_volume_percent: figure(4.34, 3.6, 5.1),
  alcohol_mass_percent: figure(3.4, 2.9, 4),
  bitterness_ibu: figure(22.4, 15, 30),
  colour_ebc: figure(31, 23, 39),
  colour_srm: figure(15.7, 11, 20),
  energy_kcal_per_litre: figure(412, 370, 450),
  apparent_attenuation_percent: figure(74.2, 65, 83),
  water_to_heat_l: figure(9.72, 9.2, 10.3),
  boil_start_volume_l: figure(10.5, 10, 11),
  boil_start_gravity: figure(1.0441, 1.04, 1.048),
  boil_end_volume_l: figure(9.3, 8.4, 10.2),
  boil_end_gravity: figure(1.0912, 1.082, 1.102),
  boil_start_volume_hot_l: figure(10.94, 10.3, 11.6),
  boil_end_volume_hot_l: figure(9.68, 8.8, 10.6),
  kettle_fill_percent: figure(73, 70, 77),
  top_up_l: figure(10.2, 9.3, 11.1),
  top_up_c: figure(14.2, 12, 17),
  chill_to_c: figure(26.4, 24, 29),
  steep_water_c: figure(70.3, 68, 73),
  minutes_to_steep: figure(23, 18, 29),
  minutes_to_boil: figure(15, 11, 19),
  minutes_back_to_boil: figure(7, 5, 9),
  ice_kg: figure(4.2, 3, 5.5),
  yeast_cells_billion: figure(157, 120, 200),
  yeast_packs: figure(1, 1, 1),
  packaged_volume_l: figure(18.2, 17.4, 19),
  bottles: figure(36, 35, 38),
  priming_sugar_g: figure(101, 90, 115),
  residual_co2_vol: figure(0.86, 0.8, 0.93),
  bottle_pressure_20c_kpa: figure(141, 110, 190),
  bottle_pressure_30c_kpa: figure(213, 170, 270),
};

const planned = planBatch(batch, brewery);
if (!planned.ok) throw new Error('the batch of the fixture has no plan');
export const { timetable } = planned.plan;

const targets = Object.fromEntries(TARGET_KEYS.map((key) => [key, figures[key] ?? null])) as Plan['targets'];

export const plan: Plan = {
  version: 1,
  slug: batch.slug,
  title: batch.title,
  revision: '7c41e9b2',
  setup: { key: 'stove', title: batch.setup.title },
  targets,
  timetable,
  bitterness: [],
  kettle: [],
  pauses: planned.plan.pauses,
  corrections: [
    { from: null, to: 1.032, meaning: 'far below', add_water_l: null, add_extract_g: 900, boil_on_min: null },
    { from: 1.034, to: 1.038, meaning: 'below', add_water_l: null, add_extract_g: 450, boil_on_min: null },
    { from: 1.04, to: 1.048, meaning: 'fine', add_water_l: null, add_extract_g: null, boil_on_min: null },
    { from: 1.05, to: 1.054, meaning: 'above', add_water_l: 2.9, add_extract_g: null, boil_on_min: null },
    { from: 1.056, to: null, meaning: 'far above', add_water_l: 5.2, add_extract_g: null, boil_on_min: null },
  ],
  sample_corrections: [
    { temperature_c: 10, add: -0.0013 },
    { temperature_c: 15, add: -0.0008 },
    { temperature_c: 20, add: 0 },
    { temperature_c: 25, add: 0.0011 },
    { temperature_c: 30, add: 0.0024 },
    { temperature_c: 40, add: 0.0058 },
    { temperature_c: 50, add: 0.0098 },
  ],
  priming: {
    sugar: 'table sugar',
    carbonation_vol: 2.3,
    temperatures_c: [16, 18, 20, 22, 24],
    rows: [15, 16, 17, 18, 19, 20].map((litres) => ({
      volume_l: litres,
      sugar_g: [5.1, 5.4, 5.6, 5.8, 6].map((perLitre) => perLitre * litres),
    })),
  },
  label: null,
  yeast: [
    { name: 'English ale', wanted_billion: 155, wanted_g: { low: 9.5, high: 15.2 }, packs: 1, pack: '11 g' },
  ],
  assumed: [
    { key: 'kettle_loss', value: '0.5 L', reason: 'common practice' },
    { key: 'hop_absorption', value: '6 L/kg', reason: 'common practice' },
    { key: 'grain_absorption', value: '0.9 L/kg', reason: 'common practice' },
    { key: 'steep_efficiency', value: '50 %', reason: 'common practice' },
  ],
  judgments: [],
  finish: { days: 3, apart: 0.001, expected_gravity: 1.011, finished_at_most: 1.013, nearly_at_most: 1.016 },
  bottles: null,
  readings: {},
  as_brewed: null,
  swatch: null,
  warnings: [
    {
      code: 'example',
      key: 'recipe.other[0]',
      message: 'The finings are given without a unit: read their label.',
    },
  ],
};
