/** The gravities of a fermentation log, in the order of their days. */

import type { GivenGravity } from '../../units/parse/given.ts';
import { pitchingTemperature } from '../model/build-model-input.ts';
import type { Batch } from '../types/batch.ts';
import { type Reading, taken } from '../types/readings.ts';
import { dayNumber } from '../types/time.ts';
import type { Observation } from './normalise-readings.ts';

/** One gravity of the log. */
export interface LogRow {
  /** Key below `readings`, `fermentation[0].gravity`. */
  readonly key: string;
  /** Days from 1970, with the time of day as a part. */
  readonly day: number;
  readonly hasClock: boolean;
  readonly sg: number;
  readonly u: number;
  /** Of the beer; the planned one where it was not read. */
  readonly t_C: number;
  /** Two instruments differ by more than a beer falls in its last days. */
  readonly refractometer?: boolean;
}

export const isBrix = (reading: Reading<GivenGravity> | null | undefined): boolean =>
  taken(reading)?.scale === 'brix';

/** Every gravity of the log that its formula can use, first to last. */
export function logRows(batch: Batch, readings: readonly Observation[]): LogRow[] {
  const log = taken(batch.readings.fermentation) ?? [];
  const read = new Map(readings.map((reading) => [reading.key, reading]));
  const rows = log.flatMap((row, i): LogRow[] => {
    const key = `fermentation[${i}].gravity`;
    const { value = null, u = 0 } = read.get(key) ?? {};
    if (value === null) return [];
    const day = dayNumber(row.on.date, row.on.clock);
    const t_C = row.temperature_C?.value ?? plannedTemperature(batch, day);
    return [
      { key, day, hasClock: row.on.clock !== null, sg: value, u, t_C, refractometer: isBrix(row.gravity) },
    ];
  });
  return rows.sort((a, b) => a.day - b.day);
}

/** The planned step on a day, counted from the brew day; the last one beyond them. */
function plannedTemperature(batch: Batch, day: number): number {
  const steps = batch.recipe.ferment;
  if (steps.length === 0) return pitchingTemperature(batch.recipe);
  let left_min = batch.brewed ? (day - dayNumber(batch.brewed)) * 1440 : 0;
  for (const step of steps) {
    left_min -= step.time_min.value;
    if (left_min < 0) return step.temperature_C.value;
  }
  return steps[steps.length - 1]!.temperature_C.value;
}
