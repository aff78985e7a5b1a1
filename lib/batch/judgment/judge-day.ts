/** The readings of a brewing day, judged together: what one explains of another is said once, at the cause. */

import { mixTemperature_C } from '../../formulas/mixing.ts';
import { platoOf, WATER_KG_PER_L } from '../../formulas/wort.ts';
import { pitchingTemperature } from '../model/build-model-input.ts';
import { extractOf } from '../model/kettle.ts';
import { runModel } from '../model/model.ts';
import type { Case } from '../model/model-input.ts';
import { TARGET_INDEX as T } from '../model/target-vector.ts';
import { LEAST_TOP_UP_L } from '../model/thermal.ts';
import { differs, latenesses, leftOut, leftOutNames, ON_TIME_MIN } from '../readings/boil-clock.ts';
import { correction, correctionLimits } from '../readings/corrections.ts';
import type { Observation } from '../readings/normalise-readings.ts';
import type { Batch } from '../types/batch.ts';
import type { Act, Cause, Judgment, Level } from '../types/judgment.ts';
import { kindAt, placeOf, planKey } from '../types/places.ts';
import type { Figure, Targets } from '../types/plan.ts';
import type { Readings } from '../types/readings.ts';
import type { Input } from '../uncertainty/inputs.ts';
import type { Propagation } from '../uncertainty/propagate.ts';
import { slips } from './decimal-slips.ts';
import { ACT_u, LOOK_AGAIN_u, type Odd, type Oddities, oddReadings } from './odd-readings.ts';

export interface DayKnown {
  readonly batch: Batch;
  /** As it was boiled. */
  readonly c: Case;
  readonly inputs: readonly Input[];
  readonly propagation: Propagation;
  readonly targets: Targets;
  readonly readings: readonly Observation[];
  readonly planned: Parameters<typeof latenesses>[1];
}

export interface Day {
  readonly judgments: readonly Judgment[];
  /** Keys of readings that nothing is worked out or learned from. */
  readonly doubted: ReadonlySet<string>;
}

/** Above this share of mashed extract a gravity that is off may well be true. */
const MASHED = 0.2;

/** How loudly a residual is said. */
export const levelOf = (residual: number): Level =>
  Math.abs(residual) > ACT_u ? 'act' : Math.abs(residual) > LOOK_AGAIN_u ? 'look again' : 'calm';

/** What the day's readings say together. */
export function judgeDay(known: DayKnown): Day {
  const { batch, c, readings } = known;
  const slipped = slips(batch, known.targets, readings);
  const doubted = new Set(slipped.map(({ key }) => key));
  const sound = readings.filter(({ key, value }) => value !== null && !doubted.has(key));
  const filled = sound.find(({ key }) => key === 'fermenter_volume') ?? null;
  const there: Case = { ...c, intoFermenter_L: filled?.value ?? c.intoFermenter_L };
  const { outcome, detail } = runModel(there);
  const pour = known.targets.fermenter_volume_l;
  const filled_u = filled || !pour ? 0 : (pour.high - pour.value) / 2;
  const found = oddReadings(sound, outcome, known.propagation, known.inputs, filled_u);
  const gives_SG = outcome[T.original_gravity]!;
  const about: About = { ...known, sound, filled, found, gives_SG };
  const judgments = [
    ...slipped,
    ...faults(readings),
    ...volumeJudgment(about),
    ...common(about),
    ...found.odd.map((odd) =>
      odd.key === 'original_gravity' ? gravityJudgment(about, odd) : oddJudgment(odd, about),
    ),
    ...mixJudgment(about, detail),
    ...clockJudgments(known),
    ...packagedVolume(about, outcome[T.packaged_volume_l]!),
    ...bottleCount(about),
  ];
  const believed = judgments.find(({ cause }) => cause?.code === 'mash')?.key;
  for (const { key } of found.odd) if (key !== believed) doubted.add(key);
  return { judgments, doubted };
}

interface About extends DayKnown {
  readonly sound: readonly Observation[];
  readonly filled: Observation | null;
  readonly found: Oddities;
  /** What the weights give in the volume that is there. */
  readonly gives_SG: number;
}

const judged = (key: string, level: Level, cause: Cause | null, act: Act | null = null): Judgment => ({
  key,
  level,
  cause,
  do: act,
});

const faults = (readings: readonly Observation[]): readonly Judgment[] =>
  readings.flatMap(({ key, fault }) =>
    fault ? [judged(key, 'look again', { code: 'fault', why: fault }, { code: 'check the figure' })] : [],
  );

/** Distance of a reading from its target, in standard uncertainties of the two. */
const residualOf = (value: number, { value: aim, high }: Figure): number =>
  (value - aim) / ((high - aim) / 2);

/** A volume that is off is a cause and no slip where the gravity, or the water that was added, agrees with it. */
function volumeJudgment({ filled, found, gives_SG, sound, targets, batch, c }: About): readonly Judgment[] {
  const pour = targets.fermenter_volume_l;
  if (!filled || !pour) return [];
  const residual = residualOf(filled.value!, pour);
  if (Math.abs(residual) <= 2) return [];
  const agrees = ['original_gravity', 'top_up.volume'].filter((key) => sound.some((one) => one.key === key));
  if (found.odd.some(({ key }) => key === 'original_gravity')) return [];
  const confirmed = agrees.some((key) => !found.odd.some((odd) => odd.key === key));
  const level = confirmed ? 'calm' : levelOf(residual);
  const alcohol = targets.alcohol_volume_percent?.value ?? null;
  const planned_SG = targets.original_gravity?.value ?? gives_SG;
  const cause: Cause = {
    code: 'volume',
    read_L: filled.value!,
    planned_L: c.intoFermenter_L,
    gives_SG,
    confirmed,
    alcohol_percent:
      alcohol === null || !(planned_SG > 1) ? null : alcohol * ((gives_SG - 1) / (planned_SG - 1) - 1),
  };
  if (!confirmed) return [judged(filled.key, level, cause, level === 'calm' ? null : { code: 'read again' })];
  const mend = isPast('original_gravity', batch.readings)
    ? null
    : correctionFor({ batch, c, read_SG: gives_SG, volume_L: filled.value!, targets, wish: true });
  return [judged(filled.key, level, cause, mend ?? { code: 'leave it' })];
}

/** Several readings that one cause explains are judged at the first of them. */
function common({ found, sound, gives_SG, batch, targets, c, filled }: About): readonly Judgment[] {
  const { common: cause } = found;
  if (cause === null) return [];
  const level = levelOf(cause.residual) === 'calm' ? 'calm' : 'look again';
  const gravity = sound.find(({ key }) => key === 'original_gravity');
  if (cause.what === 'extract' && gravity && cause.keys.includes('original_gravity')) {
    const mend = isPast(gravity.key, batch.readings)
      ? null
      : correctionFor({
          batch,
          c,
          read_SG: gravity.value!,
          volume_L: filled?.value ?? c.intoFermenter_L,
          targets,
          wish: false,
        });
    const facts = { read_SG: gravity.value!, expected_SG: gives_SG };
    return [
      judged(
        gravity.key,
        mend ? levelOf(cause.residual) : level,
        { code: 'less extract', ...facts },
        mend ?? { code: 'check the weights' },
      ),
    ];
  }
  const key = cause.keys.find((one) => kindAt(one) === 'volume') ?? cause.keys[0]!;
  return [judged(key, level, { code: 'common', what: cause.what }, { code: 'check the figure' })];
}

function gravityJudgment(about: About, { key, read, residual, expected }: Odd): Judgment {
  const { batch, c, filled, gives_SG, targets } = about;
  const level = levelOf(residual);
  const pour = targets.fermenter_volume_l;
  const volumeOff = filled && pour ? filled.value! - pour.value : 0;
  if (
    filled &&
    pour &&
    Math.abs(residualOf(filled.value!, pour)) > 2 &&
    Math.sign(volumeOff) === Math.sign(residual)
  ) {
    const facts = {
      read_L: filled.value!,
      planned_L: c.intoFermenter_L,
      read_SG: read,
      expected_SG: gives_SG,
    };
    return judged(key, level, { code: 'contradiction', ...facts }, { code: 'stir and read both' });
  }
  const facts = { read_SG: read, expected_SG: mashedShare(c) >= MASHED ? expected : gives_SG };
  if (mashedShare(c) < MASHED)
    return judged(key, level, { code: 'weights', ...facts }, { code: 'stir and read again' });
  const mend = isPast(key, batch.readings)
    ? null
    : correctionFor({
        batch,
        c,
        read_SG: read,
        volume_L: filled?.value ?? c.intoFermenter_L,
        targets,
        wish: false,
      });
  return judged(key, mend ? level : 'look again', { code: 'mash', ...facts }, mend ?? { code: 'leave it' });
}

function mashedShare(c: Case): number {
  let all = 0;
  let mashed = 0;
  for (const part of c.parts) {
    const mass = extractOf(part, c);
    all += mass;
    if (part.efficiency === 'mash') mashed += mass;
  }
  return all > 0 ? mashed / all : 0;
}

/** Water or extract that brings the wort to its target, where that is sensible; null else. */
function correctionFor(of: {
  readonly batch: Batch;
  readonly c: Case;
  readonly read_SG: number;
  readonly volume_L: number;
  readonly targets: Targets;
  readonly wish: boolean;
}): Act | null {
  const { batch, c, read_SG, volume_L, targets, wish } = of;
  const target_SG = targets.original_gravity?.value ?? 1;
  if (!(read_SG > 1) || !(target_SG > 1)) return null;
  const mend = correction({ batch, c, reading_SG: read_SG, volume_L, target_SG });
  const most = correctionLimits(batch, c, volume_L);
  if (mend.addWater_L !== null)
    return mend.addWater_L <= most.water_L ? { code: 'add water', volume_L: mend.addWater_L, wish } : null;
  if (mend.addExtract_g === null || mend.addExtract_g > most.extract_g) return null;
  return { code: 'add extract', mass_g: mend.addExtract_g, name: mend.extract.name, wish };
}

function oddJudgment({ key, read, expected, residual }: Odd, { batch, c }: About): Judgment {
  const unit = kindAt(key) === 'gravity' ? ('SG' as const) : ('L' as const);
  const cause: Cause = { code: 'odd', read, expected, unit };
  const level = levelOf(residual);
  if (isPast(key, batch.readings))
    return judged(key, level === 'act' ? 'look again' : level, cause, { code: 'check the figure' });
  if (key !== 'boil_start_volume') return judged(key, level, cause, { code: 'read again' });
  const over_L = read - expected;
  const minutes = c.boilOff_L_per_h > 0 ? Math.round((60 * over_L) / c.boilOff_L_per_h) : 0;
  return judged(
    key,
    level,
    cause,
    over_L < 0 ? { code: 'fill up', volume_L: -over_L } : { code: 'boil down', minutes },
  );
}

/** Half a degree is what a thermometer that is read to the degree cannot tell. */
const DUST_K = 0.5;
/** A planned temperature at the edge of the yeast's band is meant as written. Common practice, no source. */
const ABOUT_PLAN_K = 2;
/** Where the recipe states no band. Common practice, no source. */
const ASSUMED_BAND_K = 3;
/** Beyond the band by more than these the yeast waits. */
const WAIT = { above_K: 3, below_K: 4 } as const;

/** The temperature at which the yeast goes in, as it was read, else as wort and top-up make it. */
function mixJudgment(about: About, detail: ReturnType<typeof runModel>['detail']): readonly Judgment[] {
  const { batch, sound } = about;
  const wanted_C = pitchingTemperature(batch.recipe);
  const band = batch.recipe.yeast[0]?.temperature_C ?? {
    low: wanted_C - ASSUMED_BAND_K,
    high: wanted_C + ASSUMED_BAND_K,
  };
  const low_C = Math.min(band.low, wanted_C - ABOUT_PLAN_K);
  const high_C = Math.max(band.high, wanted_C + ABOUT_PLAN_K);
  const pitched = sound.find(({ key }) => key === 'pitched.temperature');
  const mixed = mixOf(about, detail);
  if (!pitched && !mixed) return [];
  const mix_C = pitched?.value ?? mixed!.mix_C;
  const over_K = mix_C > high_C ? mix_C - high_C : Math.min(0, mix_C - low_C);
  if (Math.abs(over_K) <= DUST_K) return [];
  const much = over_K > WAIT.above_K + DUST_K || over_K < -WAIT.below_K - DUST_K;
  const facts = { mix_C, low_C, high_C, read: Boolean(pitched) };
  const to = { to_C: wanted_C, warmer: over_K < 0 };
  const act: Act = pitched ? { code: 'bring it back', ...to } : { code: 'wait with the yeast', ...to };
  return [judged(pitched?.key ?? mixed!.key, much ? 'act' : 'look again', { code: 'mix', ...facts }, act)];
}

/** Wort and top-up together, from the volumes and temperatures read, and the reading that moves it furthest from the plan. */
function mixOf(
  { sound, c, targets }: About,
  { kettle, share, topUp_kg }: ReturnType<typeof runModel>['detail'],
): { readonly key: string; readonly mix_C: number } | null {
  const of = (key: string) => sound.find((one) => one.key === key)?.value ?? null;
  const chilled_C = of('chilled.temperature');
  if (chilled_C === null) return null;
  const wort = kettle.chilled;
  const end_L = of('boil_end_volume');
  const kept = end_L === null ? 1 : end_L / kettle.volume_L[kettle.volume_L.length - 1]!;
  const wort_kg = Math.max(0, (wort.extract_kg + wort.water_kg) * share * kept);
  const water_kg = (of('top_up.volume') ?? Math.max(0, topUp_kg / WATER_KG_PER_L)) * WATER_KG_PER_L;
  const topUp_C = of('top_up.temperature') ?? c.topUp_C;
  const mix = (wort_C: number, water_C: number) =>
    mixTemperature_C([
      { mass_kg: wort_kg, plato_P: platoOf(wort), t_C: wort_C },
      { mass_kg: water_kg, plato_P: 0, t_C: water_C },
    ]);
  if (water_kg < LEAST_TOP_UP_L || !(wort_kg > 0)) return { key: 'chilled.temperature', mix_C: chilled_C };
  const mix_C = mix(chilled_C, topUp_C);
  const asPlanned = (key: 'chill_to_c' | 'top_up_c', or: number) => targets[key]?.value ?? or;
  const byWort_K = Math.abs(mix_C - mix(asPlanned('chill_to_c', chilled_C), topUp_C));
  const byWater_K = Math.abs(mix_C - mix(chilled_C, Math.max(0, asPlanned('top_up_c', topUp_C))));
  const water = of('top_up.temperature') !== null && byWater_K > byWort_K;
  return { key: water ? 'top_up.temperature' : 'chilled.temperature', mix_C };
}

function clockJudgments({ batch, readings, planned }: DayKnown): readonly Judgment[] {
  const out = leftOut(batch).map(({ key, row }) =>
    judged(key, 'calm', { code: 'left out', what: leftOutNames(batch, row).join(', ') }),
  );
  const late = latenesses(batch, planned).flatMap(({ key, at, what, late_min, u }) => {
    const over = Math.abs(late_min) - ON_TIME_MIN;
    if (over <= 2 * u) return [];
    const cause: Cause = { code: 'late', what: what ?? at, minutes: late_min };
    return [judged(key, over > LOOK_AGAIN_u * u ? 'look again' : 'calm', cause, { code: 'counted' })];
  });
  const boil = readings.find(({ key }) => key === 'boil_ended');
  const planned_min = batch.recipe.boil_min.value;
  if (!boil || boil.value === null || !differs(boil.value, planned_min, boil.u)) return [...out, ...late];
  const far = Math.abs(boil.value - planned_min) > LOOK_AGAIN_u * boil.u;
  const cause: Cause = { code: 'boil length', minutes: boil.value, planned_min };
  return [...out, ...late, judged(boil.key, far ? 'look again' : 'calm', cause, { code: 'counted' })];
}

/** Beer packaged against what the fermenter that was read leaves. */
function packagedVolume({ sound, targets }: About, expected_L: number): readonly Judgment[] {
  const volume = sound.find(({ key }) => key === 'packaged.volume');
  const planned = targets.packaged_volume_l;
  if (!volume || !planned || !Number.isFinite(expected_L)) return [];
  const residual = residualOf(volume.value!, {
    ...planned,
    value: expected_L,
    high: expected_L + planned.high - planned.value,
  });
  const level = levelOf(residual);
  if (level === 'calm') return [];
  const cause: Cause = { code: 'odd', read: volume.value!, expected: expected_L, unit: 'L' };
  return [judged(volume.key, 'look again', cause, { code: 'check the figure' })];
}

/** Bottles against the volume that was read, one either way, and what the mark cannot tell. */
function bottleCount({ batch, sound }: About): readonly Judgment[] {
  return batch.recipe.packaging.flatMap((step, i) => {
    const of = (part: 'bottles' | 'volume') => {
      const at = planKey({ of: 'packaged', row: i, part }, batch.readings);
      return sound.find(({ key }) => key === at);
    };
    const [counted, volume] = [of('bottles'), of('volume')];
    if (step.into !== 'bottles' || !step.bottle_L || !counted || !volume) return [];
    const held = volume.value! / step.bottle_L.value;
    const over = Math.abs(counted.value! - held) - 1;
    if (over <= (LOOK_AGAIN_u * volume.u) / step.bottle_L.value) return [];
    const cause: Cause = { code: 'bottle count', counted: counted.value!, held: Math.round(held) };
    return [judged(counted.key, 'look again', cause, { code: 'check the figure' })];
  });
}

/** Readings in the order of the day: once a later one is there, an earlier moment is past mending. */
const ORDER: readonly (keyof Readings)[] = [
  'boil_start_volume',
  'boil_ended',
  'boil_end_volume',
  'boil_end_gravity',
  'chilled',
  'top_up',
  'original_gravity',
  'fermentation',
  'warmest_after',
  'final_gravity',
  'packaged',
  'tasted',
  'abandoned',
];

function isPast(key: string, readings: Readings): boolean {
  const own = placeOf(key)?.of;
  const at = own === undefined || own === 'boil_start_gravity' ? 0 : ORDER.indexOf(own);
  return ORDER.slice(at + 1).some((later) => readings[later] !== undefined);
}
