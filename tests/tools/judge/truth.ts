/** A brew as it really goes: a mass balance of its own, apart from the plan's, with spreads that are fixed here. */

import type { Batch } from '../../../lib/batch/types/batch.ts';
import type { Plan } from '../../../lib/batch/types/plan.ts';
import type { Readings } from '../../../lib/batch/types/readings.ts';
import type { ExtractItem, FermentableItem } from '../../../lib/batch/types/recipe.ts';
import { clockAfter } from '../../../lib/batch/types/time.ts';
import { given } from '../../batch/sample.ts';
import { litres, sg } from '../../batch/sample-readings.ts';
import {
  HOT_RATIO,
  mixed_C,
  type Random,
  REAL_SHARE,
  sgOf,
  sgOfPlato,
  shownBy,
  volumeOf,
  WATER_KG_PER_L,
  waterFor,
} from './physics.ts';

/** Standard deviations of the truth and of what is read of it; never taken from the plan's own. Common practice, no source. */
export const SPREAD = {
  hydrometerOffset_SG: 0.0009,
  hydrometerRepeat_SG: 0.0005,
  sample_C: 0.7,
  kettleMark_L: 0.25,
  fermenterMark_L: 0.3,
  scale: 0.01,
  extractYield: 0.01,
  steepEfficiency: 0.12,
  boilOff_L_per_h: 0.3,
  kettleLoss_L: 0.25,
  hopAbsorption_L_per_kg: 1.5,
  attenuation: 0.02,
  fermentability: 0.025,
  sugar_g: 1,
  packagedVolume: 0.02,
  gasYield: 0.023,
  temperature_K: 1,
  topUp_K: 1.5,
  clock_min: 1,
  // What the list above says nothing of.
  mashEfficiency: 0.05,
  grainAbsorption_L_per_kg: 0.1,
  pause: 0.2,
} as const;

/** Half of a mark of 0.5 L is what an eye tells. Common practice, no source. */
const HALF_MARK_L = 0.25;
/** Wort that stays in a pot without trub. Common practice, no source. */
const FILM_L = 0.05;
/** Gas of the sugar that yeast leaves to the bottle. Common practice, no source. */
const GAS_YIELD = 0.96;

export interface Known {
  readonly batch: Batch;
  readonly plan: Plan;
}

/** A brew day with its readings, and what is true of the wort. */
export interface Brew extends Known {
  readonly readings: Readings;
  readonly original_SG: number;
  readonly original_P: number;
  readonly final_P: number;
  /** Where this yeast ends in this wort. */
  readonly final_SG: number;
  readonly boils: boolean;
  readonly boilStart_L: number;
  readonly boilEnd_L: number;
  readonly filled_L: number;
  /** In the fermenter when it is packaged, L. */
  readonly left_L: number;
  readonly scale: number;
  readonly gasYield: number;
  /** What this brewer reads of a gravity at a temperature. */
  readonly hydrometer: (of_SG: number, sample_C: number) => ReturnType<typeof sg>;
}

const toHalfMark = (volume_L: number): number => HALF_MARK_L * Math.round(volume_L / HALF_MARK_L);
const degrees = (t_C: number) => given<never>(Math.round(t_C), `${Math.round(t_C)} °C`);

/** Stages in the order of the day: before the countdown, minutes left of the boil, flame-out and the stand. */
function isBefore(item: FermentableItem | ExtractItem, boil_min: number): boolean {
  if (!('add' in item)) return true;
  const { add } = item;
  return add.at === 'steep' || add.at === 'first wort' || (add.at === 'boil' && add.minutesLeft >= boil_min);
}

/** What a careful brewer does and reads on the day. */
export function brewDay({ batch, plan }: Known, random: Random): Brew {
  const { recipe, setup } = batch;
  const { targets } = plan;
  const off = (u: number) => random.normal(0, u);
  const atLeast = (least: number, value: number) => Math.max(least, value);
  const scale = 1 + off(SPREAD.scale);
  const tins = new Map<string, number>();
  const tin = (name: string) => {
    const known = tins.get(name) ?? 1 + off(SPREAD.extractYield);
    tins.set(name, known);
    return known;
  };
  const steep = atLeast(0.05, setup.steepEfficiency.value + off(SPREAD.steepEfficiency));
  const mash = atLeast(0.3, setup.mashEfficiency.value + off(SPREAD.mashEfficiency));
  const attenuation =
    recipe.yeast[0]!.attenuation.value + off(SPREAD.attenuation) + off(SPREAD.fermentability);

  const parts = [...recipe.grain, ...recipe.extract, ...recipe.sugar].map((item) => {
    const weight_kg = (item.weight_g.value * scale) / 1000;
    const grain = 'in' in item ? (item.in === 'mash' ? mash : steep) : null;
    const share = item.yield.value * (grain ?? tin(item.name));
    return {
      before: isBefore(item, recipe.boil_min.value),
      extract_kg: weight_kg * share,
      water_kg: grain === null ? weight_kg * (1 - share) : 0,
      ferments:
        item.fermentableAs === 'sugar'
          ? 1
          : item.fermentableAs === 'none'
            ? 0
            : Math.min(1, REAL_SHARE * attenuation * item.fermentability.value),
    };
  });
  const sum = (of: (part: (typeof parts)[number]) => number, some = parts) =>
    some.reduce((all, part) => all + of(part), 0);
  const first = parts.filter(({ before }) => before);

  // The kettle: filled to a mark, read at another.
  const grain_kg = (recipe.grain.reduce((all, { weight_g }) => all + weight_g.value, 0) * scale) / 1000;
  const held_L =
    grain_kg * atLeast(0.3, setup.grainAbsorption_L_per_kg.value + off(SPREAD.grainAbsorption_L_per_kg));
  const heated_L = targets.water_to_heat_l!.value + off(SPREAD.kettleMark_L);
  const start = {
    extract_kg: sum(({ extract_kg }) => extract_kg, first),
    water_kg: (heated_L - held_L) * WATER_KG_PER_L + sum(({ water_kg }) => water_kg, first),
  };
  const boils = recipe.boil_min.value > 0;
  const boil_min = boils ? recipe.boil_min.value + off(SPREAD.clock_min) : 0;
  const gone_L = (atLeast(0.2, setup.boilOff_L_per_h.value + off(SPREAD.boilOff_L_per_h)) * boil_min) / 60;
  const late = parts.filter(({ before }) => !before);
  const end = {
    extract_kg: start.extract_kg + sum(({ extract_kg }) => extract_kg, late),
    water_kg: start.water_kg + sum(({ water_kg }) => water_kg, late) - gone_L * WATER_KG_PER_L,
  };
  const [boilStart_L, boilEnd_L] = [volumeOf(start), volumeOf(end)];

  // The fermenter: filled to its mark, and read there once more.
  const hops_kg =
    (recipe.hops.reduce((all, { add, weight_g }) => all + (add.at === 'dry' ? 0 : weight_g.value), 0) *
      scale) /
    1000;
  // Without a boil, grain and hops there is no trub: a film of wort stays in the pot. Common practice, no source.
  const clear = !boils && recipe.grain.length === 0 && recipe.hops.every(({ add }) => add.at === 'dry');
  const trub_L = clear
    ? atLeast(0, FILM_L + off(FILM_L))
    : atLeast(0, setup.kettleLoss_L.value + off(SPREAD.kettleLoss_L));
  const lost_L =
    trub_L + hops_kg * atLeast(1, setup.hopAbsorption_L_per_kg.value + off(SPREAD.hopAbsorption_L_per_kg));
  const wanted_L = recipe.intoFermenter_L.value + off(SPREAD.fermenterMark_L);
  const poured_L = Math.min(wanted_L, boilEnd_L - lost_L);
  const share = poured_L / boilEnd_L;
  const extract_kg = end.extract_kg * share;
  const topUp_kg = Math.max(0, waterFor(extract_kg, wanted_L) - end.water_kg * share);
  const wort = { extract_kg, water_kg: end.water_kg * share + topUp_kg };
  const filled_L = volumeOf(wort);
  const original_P = (100 * wort.extract_kg) / (wort.extract_kg + wort.water_kg);
  const fermented = sum((part) => part.ferments * part.extract_kg) / sum((part) => part.extract_kg);
  const apparent_P = (original_P * (1 - fermented) - (1 - REAL_SHARE) * original_P) / REAL_SHARE;

  const offset_SG = off(SPREAD.hydrometerOffset_SG);
  const hydrometer = (of_SG: number, sample_C: number) => {
    const shown = shownBy(of_SG, sample_C) + offset_SG + off(SPREAD.hydrometerRepeat_SG);
    return sg(Math.round(1000 * shown) / 1000, Math.round(sample_C + off(SPREAD.sample_C)));
  };
  /** As the eye reads it, boiling hot. */
  const hot = (volume_L: number) => litres(toHalfMark(volume_L * HOT_RATIO + off(SPREAD.kettleMark_L)), null);
  const cold = (volume_L: number) => litres(toHalfMark(volume_L + off(SPREAD.fermenterMark_L)), null);

  // Temperatures: chilled until the thermometer shows what is needed, water as cold as the sheet asks for.
  const chilled_C = Math.floor(targets.chill_to_c!.value - random.uniform());
  const water_C = atLeast(1, targets.top_up_c?.value ?? setup.topUpTemperature_C.value) + off(SPREAD.topUp_K);
  const inPot = { extract_kg, water_kg: end.water_kg * share };
  const mix_C = mixed_C(inPot, chilled_C + off(SPREAD.temperature_K), topUp_kg, water_C);
  const band = recipe.yeast[0]!.temperature_C!;
  // Whoever is careful waits until the thermometer shows what the yeast's packet says.
  const pitched_C = Math.min(band.high, Math.max(band.low, mix_C + off(SPREAD.temperature_K)));
  const poured = topUp_kg / WATER_KG_PER_L > HALF_MARK_L / 2 ? cold(topUp_kg / WATER_KG_PER_L) : null;

  const readings: Readings = {
    ...(boils ? clocks({ batch, plan }, boil_min, random) : {}),
    ...(boils
      ? {
          boil_start_volume: hot(boilStart_L),
          boil_start_gravity: hydrometer(sgOf(start), random.normal(24, 1)),
          boil_end_volume: hot(boilEnd_L),
          boil_end_gravity: hydrometer(sgOf(end), random.normal(24, 1)),
        }
      : {}),
    chilled: { at: null, temperature_C: degrees(chilled_C) },
    ...(poured && poured.value > 0
      ? {
          top_up: { volume: poured, temperature_C: degrees(atLeast(0, water_C + off(SPREAD.temperature_K))) },
        }
      : {}),
    original_gravity: hydrometer(sgOfPlato(original_P), random.normal(21, 2)),
    fermenter_volume: cold(filled_L),
    pitched: { on: { date: batch.brewed!, clock: '18:00' }, temperature_C: degrees(pitched_C), yeast: null },
  };
  return {
    batch,
    plan,
    readings,
    original_SG: sgOfPlato(original_P),
    original_P,
    final_P: apparent_P,
    final_SG: sgOfPlato(apparent_P),
    boils,
    boilStart_L,
    boilEnd_L,
    filled_L,
    left_L: atLeast(0.5, filled_L - setup.fermenterLoss_L.value),
    scale,
    gasYield: GAS_YIELD + off(SPREAD.gasYield),
    hydrometer,
  };
}

type Additions = Exclude<Readings['additions'], 'not taken' | undefined>;

/** The boil by the kitchen clock: each moment written to the minute. */
function clocks({ batch, plan }: Known, boil_min: number, random: Random): Readings {
  const { recipe } = batch;
  const planned_min = recipe.boil_min.value;
  const clock = (minutes: number) => clockAfter('14:00', minutes + random.normal(0, SPREAD.clock_min));
  const pauses = plan.pauses
    .filter(({ minutes_left }) => minutes_left < planned_min)
    .map(({ minutes_left, minutes }) => ({
      minutes_left,
      minutes: minutes * random.normal(1, SPREAD.pause),
    }));
  const paused = (left_min: number) =>
    pauses.reduce((sum, pause) => sum + (pause.minutes_left > left_min ? pause.minutes : 0), 0);
  const moments = [...recipe.extract, ...recipe.sugar, ...recipe.hops, ...recipe.other].flatMap(({ add }) =>
    add.at === 'boil' ? [add.minutesLeft] : [],
  );
  const additions: Additions = [...new Set(moments)]
    .sort((a, b) => b - a)
    .map((left_min) => ({
      at: `${left_min} min`,
      minutesLeft: left_min,
      clock: clock(planned_min - left_min + paused(left_min)),
    }));
  return { boil_started: clock(0), additions, boil_ended: clock(boil_min + paused(-1)) };
}
