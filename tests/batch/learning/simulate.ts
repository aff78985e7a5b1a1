/**
 * Brew days of a kit whose figures are known: a forward mass balance of its own, independent of the plan's, read with
 * instruments that err as the setup says they do.
 */

import { buildCase } from '../../../lib/batch/model/build-model-input.ts';
import { ASSUMED_STIR_MIN, INPUT_DEFAULTS, SETUP_DEFAULTS } from '../../../lib/batch/model/defaults.ts';
import { designBoil } from '../../../lib/batch/model/design.ts';
import { runModel } from '../../../lib/batch/model/model.ts';
import { TARGET_INDEX as T } from '../../../lib/batch/model/target-vector.ts';
import type { Batch } from '../../../lib/batch/types/batch.ts';
import type { LearnedKey } from '../../../lib/batch/types/learning.ts';
import type { Readings } from '../../../lib/batch/types/readings.ts';
import { boilingPoint_C } from '../../../lib/formulas/boiling-point.ts';
import { sucroseDensity_kgm3, sucroseDensity20_kgm3 } from '../../../lib/formulas/density.ts';
import type { Celsius } from '../../../lib/units/brands.ts';
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
} from '../sample.ts';
import type { randomFrom } from './random.ts';

type Random = ReturnType<typeof randomFrom>;

/** A kit as it really is. */
export interface Truth {
  readonly kit: Readonly<Record<LearnedKey, number>>;
  readonly attenuation: number;
  readonly scale: number;
  readonly water_C: number;
  readonly extractYield: number;
  readonly steepYield: number;
  readonly mashYield: number;
  readonly fermentability: number;
}

const drawn = (random: Random, key: keyof typeof SETUP_DEFAULTS, least: number): number => {
  const { value, u } = SETUP_DEFAULTS[key];
  for (;;) {
    const one = random.normal(value, u);
    if (one > least) return one;
  }
};

const EXTRACT_YIELD = 0.79;
const GRAIN_YIELD = 0.75;
const ATTENUATION = 0.75;

/** A kit drawn from the setup's own beliefs: what a brewer who states nothing could have. */
export const drawTruth = (random: Random): Truth => ({
  kit: {
    heat: drawn(random, 'heat', 0.6),
    steep_efficiency: drawn(random, 'steep_efficiency', 0.1),
    mash_efficiency: drawn(random, 'mash_efficiency', 0.3),
    boil_off: drawn(random, 'boil_off', 0.5),
    'chill.to': drawn(random, 'chill.to', 10),
    'chill.in': drawn(random, 'chill.in', 12),
    kettle_loss: drawn(random, 'kettle_loss', 0),
    hop_absorption: drawn(random, 'hop_absorption', 1),
    fermenter_loss: drawn(random, 'fermenter_loss', 0),
  },
  attenuation: random.normal(ATTENUATION, INPUT_DEFAULTS.attenuation.u),
  scale: random.normal(1, SETUP_DEFAULTS['uncertainty.scale'].u),
  water_C: drawn(random, 'water_temperature', 4),
  extractYield: EXTRACT_YIELD * random.normal(1, INPUT_DEFAULTS['yield.liquid extract'].u),
  steepYield: GRAIN_YIELD * random.normal(1, INPUT_DEFAULTS['yield.grain'].u),
  mashYield: GRAIN_YIELD * random.normal(1, INPUT_DEFAULTS['yield.grain'].u),
  fermentability: random.normal(1, INPUT_DEFAULTS.fermentability.u),
});

const volumeOf = (extract_kg: number, water_kg: number): number => {
  const mass = extract_kg + water_kg;
  return (1000 * mass) / sucroseDensity20_kgm3((100 * extract_kg) / mass);
};

/** Water that makes a volume with an extract, by bisection. */
function waterFor(extract_kg: number, volume_L: number): number {
  let low = 0;
  let high = volume_L * 1.2;
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (volumeOf(extract_kg, middle) < volume_L) low = middle;
    else high = middle;
  }
  return low;
}

const gravityOf = (extract_kg: number, water_kg: number): number =>
  sucroseDensity20_kgm3((100 * extract_kg) / (extract_kg + water_kg)) / sucroseDensity20_kgm3(0);

/** SG of an apparent extract, which may be below water. */
const gravityOfPlato = (plato_P: number): number => sucroseDensity20_kgm3(plato_P) / sucroseDensity20_kgm3(0);

const MARK_u_L = SETUP_DEFAULTS['uncertainty.kettle_mark'].u;
const FERMENTER_MARK_u_L = SETUP_DEFAULTS['uncertainty.fermenter_mark'].u;
/** What a count of bottles and their fill leaves open; common practice, no source. */
const PACKAGED_SHARE = 0.02;
const HYDROMETER_u = 0.001;
const THERMOMETER_u_K = SETUP_DEFAULTS['uncertainty.thermometer'].u;

function clockOf(minutes: number): string {
  const whole = Math.round(minutes);
  return `${String(Math.floor(whole / 60) % 24).padStart(2, '0')}:${String(whole % 60).padStart(2, '0')}`;
}

/** One brew day of a kit; every third batch is a small mash, the others steep a little grain. */
export function brew(truth: Truth, index: number, random: Random): Batch {
  const mashed = index % 3 === 2;
  const steeped_g = 250 + 50 * (index % 6);
  const mash_g = 1500 + 250 * (index % 3);
  const first_g = (mashed ? 600 : 1300) + 100 * (index % 4);
  const late_g = (mashed ? 700 : 900) + 100 * (index % 3);
  const hops_g = 30 + 15 * (index % 3);
  const kit = sampleSetup({ chill: { ...sampleSetup().chill, with: 'coil' } });
  const recipe = sampleRecipe({
    boilVolume_L: given(9.5 + 0.5 * (index % 5), '10 L'),
    grain: mashed
      ? [
          grain(mash_g, {
            name: 'pale malt',
            in: 'mash',
            fermentability: { value: 1 as never, u: null, from: 'table' },
          }),
        ]
      : [grain(steeped_g)],
    steep: mashed ? null : sampleRecipe().steep,
    mash: mashed
      ? {
          temperature_C: given(66, '66 °C'),
          time_min: given(60, '60 min'),
          ratio_L_per_kg: given(3, '3 L/kg'),
        }
      : null,
    extract: [extract(first_g), extract(late_g, { add: boilFor(12) })],
    hops: [hop(hops_g, boilFor(60))],
    yeast: [yeast()],
  });
  const day = new Date(Date.UTC(2024, 0, 6 + 7 * index)).toISOString().slice(0, 10);
  const planned = sampleBatch({ slug: `lock-${index}`, brewed: day, setup: kit, recipe });
  return {
    ...planned,
    readings: dayOf(planned, truth, { mashed, steeped_g, mash_g, first_g, late_g, hops_g }, random),
  };
}

interface Weights {
  readonly mashed: boolean;
  readonly steeped_g: number;
  readonly mash_g: number;
  readonly first_g: number;
  readonly late_g: number;
  readonly hops_g: number;
}

function dayOf(batch: Batch, truth: Truth, weights: Weights, random: Random): Readings {
  const c = designBoil(buildCase(batch));
  const { outcome, detail } = runModel(c);
  const boil_C = boilingPoint_C(0);
  const kg = (grams: number) => (grams * truth.scale) / 1000;
  const litres = (volume_L: number, u_L: number = FERMENTER_MARK_u_L) => ({
    value: Math.round(10 * (volume_L + random.normal(0, u_L))) / 10,
    u: null,
    at_C: null,
    written: '',
  });
  /** As it stands in the pot at boiling point, read through steam. */
  const hot = (volume_L: number, plato_P: number) =>
    litres((volume_L * sucroseDensity_kgm3(plato_P, 20)) / sucroseDensity_kgm3(plato_P, boil_C), MARK_u_L);
  const gravity = (sg: number) => ({
    scale: 'sg' as const,
    value: Math.round(1000 * (sg + random.normal(0, HYDROMETER_u))) / 1000,
    u: null,
    sample_C: 20,
    written: '',
  });
  const degrees = (t_C: number) => given<Celsius>(t_C + random.normal(0, THERMOMETER_u_K));

  // Heating: the brewer heats until the thermometer shows what the plan asks for.
  const strike_C = outcome[weights.mashed ? T.strike_water_c : T.steep_water_c]!;
  const water_L = (weights.mashed ? c.mash!.water_L : c.waterToHeat_L) + random.normal(0, MARK_u_L);
  const off_K = random.normal(0, THERMOMETER_u_K);
  const heat_min = (water_L * 0.9982 * 4.1868 * (strike_C + off_K - truth.water_C)) / (60 * truth.kit.heat);
  const soaked = degrees((weights.mashed ? 66 : 68) + off_K);
  const grainIn_min = 600 + heat_min + random.normal(0, 1.4);

  // The kettle.
  const grain_kg = weights.mashed
    ? kg(weights.mash_g) * truth.mashYield * truth.kit.mash_efficiency
    : kg(weights.steeped_g) * truth.steepYield * truth.kit.steep_efficiency;
  const before_kg = grain_kg + kg(weights.first_g) * truth.extractYield;
  const start_L = c.boilVolume_L + random.normal(0, 0.3);
  const startWater_kg = waterFor(before_kg, start_L);
  const boil_min = 60 + random.normal(0, 1.5);
  const all_kg = before_kg + kg(weights.late_g) * truth.extractYield;
  const endWater_kg =
    startWater_kg +
    kg(weights.late_g) * (1 - truth.extractYield) -
    (truth.kit.boil_off * 0.9982 * boil_min) / 60;
  const end_L = volumeOf(all_kg, endWater_kg);
  const pause_min = detail.thermal.pauses
    .filter(({ timeIndex }) => timeIndex > 0)
    .reduce((sum, { minutes }) => sum + minutes + ASSUMED_STIR_MIN, 0);
  const boiled_min = grainIn_min + 60 + boil_min + pause_min;

  // Chill: down to what Newton's law gives for the time that it was left.
  const to_C = c.chillTo_C + random.uniform() * 6;
  const whole = Math.log((boil_C - truth.water_C) / (c.chillTo_C - truth.water_C));
  const reached = Math.log((boil_C - truth.water_C) / (to_C - truth.water_C));
  const chill_min = (truth.kit['chill.in'] * random.normal(1, 0.12) * reached) / whole;

  // The fermenter.
  const carried = (end_L - truth.kit.kettle_loss - kg(weights.hops_g) * truth.kit.hop_absorption) / end_L;
  const extract_kg = all_kg * carried;
  const filled_L = 19 + random.normal(0, 0.3);
  const topUp_kg = waterFor(extract_kg, filled_L) - endWater_kg * carried;
  const filledWater_kg = endWater_kg * carried + topUp_kg;
  const original_P = (100 * extract_kg) / (extract_kg + filledWater_kg);
  const malt_kg = all_kg - (weights.mashed ? 0 : grain_kg * (1 - 0.65) * truth.fermentability);
  const real_P = original_P * (1 - (0.8192 * truth.attenuation * malt_kg) / all_kg);
  const apparent_P = (real_P - 0.1808 * original_P) / 0.8192;
  const packaged_L = filled_L - truth.kit.fermenter_loss;
  const soak = weights.mashed
    ? { mash_in: clockOf(grainIn_min), mash_temperature: soaked }
    : { steep_in: clockOf(grainIn_min), steep_temperature: soaked };
  return {
    heating_started: '10:00',
    ...soak,
    boil_started: clockOf(grainIn_min + 60),
    boil_start_volume: hot(start_L, (100 * before_kg) / (before_kg + startWater_kg)),
    boil_start_gravity: gravity(gravityOf(before_kg, startWater_kg)),
    boil_ended: clockOf(boiled_min),
    boil_end_volume: hot(end_L, (100 * all_kg) / (all_kg + endWater_kg)),
    boil_end_gravity: gravity(gravityOf(all_kg, endWater_kg)),
    chilled: { at: clockOf(boiled_min + chill_min + random.normal(0, 1.4)), temperature_C: degrees(to_C) },
    top_up: { volume: { ...litres(topUp_kg / 0.9982), at_C: 20 }, temperature_C: null },
    original_gravity: gravity(gravityOf(extract_kg, filledWater_kg)),
    fermenter_volume: { ...litres(filled_L), at_C: 20 },
    final_gravity: gravity(gravityOfPlato(apparent_P)),
    packaged: [
      {
        on: { date: '2024-12-01', clock: null },
        into: 'bottles',
        volume: {
          ...litres(packaged_L, Math.max(FERMENTER_MARK_u_L, PACKAGED_SHARE * packaged_L)),
          at_C: 20,
        },
        temperature_C: null,
        sugar_g: null,
        bottles: null,
      },
    ],
  };
}
