/** What physics and prudence say about a recipe in this kitchen: errors that stop a plan, warnings that stand on it. */
import { boilingPoint_C } from '../formulas/boiling-point.ts';
import { co2Pressure_kPa_gauge } from '../formulas/co2.ts';
import { formatPressure, formatTemperature, formatVolume } from '../units/format.ts';
import type { KeyPath, Problem } from '../units/problem.ts';
import type { Batch } from './batch.ts';
import type { Brewery } from './brewery.ts';
import type { Case } from './case.ts';
import { FILL_LIMIT, FILL_WARNING } from './defaults.ts';
import { fillFor, largestBoil, topUpFor } from './design.ts';
import { heldByHops, platoOf, runKettle, volumeOf } from './kettle.ts';
import type { Detail } from './model.ts';
import { type Outcome, TARGET_INDEX as T } from './outcome.ts';
import type { Targets } from './plan.ts';

/** Extract above this share is a syrup that no stove boils and no yeast ferments: more extract than water. */
const MOST_EXTRACT_P = 50;
/** Foam needs room: a fermenter filled further than this may push it through the airlock. Common practice, no source. */
const FERMENTER_FULL = 0.9;
/** Hopped extract boiled longer loses what its label promises. Common practice, no source. */
const HOPPED_EXTRACT_BOIL_MIN = 10;

export const BATCH_CODES = {
  'boil-too-large': 'the boil leaves more wort than goes into the fermenter',
  'kettle-overflows': 'the kettle would be over its brim',
  'kettle-nearly-full': 'the kettle is over 85 % full at its fullest',
  'boils-dry': 'evaporation, trub and hops leave no wort',
  'water-parts-exceed-total': 'steep, mash and rinse water are more than the water to heat',
  'more-extract-than-water': 'more extract than water',
  'stand-too-hot': 'a stand at or above the boil',
  'soak-too-hot': 'a steep or mash at or above the boil, or one that would need such water',
  'figure-out-of-range': 'a figure left the range in which its formula holds',
  'fermenter-too-small': 'more wort than the fermenter holds',
  'fermenter-nearly-full': 'a fermenter without head space',
  'bottle-too-weak': 'the carbonation may pass what the bottles are made for',
  'gas-already-there': 'the beer keeps more gas than the carbonation asked for',
  'hopped-extract-boiled': 'hopped extract boiled for more than 10 minutes',
  'outside-yeast-band': 'a fermentation step outside the band of the yeast',
  'parts-exceed-batch': 'kegs and bottles together want more beer than there is',
  'no-extract': 'nothing in the recipe gives extract',
} as const;
export type BatchCode = keyof typeof BATCH_CODES;

const problem = (
  severity: Problem['severity'],
  code: BatchCode,
  path: KeyPath,
  found: string,
  expected: string,
  mend: string,
): Problem => ({ severity, code, path, found, expected, mend });

/** Errors that can be seen before anything is computed. */
export function checkRecipe(batch: Batch, brewery: Brewery, c: Case): Problem[] {
  const { recipe } = batch;
  const boil_C = boilingPoint_C(c.altitude_m);
  const degrees = (t_C: number) => formatTemperature(t_C, brewery.units, { decimals: 0 });
  const out: Problem[] = [];
  if (recipe.stand && recipe.stand.temperature_C.value >= boil_C + 0.5) {
    out.push(
      problem(
        'error',
        'stand-too-hot',
        ['recipe', 'stand', 'temperature'],
        `"${recipe.stand.temperature_C.written}", while water boils at ${degrees(boil_C)} here`,
        `a temperature below ${degrees(boil_C)}`,
        'lower the temperature of the stand',
      ),
    );
  }
  for (const key of ['steep', 'mash'] as const) {
    const soak = recipe[key];
    if (soak && soak.temperature_C.value >= boil_C) {
      out.push(
        problem(
          'error',
          'soak-too-hot',
          ['recipe', key, 'temperature'],
          `"${soak.temperature_C.written}", while water boils at ${degrees(boil_C)} here`,
          `a temperature below ${degrees(boil_C)}; most soaks are between ${degrees(60)} and ${degrees(75)}`,
          `lower the temperature of the ${key}`,
        ),
      );
    }
  }
  const { fermenter_L } = batch.setup;
  if (fermenter_L && recipe.intoFermenter_L.value > fermenter_L.value) {
    out.push(
      problem(
        'error',
        'fermenter-too-small',
        ['recipe', 'into_fermenter'],
        `"${recipe.intoFermenter_L.written}" into a fermenter of ${fermenter_L.written ?? formatVolume(fermenter_L.value, brewery.units)}`,
        `at most ${formatVolume(fermenter_L.value * FERMENTER_FULL, brewery.units)}, which leaves head space`,
        'make a smaller batch or use a larger fermenter',
      ),
    );
  }
  return out;
}

/** Errors of a case whose boil has been designed; run before the model, which needs a kettle that holds wort. */
export function checkDesign(batch: Batch, brewery: Brewery, c: Case): Problem[] {
  const out: Problem[] = [];
  const volume = (litres: number) => formatVolume(Math.max(0, litres), brewery.units);
  const boilKey: KeyPath = ['recipe', batch.recipe.boilVolume_L ? 'boil_volume' : 'into_fermenter'];
  const soaks_L =
    (c.mash ? c.mash.water_L : 0) +
    (c.mash || c.steep ? c.rinse_L : 0) +
    (c.steep && !Number.isNaN(c.steep.water_L) ? c.steep.water_L : 0);
  if (!(c.waterToHeat_L > 0)) {
    out.push(
      problem(
        'error',
        'more-extract-than-water',
        boilKey,
        'the extract alone fills the boil volume: there is no water left to heat',
        'water to dissolve the extract in',
        'raise boil_volume, or move extract to a later addition',
      ),
    );
    return out;
  }
  if (soaks_L > c.waterToHeat_L + 0.005) {
    out.push(
      problem(
        'error',
        'water-parts-exceed-total',
        ['recipe', c.mash ? 'mash' : 'steep'],
        `${volume(soaks_L)} for soaking and rinsing, of ${volume(c.waterToHeat_L)} to heat in all`,
        `parts that add up to at most ${volume(c.waterToHeat_L)}`,
        'use less water for the soak or the rinse, or a larger boil_volume',
      ),
    );
  }
  const kettle = runKettle(c);
  const lost_L = c.kettleLoss_L + heldByHops(c);
  const { chilled } = kettle;
  if (!(chilled.water_kg > 0) || !(volumeOf(chilled) > lost_L)) {
    out.push(
      problem(
        'error',
        'boils-dry',
        ['recipe', 'boil'],
        `evaporation (${volume((c.boilOff_L_per_h * c.boil_min) / 60)}), trub and hops (${volume(lost_L)}) take all of the ${volume(c.boilVolume_L)} boil`,
        'wort left to ferment',
        'boil a larger volume, or for a shorter time',
      ),
    );
    return out;
  }
  const strongest_P = Math.max(platoOf(kettle.start), platoOf(kettle.end), platoOf(chilled));
  if (strongest_P > MOST_EXTRACT_P) {
    out.push(
      problem(
        'error',
        'more-extract-than-water',
        boilKey,
        `a wort of ${Math.round(strongest_P)} °P in the kettle`,
        `at most ${MOST_EXTRACT_P} °P, half extract and half water`,
        'check the weights, raise boil_volume, or move sugar to the fermenter',
      ),
    );
    return out;
  }
  const topUp_L = topUpFor(c, c.boilVolume_L);
  if (topUp_L < -0.005) {
    const largest_L = largestBoil(c, FILL_LIMIT);
    out.push(
      problem(
        'error',
        'boil-too-large',
        boilKey,
        `a boil of ${volume(c.boilVolume_L)} leaves ${volume(-topUp_L)} more than the ${batch.recipe.intoFermenter_L.written} that go into the fermenter`,
        `a boil of at most ${volume(Math.floor(largest_L * 10) / 10)}`,
        `lower boil_volume to ${volume(Math.floor(largest_L * 10) / 10)}, or leave it out, or boil for longer`,
      ),
    );
  }
  const fill = fillFor(c, c.boilVolume_L);
  const largest_L = fill > FILL_WARNING ? Math.floor(largestBoil(c, FILL_WARNING) * 10) / 10 : c.boilVolume_L;
  const pot = batch.setup.kettle_L.written ?? volume(c.kettle_L);
  const percent = `${Math.round(fill * 100)} %`;
  if (fill > FILL_LIMIT) {
    out.push(
      problem(
        'error',
        'kettle-overflows',
        boilKey,
        `a kettle of ${pot} that is ${percent} full at its fullest`,
        `at most ${volume(largest_L)} of boil, which fills it to 85 %`,
        'lower boil_volume, split the work over two boils, or make a smaller batch',
      ),
    );
  } else if (fill > FILL_WARNING + 1e-6) {
    out.push(
      problem(
        'warning',
        'kettle-nearly-full',
        boilKey,
        `the kettle of ${pot} is ${percent} full at its fullest, hot`,
        `at most 85 %: ${volume(largest_L)} of boil`,
        'watch it closely, or lower boil_volume',
      ),
    );
  }
  return out;
}

/** Errors and warnings that one run of the model shows. */
export function checkOutcome(
  batch: Batch,
  brewery: Brewery,
  c: Case,
  outcome: Outcome,
  detail: Detail,
): Problem[] {
  const out: Problem[] = [];
  const { recipe, setup } = batch;
  const volume = (litres: number) => formatVolume(Math.max(0, litres), brewery.units);
  const degrees = (t_C: number) => formatTemperature(t_C, brewery.units, { decimals: 0 });
  for (const [key, target] of [
    ['steep', 'steep_water_c'],
    ['mash', 'strike_water_c'],
  ] as const) {
    const water_C = outcome[T[target]]!;
    if (water_C > detail.boil_C) {
      out.push(
        problem(
          'error',
          'soak-too-hot',
          ['recipe', key],
          `so little water for the grain that it would have to be at ${degrees(water_C)}`,
          `water below its boiling point of ${degrees(detail.boil_C)}`,
          `use more water, or a lower temperature for the ${key}`,
        ),
      );
    }
  }
  if (!(outcome[T.original_gravity]! > 1.0001)) {
    out.push(
      problem(
        'warning',
        'no-extract',
        ['recipe'],
        'no grain, extract or sugar that gives extract',
        'something for the yeast to ferment',
        'add extract, grain or sugar with their weights',
      ),
    );
  }
  const fermenter = setup.fermenter_L;
  if (fermenter && recipe.intoFermenter_L.value > fermenter.value * FERMENTER_FULL) {
    out.push(
      problem(
        'warning',
        'fermenter-nearly-full',
        ['recipe', 'into_fermenter'],
        `${recipe.intoFermenter_L.written} in a fermenter of ${fermenter.written ?? volume(fermenter.value)}`,
        `at most ${volume(fermenter.value * FERMENTER_FULL)}, so that the foam has room`,
        'leave head space, or lead the foam away through a wide tube',
      ),
    );
  }
  recipe.extract.forEach((item, i) => {
    const boiled =
      item.add.at === 'boil' ? item.add.minutesLeft : item.add.at === 'first wort' ? c.boil_min : 0;
    if (item.bitterness && boiled > HOPPED_EXTRACT_BOIL_MIN) {
      out.push(
        problem(
          'warning',
          'hopped-extract-boiled',
          ['recipe', 'extract', i, 'add'],
          `hopped extract boiled for ${boiled} min`,
          `at most ${HOPPED_EXTRACT_BOIL_MIN} min: a longer boil changes the bitterness that its label promises`,
          'add it at flame-out or in the last minutes',
        ),
      );
    }
  });
  const band = recipe.yeast[0]?.temperature_C;
  const step = recipe.ferment[0];
  if (band && step && (step.temperature_C.value < band.low || step.temperature_C.value > band.high)) {
    out.push(
      problem(
        'warning',
        'outside-yeast-band',
        ['recipe', 'ferment', 0, 'temperature'],
        `${step.temperature_C.written} with a yeast for ${band.written}`,
        `a first step from ${degrees(band.low)} to ${degrees(band.high)}`,
        'move the step into the band, or choose another yeast',
      ),
    );
  }
  const spoken_L = recipe.packaging.reduce((sum, part) => sum + (part.volume_L?.value ?? 0), 0);
  if (spoken_L > outcome[T.packaged_volume_l]! + 0.05) {
    out.push(
      problem(
        'warning',
        'parts-exceed-batch',
        ['recipe', 'package'],
        `${volume(spoken_L)} for kegs and bottles`,
        `about ${volume(outcome[T.packaged_volume_l]!)}, which is what will be there`,
        'lower the volume of one of them, or leave it out',
      ),
    );
  }
  return out;
}

/** Bottles against the unsafe end of the planned pressure: no head space, 30 °C. */
export function checkBottles(
  batch: Batch,
  brewery: Brewery,
  outcome: Outcome,
  targets: Targets,
  ambient_kPa: number,
): Problem[] {
  const out: Problem[] = [];
  const several = batch.recipe.packaging.length > 1;
  batch.recipe.packaging.forEach((part, i) => {
    const path: KeyPath = several ? ['recipe', 'package', i] : ['recipe', 'package'];
    if (part.carbonation_vol.value < outcome[T.residual_co2_vol]! && part.sugar) {
      out.push(
        problem(
          'warning',
          'gas-already-there',
          [...path, 'carbonation'],
          `${part.carbonation_vol.written}, less than the ${outcome[T.residual_co2_vol]!.toFixed(1)} vol that stay from fermentation`,
          `more than ${outcome[T.residual_co2_vol]!.toFixed(1)} vol`,
          'no sugar is needed; ask for more carbonation if it should be livelier',
        ),
      );
    }
    const pressure = targets.bottle_pressure_30c_kpa;
    if (part.into !== 'bottles' || !pressure) return;
    const limit_kPa =
      part.limit.unit === 'kPa'
        ? part.limit.value
        : co2Pressure_kPa_gauge({ volumes: Math.min(10, part.limit.value), t_C: 30, ambient_kPa });
    if (pressure.high > limit_kPa) {
      out.push(
        problem(
          'warning',
          'bottle-too-weak',
          [...path, 'carbonation'],
          `up to ${formatPressure(pressure.high, brewery.units)} at ${degreesOf(30, brewery)} with ${part.carbonation_vol.written}`,
          `at most ${formatPressure(limit_kPa, brewery.units)}, what bottles for ${part.limit.written} stand${part.limit.assumed ? ' (assumed)' : ''}`,
          'ask for less carbonation, or use bottles made for more pressure',
        ),
      );
    }
  });
  return out;
}

const degreesOf = (t_C: number, brewery: Brewery) => formatTemperature(t_C, brewery.units, { decimals: 0 });
