/** The boil as the clock has it: how long it was, what went in late, and what never went in. */

import type { Minute } from '../../units/brands.ts';
import { buildCase } from '../model/build-model-input.ts';
import { ASSUMED_STIR_MIN } from '../model/defaults.ts';
import type { Detail } from '../model/model.ts';
import type { Case } from '../model/model-input.ts';
import type { Batch } from '../types/batch.ts';
import type { Clock, Reading } from '../types/readings.ts';
import type { Recipe, RecipeMoment } from '../types/recipe.ts';
import { minutesBetween } from '../types/time.ts';

/** From a moment to the pencil: two of these make a span. Common practice, no source. */
export const ASSUMED_SPAN_u_MIN = 1.5;
/** A pause is known to about a quarter of its length. Common practice, no source. */
const PAUSE_SHARE = 0.25;
/** An addition that goes in so much later is still on time. Common practice, no source. */
export const ON_TIME_MIN = 2;

/** Minutes between two clock readings, the second perhaps after midnight; null where one was not taken. */
export function elapsed(
  from: Reading<Clock> | null | undefined,
  to: Reading<Clock> | null | undefined,
): number | null {
  if (!from || !to || from === 'not taken' || to === 'not taken') return null;
  return minutesBetween(from, to);
}

/** Minutes for which the countdown stood still, from its start down to some minutes left. */
function paused({ recipe }: Batch, { thermal }: Detail, untilLeft_min: number): number {
  const moments = new Set<number>();
  for (const { add } of [...recipe.extract, ...recipe.sugar]) {
    if (add.at === 'boil' && add.minutesLeft < recipe.boil_min.value) moments.add(add.minutesLeft);
  }
  const late = [...moments].sort((a, b) => b - a);
  const pauses = thermal.pauses.filter(({ timeIndex }) => timeIndex > 0);
  return pauses.reduce(
    (sum, { minutes }, i) => sum + ((late[i] ?? 0) > untilLeft_min ? minutes + ASSUMED_STIR_MIN : 0),
    0,
  );
}

interface Boiled {
  readonly minutes: number;
  readonly u: number;
}

/** Minutes that it boiled by the clock, pauses taken off; null where start or end was not read. */
export function boilByClock(batch: Batch, detail: Detail): Boiled | null {
  const clock_min = elapsed(batch.readings.boil_started, batch.readings.boil_ended);
  if (clock_min === null || !(batch.recipe.boil_min.value > 0)) return null;
  const pauses_min = paused(batch, detail, -1);
  return { minutes: clock_min - pauses_min, u: Math.hypot(ASSUMED_SPAN_u_MIN, PAUSE_SHARE * pauses_min) };
}

/** Whether a span of the clock differs from the plan's by more than the pencil and the pauses explain. */
export const differs = (minutes: number, planned_min: number, u: number): boolean =>
  Math.abs(minutes - planned_min) > 2 * u;

/** The boil's length as it counts: the countdown's, unless the clock says otherwise. */
export function boilMinutes(batch: Batch, detail: Detail): Boiled {
  const planned_min = batch.recipe.boil_min.value;
  const clock = boilByClock(batch, detail);
  if (clock === null || !differs(clock.minutes, planned_min, clock.u))
    return { minutes: planned_min, u: ASSUMED_SPAN_u_MIN };
  return clock;
}

interface Lateness {
  readonly key: string;
  readonly at: string;
  readonly minutesLeft: Minute;
  readonly what: string | null;
  readonly late_min: number;
  readonly u: number;
}

type Row = Exclude<Batch['readings']['additions'], 'not taken' | undefined>[number];

function additionsOf({ readings }: Batch): readonly Row[] {
  return readings.additions === undefined || readings.additions === 'not taken' ? [] : readings.additions;
}

/** How late each addition of the boil went in, by the clock. */
export function latenesses(batch: Batch, detail: Detail): readonly Lateness[] {
  const boil_min = batch.recipe.boil_min.value;
  return additionsOf(batch).flatMap(({ at, minutesLeft, what, clock }, i): Lateness[] => {
    const since_min = clock === 'left out' ? null : elapsed(batch.readings.boil_started, clock);
    // What goes in at flame-out or into the stand has no minute of the countdown to be late for.
    if (since_min === null || minutesLeft === null || minutesLeft <= 0) return [];
    const pauses_min = paused(batch, detail, minutesLeft);
    // Half a day later is a slip before the start, not an addition.
    const from_start = since_min > 12 * 60 ? since_min - 24 * 60 : since_min;
    const late_min = from_start - pauses_min - (boil_min - minutesLeft);
    const u = Math.hypot(ASSUMED_SPAN_u_MIN, PAUSE_SHARE * pauses_min);
    return [{ key: `additions[${i}].clock`, at, minutesLeft, what: what ?? null, late_min, u }];
  });
}

/** Additions that never went in, by their key and what they were. */
export const leftOut = (batch: Batch): readonly { readonly key: string; readonly row: Row }[] =>
  additionsOf(batch).flatMap((row, i) =>
    row.clock === 'left out' ? [{ key: `additions[${i}].clock`, row }] : [],
  );

const sameName = (a: string, b: string): boolean =>
  a.toLowerCase().replaceAll(/[\s-]/g, '') === b.toLowerCase().replaceAll(/[\s-]/g, '');

/** Whether a row of the readings is about an item of the recipe. */
function isOf(row: Pick<Row, 'at' | 'minutesLeft' | 'what'>, name: string, add: RecipeMoment): boolean {
  if (row.what) {
    if (!sameName(row.what, name)) return false;
  }
  if (add.at === 'boil')
    return row.minutesLeft !== null && Math.abs(add.minutesLeft - row.minutesLeft) < 1e-9;
  return add.at === row.at || (add.at === 'flameout' && row.minutesLeft === 0);
}

/** What was in the kettle before the countdown, the main extract, is not meant by a row that names nothing. */
const isNamedOrLate = (row: Row, add: RecipeMoment, boil_min: number): boolean =>
  Boolean(row.what) || add.at !== 'boil' || add.minutesLeft < boil_min;

/** The names of what an addition that was left out would have been; its moment where the recipe no longer has it. */
export function leftOutNames({ recipe }: Batch, row: Row): readonly string[] {
  const boil_min = recipe.boil_min.value;
  const names = [
    ...[...recipe.extract, ...recipe.sugar].filter(
      ({ name, add }) => isOf(row, name, add) && isNamedOrLate(row, add, boil_min),
    ),
    ...[...recipe.hops, ...recipe.other].filter(({ name, add }) => isOf(row, name, add)),
  ].map(({ name }) => name);
  return names.length > 0 ? [...new Set(names)] : [row.what ?? row.at];
}

/**
 * The batch as it was boiled: with the true length of the boil, additions at the minute at which they went in, and without
 * what was left out. The same object where nothing differs.
 */
function asBoiled(batch: Batch, detail: Detail): Batch {
  const { recipe } = batch;
  const boiled = boilMinutes(batch, detail);
  const planned_min = recipe.boil_min.value;
  const longer_min = boiled.minutes - planned_min;
  const out = leftOut(batch);
  const late = latenesses(batch, detail).filter(
    ({ late_min, u }) => Math.abs(late_min) > ON_TIME_MIN + 2 * u,
  );
  if (longer_min === 0 && out.length === 0 && late.length === 0) return batch;
  const moved = <Item extends { readonly name: string; readonly add: RecipeMoment }>(item: Item): Item => {
    const { add, name } = item;
    if (add.at !== 'boil') return item;
    const start = add.minutesLeft >= planned_min;
    // The main extract is stirred in before the countdown, whenever the first hops go in.
    const found = start && 'yield' in item ? undefined : late.find((row) => isOf(row, name, add));
    const left = (start ? boiled.minutes : add.minutesLeft + longer_min) - (found?.late_min ?? 0);
    const minutesLeft = Math.min(boiled.minutes, Math.max(0, left)) as typeof add.minutesLeft;
    return { ...item, add: { ...add, minutesLeft } };
  };
  const missing = (name: string, add: RecipeMoment, extract: boolean): boolean =>
    out.some(({ row }) => isOf(row, name, add) && (!extract || isNamedOrLate(row, add, planned_min)));
  const weighed = <Item extends Recipe['hops'][number] | Recipe['extract'][number]>(
    item: Item,
    extract: boolean,
  ): Item =>
    missing(item.name, item.add, extract)
      ? { ...moved(item), weight_g: { ...item.weight_g, value: 0 as typeof item.weight_g.value } }
      : moved(item);
  return {
    ...batch,
    recipe: {
      ...recipe,
      boil_min: { ...recipe.boil_min, value: boiled.minutes as typeof recipe.boil_min.value },
      extract: recipe.extract.map((item) => weighed(item, true)),
      sugar: recipe.sugar.map((item) => weighed(item, true)),
      hops: recipe.hops.map((item) => weighed(item, false)),
    },
  };
}

/** The batch as it was boiled and its case, with the water that was heated for the plan; the planned ones where nothing differs. */
export function boiledCase(
  batch: Batch,
  c: Case,
  detail: Detail,
): { readonly batch: Batch; readonly c: Case } {
  const boiled = asBoiled(batch, detail);
  if (boiled === batch) return { batch, c };
  const { boilVolume_L, waterToHeat_L, keepsSurplus, packages } = c;
  return {
    batch: boiled,
    c: { ...buildCase(boiled), boilVolume_L, waterToHeat_L, keepsSurplus, packages },
  };
}
