/** When a fermentation may be expected to end, and where: the curve fitted to its log, beside the verdict and never in its place. */

import { pitchingTemperature } from '../model/build-model-input.ts';
import { FERMENTATION_DEFAULTS as D, hydrometerUncertainty } from '../model/defaults.ts';
import type { LogRow } from '../readings/log-rows.ts';
import type { Observation } from '../readings/normalise-readings.ts';
import type { Batch } from '../types/batch.ts';
import type { FermentationCurve, Figure, Targets } from '../types/plan.ts';
import { dateOfDay, dayNumber } from '../types/time.ts';
import { roundOutward } from '../uncertainty/printed.ts';
import { type Course, dayOfEnd, END, gravityOf, nudged, SIZE, START } from './curve-model.ts';
import { type Expected, type Fitted, fitCourse } from './fit-curve.ts';

/** Points of the curve, closer together where it is steep. */
const POINTS = 33;
const CLOSER_AT_FIRST = 1.6;
/** A reading further from the curve than this many of its standard uncertainties is named. */
const OUTLIER = 4;
/** A fall smaller than so many standard uncertainties of its two readings is none. */
const SHOWS = 3;
/** Beyond so many days between the earliest and the latest there is nothing to go by. */
const WIDEST_DAYS = 60;
/** Readings of one day say nothing of how fast it goes. */
const LEAST_DAYS = 2;

/**
 * The curve of a fermentation from at least two days of readings that show a fall; null without them, without a day of pitching,
 * and for a batch that was given up. What the recipe alone expects is never given out as a fit.
 */
export function fermentationCurve(
  batch: Batch,
  rows: readonly LogRow[],
  readings: readonly Observation[],
  { original_gravity, final_gravity }: Targets,
): FermentationCurve | null {
  const pitched = pitchedOn(batch);
  if (pitched === null || batch.readings.abandoned || !original_gravity || !final_gravity) return null;
  const after = rows.filter(({ day, u }) => day > pitched.day && u > 0);
  if (new Set(after.map(({ day }) => Math.floor(day))).size < LEAST_DAYS) return null;
  const original = originalGravity(original_gravity, readings);
  if (after.every(({ sg, u }) => original.sg - sg < SHOWS * Math.hypot(u, original.u))) return null;
  const expected = expectation(batch, after[0]!, original, { original_gravity, final_gravity });
  if (expected === null) return null;
  const samples = [
    { ...original, day: 0, hour_u: 0 },
    ...after.map(({ key, day, hasClock, sg, u }) => ({
      key,
      // Without an hour, the middle of the day is taken.
      day: day + (hasClock ? 0 : D.hour.value) - pitched.day,
      sg,
      u,
      hour_u: Math.hypot(pitched.hour_u, hasClock ? 0 : D.hour.u),
    })),
  ];
  const fitted = fitCourse(samples, expected);
  const { step, u } = batch.setup.hydrometer;
  const shows_SG = u > 0 ? u : hydrometerUncertainty(step);
  // Readings that climb leave a curve that says nothing of a fermentation.
  if (fitted.course[START]! - fitted.course[END]! < SHOWS * shows_SG) return null;
  const end = expectedDay(fitted, expected.misfit_SG, shows_SG);
  const dateOf = (day: number): string => dateOfDay(pitched.day + day);
  return {
    model: MODEL,
    pitched: pitched.written,
    readings: samples.flatMap(({ key, day, sg, u }, i) =>
      key === null
        ? []
        : [{ key, day: drawn(day, 1e-3), gravity: sg, u, outlier: Math.abs(fitted.off[i]!) > OUTLIER }],
    ),
    end_gravity: expectedEnd(fitted, expected.misfit_SG, step),
    end_day: end && {
      expected: dateOf(end.expected),
      earliest: dateOf(end.earliest),
      latest: dateOf(end.latest),
    },
    points: pointsOf(
      fitted,
      expected.misfit_SG,
      1 + Math.max(samples[samples.length - 1]!.day, end?.latest ?? 0),
    ),
  };
}

const MODEL = 'Speers, Rogers & Smith 2003, J. Inst. Brew. 109:229, with a shape (Richards 1959)';

interface Pitched {
  readonly day: number;
  readonly hour_u: number;
  readonly written: string;
}

/** When the yeast went in: as read, else on the brewing day. */
function pitchedOn({ readings: { pitched }, brewed }: Batch): Pitched | null {
  const read = pitched && pitched !== 'not taken' ? pitched.on : null;
  const date = read?.date ?? brewed;
  if (date === null) return null;
  const clock = read?.clock ?? null;
  if (clock === null) return { day: dayNumber(date) + D.hour.value, hour_u: D.hour.u, written: date };
  return { day: dayNumber(date, clock), hour_u: 0, written: `${date} ${clock}` };
}

/** As read, else as planned. */
function originalGravity(
  planned: Figure,
  readings: readonly Observation[],
): { readonly key: string | null; readonly sg: number; readonly u: number } {
  const read = readings.find(({ key }) => key === 'original_gravity');
  if (read && read.value !== null && read.u > 0) return { key: read.key, sg: read.value, u: read.u };
  return { key: null, sg: planned.value, u: halfWidth(planned) / 2 };
}

const halfWidth = ({ low, high }: Figure): number => (high - low) / 2;

interface Ending {
  readonly original_gravity: Figure;
  readonly final_gravity: Figure;
}

/**
 * What is expected before the log: the planned end for the wort that there is, and a pace by temperature. Null for a wort with
 * nothing to ferment.
 */
function expectation(
  batch: Batch,
  first: LogRow,
  original: { readonly sg: number; readonly u: number },
  { original_gravity, final_gravity }: Ending,
): Expected | null {
  const planned = original_gravity.value - 1;
  if (!(planned > 0)) return null;
  const end = 1 + ((final_gravity.value - 1) * (original.sg - 1)) / planned;
  const fall = original.sg - end;
  const end_u = halfWidth(final_gravity) / 2;
  if (!(fall > original.u) || !(end_u > 0)) return null;
  const { pitched } = batch.readings;
  const read_C = pitched && pitched !== 'not taken' ? pitched.temperature_C?.value : undefined;
  const beer_C = ((read_C ?? pitchingTemperature(batch.recipe)) + first.t_C) / 2;
  const half_d = D.halfFall.value * 2 ** ((ASSUMED_ALE_C - beer_C) / D.twiceAsSlow.value);
  const course = [original.sg, end, Math.log(half_d), Math.log(D.tail.value), Math.log(D.shape.value)];
  // The curve comes from its upper level before the yeast went in: at pitching it shall stand at the starting gravity.
  course[START] = end + (fall * fall) / (gravityOf(course)(0) - end);
  const u = [ASSUMED_START_SHARE * fall, end_u, shareOf(D.halfFall), shareOf(D.tail), shareOf(D.shape)];
  return { course, u, misfit_SG: D.misfit.u * fall };
}

/** Temperature that the pace of the defaults is stated at. */
const ASSUMED_ALE_C = 20;
/** The upper level of the curve is a figure of the curve, not of the wort: it may lie so far off, of the fall. */
const ASSUMED_START_SHARE = 0.1;

const shareOf = ({ value, u }: { readonly value: number; readonly u: number }): number => u / value;

/** Standard uncertainty of what follows from the fitted course (JCGM 100, equation 13, with all covariances). */
function uncertaintyBy(fitted: Fitted, slopes: readonly number[]): number {
  let variance = 0;
  for (let i = 0; i < SIZE; i++) {
    for (let j = 0; j < SIZE; j++) variance += slopes[i]! * slopes[j]! * fitted.covariance[i]![j]!;
  }
  return Math.sqrt(Math.max(0, variance));
}

function expectedEnd(fitted: Fitted, misfit_SG: number, step_SG: number): FermentationCurve['end_gravity'] {
  const value = fitted.course[END]!;
  const u = Math.hypot(Math.sqrt(fitted.covariance[END]![END]!), misfit_SG);
  const [low, high] = [value - 2 * u, value + 2 * u];
  return { value, low, high, printed: roundOutward(low, high, step_SG) };
}

/** Days from pitching until less is left than a reading shows; its uncertainty is that of its logarithm, as of any time above 0. */
function expectedDay(
  fitted: Fitted,
  misfit_SG: number,
  left_SG: number,
): { expected: number; earliest: number; latest: number } | null {
  const logarithm = (course: Course): number | null => {
    const day = dayOfEnd(course, left_SG);
    return day !== null && day > 0 ? Math.log(day) : null;
  };
  const middle = logarithm(fitted.course);
  if (middle === null) return null;
  const expected = Math.exp(middle);
  const gravity = gravityOf(fitted.course);
  const slopes = nudged(fitted.course, logarithm).map(
    ({ up, down, by }) => ((up ?? middle) - (down ?? middle)) / by,
  );
  const fallADay = (gravity(expected * 0.99) - gravity(expected * 1.01)) / (0.02 * expected);
  const u = Math.hypot(uncertaintyBy(fitted, slopes), misfit_SG / fallADay / expected);
  const [earliest, latest] = [expected * Math.exp(-2 * u), expected * Math.exp(2 * u)];
  return latest - earliest > WIDEST_DAYS || !Number.isFinite(u) ? null : { expected, earliest, latest };
}

/** Drawn figures are rounded to what a drawing can show. */
const drawn = (figure: number, step: number): number => Number((Math.round(figure / step) * step).toFixed(5));

function pointsOf(fitted: Fitted, misfit_SG: number, until_d: number): FermentationCurve['points'] {
  const gravity = gravityOf(fitted.course);
  const either = nudged(fitted.course, gravityOf);
  return Array.from({ length: POINTS }, (_, i) => {
    const day = until_d * (i / (POINTS - 1)) ** CLOSER_AT_FIRST;
    const slopes = either.map(({ up, down, by }) => (up(day) - down(day)) / by);
    const u = Math.hypot(uncertaintyBy(fitted, slopes), misfit_SG);
    const sg = gravity(day);
    return {
      day: drawn(day, 1e-3),
      gravity: drawn(sg, 1e-5),
      low: drawn(sg - 2 * u, 1e-5),
      high: drawn(sg + 2 * u, 1e-5),
    };
  });
}
