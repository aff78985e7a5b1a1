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
  const boils = degrees(boil_C);
  const stand = recipe.stand?.temperature_C;
  if (stand && stand.value >= boil_C + 0.5)
    out.error('stand-too-hot', ['recipe', 'stand', 'temperature'], { written: stand.written, boils });
  for (const key of ['steep', 'mash'] as const) {
    const soak = recipe[key]?.temperature_C;
    const facts = { boils, low: degrees(60), high: degrees(75), soak: key };
    if (soak && soak.value >= boil_C)
      out.error('soak-too-hot', ['recipe', key, 'temperature'], { written: soak.written, ...facts });
  }
  const { fermenter_L } = setup;
  if (fermenter_L && recipe.intoFermenter_L.value > fermenter_L.value)
    out.error('fermenter-too-small', ['recipe', 'into_fermenter'], {
      written: recipe.intoFermenter_L.written,
      size: fermenter_L.written ?? formatVolume(fermenter_L.value, units),
      most: formatVolume(fermenter_L.value * FERMENTER_FULL, units),
    });
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
      out.error('soak-too-hot', ['recipe', key], {
        needed: degrees(water_C),
        boils: degrees(detail.boil_C),
        step: key,
      });
  }
  if (!(outcome[T.original_gravity]! > 1.0001)) out.warn('no-extract', ['recipe']);
  const fermenter = setup.fermenter_L;
  if (fermenter && recipe.intoFermenter_L.value > fermenter.value * FERMENTER_FULL)
    out.warn('fermenter-nearly-full', ['recipe', 'into_fermenter'], {
      written: recipe.intoFermenter_L.written,
      size: fermenter.written ?? volume(fermenter.value),
      most: volume(fermenter.value * FERMENTER_FULL),
    });
  recipe.extract.forEach(({ add, bitterness }, i) => {
    const boiled = add.at === 'boil' ? add.minutesLeft : add.at === 'first wort' ? c.boil_min : 0;
    const facts = { boiled, most: HOPPED_EXTRACT_BOIL_MIN };
    if (bitterness && boiled > facts.most)
      out.warn('hopped-extract-boiled', ['recipe', 'extract', i, 'add'], facts);
  });
  const usual_g = dryYeastWanted_g({
    volume_L: recipe.intoFermenter_L.value,
    plato_P: outcome[T.original_extract_plato]!,
    lager: c.yeast?.lager ?? false,
  });
  const dry = recipe.yeast.every(({ form, amount }) => form === 'dry' && amount.unit === 'g');
  const pitched_g = recipe.yeast.reduce((sum, { amount }) => sum + amount.value, 0);
  if (dry && recipe.yeast.length > 0 && pitched_g < usual_g.low / 2)
    out.warn('little-yeast', ['recipe', 'yeast', 0, 'amount'], {
      packs: recipe.yeast.map(({ amount }) => amount.written).join(' and '),
      wort: recipe.intoFermenter_L.written,
      low: mass(usual_g.low),
      high: mass(usual_g.high),
    });
  const band = recipe.yeast[0]?.temperature_C;
  const step = recipe.ferment[0];
  if (band && step && (step.temperature_C.value < band.low || step.temperature_C.value > band.high))
    out.warn('outside-yeast-band', ['recipe', 'ferment', 0, 'temperature'], {
      written: step.temperature_C.written,
      band: band.written,
      low: degrees(band.low),
      high: degrees(band.high),
    });
  const spoken_L = recipe.packaging.reduce((sum, part) => sum + (part.volume_L?.value ?? 0), 0);
  const packaged_L = outcome[T.packaged_volume_l]!;
  if (spoken_L > packaged_L + 0.05)
    out.warn('parts-exceed-batch', ['recipe', 'package'], {
      parts: volume(spoken_L),
      beer: volume(packaged_L),
    });
}
