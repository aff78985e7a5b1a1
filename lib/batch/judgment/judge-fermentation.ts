/** Whether a fermentation is over, from its readings. */

import { combine } from '../../formulas/uncertainty.ts';
import { hydrometerUncertainty } from '../model/defaults.ts';
import { TARGET_INDEX as T } from '../model/target-vector.ts';
import { isBrix, type LogRow } from '../readings/log-rows.ts';
import type { Observation } from '../readings/normalise-readings.ts';
import type { Batch } from '../types/batch.ts';
import type { Fermentation, Finish } from '../types/plan.ts';
import { dateOfDay, dayNumber } from '../types/time.ts';
import type { Input } from '../uncertainty/inputs.ts';
import type { Propagation } from '../uncertainty/propagate.ts';

/** Common practice, no source: the same gravity for three days, for a week where the beer is cold. */
export const FLAT_DAYS = { warm: 3, cold: 7, coldBelow_C: 15 } as const;

export const POINT_SG = 0.001;
/**
 * Gravities are written to the point; the temperatures of their samples may add most of another one to a difference. So a point
 * apart is the same, two points are in doubt, and three have fallen. Common practice, no source.
 */
const SAME_SG = 1.7 * POINT_SG;
const DOUBT_SG = 2.7 * POINT_SG;
/** A last reading that is lower than the first by a point. */
const LOWER_SG = 0.8 * POINT_SG;
/** What the end is uncertain by, once the wort is known. */
const OF_THE_END: ReadonlySet<Input['key']> = new Set<Input['key']>(['attenuation', 'fermentability']);
/** What a warm sample with fresh yeast ends at, SG. Common practice, no source. */
const FERMENTED_OUT_u_SG = POINT_SG;
/** Shares of the joint uncertainty up to which a flat beer is where it should be, the longer flat the more; and nearly there. */
const WITHIN = { flat: 1, twiceAsLong: 1.5, fourTimes: 2, nearly: 2.5 } as const;

/** What the end is expected to be. */
export interface Expected {
  readonly gravity_SG: number;
  readonly u_SG: number;
}

/**
 * Expected end of the wort that was brewed: its own attenuation, or a sample that was fermented out. Its uncertainty is what yeast
 * and wort bring to the planned end gravity's range, in proportion to the gravity that it began with.
 */
export function expectedEnd(of: {
  /** Of the wort as brewed. */
  readonly original_SG: number;
  readonly final_SG: number;
  readonly propagation: Propagation;
  readonly inputs: readonly Input[];
  readonly readings: readonly Observation[];
}): Expected | null {
  const { original_SG, final_SG, propagation, inputs, readings } = of;
  const sample = readings.find(({ key }) => key === 'fermented_out');
  if (sample && sample.value !== null) return { gravity_SG: sample.value, u_SG: FERMENTED_OUT_u_SG };
  if (!Number.isFinite(final_SG)) return null;
  const { nominal, variances } = propagation;
  const planned = nominal[T.original_gravity]! - 1;
  if (!(planned > 0)) return { gravity_SG: final_SG, u_SG: 0 };
  const ofEnd = variances.filter((_, i) => OF_THE_END.has(inputs[i]!.key));
  const u_SG = combine(ofEnd.map((row) => Math.sqrt(row[T.final_gravity] || 0)));
  return { gravity_SG: final_SG, u_SG: (u_SG * (original_SG - 1)) / planned };
}

/** u of last gravity less expected end, SG. */
const distance_u = (expected: Expected, reading_u: number): number => Math.hypot(expected.u_SG, reading_u);

/** When the beer of a plan counts as finished. */
export function finishOf(batch: Batch, expected: Expected | null): Finish | null {
  if (expected === null) return null;
  const { hydrometer } = batch.setup;
  const u = distance_u(expected, hydrometer.u > 0 ? hydrometer.u : hydrometerUncertainty(hydrometer.step));
  const cold = batch.recipe.ferment.some(({ temperature_C }) => temperature_C.value < FLAT_DAYS.coldBelow_C);
  return {
    days: cold ? FLAT_DAYS.cold : FLAT_DAYS.warm,
    apart: POINT_SG,
    expected_gravity: expected.gravity_SG,
    finished_at_most: expected.gravity_SG + WITHIN.flat * u,
    nearly_at_most: expected.gravity_SG + WITHIN.nearly * u,
  };
}

/** What the readings say of the end, in full: for the words, and for the bottles. */
export interface Ending {
  readonly state: Exclude<Fermentation['state'], 'given up'>;
  readonly grade: 'A' | 'B' | 'C';
  readonly last: LogRow | null;
  readonly expected: Expected;
  /** Last gravity above the expected one, points; negative below. */
  readonly above_points: number;
  readonly u_points: number;
  readonly flat_days: number;
  readonly needed_days: number;
  /** Between the last two readings, where they are near enough to tell; 0 else. */
  readonly fall_points: number;
  readonly since_days: number;
  /** Day of the next reading; null where none is due. */
  readonly next: string | null;
  /** True where that day had passed, and `next` is today. */
  readonly putOff: boolean;
}

/** The final gravity is read on the day of packaging, else with the last of the log. */
export function withFinal(batch: Batch, log: readonly LogRow[], readings: readonly Observation[]): LogRow[] {
  const final = readings.find(({ key }) => key === 'final_gravity');
  if (!final || final.value === null) return [...log];
  const { packaged } = batch.readings;
  const before = log.at(-1);
  const on = packaged && packaged !== 'not taken' ? packaged[0]?.on : undefined;
  const of = on ? dayNumber(on.date) : (before?.day ?? dayNumber(batch.brewed ?? '1970-01-01'));
  const day = Math.floor(Math.max(of, before?.day ?? of));
  const { key, value: sg, u } = final;
  const refractometer = isBrix(batch.readings.final_gravity);
  // The log's reading of that day is the same one, written twice.
  const earlier = log.filter((row) => Math.floor(row.day) < day);
  return [...earlier, { key, day, hasClock: false, sg, u, t_C: before?.t_C ?? 20, refractometer }];
}

const calendarDays = (from: LogRow, to: LogRow): number => Math.floor(to.day) - Math.floor(from.day);

interface Flatness {
  readonly flat_days: number;
  /** Days for which the last readings agree, whether long enough or not. */
  readonly run_days: number;
  readonly lower: boolean;
  readonly mean_SG: number;
}

/** Days for which the last readings agree: all within a point, and twice as long where the last is a point below the first. */
function agreement(rows: readonly LogRow[], needed_days: number): Flatness {
  const last = rows.at(-1)!;
  let [low, high, sum] = [last.sg, last.sg, last.sg];
  let found = { flat_days: 0, run_days: 0, lower: false, mean_SG: last.sg };
  for (let i = rows.length - 2; i >= 0; i--) {
    const row = rows[i]!;
    low = Math.min(low, row.sg);
    high = Math.max(high, row.sg);
    sum += row.sg;
    if (high - low > SAME_SG) break;
    const run_days = calendarDays(row, last);
    const lower = row.sg - last.sg > LOWER_SG;
    const long = run_days > 0 && run_days >= (lower ? 2 : 1) * needed_days;
    const flat_days = long ? run_days : found.flat_days;
    found = { flat_days, run_days, lower, mean_SG: sum / (rows.length - i) };
  }
  return found;
}

/**
 * The same, where one reading that strays from a flat stretch does not end it: a point from its mean, or above it, as a gravity
 * does not rise. Two points below, the next reading tells: it `dips`.
 */
function flatness(rows: readonly LogRow[], needed_days: number): Flatness & { readonly dips: boolean } {
  const agree = { ...agreement(rows, needed_days), dips: false };
  const last = rows.at(-1)!;
  const earlier = rows.filter((row) => calendarDays(row, last) > 0);
  if (agree.flat_days > 0 || earlier.length < 2) return agree;
  const before = agreement(earlier, needed_days);
  const off_SG = last.sg - before.mean_SG;
  if (before.flat_days === 0 || Math.abs(off_SG) > DOUBT_SG) return agree;
  if (off_SG < -SAME_SG || (off_SG < 0 && before.lower)) return { ...agree, dips: true };
  return { ...before, flat_days: before.flat_days + calendarDays(earlier.at(-1)!, last), dips: false };
}

/**
 * What the readings say of the end; null without yeast.
 *
 * Flat: readings by one instrument, whose offset cancels in the difference, within a point of each other over n calendar days (3;
 * 7 where the beer is below 15 °C), over 2n where the last is a point below the first, and one that strays counts for little. Grade A: flat and at most 1.0 joint
 * standard uncertainties above what is expected (1.5 once flat for 2n days, 2.0 for 4n); B: at most 2.5; C: anything else.
 */
export function endingOf(
  read: readonly LogRow[],
  expected: Expected | null,
  today: string | null,
): Ending | null {
  const last = read.at(-1) ?? null;
  if (expected === null) return null;
  const rows = read.filter(({ refractometer }) => refractometer === last?.refractometer);
  const none = {
    grade: 'C',
    last,
    expected,
    flat_days: 0,
    fall_points: 0,
    since_days: 0,
    putOff: false,
  } as const;
  if (last === null)
    return {
      ...none,
      state: 'too few readings',
      above_points: 0,
      u_points: 0,
      needed_days: FLAT_DAYS.warm,
      next: today,
    };
  const needed_days = last.t_C < FLAT_DAYS.coldBelow_C ? FLAT_DAYS.cold : FLAT_DAYS.warm;
  const above = (gravity_SG: number) => (gravity_SG - expected.gravity_SG) / POINT_SG;
  const u_points = distance_u(expected, last.u) / POINT_SG;
  const known = { ...none, above_points: above(last.sg), u_points, needed_days };
  const after = (days: number) => {
    const on = dateOfDay(Math.floor(last.day) + Math.max(1, days));
    const putOff = today !== null && today > on;
    return { next: putOff ? today : on, putOff };
  };
  const before = rows.findLast((row) => calendarDays(row, last) > 0);
  if (!before) return { ...known, state: 'too few readings', ...after(needed_days) };
  const since_days = calendarDays(before, last);
  const near = since_days <= needed_days + 1;
  const fall_points = near ? Math.max(0, (before.sg - last.sg) / POINT_SG) : 0;
  const { flat_days, run_days, lower, mean_SG, dips } = flatness(rows, needed_days);
  const all = { ...known, flat_days, fall_points, since_days };
  if (flat_days === 0) {
    if (dips) return { ...all, state: 'not yet flat', grade: 'B', ...after(needed_days) };
    const belowBefore = before.sg - expected.gravity_SG < -2 * u_points * POINT_SG;
    const falls = before.sg - last.sg > LOWER_SG;
    if (belowBefore && falls) return { ...all, state: 'falling below', ...after(needed_days) };
    if (run_days > 0 || !near) {
      const left = (lower ? 2 : 1) * needed_days - run_days;
      // Readings too far apart to show a fall, and too few that agree.
      return {
        ...all,
        state: near ? 'not yet flat' : 'too few readings',
        ...after(near ? left : needed_days),
      };
    }
    // A gravity does not rise: the next reading tells which of the two was misread.
    if (last.sg > before.sg) return { ...all, state: 'not yet flat', ...after(needed_days) };
    return { ...all, state: 'still falling', ...after(needed_days) };
  }
  // A last reading above the mean of those that agree is their scatter.
  const above_points = above(Math.min(last.sg, mean_SG));
  const flat = { ...all, above_points };
  const times = flat_days / needed_days;
  const within = times >= 4 ? WITHIN.fourTimes : times >= 2 ? WITHIN.twiceAsLong : WITHIN.flat;
  if (above_points <= within * u_points) return { ...flat, state: 'finished', grade: 'A', next: null };
  if (above_points <= WITHIN.nearly * u_points)
    return { ...flat, state: 'nearly', grade: 'B', ...after(needed_days) };
  return { ...flat, state: 'stopped high', ...after(needed_days) };
}
