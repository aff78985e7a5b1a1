/** Readings as they were keyed in, reduced to what the targets are stated in: 20 °C and SG 20/20. */

import { boilingPoint_C } from '../../formulas/boiling-point.ts';
import { platoFromSpecificGravity, specificGravityFromPlato } from '../../formulas/gravity.ts';
import { correctHydrometer } from '../../formulas/hydrometer.ts';
import { OutOfRange } from '../../formulas/range.ts';
import { finalGravityTerrill2011, wortPlatoFromBrix } from '../../formulas/refractometer.ts';
import { thermalVolumeRatio } from '../../formulas/shrinkage.ts';
import type { Celsius, Gram } from '../../units/brands.ts';
import type { Given, GivenAmount, GivenGravity, GivenVolume } from '../../units/parse/given.ts';
import type { KeyPath } from '../../units/problem.ts';
import { pitchingTemperature } from '../model/build-model-input.ts';
import type { Detail } from '../model/model.ts';
import { type Outcome, TARGET_INDEX as T } from '../model/target-vector.ts';
import type { Batch } from '../types/batch.ts';
import { type Place, placeOf, placeText, planKey, valueAtPlace } from '../types/places.ts';
import {
  type Group,
  type One,
  READINGS,
  type ReadingKey,
  type Readings,
  type Rows,
  taken,
} from '../types/readings.ts';
import type { Setup } from '../types/setup.ts';
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

/** How a volume is read: at which mark, and as hot as what where nobody says; strong as planned, or water. */
interface VolumeRule {
  readonly mark: (setup: Setup, value_L: number) => number;
  readonly wort: 'boil_start_gravity' | 'boil_end_gravity' | 'original_gravity' | 'final_gravity' | null;
  readonly usual_C: (batch: Batch) => number;
}
const kettleMark = ({ instruments }: Setup) => instruments.kettleMark_L.u;
const fermenterMark = ({ instruments }: Setup) => instruments.fermenterMark_L.u;
const boiling_C = ({ setup }: Batch) => boilingPoint_C(setup.altitude_m.value);

const VOLUMES: Readonly<Record<string, VolumeRule>> = {
  boil_start_volume: { mark: kettleMark, wort: 'boil_start_gravity', usual_C: boiling_C },
  boil_end_volume: { mark: kettleMark, wort: 'boil_end_gravity', usual_C: boiling_C },
  'top_up.volume': {
    mark: fermenterMark,
    wort: null,
    usual_C: ({ setup }) => setup.topUpTemperature_C.value,
  },
  fermenter_volume: {
    mark: fermenterMark,
    wort: 'original_gravity',
    usual_C: ({ readings, recipe }) =>
      taken(readings.pitched)?.temperature_C?.value ?? pitchingTemperature(recipe),
  },
  'packaged.volume': {
    mark: (setup, value_L) => readingInstrument('packaged_volume_l', setup, value_L)!.u,
    wort: 'final_gravity',
    usual_C: () => 20,
  },
};
const ANY_VOLUME: VolumeRule = { mark: fermenterMark, wort: null, usual_C: () => 20 };

/** What a reduced reading is held against, where that is not what the paper says beside its blank. */
const TARGETS: { readonly [key: string]: TargetKey } = {
  boil_start_volume: 'boil_start_volume_l',
  boil_end_volume: 'boil_end_volume_l',
  fermenter_volume: 'fermenter_volume_l',
  'packaged.volume': 'packaged_volume_l',
  'packaged.sugar': 'priming_sugar_g',
  'packaged.bottles': 'bottles',
};

/** What a kitchen scale that shows whole grams cannot tell, beside its share, g. */
const ASSUMED_SUGAR_U_G = 1;

/** In the order of the day, but the starting gravity before the volume that it is read beside: it is judged first. */
const KEYS: ReadingKey[] = (Object.keys(READINGS) as ReadingKey[]).filter(
  (key) => key !== 'fermenter_volume',
);
KEYS.splice(KEYS.indexOf('original_gravity') + 1, 0, 'fermenter_volume');

/**
 * Every numeric reading in the order of the day, each as its target is stated: volumes in litres at 20 °C, gravities as
 * SG 20/20, temperatures in °C, clocks in minutes (the boil's length, an addition's lateness), with the reading's standard
 * uncertainty (its own, else its instrument's).
 *
 * Volumes in the kettle are read at boiling point, in the fermenter at pitching temperature, packaged beer at its own, unless
 * the reading says otherwise. Never throws: a figure outside the range of its formula carries its fault.
 */
export function observations(batch: Batch, planned: Outcome, detail: Detail): Observation[] {
  const { readings } = batch;
  const out = new Reduced();
  for (const of of KEYS) {
    if (of === 'boil_ended') byTheClock(batch, detail, out);
    const spec: One | Group | Rows = READINGS[of];
    const whole: unknown = readings[of];
    if (whole === undefined) continue;
    if (!('shape' in spec)) observe(batch, planned, { of, row: null, part: null }, spec, out);
    else if (whole === 'not taken') {
      const target = Object.values(spec.parts).find((part) => part.target)?.target ?? null;
      if (spec.shape === 'group' || of === 'packaged') out.notTaken(of, target);
    } else
      for (const row of spec.shape === 'group' ? [null] : (whole as readonly unknown[]).keys())
        for (const [part, one] of Object.entries(spec.parts))
          observe(batch, planned, { of, row, part }, one, out);
  }
  return out.list;
}

function observe(
  batch: Batch,
  planned: Outcome,
  place: Place,
  { kind, target, fermented }: One,
  out: Reduced,
) {
  const { readings, setup } = batch;
  const key = planKey(place, readings);
  const rule = placeText({ ...place, row: null });
  // Of a batch that is divided, no part is held against the whole.
  const aim = (key === rule ? TARGETS[rule] : null) ?? target ?? null;
  const value = valueAtPlace(readings, place);
  if (value === null) return;
  if (value === 'not taken') {
    if (kind === 'volume' || kind === 'gravity' || kind === 'temperature') out.notTaken(key, aim);
    return;
  }
  switch (kind) {
    case 'temperature': {
      const { value: read, u } = value as Given<Celsius>;
      return out.take(key, aim, () => ({ value: read, u: u ?? setup.instruments.thermometer_C.u }));
    }
    case 'gravity':
      return out.take(key, aim, () => {
        const gravity = value as GivenGravity;
        // Only a refractometer has to know the wort that the beer was.
        const wort =
          fermented && gravity.scale === 'brix'
            ? { brix: originalBrix(batch, readings, planned[T.original_gravity]!) }
            : null;
        return reduceGravity(batch, gravity, wort);
      });
    case 'volume': {
      const volume = value as GivenVolume;
      const { mark, wort, usual_C } = VOLUMES[rule] ?? ANY_VOLUME;
      const own = valueAtPlace(readings, { ...place, part: 'temperature' }) as Given<Celsius> | null;
      return out.take(key, aim, () => ({
        // Extract of the planned wort or beer, for the expansion.
        value: reduceVolume(
          volume,
          wort === null ? 0 : platoFromSpecificGravity(Math.max(1, planned[T[wort]] || 1)),
          own?.value ?? usual_C(batch),
        ),
        u: volume.u ?? mark(setup, volume.value),
      }));
    }
    case 'mass': {
      const { value: read_g, u } = value as Given<Gram>;
      const scale_g = Math.hypot(ASSUMED_SUGAR_U_G, setup.instruments.scale.u * read_g);
      return out.take(key, aim, () => ({ value: read_g, u: u ?? scale_g }));
    }
    case 'amount': {
      const amount = value as GivenAmount;
      if (amount.unit === 'g') out.take(key, aim, () => ({ value: amount.value, u: 0 }));
      return;
    }
    case 'count':
      if (value !== 0 || place.part !== 'burst') out.take(key, aim, () => ({ value: value as number, u: 0 }));
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

/** The key path in the file of a reading, from its key in the plan: `fermentation[0].gravity`. */
export function readingPath(key: string): KeyPath {
  const { of, row, part } = placeOf(key)!;
  // A single packaging is written without a list.
  const steps = [of, key.includes('[') ? row : null, part];
  return ['readings', ...steps.filter((step) => step !== null)];
}
