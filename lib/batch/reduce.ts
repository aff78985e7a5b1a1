/** Readings as they were keyed in, reduced to what the targets are stated in: 20 °C and SG 20/20. */
import { boilingPoint_C } from '../formulas/boiling-point.ts';
import { platoFromSpecificGravity, specificGravityFromPlato } from '../formulas/gravity.ts';
import { correctHydrometer } from '../formulas/hydrometer.ts';
import { finalGravityTerrill2011, wortPlatoFromBrix } from '../formulas/refractometer.ts';
import { thermalVolumeRatio } from '../formulas/shrinkage.ts';
import type { GivenGravity, GivenVolume } from '../units/given.ts';
import type { Batch } from './batch.ts';
import { pitchingTemperature } from './build-case.ts';
import { type Outcome, TARGET_INDEX as T } from './outcome.ts';
import type { TargetKey } from './plan.ts';
import type { Readings } from './readings.ts';

export interface Observation {
  /** Key below `readings`, `packaged.volume`. */
  readonly key: string;
  /** Reduced; null where not taken. */
  readonly value: number | null;
  /** Standard uncertainty of the reading itself. */
  readonly u: number;
  readonly target: TargetKey | null;
}

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
    return { value: specificGravityFromPlato(plato_P), u: hydrometer.u };
  }
  const calibrated_C = hydrometer.at_C.value;
  const shown_SG = reading.scale === 'sg' ? reading.value : specificGravityFromPlato(reading.value);
  const value = correctHydrometer({
    reading_SG: shown_SG,
    sample_C: reading.sample_C ?? calibrated_C,
    calibrated_C,
  });
  return { value, u: reading.u ?? hydrometer.u };
}

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

/** Every numeric reading, reduced, in the order of the day. */
export function observations(batch: Batch, planned: Outcome): Observation[] {
  const { readings, setup } = batch;
  const out: Observation[] = [];
  const boil_C = boilingPoint_C(setup.altitude_m.value);
  const kettleMark = setup.instruments.kettleMark_L.u;
  const fermenterMark = setup.instruments.fermenterMark_L.u;
  const thermometer = setup.instruments.thermometer_C.u;
  const push = (key: string, value: number | null, u: number, target: TargetKey | null) =>
    out.push({ key, value, u, target });
  const plato = (key: TargetKey) => platoFromSpecificGravity(Math.max(1, planned[T[key]] || 1));

  const volume = (key: 'boil_start_volume' | 'boil_end_volume', target: TargetKey, density: TargetKey) => {
    const reading = readings[key];
    if (reading === undefined) return;
    if (reading === 'not taken') push(key, null, 0, target);
    else push(key, reduceVolume(reading, plato(density), boil_C), reading.u ?? kettleMark, target);
  };
  const gravity = (
    key: 'boil_start_gravity' | 'boil_end_gravity' | 'original_gravity' | 'final_gravity',
    fermented: boolean,
  ) => {
    const reading = readings[key];
    if (reading === undefined) return;
    if (reading === 'not taken') return push(key, null, 0, key);
    const original = fermented ? { brix: originalBrix(batch, readings, planned[T.original_gravity]!) } : null;
    const { value, u } = reduceGravity(batch, reading, original);
    return push(key, value, u, key);
  };
  const temperature = (
    key: string,
    reading: { value: number; u: number | null } | null | undefined,
    target: TargetKey | null,
  ) => {
    if (reading) push(key, reading.value, reading.u ?? thermometer, target);
  };
  const open = <R>(reading: R | 'not taken' | undefined): R | null =>
    reading === undefined || reading === 'not taken' ? null : reading;

  for (const key of ['steep_temperature', 'mash_temperature'] as const) {
    if (readings[key] === 'not taken') push(key, null, 0, null);
    else temperature(key, open(readings[key]), null);
  }
  volume('boil_start_volume', 'boil_start_volume_l', 'boil_start_gravity');
  gravity('boil_start_gravity', false);
  volume('boil_end_volume', 'boil_end_volume_l', 'boil_end_gravity');
  gravity('boil_end_gravity', false);
  if (readings.chilled === 'not taken') push('chilled', null, 0, 'chill_to_c');
  else temperature('chilled.temperature', open(readings.chilled)?.temperature_C, 'chill_to_c');
  const topUp = open(readings.top_up);
  if (readings.top_up === 'not taken') push('top_up', null, 0, 'top_up_l');
  if (topUp?.volume) {
    const usual_C = topUp.temperature_C?.value ?? setup.topUpTemperature_C.value;
    push(
      'top_up.volume',
      reduceVolume(topUp.volume, 0, usual_C),
      topUp.volume.u ?? fermenterMark,
      'top_up_l',
    );
  }
  temperature('top_up.temperature', topUp?.temperature_C, 'top_up_c');
  gravity('original_gravity', false);
  const pitched = open(readings.pitched);
  const pitch_C = pitched?.temperature_C?.value ?? pitchingTemperature(batch.recipe);
  if (readings.fermenter_volume === 'not taken') push('fermenter_volume', null, 0, null);
  else if (readings.fermenter_volume) {
    const read = readings.fermenter_volume;
    push(
      'fermenter_volume',
      reduceVolume(read, plato('original_gravity'), pitch_C),
      read.u ?? fermenterMark,
      null,
    );
  }
  if (readings.pitched === 'not taken') push('pitched', null, 0, null);
  else temperature('pitched.temperature', pitched?.temperature_C, null);
  open(readings.fermentation)?.forEach((row, i) => {
    if (row.gravity) {
      const original = { brix: originalBrix(batch, readings, planned[T.original_gravity]!) };
      const { value, u } = reduceGravity(batch, row.gravity, original);
      push(`fermentation[${i}].gravity`, value, u, null);
    }
    temperature(`fermentation[${i}].temperature`, row.temperature_C, null);
  });
  if (readings.warmest_after === 'not taken') push('warmest_after', null, 0, null);
  else temperature('warmest_after', open(readings.warmest_after), null);
  gravity('final_gravity', true);
  const packaged = open(readings.packaged);
  if (readings.packaged === 'not taken') push('packaged', null, 0, null);
  packaged?.forEach((part, i) => {
    const at = packaged.length > 1 ? `packaged[${i}]` : 'packaged';
    const single = packaged.length === 1;
    if (part.volume) {
      const usual_C = part.temperature_C?.value ?? 20;
      const value = reduceVolume(part.volume, plato('final_gravity'), usual_C);
      push(`${at}.volume`, value, part.volume.u ?? fermenterMark, single ? 'packaged_volume_l' : null);
    }
    temperature(`${at}.temperature`, part.temperature_C, null);
    if (part.sugar_g) push(`${at}.sugar`, part.sugar_g.value, 1, 'priming_sugar_g');
    if (part.bottles !== null) push(`${at}.bottles`, part.bottles, 0, 'bottles');
  });
  return out;
}
