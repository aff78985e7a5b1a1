import { lovibondFromEbcMalt, srmFromEbc } from '../../formulas/colour.ts';
import { PITCHING_RATES } from '../../formulas/yeast.ts';
import type { Batch } from '../types/batch.ts';
import type { ExtractItem, GrainItem, Recipe, RecipeMoment, YeastItem } from '../types/recipe.ts';
import type { SetupFigure } from '../types/setup.ts';
import {
  ASSUMED_DRY_CELLS_BILLION_PER_G,
  ASSUMED_DRY_PACK_G,
  ASSUMED_FERMENTING_DAYS,
  ASSUMED_LIQUID_PACK_BILLION,
  ASSUMED_SLURRY_BILLION_PER_ML,
  INPUT_DEFAULTS,
  NO_TRUB_LOSS,
} from './defaults.ts';
import type { Draft, ExtractPart, HopPart, PackagePart } from './model-input.ts';

/** Two moments are the same if closer than this, minutes. */
const SAME_MIN = 1e-9;

/** Turns a batch into the numbers that the model runs on; `designBoil` decides how much is boiled. */
export function buildCase(batch: Batch): Draft {
  const { recipe, setup } = batch;
  const boil_min = recipe.boil_min.value;
  const times_min = boilTimes(recipe);
  const indexOf = (minutesLeft: number) => times_min.findIndex((t) => Math.abs(t - minutesLeft) < SAME_MIN);
  const parts = extractParts(recipe, indexOf);
  const first = recipe.yeast[0] ?? null;
  return {
    intoFermenter_L: recipe.intoFermenter_L.value,
    boil_min,
    statedBoil_L: recipe.boilVolume_L?.value ?? null,
    times_min,
    parts,
    hops: hopParts(recipe, indexOf),
    packages: packageParts(recipe),
    steep: recipe.steep
      ? {
          target_C: recipe.steep.temperature_C.value,
          water_L: recipe.steep.water_L?.value ?? null,
          time_min: recipe.steep.time_min.value,
        }
      : null,
    // A mash without grain for it is no mash.
    mash:
      recipe.mash && grainWeight(parts, 'mash') > 0
        ? {
            target_C: recipe.mash.temperature_C.value,
            water_L: recipe.mash.ratio_L_per_kg.value * grainWeight(parts, 'mash'),
            time_min: recipe.mash.time_min.value,
          }
        : null,
    rinse_L: recipe.rinse_L?.value ?? 0,
    steepGrain_kg: grainWeight(parts, 'steep'),
    mashGrain_kg: grainWeight(parts, 'mash'),
    standMinutes: recipe.stand?.time_min.value ?? 0,
    stand_C: recipe.stand?.temperature_C.value ?? 20,
    pitch_C: pitchingTemperature(recipe),
    chillWith: setup.chill.with,
    kettle_L: setup.kettle_L.value,
    kettleMark_L: 0,
    fermenterMark_L: 0,
    scale: 1,
    boilOff_L_per_h: setup.boilOff_L_per_h.value,
    kettleLoss_L: kettleLoss(batch).value,
    hopAbsorption_L_per_kg: setup.hopAbsorption_L_per_kg.value,
    grainAbsorption_L_per_kg: setup.grainAbsorption_L_per_kg.value,
    heat_kW: setup.heat_kW.value,
    fermenterLoss_L: setup.fermenterLoss_L.value,
    steepEfficiency: setup.steepEfficiency.value,
    mashEfficiency: setup.mashEfficiency.value,
    chillTo_C: setup.chill.to_C.value,
    chillIn_min: setup.chill.in_min.value,
    water_C: setup.waterTemperature_C.value,
    topUp_C: setup.topUpTemperature_C.value,
    room_C: setup.roomTemperature_C.value,
    altitude_m: setup.altitude_m.value,
    thermometer_K: 0,
    maltHeat_kJ_per_kgK: INPUT_DEFAULTS.maltHeat.value,
    bathEffectiveness: INPUT_DEFAULTS.bathEffectiveness.value,
    bathApproach_K: INPUT_DEFAULTS.bathApproach.value,
    tinseth: 1,
    morey: 1,
    attenuation: Math.max(0, ...recipe.yeast.map((yeast) => yeast.attenuation.value)),
    fermentability: 1,
    warmest_C: warmestAfterFermentation(recipe),
    co2Yield: INPUT_DEFAULTS.co2Yield.value,
    beerSolubility: 1,
    kegSolubility: INPUT_DEFAULTS.kegSolubility.value,
    pitchingRate: 1,
    yeast: first && {
      rate_million_per_mL_P: Math.max(...recipe.yeast.map(({ kind }) => PITCHING_RATES[kind])),
      packCells_billion: packCells(first),
      dryPack_g: first.form === 'dry' ? dryPack_g(first) : null,
      lager: recipe.yeast.some(({ kind }) => kind === 'lager'),
    },
    finalRead_SG: null,
    packagedRead_L: null,
  };
}

/** What stays in the kettle: the setup's own figure; where none is stated and nothing makes trub, next to nothing. */
export function kettleLoss({ recipe, setup }: Batch): SetupFigure {
  const clear =
    recipe.boil_min.value <= 0 &&
    recipe.grain.length === 0 &&
    !recipe.hops.some(({ add }) => !['dry', 'fermenter', 'packaging'].includes(add.at));
  return setup.kettleLoss_L.assumed && clear
    ? { ...setup.kettleLoss_L, ...NO_TRUB_LOSS }
    : setup.kettleLoss_L;
}

/** Every whole minute of the countdown and every addition's, falling to 0. */
function boilTimes(recipe: Recipe): readonly number[] {
  const boil_min = recipe.boil_min.value;
  const times = new Set<number>([boil_min]);
  for (let t = Math.ceil(boil_min) - 1; t >= 0; t--) times.add(t);
  for (const { add } of [...recipe.extract, ...recipe.sugar, ...recipe.hops, ...recipe.other]) {
    if (add.at === 'boil') times.add(Math.min(add.minutesLeft, boil_min));
  }
  return [...times].sort((a, b) => b - a);
}

function extractStage(add: RecipeMoment, boil_min: number): ExtractPart['stage'] {
  switch (add.at) {
    case 'boil':
      if (add.minutesLeft >= boil_min - SAME_MIN) return 'before';
      return add.minutesLeft > SAME_MIN ? 'boil' : 'flameout';
    case 'first wort':
    case 'steep':
      return 'before';
    case 'flameout':
    case 'stand':
      return add.at;
    case 'dry':
    case 'fermenter':
    case 'packaging':
      return 'fermenter';
  }
}

function extractParts(recipe: Recipe, indexOf: (minutesLeft: number) => number): ExtractPart[] {
  const boil_min = recipe.boil_min.value;
  const grain = recipe.grain.map(
    (item: GrainItem, i): ExtractPart => ({
      ...common(item, i),
      efficiency: item.in,
      stage: 'before',
      timeIndex: -1,
      heatsWithWater: true,
      labelBitterness_IBU_L: 0,
    }),
  );
  const dissolved = (list: readonly ExtractItem[]) =>
    list.map((item, i): ExtractPart => {
      const stage = extractStage(item.add, boil_min);
      const label = item.bitterness;
      const tins = label?.labelWeight_g ? item.weight_g.value / label.labelWeight_g : 1;
      return {
        ...common(item, i),
        efficiency: 'whole',
        stage,
        timeIndex: stage === 'boil' && item.add.at === 'boil' ? indexOf(item.add.minutesLeft) : -1,
        heatsWithWater: item.add.at === 'first wort',
        labelBitterness_IBU_L: label ? label.ibu * label.in_L * tins : 0,
      };
    });
  return [...grain, ...dissolved(recipe.extract), ...dissolved(recipe.sugar)];
}

function common(item: GrainItem | ExtractItem, index: number) {
  return {
    index,
    name: item.name,
    kind: item.kind,
    weight_kg: item.weight_g.value / 1000,
    yield: item.yield.value as number,
    // Malt colours are laboratory wort colours; a sugar's or a syrup's is that of the liquid itself.
    colour_L:
      item.kind === 'sugar' ? srmFromEbc(item.colour_EBC.value) : lovibondFromEbcMalt(item.colour_EBC.value),
    fermentability: item.fermentability.value as number,
    as: item.fermentableAs,
  };
}

function hopParts(recipe: Recipe, indexOf: (minutesLeft: number) => number): HopPart[] {
  const boil_min = recipe.boil_min.value;
  return recipe.hops.map((hop, i): HopPart => {
    const base = {
      index: i,
      name: hop.name,
      weight_kg: hop.weight_g.value / 1000,
      alpha: hop.alpha.value as number,
    };
    switch (hop.add.at) {
      case 'boil':
        // With nothing of the boil left it is a flame-out addition.
        if (hop.add.minutesLeft <= SAME_MIN) {
          return { ...base, stage: 'flameout', timeIndex: -1, boil_min: 0 };
        }
        return {
          ...base,
          stage: 'boil',
          timeIndex: indexOf(hop.add.minutesLeft),
          boil_min: hop.add.minutesLeft,
        };
      case 'first wort':
        return { ...base, stage: 'boil', timeIndex: 0, boil_min };
      case 'flameout':
      case 'stand':
      case 'steep':
        return { ...base, stage: hop.add.at, timeIndex: -1, boil_min: 0 };
      default:
        return { ...base, stage: 'dry', timeIndex: -1, boil_min: 0 };
    }
  });
}

function packageParts(recipe: Recipe): PackagePart[] {
  return recipe.packaging.map((step) => ({
    into: step.into,
    carbonation_vol: step.carbonation_vol.value,
    volume_L: step.volume_L?.value ?? null,
    bottle_L: step.bottle_L?.value ?? null,
    co2_g_per_g: step.sugar?.co2_g_per_g ?? 0,
    serving_C: step.temperature_C?.value ?? 5,
    sugar_g: null,
  }));
}

const grainWeight = (parts: readonly ExtractPart[], where: 'steep' | 'mash') =>
  parts.reduce((sum, part) => sum + (part.efficiency === where ? part.weight_kg : 0), 0);

/** The first fermentation step's, else the middle of the yeast's band, else by the kind of yeast (common practice). */
export function pitchingTemperature(recipe: Recipe): number {
  const step = recipe.ferment[0];
  if (step) return step.temperature_C.value;
  const yeast = recipe.yeast[0];
  if (yeast?.temperature_C) return (yeast.temperature_C.low + yeast.temperature_C.high) / 2;
  return yeast?.kind === 'lager' ? 12 : 20;
}

/** Planned: the warmest step that reaches past the days in which the bulk of the beer ferments. */
export function warmestAfterFermentation(recipe: Recipe): number {
  const first = recipe.ferment[0];
  if (!first) return pitchingTemperature(recipe);
  const cold = first.temperature_C.value < ASSUMED_FERMENTING_DAYS.coldBelow_C;
  const over_min = 1440 * (cold ? ASSUMED_FERMENTING_DAYS.cold : ASSUMED_FERMENTING_DAYS.warm);
  let elapsed_min = 0;
  let warmest = Number.NEGATIVE_INFINITY;
  for (const step of recipe.ferment) {
    elapsed_min += step.time_min.value;
    if (elapsed_min >= over_min) warmest = Math.max(warmest, step.temperature_C.value);
  }
  return Number.isFinite(warmest) ? warmest : recipe.ferment.at(-1)!.temperature_C.value;
}

/** Slurry that is counted by the jar, where no volume is given. Common practice, no source. */
const ASSUMED_SLURRY_L = 0.1;

/** Living cells in one pack, billions: per pack as stated, else what a pack holds × cells per gram or millilitre. */
export function packCells(yeast: YeastItem): number {
  const { cells, pack } = yeast;
  if (cells?.per === 'pack') return cells.billion;
  if (cells?.per === 'g' && pack?.unit === 'g') return pack.value * cells.billion;
  if (cells?.per === 'ml' && pack?.unit === 'L') return 1000 * pack.value * cells.billion;
  if (yeast.form === 'dry') {
    return dryPack_g(yeast) * (cells?.per === 'g' ? cells.billion : ASSUMED_DRY_CELLS_BILLION_PER_G);
  }
  if (yeast.form === 'slurry') {
    const perMl = cells?.per === 'ml' ? cells.billion : ASSUMED_SLURRY_BILLION_PER_ML;
    return 1000 * perMl * (yeast.amount.unit === 'L' ? yeast.amount.value : ASSUMED_SLURRY_L);
  }
  return ASSUMED_LIQUID_PACK_BILLION;
}

/** As stated; else a dry amount up to one usual sachet and a bit is taken to be one pack. */
export function dryPack_g({ pack, amount }: YeastItem): number {
  if (pack?.unit === 'g') return pack.value;
  return amount.unit === 'g' && amount.value <= ASSUMED_DRY_PACK_G * 1.1 ? amount.value : ASSUMED_DRY_PACK_G;
}
