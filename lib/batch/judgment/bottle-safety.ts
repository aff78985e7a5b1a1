/** Bottles once gravities have been read: the unsafe end of every range, against what they are made for. */
import { CO2_DENSITY_g_per_L_vol, co2Pressure_kPa_gauge } from '../../formulas/co2.ts';
import { co2FromExtract_vol } from '../../formulas/priming.ts';
import { formatPressure, formatTemperature, formatVolumes } from '../../units/format/format.ts';
import type { Problem } from '../../units/problem.ts';
import { INPUT_DEFAULTS } from '../model/defaults.ts';
import type { PackedPart } from '../model/packaging.ts';
import { type Observation, readingPath } from '../readings/normalise-readings.ts';
import type { Batch } from '../types/batch.ts';
import type { Brewery } from '../types/brewery.ts';
import type { Fermentation, Figure, Targets } from '../types/plan.ts';
import { problem } from '../types/problem.ts';
import type { PackagedReading } from '../types/readings.ts';
import type { PackageStep } from '../types/recipe.ts';

/** A warm cupboard in summer, °C. */
export const WARMEST_BOTTLE_C = 30;
/** Range of the formula for the gas to come. */
const DRIEST_SG = 0.97;
const THICKEST_SG = 1.3;
/** Range of the pressure formula, volumes. */
const MOST_VOL = 20;

interface Known {
  readonly batch: Batch;
  readonly brewery: Brewery;
  readonly targets: Targets;
  readonly asBrewed: Partial<Targets> | null;
  readonly readings: readonly Observation[];
  readonly fermentation: Fermentation | null;
  readonly packed: readonly PackedPart[];
  readonly ambient_kPa: number;
}

/**
 * Warnings for every bottled part of a batch whose gravity has been read, or whose sugar was weighed: without a gravity the sugar alone
 * is held against the limit.
 *
 * Carbonation at worst = residual gas (its upper bound) + the sugar's (weighed, its upper bound, over the lower bound of the
 * volume) + what the beer may still give: from the upper bound of the last gravity to the lower bound of the expected one
 * (`co2FromExtract_vol`), at least down to the reading itself, so that a fall too small to see is never counted as none. Its
 * pressure without head space at 30 °C is held against the limit. `bottle-danger`: the beer is not known to be finished, or the
 * sugar alone is too much; `bottle-margin`: it is finished as far as the instrument shows, and only what that cannot show is over.
 */
export function checkReadBottles(known: Known): Problem[] {
  const { batch, readings } = known;
  const last = lastGravity(readings);
  const expected = known.targets.final_gravity;
  const wasPackaged = packagedParts(batch).length > 0;
  const weighed = readings.find(({ key, value }) => key.endsWith('.sugar') && value !== null);
  const told = last ?? weighed;
  if (!told || !expected || (batch.readings.abandoned && !wasPackaged)) return [];
  const fall = last ? fallToCome(last, expected) : null;
  const toCome_vol = fall ? co2FromExtract_vol(fall) : 0;
  return batch.recipe.packaging.flatMap((step, i) => {
    if (step.into !== 'bottles') return [];
    const gas_vol = gasAtWorst(known, step, i);
    const limit_kPa = limitOf(step, known.ambient_kPa);
    const worst_vol = gas_vol + toCome_vol;
    const worst_kPa = pressureAtWorst(worst_vol, step, known.ambient_kPa);
    if (worst_kPa <= limit_kPa) return [];
    const sugarAlone = pressureAtWorst(gas_vol, step, known.ambient_kPa) > limit_kPa;
    const margin = known.fermentation?.state === 'finished' && !sugarAlone;
    return [
      inWords({
        known,
        step,
        told,
        fall,
        toCome_vol,
        worst_vol,
        worst_kPa,
        limit_kPa,
        margin,
        wasPackaged,
      }),
    ];
  });
}

/** From the upper bound of what was read to the lower bound of what is expected. */
function fallToCome(last: Observation, expected: Figure): { from_SG: number; to_SG: number } {
  const from_SG = Math.max(DRIEST_SG, Math.min(THICKEST_SG, last.value! + 2 * last.u));
  return { from_SG, to_SG: Math.max(DRIEST_SG, Math.min(expected.low, last.value!, from_SG)) };
}

/** The final gravity, else the last of the log. */
function lastGravity(readings: readonly Observation[]): Observation | undefined {
  const taken = readings.filter(({ value }) => value !== null);
  return (
    taken.find(({ key }) => key === 'final_gravity') ??
    taken.findLast(({ key }) => /^fermentation\[\d+\]\.gravity$/.test(key))
  );
}

function packagedParts(batch: Batch): readonly PackagedReading[] {
  const { packaged } = batch.readings;
  return packaged === undefined || packaged === 'not taken' ? [] : packaged;
}

/** Upper bound of what residual gas and sugar make, volumes. */
function gasAtWorst(known: Known, step: PackageStep, index: number): number {
  const residual = known.asBrewed?.residual_co2_vol ?? known.targets.residual_co2_vol;
  const residual_vol = residual?.high ?? 0;
  const { volumes, volume_L } = known.packed[index]!;
  const planned = residual_vol + Math.max(0, volumes - (known.targets.residual_co2_vol?.value ?? 0));
  const parts = packagedParts(known.batch);
  const at = parts.findIndex((part) => part.into === 'bottles');
  const name = parts.length === 1 ? 'packaged' : `packaged[${at}]`;
  const sugar = known.readings.find(({ key }) => key === `${name}.sugar`);
  if (!step.sugar || !sugar || sugar.value === null) return planned;
  const volume = known.readings.find(({ key }) => key === `${name}.volume`);
  const least_L = volume && volume.value !== null ? volume.value - 2 * volume.u : volume_L;
  if (!(least_L > 0)) return planned;
  const sugar_g = sugar.value + 2 * sugar.u;
  return residual_vol + (sugar_g * step.sugar.co2_g_per_g) / (least_L * CO2_DENSITY_g_per_L_vol);
}

/** What the bottles are made for, as gauge pressure at 30 °C. */
export function limitOf(step: PackageStep, ambient_kPa: number): number {
  if (step.limit.unit === 'kPa') return step.limit.value;
  const volumes = Math.min(MOST_VOL, step.limit.value);
  return co2Pressure_kPa_gauge({ volumes, t_C: WARMEST_BOTTLE_C, ambient_kPa });
}

/** Against a limit in volumes beer is held to the same law as the limit; against a pressure, to its weakest solubility. */
function pressureAtWorst(vol: number, step: PackageStep, ambient_kPa: number): number {
  const { value, u } = INPUT_DEFAULTS.beerSolubility;
  const solubility = step.limit.unit === 'kPa' ? value - 2 * u : 1;
  const volumes = Math.min(MOST_VOL, Math.max(0, vol) / solubility);
  return co2Pressure_kPa_gauge({ volumes, t_C: WARMEST_BOTTLE_C, ambient_kPa });
}

function inWords(of: {
  known: Known;
  step: PackageStep;
  /** The last gravity, else the sugar. */
  told: Observation;
  /** Null where no gravity was read. */
  fall: { from_SG: number; to_SG: number } | null;
  toCome_vol: number;
  worst_vol: number;
  worst_kPa: number;
  limit_kPa: number;
  margin: boolean;
  wasPackaged: boolean;
}): Problem {
  const { known, step, told, fall } = of;
  const units = known.brewery.units;
  const degrees = formatTemperature(WARMEST_BOTTLE_C, units, { decimals: 0 });
  const inBottle = `up to ${formatVolumes(of.worst_vol)}, ${formatPressure(of.worst_kPa, units)} in a full bottle at ${degrees}`;
  const found = fall
    ? `${standing(told, fall, of.margin)} the beer may still give ${formatVolumes(of.toCome_vol)}: with its sugar ${inBottle}`
    : `the sugar that was weighed in makes ${inBottle}`;
  const expected = `at most ${formatPressure(of.limit_kPa, units)}, what bottles for ${step.limit.written} stand${step.limit.assumed ? ' (assumed)' : ''}`;
  const path = readingPath(told.key);
  if (of.margin) {
    const mend = of.wasPackaged
      ? 'keep the bottles cool and covered, and open one after a week'
      : 'read again after another week, with a finer hydrometer if there is one, use less sugar, or use stronger bottles';
    return problem('warning', 'bottle-margin', path, found, expected, mend);
  }
  const mend = of.wasPackaged
    ? 'these bottles may burst: move them somewhere cold and covered, handle them with gloves and eye protection, and let the gas off one by one'
    : 'do not bottle it yet: wait until the gravity stands still where it is expected, or use less sugar or stronger bottles';
  return problem('warning', 'bottle-danger', path, found, expected, mend);
}

function standing(last: Observation, fall: { from_SG: number; to_SG: number }, margin: boolean): string {
  if (!margin) return `from ${last.value!.toFixed(3)}`;
  return `finished as far as the instrument shows, but between the far ends of its ranges (${fall.from_SG.toFixed(3)} and ${fall.to_SG.toFixed(3)})`;
}
