/** From "fill the kettle" to "airlock on", with the steps that a recipe does not say. */
import { ASSUMED_DRAIN_MIN, ASSUMED_STIR_MIN } from '../model/defaults.ts';
import { bathLeaves_C, type Detail } from '../model/model.ts';
import type { Case } from '../model/model-input.ts';
import { steepWater_L } from '../model/peak-volume.ts';
import { type Outcome, TARGET_INDEX as T } from '../model/target-vector.ts';
import type { Act, Phase, TimetableRow } from '../types/acts.ts';
import type { Batch } from '../types/batch.ts';

import { type RecipeItem, recipeItems } from '../types/recipe.ts';
import { clockAfter } from '../types/time.ts';

/** When the work before the kettle goes on is begun, minutes before. Common practice, no source. */
const DAY_BEFORE_MIN = -1440;
const SANITISER_MIN = -30;
const WEIGH_OUT_MIN = -20;
/** Drained, poured and topped up; then read. Common practice, no source. */
const ASSUMED_TRANSFER_MIN = 10;
const ASSUMED_READ_MIN = 5;
/** Minutes left at which the cold side is made ready. Common practice, no source. */
const SANITISE_LEFT = 20;
const READY_LEFT = 10;
/** Two things at once are one too many: a cue moves ahead of an addition by so much, min. */
const CUE_STEP_MIN = 2;
/** Water to rinse grain with, and how long before it is wanted it goes on; hotter draws tannin. Common practice, no source. */
const RINSE_C = 75;
const RINSE_HEAT_MIN = 20;
const LEAST_ICE_KG = 0.05;
const LEAST_VOLUME_L = 0.05;

/** Something of the recipe that is put in at a moment of the day. */
interface Addition extends RecipeItem {
  /** Extract and sugar go in with the flame off. */
  readonly dissolves: boolean;
}

interface DayPlan {
  readonly batch: Batch;
  readonly c: Case;
  readonly outcome: Outcome;
  readonly detail: Detail;
  /** Null where the bath needs no ice. */
  readonly ice_kg: number | null;
  readonly additions: readonly Addition[];
}

/** Sequence of the day: rows are pushed in order while the clock moves on. */
class Day {
  readonly rows: TimetableRow[] = [];
  minute = 0;
  private readonly start: string | null;

  constructor(start: string | null) {
    this.start = start;
  }

  row(
    phase: Phase,
    act: Act,
    more: {
      readonly items?: readonly RecipeItem[];
      readonly minutesLeft?: number | undefined;
      readonly minute?: number;
    } = {},
  ): void {
    const minute = more.minute ?? this.minute;
    this.rows.push({
      phase,
      minutes_left: more.minutesLeft ?? null,
      minute,
      clock: this.start && minute >= 0 ? clockAfter(this.start, minute) : null,
      items: (more.items ?? []).map(({ path, name, amount, note }) => ({ path, name, amount, note })),
      ...act,
    });
  }

  /** The same, and the clock moves on by its minutes. */
  wait(
    phase: Phase,
    act: Extract<Act, { readonly minutes: number }>,
    more: { readonly items?: readonly RecipeItem[]; readonly minutesLeft?: number | undefined } = {},
  ): void {
    this.row(phase, act, more);
    this.minute += act.minutes;
  }
}

/** With nothing of the boil left, an addition is one at flame-out: the flame does not come on again for it. */
const momentOf = (add: RecipeItem['add']): RecipeItem['add'] =>
  add.at === 'boil' && add.minutesLeft <= 0 ? { at: 'flameout' } : add;

const leftOf = ({ add }: RecipeItem): number => (add.at === 'boil' ? add.minutesLeft : 0);

export interface TimetableResult {
  readonly rows: readonly TimetableRow[];
  readonly pauses: readonly { readonly minutes_left: number; readonly minutes: number }[];
}

export function timetable(batch: Batch, c: Case, outcome: Outcome, detail: Detail): TimetableResult {
  const day = new Day(batch.start);
  const ice_kg = outcome[T.ice_kg]!;
  const additions = recipeItems(batch.recipe)
    .filter(({ kind }) => kind !== 'grain' && kind !== 'yeast')
    .map((item) => ({
      ...item,
      add: momentOf(item.add),
      dissolves: item.kind === 'extract' || item.kind === 'sugar',
    }));
  const of = { batch, c, outcome, detail, additions, ice_kg: ice_kg > LEAST_ICE_KG ? ice_kg : null };
  gather(day, of);
  heatAndSoak(day, of);
  const pauses = boil(day, of);
  afterTheBoil(day, of);
  return { rows: day.rows, pauses };
}

/** One row an item; stirring takes its minutes once, with the last of them. */
const put = (day: Day, phase: Phase, list: readonly Addition[], minutesLeft?: number) => {
  for (const item of list)
    day.row(phase, item.dissolves ? { action: 'stir in', minutes: 0 } : { action: 'add' }, {
      items: [item],
      minutesLeft,
    });
};

function gather(day: Day, { batch, outcome, ice_kg }: DayPlan): void {
  const volume_L = outcome[T.top_up_l]!;
  const before = { minute: DAY_BEFORE_MIN };
  if (volume_L >= LEAST_VOLUME_L)
    day.row('gather', { action: 'prepare', thing: 'top-up water', volume_L }, before);
  if (ice_kg !== null) day.row('gather', { action: 'prepare', thing: 'ice', ice_kg }, before);
  for (const item of recipeItems(batch.recipe)) {
    if (item.kind !== 'yeast') continue;
    const thing = item.form === 'dry' ? 'dry yeast' : 'other yeast';
    day.row('gather', { action: 'prepare', thing }, { ...before, items: [item] });
  }
  const { sanitiser } = batch.setup;
  const water_L = sanitiser?.make?.unit === 'L' ? sanitiser.make.value : null;
  const dose_L = sanitiser === null || water_L === null ? null : (sanitiser.dose_ml_per_L * water_L) / 1000;
  day.row('gather', { action: 'sanitise', thing: 'sanitiser', dose_L, water_L }, { minute: SANITISER_MIN });
  day.row('gather', { action: 'weigh' }, { minute: WEIGH_OUT_MIN });
}

function heatAndSoak(day: Day, { batch, c, outcome, detail, additions }: DayPlan): void {
  const { recipe } = batch;
  const soak = (phase: 'steep' | 'mash', at_C: number, minutes: number) => {
    for (const item of recipeItems(recipe))
      if (item.kind === 'grain' && item.add.at === phase)
        day.row(phase, { action: 'grain in' }, { items: [item] });
    day.row(phase, { action: 'hold', at_C, minutes });
    const rinse_L = phase === 'mash' || !c.mash ? recipe.rinse_L?.value : undefined;
    if (rinse_L) {
      const minute = day.minute + Math.max(0, minutes - RINSE_HEAT_MIN);
      day.row(phase, { action: 'heat the rinse', volume_L: rinse_L, to_C: RINSE_C }, { minute });
    }
    day.minute += minutes;
    day.row(phase, { action: 'grain out' });
    day.wait(phase, { action: 'drain', minutes: ASSUMED_DRAIN_MIN });
    if (rinse_L) day.row(phase, { action: 'rinse', volume_L: rinse_L });
  };
  let poured_L = 0;
  if (c.mash && recipe.mash) {
    day.row('heat', { action: 'fill', thing: 'mash', volume_L: c.mash.water_L });
    day.wait('heat', {
      action: 'heat',
      to_C: outcome[T.strike_water_c]!,
      minutes: detail.thermal.minutesToStrike ?? 0,
    });
    soak('mash', recipe.mash.temperature_C.value, c.mash.time_min);
    poured_L = c.mash.water_L + c.rinse_L;
  }
  if (c.steep && recipe.steep) {
    const soak_L = steepWater_L(c);
    if (soak_L > LEAST_VOLUME_L) day.row('heat', { action: 'fill', thing: 'steep', volume_L: soak_L });
    day.wait('heat', {
      action: 'heat',
      to_C: outcome[T.steep_water_c]!,
      minutes: outcome[T.minutes_to_steep]!,
    });
    day.row('steep', { action: 'flame off', thing: 'grain' });
    put(
      day,
      'steep',
      additions.filter(({ add, dissolves }) => add.at === 'steep' && !dissolves),
    );
    soak('steep', recipe.steep.temperature_C.value, c.steep.time_min);
    poured_L += soak_L;
    if (!c.mash) poured_L += c.rinse_L;
  }
  const volume_L = c.waterToHeat_L - poured_L;
  const thing = poured_L > 0 ? 'rest' : 'kettle';
  if (volume_L > LEAST_VOLUME_L) day.row('heat', { action: 'fill', thing, volume_L });
}

/** What is made ready while it boils, by minutes left: ahead of an addition of the same minute. */
function cues({ batch, additions, ice_kg }: DayPlan, length: number): ReadonlyMap<number, readonly Act[]> {
  const taken = new Set(additions.map((item) => Math.round(leftOf(item))));
  const free = (wanted: number): number => {
    let left = Math.min(wanted, length);
    while (taken.has(Math.round(left)) && left + CUE_STEP_MIN <= length) left += CUE_STEP_MIN;
    taken.add(Math.round(left));
    return left;
  };
  const { with: way } = batch.setup.chill;
  const bath = way === 'ice bath' || way === 'cold-water bath';
  const ready: readonly Act[] = [
    ...(way === 'coil' ? [{ action: 'coil in' } as const] : []),
    { action: 'ready', bath, ice_kg },
  ];
  const readyLeft = free(READY_LEFT);
  const sanitise: Act = { action: 'sanitise', thing: 'tools' };
  return new Map([
    [free(SANITISE_LEFT), [sanitise]],
    [readyLeft, ready],
  ]);
}

function boil(day: Day, of: DayPlan): { minutes_left: number; minutes: number }[] {
  const { outcome, c, detail, additions } = of;
  const length = c.boil_min;
  const early = (at: RecipeItem['add']['at']) =>
    additions.filter((a) => a.add.at === at && (at !== 'steep' || a.dissolves));
  put(day, 'heat', early('first wort'));
  const atStart = [
    ...early('steep'),
    ...additions.filter((a) => a.dissolves && a.add.at === 'boil' && a.add.minutesLeft >= length),
  ];
  if (length <= 0) {
    put(day, 'heat', atStart);
    put(day, 'heat', early('flameout'));
    return [];
  }
  day.wait('heat', { action: 'heat', to_C: null, minutes: outcome[T.minutes_to_boil]! });
  day.row('heat', { action: 'watch' });
  const pauses: { minutes_left: number; minutes: number }[] = [];
  const stirIn = (phase: Phase, list: readonly Addition[], timeIndex: number, minutesLeft?: number) => {
    const back = detail.thermal.pauses.find((pause) => pause.timeIndex === timeIndex)?.minutes ?? 0;
    day.row(phase, { action: 'flame off', thing: 'extract' }, { minutesLeft });
    put(day, phase, list.slice(0, -1), minutesLeft);
    day.wait(phase, { action: 'stir in', minutes: ASSUMED_STIR_MIN }, { items: list.slice(-1), minutesLeft });
    day.wait(phase, { action: 'flame on', minutes: back }, { minutesLeft });
    pauses.push({ minutes_left: minutesLeft ?? length, minutes: ASSUMED_STIR_MIN + back });
  };
  if (atStart.length > 0) stirIn('heat', atStart, 0);

  let left = length;
  day.row('boil', { action: 'boil begins', minutes: length }, { minutesLeft: length });
  if (atStart.length > 0) day.row('boil', { action: 'watch' }, { minutesLeft: length });
  const due = additions.filter((a) => a.add.at === 'boil' && !atStart.includes(a));
  const made = cues(of, length);
  const minutes = [...new Set([...due.map(leftOf), ...made.keys()])].sort((a, b) => b - a);
  for (const minutesLeft of minutes) {
    day.minute += left - minutesLeft;
    left = minutesLeft;
    for (const act of made.get(minutesLeft) ?? []) day.row('boil', act, { minutesLeft });
    const now = due.filter((item) => leftOf(item) === minutesLeft);
    const dissolving = now.filter((a) => a.dissolves);
    if (dissolving.length > 0) {
      const index = c.times_min.findIndex((t) => Math.abs(t - minutesLeft) < 1e-9);
      stirIn('boil', dissolving, index, minutesLeft);
    }
    put(
      day,
      'boil',
      now.filter((a) => !a.dissolves),
      minutesLeft,
    );
    if (now.length > 0) day.row('boil', { action: 'watch' }, { minutesLeft });
  }
  day.minute += left;
  day.row('boil', { action: 'flame out' }, { minutesLeft: 0 });
  put(day, 'boil', early('flameout'), 0);
  return pauses;
}

function afterTheBoil(day: Day, { batch, c, outcome, detail, additions, ice_kg }: DayPlan): void {
  const { recipe, setup } = batch;
  if (recipe.stand) {
    const { temperature_C, time_min } = recipe.stand;
    day.row('stand', { action: 'stand', at_C: temperature_C.value, minutes: time_min.value });
    put(
      day,
      'stand',
      additions.filter((a) => a.add.at === 'stand'),
    );
    day.minute += time_min.value;
  }
  if (c.boil_min <= 0) day.row('chill', { action: 'sanitise', thing: 'tools' });
  const to_C = outcome[T.chill_to_c]!;
  if (Number.isFinite(to_C)) {
    const bath_C = ice_kg === null ? null : bathLeaves_C(c);
    const coil = setup.chill.with === 'coil';
    day.wait('chill', { action: 'chill', to_C, bath_C, ice_kg, coil, minutes: setup.chill.in_min.value });
  }
  const volume_L = detail.end_L - detail.lost_L;
  day.row('chill', { action: 'transfer', volume_L, minutes: ASSUMED_TRANSFER_MIN });
  const topUp_L = outcome[T.top_up_l]!;
  if (topUp_L >= LEAST_VOLUME_L) {
    const at_C = outcome[T.top_up_c]!;
    day.row('chill', {
      action: 'top up',
      volume_L: topUp_L,
      at_C: Number.isFinite(at_C) ? at_C : null,
      to_L: recipe.intoFermenter_L.value,
    });
  }
  day.minute += ASSUMED_TRANSFER_MIN;
  day.wait('read', { action: 'read', minutes: ASSUMED_READ_MIN });
  day.row('pitch', { action: 'air' });
  for (const item of recipeItems(recipe))
    if (item.kind === 'yeast') day.row('pitch', { action: 'pitch' }, { items: [item] });
  day.row('pitch', { action: 'seal' });
}
