/** Readings that cannot all be right: days, clock times and gravities that contradict each other. */

import { originalBrix, reduceGravity } from '../../batch/readings/normalise-readings.ts';
import type { Batch } from '../../batch/types/batch.ts';
import { type Moment, READINGS, type ReadingKey, type Readings, taken } from '../../batch/types/readings.ts';
import { clockMinutes, minutesBetween } from '../../batch/types/time.ts';
import type { GivenGravity } from '../../units/parse/given.ts';
import { type KeyPath, type Problem, warningAt } from '../../units/problem.ts';
import type { SchemaFacts } from './codes.ts';
import { fault, quoted } from './value-fault.ts';

/** Two readings of the same wort may differ by this much. Common practice, no source. */
const SAME_GRAVITY_SG = 0.004;
/** An end that is written before its beginning reads as the next day: no step is this long. Common practice, no source. */
const LONGEST_STEP_MIN = 14 * 60;

const STEPS = [
  ['steep_in', 'steep_out', 'steep'],
  ['mash_in', 'mash_out', 'mash'],
  ['boil_started', 'boil_ended', 'boil'],
] as const;

/** Warnings of readings that contradict each other; the beer is what it is, so none of them is an error. */
export function checkReadings(batch: Batch): Problem[] {
  return [...earlierThanBrewed(batch), ...stepsByTheClock(batch), ...risenGravity(batch)];
}

const contradiction = (path: KeyPath, ...facts: SchemaFacts<'readings-contradict'>): Problem =>
  warningAt(['readings', ...path], fault('readings-contradict', ...facts));

/** The first day of each kind that is before the brew day: a wrong year of one is mostly that of all. */
function earlierThanBrewed({ brewed, readings }: Batch): Problem[] {
  if (brewed === null) return [];
  return daysOf(readings).flatMap((days) => {
    const early = days.find(({ on }) => on.date < brewed);
    if (early === undefined) return [];
    const facts = { day: quoted(early.on.date), brewed, what: 'this day, and that of brewed:' };
    return [contradiction(early.path, facts)];
  });
}

interface Dated {
  readonly path: KeyPath;
  readonly on: Moment;
}

/** Every day that is written, by the kind of what was done on it. */
function daysOf(readings: Readings): Dated[][] {
  const packaged = taken(readings.packaged) ?? [];
  return (Object.keys(READINGS) as readonly ReadingKey[]).map((of) => {
    const all: unknown = readings[of];
    const rows = Array.isArray(all);
    return (rows ? all : [all]).flatMap((own: unknown, row): Dated[] => {
      const on = dayIn(own);
      const listed = rows && (of !== 'packaged' || packaged.length > 1);
      return on === null ? [] : [{ path: listed ? [of, row, 'on'] : [of, 'on'], on }];
    });
  });
}

const dayIn = (own: unknown): Moment | null =>
  typeof own === 'object' && own !== null && 'on' in own ? (own.on as Moment) : null;

function stepsByTheClock({ readings, recipe }: Batch): Problem[] {
  return STEPS.flatMap(([start, end, step]) => {
    const from = taken(readings[start]);
    const to = taken(readings[end]);
    if (from === null || to === null) return [];
    const planned_min = step === 'boil' ? recipe.boil_min.value : (recipe[step]?.time_min.value ?? 0);
    const span_min = minutesBetween(from, to);
    if (span_min <= Math.max(LONGEST_STEP_MIN, planned_min)) return [];
    const order = clockMinutes(to) < clockMinutes(from) ? 'before' : 'long after';
    const facts = { clock: quoted(to), order, start, from, step, most: LONGEST_STEP_MIN / 60 };
    return [contradiction([end], { ...facts, what: `${start} and ${end}` })];
  });
}

/** Yeast takes extract away: beer heavier than its wort is a slip in one of the two figures. */
function risenGravity(batch: Batch): Problem[] {
  const original = taken(batch.readings.original_gravity);
  const final = taken(batch.readings.final_gravity);
  if (original === null || final === null) return [];
  const original_SG = gravityOf(batch, original, null);
  if (original_SG === null) return [];
  const final_SG = gravityOf(batch, final, original_SG);
  if (final_SG === null || final_SG <= original_SG + SAME_GRAVITY_SG) return [];
  const facts = { final: quoted(final.written), original: original.written };
  const what = 'both figures, their scales and their temperatures';
  return [contradiction(['final_gravity'], { ...facts, what })];
}

/** SG 20/20; null where the formulas can say nothing, which is reported elsewhere. */
function gravityOf(batch: Batch, reading: GivenGravity, original_SG: number | null): number | null {
  try {
    const wort = original_SG === null ? null : { brix: originalBrix(batch, batch.readings, original_SG) };
    return reduceGravity(batch, reading, wort).value;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
