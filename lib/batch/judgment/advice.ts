/** One sentence for each reading: nothing to do, what to do now, or what it changes. */
import { CO2_DENSITY_g_per_L_vol } from '../../formulas/co2.ts';
import {
  formatMass,
  formatMinutes,
  formatTemperature,
  formatVolume,
  formatVolumes,
} from '../../units/format/format.ts';
import { pitchingTemperature } from '../model/build-model-input.ts';
import type { Case } from '../model/model-input.ts';
import { correction } from '../readings/corrections.ts';
import type { Observation } from '../readings/normalise-readings.ts';
import type { Batch } from '../types/batch.ts';
import type { Brewery } from '../types/brewery.ts';
import type { ReadingVerdict, Targets } from '../types/plan.ts';
import type { Readings } from '../types/readings.ts';

interface Known {
  readonly batch: Batch;
  readonly brewery: Brewery;
  readonly c: Case;
  readonly targets: Targets;
  readonly asBrewed: Partial<Targets> | null;
  readonly readings: readonly Observation[];
}

/** Readings in the order of the day: once a later one is there, an earlier moment is past mending. */
const ORDER: readonly (keyof Readings)[] = [
  'boil_start_volume',
  'boil_start_gravity',
  'boil_ended',
  'boil_end_volume',
  'boil_end_gravity',
  'chilled',
  'top_up',
  'original_gravity',
  'fermenter_volume',
  'pitched',
  'fermentation',
  'warmest_after',
  'final_gravity',
  'packaged',
  'tasted',
  'abandoned',
];
/** What is written down in one go with the starting gravity does not make it past mending. */
const WITH_GRAVITY: ReadonlySet<keyof Readings> = new Set<keyof Readings>(['fermenter_volume', 'pitched']);

/** Differences smaller than these are not worth a word. */
const WORTH_A_WORD = { alcohol: 0.1, bitterness: 1 } as const;
/** Beer that is off by more than this many volumes pours or foams otherwise than planned. Common practice, no source. */
const CARBONATION_MATTERS_VOL = 0.3;

/** Advice for one reading and its verdict; null where it was not taken or is held against nothing. */
export function adviceOn(
  reading: Observation,
  verdict: ReadingVerdict['verdict'],
  known: Known,
): string | null {
  if (reading.fault) return `This reading says nothing: ${reading.fault}.`;
  if (reading.value === null || verdict === null) return null;
  // Sugar is weighed for the beer that is there: near enough to the plan may be far too much for less beer.
  const carbonation = reading.key.endsWith('.sugar') ? carbonationOf(reading.value, known) : null;
  if (carbonation !== null && Math.abs(carbonation.vol - carbonation.planned_vol) > CARBONATION_MATTERS_VOL)
    return sentence(sugarChanges(carbonation));
  if (verdict === 'fine') return 'Nothing to do.';
  if (verdict === 'a_little_off') return littleChanges(reading, known);
  const past = isPast(reading.key, known.batch.readings);
  const now = past ? stillToPitch(reading, known) : toDoNow(reading, known);
  return now ?? whatItChanges(reading, known);
}

function isPast(key: string, readings: Readings): boolean {
  const own = key.replace(/[[.].*$/, '') as keyof Readings;
  const at = ORDER.indexOf(own);
  return ORDER.slice(at + 1).some((later) => {
    if (own === 'original_gravity' && WITH_GRAVITY.has(later)) return false;
    if (own === 'boil_start_volume' && later === 'boil_start_gravity') return false;
    return readings[later] !== undefined;
  });
}

const sentence = (text: string) => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;

function littleChanges(reading: Observation, known: Known): string {
  return `Nothing to do: within what the batch can bear. ${sentence(changes(reading, known))}`.trimEnd();
}

function toDoNow(reading: Observation, known: Known): string | null {
  switch (reading.key) {
    case 'boil_start_volume':
      return startVolume(reading.value!, known);
    case 'original_gravity':
      return startingGravity(reading.value!, known);
    case 'final_gravity':
      return finalGravity(reading.value!, known);
    case 'chilled.temperature':
      return stillWarm(reading.value!, known);
    case 'packaged.volume':
      return sugarForVolume(reading.value!, known);
    default:
      return null;
  }
}

function startVolume(read_L: number, { c, targets, brewery }: Known): string | null {
  const over_L = read_L - targets.boil_start_volume_l!.value;
  if (over_L < 0)
    return `Add ${formatVolume(-over_L, brewery.units)} of hot water before the countdown begins.`;
  if (!(c.boilOff_L_per_h > 0)) return null;
  const minutes = Math.round((60 * over_L) / c.boilOff_L_per_h);
  return `Boil ${formatMinutes(minutes)} before the countdown begins, which takes ${formatVolume(over_L, brewery.units)} away.`;
}

function stillWarm(read_C: number, { targets, brewery }: Known): string | null {
  const wanted_C = targets.chill_to_c!.value;
  if (read_C <= wanted_C) return null;
  const degrees = formatTemperature(wanted_C, brewery.units, { decimals: 0 });
  return `Chill on to ${degrees} before the top-up and the yeast go in.`;
}

/** So much warmer than planned the yeast would suffer, or the beer. Common practice, no source. */
const WARM_K = 5;

/** Wort that was topped up too warm, as long as the yeast is not in. */
function stillToPitch({ key, value }: Observation, { batch, brewery }: Known): string | null {
  const wanted_C = pitchingTemperature(batch.recipe);
  if (key !== 'chilled.temperature' || value === null || value - wanted_C <= WARM_K) return null;
  if (ORDER.slice(ORDER.indexOf('pitched')).some((later) => batch.readings[later] !== undefined)) return null;
  const degrees = formatTemperature(wanted_C, brewery.units, { decimals: 0 });
  return `Cool it to ${degrees} before the yeast goes in, and read its temperature once more: cold top-up water alone may not do it.`;
}

/** With the volume really read: the planned one says nothing of what is in the fermenter. */
function startingGravity(read_SG: number, { batch, c, targets, brewery, readings }: Known): string | null {
  const volume_L = readings.find(({ key }) => key === 'fermenter_volume')?.value ?? c.intoFermenter_L;
  const target_SG = targets.original_gravity!.value;
  if (!(read_SG > 1) || !(target_SG > 1)) return null;
  const mend = correction({ batch, c, reading_SG: read_SG, volume_L, target_SG });
  const there = `the ${formatVolume(volume_L, brewery.units)} in the fermenter`;
  if (mend.addWater_L !== null) {
    return `Add ${formatVolume(mend.addWater_L, brewery.units)} of boiled and cooled water to ${there}, if it has the room, and stir.`;
  }
  if (mend.addExtract_g === null) return null;
  return `Stir ${formatMass(mend.addExtract_g, brewery.units)} of ${mend.extract.name}, boiled up in a little water and cooled, into ${there}.`;
}

function finalGravity(read_SG: number, { targets }: Known): string {
  return read_SG > targets.final_gravity!.value
    ? 'Do not package it: see what the fermentation log says, and read again.'
    : 'Wait a week and read again before packaging: something may still be fermenting what the yeast leaves.';
}

function sugarForVolume(read_L: number, { asBrewed, brewery, batch, readings }: Known): string | null {
  const sugar_g = asBrewed?.priming_sugar_g?.value;
  const name = batch.recipe.packaging.find((step) => step.sugar)?.sugar?.name;
  if (sugar_g === undefined || !name || readings.some(({ key }) => key === 'packaged.sugar')) return null;
  return `Weigh ${formatMass(sugar_g, brewery.units)} of ${name} for the ${formatVolume(read_L, brewery.units)} that are there.`;
}

function whatItChanges(reading: Observation, known: Known): string {
  const told = changes(reading, known);
  return told === '' ? 'Nothing to do now: write it in the notes for the next batch.' : sentence(told);
}

/** Readings of which the beer's strength and bitterness come. */
const OF_THE_BEER: ReadonlySet<string> = new Set([
  'boil_start_volume',
  'boil_start_gravity',
  'boil_end_volume',
  'boil_end_gravity',
  'top_up.volume',
  'original_gravity',
  'fermenter_volume',
  'final_gravity',
]);

/** The beer as brewed against the plan; empty where nothing worth a word follows. */
function changes(reading: Observation, known: Known): string {
  if (reading.key.endsWith('.sugar')) {
    const carbonation = carbonationOf(reading.value!, known);
    return carbonation === null ? '' : sugarChanges(carbonation);
  }
  if (!OF_THE_BEER.has(reading.key)) return '';
  const parts = [alcoholChange(known), bitternessChange(known)].filter((part) => part !== '');
  return parts.length > 0 ? `the beer comes out ${parts.join(' and ')} than planned.` : '';
}

function alcoholChange({ targets, asBrewed }: Known): string {
  const brewed = asBrewed?.alcohol_volume_percent;
  if (brewed && targets.alcohol_volume_percent) {
    const more = brewed.value - targets.alcohol_volume_percent.value;
    if (Math.abs(more) < WORTH_A_WORD.alcohol) return '';
    return `${Math.abs(more).toFixed(1)} % of alcohol ${more > 0 ? 'stronger' : 'weaker'}`;
  }
  const wort = asBrewed?.original_gravity;
  if (!wort || !targets.original_gravity) return '';
  const points = Math.round((wort.value - targets.original_gravity.value) * 1000);
  if (points === 0) return '';
  const many = Math.abs(points) === 1 ? 'a point' : `${Math.abs(points)} points`;
  return `${many} of gravity ${points > 0 ? 'stronger' : 'weaker'}`;
}

function bitternessChange({ targets, asBrewed }: Known): string {
  const more = (asBrewed?.bitterness_ibu?.value ?? 0) - (targets.bitterness_ibu?.value ?? 0);
  if (!asBrewed?.bitterness_ibu || Math.abs(more) < WORTH_A_WORD.bitterness) return '';
  return `${Math.round(Math.abs(more))} IBU ${more > 0 ? 'more bitter' : 'less bitter'}`;
}

interface Carbonation {
  readonly vol: number;
  readonly planned_vol: number;
  /** As the recipe has it. */
  readonly planned: string;
}

/** What weighed sugar makes in the beer that is there; null where that is not known. */
function carbonationOf(sugar_g: number, { batch, targets, asBrewed, readings }: Known): Carbonation | null {
  const step = batch.recipe.packaging.find((part) => part.sugar);
  const residual = (asBrewed ?? targets).residual_co2_vol?.value;
  const volume_L =
    readings.find(({ key }) => key === 'packaged.volume')?.value ?? targets.packaged_volume_l?.value;
  if (!step?.sugar || residual === undefined || !volume_L) return null;
  const vol = residual + (sugar_g * step.sugar.co2_g_per_g) / (volume_L * CO2_DENSITY_g_per_L_vol);
  return { vol, planned_vol: step.carbonation_vol.value, planned: step.carbonation_vol.written };
}

const sugarChanges = ({ vol, planned }: Carbonation): string =>
  `it makes about ${formatVolumes(vol)}; ${planned} was planned.`;
