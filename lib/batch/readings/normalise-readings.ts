/** Readings as they were keyed in, reduced to what the targets are stated in: 20 °C and SG 20/20. */

import { boilingPoint_C } from '../../formulas/boiling-point.ts';
import { platoFromSpecificGravity, specificGravityFromPlato } from '../../formulas/gravity.ts';
import { correctHydrometer } from '../../formulas/hydrometer.ts';
import { OutOfRange } from '../../formulas/range.ts';
import { finalGravityTerrill2011, wortPlatoFromBrix } from '../../formulas/refractometer.ts';
import { thermalVolumeRatio } from '../../formulas/shrinkage.ts';
import type { GivenGravity, GivenVolume } from '../../units/parse/given.ts';
import type { KeyPath } from '../../units/problem.ts';
import { pitchingTemperature } from '../model/build-model-input.ts';
import type { Detail } from '../model/model.ts';
import { type Outcome, TARGET_INDEX as T } from '../model/target-vector.ts';
import type { Batch } from '../types/batch.ts';
import { placeOf } from '../types/places.ts';
import {
  type Group,
  type One,
  READINGS,
  type ReadingKey,
  type Readings,
  type Rows,
  taken,
} from '../types/readings.ts';
import type { TargetKey } from '../types/targets.ts';
import { readingInstrument } from '../uncertainty/figures.ts';
import { boilByClock, latenesses, leftOut } from './boil-clock.ts';

export interface Observation {
  /** Key below `readings`, `packaged.volume`. */
  readonly key: string;
  /** Reduced; null where not taken. */
  readonly value: number | null;
  /** Standard uncertainty of the reading itself. */
  readonly u: number;
  readonly target: TargetKey | null;
  /** Why a reading that was taken says nothing: outside what the instrument or its formula can tell. */
  readonly fault?: string;
}

/** A refractometer is read to about half of its 0.2 °Bx divisions. Common practice, no source. */
const ASSUMED_BRIX_U = 0.1;

/** Fermented refractometer readings are known to about 3 points. Terrill 2011's cubic, tolerance common practice. */
const TERRILL_U_SG = 0.0015;

/** SG 20/20 of a gravity reading; `original` tells a refractometer what the wort was before it fermented. */
export function reduceGravity(
  batch: Batch,
  reading: GivenGravity,
  original: { readonly brix: number } | null,
): { readonly value: number; readonly u: number } {
  const { hydrometer, refractometerFactor } = batch.setup;
  const factor = refractometerFactor.value;
  if (reading.scale === 'brix') {
    if (original) {
      return {
        value: finalGravityTerrill2011({ originalBrix: original.brix, brix: reading.value, factor }),
        u: TERRILL_U_SG,
      };
    }
    const plato_P = wortPlatoFromBrix({ brix: reading.value, factor });
    const { u: factor_u } = batch.setup.refractometerFactor;
    const plato_u = Math.hypot((reading.u ?? ASSUMED_BRIX_U) / factor, (plato_P * factor_u) / factor);
    return { value: specificGravityFromPlato(plato_P), u: gravityStep(plato_P, plato_u) };
  }
  const calibrated_C = hydrometer.at_C.value;
  const shown_SG = reading.scale === 'sg' ? reading.value : specificGravityFromPlato(reading.value);
  const value = correctHydrometer({
    reading_SG: shown_SG,
    sample_C: reading.sample_C ?? calibrated_C,
    calibrated_C,
  });
  if (reading.u === null) return { value, u: hydrometer.u };
  return { value, u: reading.scale === 'sg' ? reading.u : gravityStep(reading.value, reading.u) };
}

/** An uncertainty in °P as one in specific gravity, at an extract. */
const gravityStep = (plato_P: number, u_P: number) =>
  specificGravityFromPlato(plato_P + u_P) - specificGravityFromPlato(plato_P);

/** What a refractometer would have shown of the wort, from whatever the starting gravity was read with. */
export function originalBrix(batch: Batch, readings: Readings, planned_SG: number): number {
  const reading = readings.original_gravity;
  const factor = batch.setup.refractometerFactor.value;
  if (reading && reading !== 'not taken') {
    if (reading.scale === 'brix') return reading.value;
    return platoFromSpecificGravity(reduceGravity(batch, reading, null).value) * factor;
  }
  return platoFromSpecificGravity(planned_SG) * factor;
}

/** L at 20 °C of a volume read at a temperature. */
export function reduceVolume(reading: GivenVolume, plato_P: number, usual_C: number): number {
  return (
    reading.value /
    thermalVolumeRatio({ plato_P: Math.max(0, plato_P), from_C: 20, to_C: reading.at_C ?? usual_C })
  );
}

/** Readings in the order of the day; a figure that its formula cannot use is kept with its fault, not lost. */
class Reduced {
  readonly list: Observation[] = [];

  take(key: string, target: TargetKey | null, reduce: () => { value: number; u: number }): void {
    try {
      this.list.push({ key, target, ...reduce() });
    } catch (error) {
      if (!(error instanceof OutOfRange)) throw error;
      this.list.push({ key, target, value: null, u: 0, fault: error.message });
    }
  }

  notTaken(key: string, target: TargetKey | null): void {
    this.list.push({ key, value: null, u: 0, target });
  }
}

type Temperature = { readonly value: number; readonly u: number | null } | null | undefined;

/**
 * Every numeric reading in the order of the day, each as its target is stated: volumes in litres at 20 °C, gravities as
 * SG 20/20, temperatures in °C, clocks in minutes (the boil's length, an addition's lateness), with the reading's standard
 * uncertainty (its own, else its instrument's).
 *
 * Volumes in the kettle are read at boiling point, in the fermenter at pitching temperature, packaged beer at its own, unless
 * the reading says otherwise. Never throws: a figure outside the range of its formula carries its fault.
 */
export function observations(batch: Batch, planned: Outcome, detail: Detail): Observation[] {
  const { readings, setup } = batch;
  const out = new Reduced();
  const thermometer = setup.instruments.thermometer_C.u;
  const temperature = (key: string, reading: Temperature, target: TargetKey | null = null) => {
    if (reading) out.take(key, target, () => ({ value: reading.value, u: reading.u ?? thermometer }));
  };
  for (const key of ['steep_temperature', 'mash_temperature'] as const) {
    if (readings[key] === 'not taken') out.notTaken(key, null);
    else temperature(key, taken(readings[key]));
  }
  inTheKettle(batch, planned, detail, out);
  if (readings.chilled === 'not taken') out.notTaken('chilled', 'chill_to_c');
  else temperature('chilled.temperature', taken(readings.chilled)?.temperature_C, 'chill_to_c');
  if (readings.top_up === 'not taken') out.notTaken('top_up', 'top_up_l');
  const topUp = taken(readings.top_up);
  const poured = topUp?.volume;
  if (poured) {
    const usual_C = topUp.temperature_C?.value ?? setup.topUpTemperature_C.value;
    const u = poured.u ?? setup.instruments.fermenterMark_L.u;
    out.take('top_up.volume', 'top_up_l', () => ({ value: reduceVolume(poured, 0, usual_C), u }));
  }
  temperature('top_up.temperature', topUp?.temperature_C, 'top_up_c');
  gravity(batch, planned, out, 'original_gravity', false);
  inTheFermenter(batch, planned, out, temperature);
  packaged(batch, planned, out, temperature);
  withoutRule(batch, planned, out, temperature);
  return out.list;
}

/** What is read once and has no rule of its own above: gravities of wort or beer, temperatures, volumes at 20 °C. */
function withoutRule(batch: Batch, planned: Outcome, out: Reduced, temperature: TakeTemperature): void {
  for (const [key, spec] of Object.entries<One | Group | Rows>(READINGS)) {
    if ('shape' in spec || out.list.some((one) => one.key === key)) continue;
    if (spec.kind !== 'gravity' && spec.kind !== 'temperature' && spec.kind !== 'volume') continue;
    const reading: unknown = batch.readings[key as ReadingKey];
    if (reading === 'not taken') out.notTaken(key, null);
    else if (reading === undefined) continue;
    else if (spec.kind === 'temperature') temperature(key, reading as Temperature);
    else if (spec.kind === 'gravity') {
      const wort = spec.fermented ? wortOf(batch, planned) : null;
      out.take(key, null, () => reduceGravity(batch, reading as GivenGravity, wort));
    } else {
      const volume = reading as GivenVolume;
      const u = volume.u ?? batch.setup.instruments.fermenterMark_L.u;
      out.take(key, null, () => ({ value: reduceVolume(volume, 0, 20), u }));
    }
  }
}

/** Extract of a planned wort or beer, °P, for the expansion of a volume read. */
function plannedPlato(planned: Outcome, key: TargetKey): number {
  return platoFromSpecificGravity(Math.max(1, planned[T[key]] || 1));
}

function gravity(
  batch: Batch,
  planned: Outcome,
  out: Reduced,
  key: 'boil_start_gravity' | 'boil_end_gravity' | 'original_gravity' | 'fermented_out' | 'final_gravity',
  fermented: boolean,
): void {
  const reading = batch.readings[key];
  const target = key === 'fermented_out' ? null : key;
  if (reading === undefined) return;
  if (reading === 'not taken') out.notTaken(key, target);
  else out.take(key, target, () => reduceGravity(batch, reading, fermented ? wortOf(batch, planned) : null));
}

const wortOf = (batch: Batch, planned: Outcome) => ({
  brix: originalBrix(batch, batch.readings, planned[T.original_gravity]!),
});

function inTheKettle(batch: Batch, planned: Outcome, detail: Detail, out: Reduced): void {
  const boil_C = boilingPoint_C(batch.setup.altitude_m.value);
  for (const moment of ['boil_start', 'boil_end'] as const) {
    if (moment === 'boil_end') byTheClock(batch, detail, out);
    const key = `${moment}_volume` as const;
    const reading = batch.readings[key];
    if (reading === 'not taken') out.notTaken(key, `${key}_l`);
    else if (reading) {
      const u = reading.u ?? batch.setup.instruments.kettleMark_L.u;
      out.take(key, `${key}_l`, () => {
        const plato_P = plannedPlato(planned, `${moment}_gravity`);
        return { value: reduceVolume(reading, plato_P, boil_C), u };
      });
    }
    gravity(batch, planned, out, `${moment}_gravity`, false);
  }
}

/** Additions by how late they went in, null where they never did, and the boil by its length. */
function byTheClock(batch: Batch, detail: Detail, out: Reduced): void {
  for (const { key } of leftOut(batch)) out.notTaken(key, null);
  for (const { key, late_min, u } of latenesses(batch, detail)) {
    out.list.push({ key, value: late_min, u, target: null });
  }
  const boil = boilByClock(batch, detail);
  if (boil) out.list.push({ key: 'boil_ended', value: boil.minutes, u: boil.u, target: null });
}

type TakeTemperature = (key: string, reading: Temperature) => void;

function inTheFermenter(batch: Batch, planned: Outcome, out: Reduced, temperature: TakeTemperature): void {
  const { readings, setup } = batch;
  const pitched = taken(readings.pitched);
  const filled = readings.fermenter_volume;
  if (filled === 'not taken') out.notTaken('fermenter_volume', 'fermenter_volume_l');
  else if (filled) {
    const pitch_C = pitched?.temperature_C?.value ?? pitchingTemperature(batch.recipe);
    const u = filled.u ?? setup.instruments.fermenterMark_L.u;
    out.take('fermenter_volume', 'fermenter_volume_l', () => {
      return { value: reduceVolume(filled, plannedPlato(planned, 'original_gravity'), pitch_C), u };
    });
  }
  if (readings.pitched === 'not taken') out.notTaken('pitched', null);
  else temperature('pitched.temperature', pitched?.temperature_C);
  const yeast = pitched?.yeast;
  if (yeast?.unit === 'g') out.list.push({ key: 'pitched.yeast', value: yeast.value, u: 0, target: null });
  taken(readings.fermentation)?.forEach((row, i) => {
    const reading = row.gravity;
    if (reading) {
      out.take(`fermentation[${i}].gravity`, null, () =>
        reduceGravity(batch, reading, wortOf(batch, planned)),
      );
    }
    temperature(`fermentation[${i}].temperature`, row.temperature_C);
  });
  if (readings.warmest_after === 'not taken') out.notTaken('warmest_after', null);
  else temperature('warmest_after', taken(readings.warmest_after));
}

/** What a kitchen scale that shows whole grams cannot tell, beside its share, g. */
const ASSUMED_SUGAR_U_G = 1;

function packaged(batch: Batch, planned: Outcome, out: Reduced, temperature: TakeTemperature): void {
  const { readings, setup } = batch;
  gravity(batch, planned, out, 'fermented_out', true);
  gravity(batch, planned, out, 'final_gravity', true);
  if (readings.packaged === 'not taken') out.notTaken('packaged', null);
  const parts = taken(readings.packaged) ?? [];
  const single = parts.length === 1;
  parts.forEach((part, i) => {
    const at = single ? 'packaged' : `packaged[${i}]`;
    const { volume, sugar_g, bottles, burst } = part;
    if (volume) {
      const usual_C = part.temperature_C?.value ?? 20;
      const u = volume.u ?? readingInstrument('packaged_volume_l', setup, volume.value)!.u;
      out.take(`${at}.volume`, single ? 'packaged_volume_l' : null, () => {
        return { value: reduceVolume(volume, plannedPlato(planned, 'final_gravity'), usual_C), u };
      });
    }
    temperature(`${at}.temperature`, part.temperature_C);
    if (sugar_g) {
      const u = sugar_g.u ?? Math.hypot(ASSUMED_SUGAR_U_G, setup.instruments.scale.u * sugar_g.value);
      out.take(`${at}.sugar`, single ? 'priming_sugar_g' : null, () => ({ value: sugar_g.value, u }));
    }
    if (bottles !== null)
      out.take(`${at}.bottles`, single ? 'bottles' : null, () => ({ value: bottles, u: 0 }));
    if (burst) out.list.push({ key: `${at}.burst`, value: burst, u: 0, target: null });
  });
}

/** The key path in the file of a reading, from its key in the plan: `fermentation[0].gravity`. */
export function readingPath(key: string): KeyPath {
  const { of, row, part } = placeOf(key)!;
  // A single packaging is written without a list.
  const steps = [of, key.includes('[') ? row : null, part];
  return ['readings', ...steps.filter((step) => step !== null)];
}
