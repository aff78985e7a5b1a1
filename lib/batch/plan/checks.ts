/** What physics and prudence say about a recipe in this kitchen: errors that stop a plan, warnings that stand on it. */
import { boilingPoint_C } from '../../formulas/boiling-point.ts';
import { dryYeastWanted_g } from '../../formulas/yeast.ts';
import { formatMass, formatTemperature, formatVolume } from '../../units/format/format.ts';
import { FERMENTER_FULL } from '../model/defaults.ts';
import type { Detail } from '../model/model.ts';
import type { Case, Draft } from '../model/model-input.ts';
import { type Outcome, TARGET_INDEX as T } from '../model/target-vector.ts';
import type { Batch } from '../types/batch.ts';
import type { Brewery } from '../types/brewery.ts';
import type { BatchFindings } from '../types/problem.ts';

/** Hopped extract boiled longer loses what its label promises. Common practice, no source. */
const HOPPED_EXTRACT_BOIL_MIN = 10;

/** Errors that can be seen before anything is computed. */
export function checkRecipe(
  { recipe, setup }: Batch,
  { units }: Brewery,
  c: Draft,
  out: BatchFindings,
): void {
  const boil_C = boilingPoint_C(c.altitude_m);
  const degrees = (t_C: number) => formatTemperature(t_C, units);
  const boils = `while water boils at ${degrees(boil_C)} here`;
  const below = `a temperature below ${degrees(boil_C)}`;
  if (recipe.stand && recipe.stand.temperature_C.value >= boil_C + 0.5)
    out.error(
      'stand-too-hot',
      ['recipe', 'stand', 'temperature'],
      `"${recipe.stand.temperature_C.written}", ${boils}`,
      below,
      'lower the temperature of the stand',
    );
  for (const key of ['steep', 'mash'] as const) {
    const soak = recipe[key];
    if (soak && soak.temperature_C.value >= boil_C)
      out.error(
        'soak-too-hot',
        ['recipe', key, 'temperature'],
        `"${soak.temperature_C.written}", ${boils}`,
        `${below}; most soaks are between ${degrees(60)} and ${degrees(75)}`,
        `lower the temperature of the ${key}`,
      );
  }
  const { fermenter_L } = setup;
  if (fermenter_L && recipe.intoFermenter_L.value > fermenter_L.value)
    out.error(
      'fermenter-too-small',
      ['recipe', 'into_fermenter'],
      `"${recipe.intoFermenter_L.written}" into a fermenter of ${fermenter_L.written ?? formatVolume(fermenter_L.value, units)}`,
      `at most ${formatVolume(fermenter_L.value * FERMENTER_FULL, units)}, which leaves head space`,
      'make a smaller batch or use a larger fermenter',
    );
}

/** Errors and warnings that one run of the model shows. */
export function checkOutcome(
  { recipe, setup }: Batch,
  { units }: Brewery,
  c: Case,
  outcome: Outcome,
  detail: Detail,
  out: BatchFindings,
): void {
  const volume = (litres: number) => formatVolume(Math.max(0, litres), units);
  const degrees = (t_C: number) => formatTemperature(t_C, units);
  const mass = (grams: number) => formatMass(grams, units);
  for (const key of ['steep', 'mash'] as const) {
    const water_C = outcome[T[key === 'steep' ? 'steep_water_c' : 'strike_water_c']]!;
    if (water_C > detail.boil_C)
      out.error(
        'soak-too-hot',
        ['recipe', key],
        `so little water for the grain that it would have to be at ${degrees(water_C)}`,
        `water below its boiling point of ${degrees(detail.boil_C)}`,
        `use more water, or a lower temperature for the ${key}`,
      );
  }
  if (!(outcome[T.original_gravity]! > 1.0001))
    out.warn(
      'no-extract',
      ['recipe'],
      'no grain, extract or sugar that gives extract',
      'something for the yeast to ferment',
      'add extract, grain or sugar with their weights',
    );
  const fermenter = setup.fermenter_L;
  if (fermenter && recipe.intoFermenter_L.value > fermenter.value * FERMENTER_FULL)
    out.warn(
      'fermenter-nearly-full',
      ['recipe', 'into_fermenter'],
      `${recipe.intoFermenter_L.written} in a fermenter of ${fermenter.written ?? volume(fermenter.value)}`,
      `at most ${volume(fermenter.value * FERMENTER_FULL)}, so that the foam has room`,
      'leave head space, or lead the foam away through a wide tube',
    );
  recipe.extract.forEach(({ add, bitterness }, i) => {
    const boiled = add.at === 'boil' ? add.minutesLeft : add.at === 'first wort' ? c.boil_min : 0;
    if (bitterness && boiled > HOPPED_EXTRACT_BOIL_MIN)
      out.warn(
        'hopped-extract-boiled',
        ['recipe', 'extract', i, 'add'],
        `hopped extract boiled for ${boiled} min`,
        `at most ${HOPPED_EXTRACT_BOIL_MIN} min: a longer boil changes the bitterness that its label promises`,
        'add it at flame-out or in the last minutes',
      );
  });
  const usual_g = dryYeastWanted_g({
    volume_L: recipe.intoFermenter_L.value,
    plato_P: outcome[T.original_extract_plato]!,
    lager: c.yeast?.lager ?? false,
  });
  const dry = recipe.yeast.every(({ form, amount }) => form === 'dry' && amount.unit === 'g');
  const pitched_g = recipe.yeast.reduce((sum, { amount }) => sum + amount.value, 0);
  if (dry && recipe.yeast.length > 0 && pitched_g < usual_g.low / 2)
    out.warn(
      'little-yeast',
      ['recipe', 'yeast', 0, 'amount'],
      `${recipe.yeast.map(({ amount }) => amount.written).join(' and ')} for ${recipe.intoFermenter_L.written}`,
      `about ${mass(usual_g.low)} to ${mass(usual_g.high)}, the usual dose of dry yeast`,
      'add a pack, or expect a slow start',
    );
  const band = recipe.yeast[0]?.temperature_C;
  const step = recipe.ferment[0];
  if (band && step && (step.temperature_C.value < band.low || step.temperature_C.value > band.high))
    out.warn(
      'outside-yeast-band',
      ['recipe', 'ferment', 0, 'temperature'],
      `${step.temperature_C.written} with a yeast for ${band.written}`,
      `a first step from ${degrees(band.low)} to ${degrees(band.high)}`,
      'move the step into the band, or choose another yeast',
    );
  const spoken_L = recipe.packaging.reduce((sum, part) => sum + (part.volume_L?.value ?? 0), 0);
  const packaged_L = outcome[T.packaged_volume_l]!;
  if (spoken_L > packaged_L + 0.05)
    out.warn(
      'parts-exceed-batch',
      ['recipe', 'package'],
      `${volume(spoken_L)} for kegs and bottles`,
      `about ${volume(packaged_L)}, which is what will be there`,
      'lower the volume of one of them, or leave it out',
    );
}
