/** From "fill the kettle" to "airlock on", with the steps that a recipe does not say. */
import { formatMass, formatMinutes, formatTemperature, formatVolume } from '../../units/format/format.ts';
import { GRAMS_PER_POUND } from '../../units/table.ts';
import { ASSUMED_DRAIN_MIN, ASSUMED_STIR_MIN } from '../model/defaults.ts';
import { bathLeaves_C, type Detail } from '../model/model.ts';
import type { Case } from '../model/model-input.ts';
import { steepWater_L } from '../model/peak-volume.ts';
import { type Outcome, TARGET_INDEX as T } from '../model/target-vector.ts';
import type { Action, Phase } from '../types/acts.ts';
import type { Batch } from '../types/batch.ts';
import type { Brewery } from '../types/brewery.ts';
import type { TimetableRow } from '../types/plan.ts';
import type { RecipeMoment } from '../types/recipe.ts';
import { clockAfter } from '../types/time.ts';

/** When the work before the kettle goes on is begun, minutes before. Common practice, no source. */
const DAY_BEFORE_MIN = -1440;
const SANITISER_MIN = -30;
const WEIGH_OUT_MIN = -20;
/** Drained, poured and topped up; then read. Common practice, no source. */
const ASSUMED_TRANSFER_MIN = 10;
const ASSUMED_READ_MIN = 5;

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
    action: Action,
    what: string,
    more: { amount?: string | null; items?: readonly string[]; minutesLeft?: number; minute?: number } = {},
  ): void {
    const minute = more.minute ?? this.minute;
    this.rows.push({
      phase,
      minutes_left: more.minutesLeft ?? null,
      minute,
      action,
      what,
      amount: more.amount ?? null,
      clock: this.start && minute >= 0 ? clockAfter(this.start, minute) : null,
      items: more.items ?? [],
    });
  }
}

/** Something of the recipe that is put in at a moment. */
interface Addition {
  readonly item: string;
  readonly name: string;
  readonly amount: string;
  readonly add: RecipeMoment;
  /** Extract and sugar go in with the flame off. */
  readonly dissolves: boolean;
}

function additions(batch: Batch): Addition[] {
  const { extract, sugar, hops, other } = batch.recipe;
  const dissolving = (list: typeof extract, key: string) =>
    list.map((item, i) => ({
      item: `${key}[${i}]`,
      name: item.name,
      amount: item.weight_g.written,
      add: momentOf(item.add),
      dissolves: true,
    }));
  return [
    ...dissolving(extract, 'extract'),
    ...dissolving(sugar, 'sugar'),
    ...hops.map((hop, i) => ({
      item: `hops[${i}]`,
      name: hop.name,
      amount: hop.weight_g.written,
      add: momentOf(hop.add),
      dissolves: false,
    })),
    ...other.map((item, i) => ({
      item: `other[${i}]`,
      name: item.name,
      amount: item.amount.written,
      add: momentOf(item.add),
      dissolves: false,
    })),
  ];
}

/** With nothing of the boil left, an addition is one at flame-out: the flame does not come on again for it. */
const momentOf = (add: RecipeMoment): RecipeMoment =>
  add.at === 'boil' && add.minutesLeft <= 0 ? { at: 'flameout' } : add;

export interface TimetableResult {
  readonly rows: readonly TimetableRow[];
  readonly pauses: readonly { readonly minutes_left: number; readonly minutes: number }[];
}

export function timetable(
  batch: Batch,
  brewery: Brewery,
  c: Case,
  outcome: Outcome,
  detail: Detail,
): TimetableResult {
  const day = new Day(batch.start);
  const all = additions(batch);
  gather(day, batch, brewery, outcome);
  heatAndSoak(day, batch, brewery, c, outcome, detail, all);
  const pauses = boil(day, batch, outcome, c, detail, all);
  afterTheBoil(day, batch, brewery, c, outcome, detail, all);
  return { rows: day.rows, pauses };
}

const put = (day: Day, phase: Phase, list: readonly Addition[], minutesLeft?: number) => {
  for (const { item, name, amount, dissolves } of list) {
    day.row(phase, dissolves ? 'stir in' : 'add', name, {
      amount,
      items: [item],
      ...(minutesLeft === undefined ? {} : { minutesLeft }),
    });
  }
};

const LEAST_ICE_KG = 0.05;

/** Nobody weighs ice to the gram, and too little is worse than too much: tenths of a kilogram or whole pounds, upwards. */
const ice = (ice_kg: number, { units }: Brewery): string => {
  const step_g = units === 'us' ? GRAMS_PER_POUND : 100;
  return formatMass(Math.ceil((ice_kg * 1000) / step_g - 1e-9) * step_g, units);
};

function gather(day: Day, batch: Batch, brewery: Brewery, outcome: Outcome): void {
  const topUp_L = outcome[T.top_up_l]!;
  const ice_kg = outcome[T.ice_kg]!;
  if (topUp_L >= 0.05) {
    day.row('gather', 'prepare', 'boil, cover and chill the top-up water', {
      amount: formatVolume(topUp_L, brewery.units),
      minute: DAY_BEFORE_MIN,
    });
  }
  if (ice_kg > LEAST_ICE_KG) {
    day.row('gather', 'prepare', 'freeze the ice for the bath', {
      amount: ice(ice_kg, brewery),
      minute: DAY_BEFORE_MIN,
    });
  }
  batch.recipe.yeast.forEach((yeast, i) => {
    const what =
      yeast.form === 'dry'
        ? `have the yeast ready: ${yeast.name}`
        : `yeast out of the cold, or its starter made: ${yeast.name}`;
    day.row('gather', 'prepare', what, {
      amount: yeast.amount.written,
      items: [`yeast[${i}]`],
      minute: DAY_BEFORE_MIN,
    });
  });
  day.row('gather', 'sanitise', 'mix the sanitiser as its label says', {
    amount: sanitiserAmount(batch, brewery),
    minute: SANITISER_MIN,
  });
  day.row('gather', 'weigh', 'weigh everything out in the order of the day', { minute: WEIGH_OUT_MIN });
}

/** Dose × amount to make, where the setup states both. */
function sanitiserAmount(batch: Batch, brewery: Brewery): string | null {
  const sanitiser = batch.setup.sanitiser;
  if (sanitiser?.make?.unit !== 'L') return null;
  const dose_L = (sanitiser.dose_ml_per_L * sanitiser.make.value) / 1000;
  return `${formatVolume(dose_L, brewery.units)} in ${sanitiser.make.written}`;
}

function heatAndSoak(
  day: Day,
  batch: Batch,
  brewery: Brewery,
  c: Case,
  outcome: Outcome,
  detail: Detail,
  all: readonly Addition[],
): void {
  const { recipe } = batch;
  const volume = (litres: number) => formatVolume(litres, brewery.units);
  const degrees = (celsius: number) => formatTemperature(celsius, brewery.units, { decimals: 0 });
  const grainRows = (phase: 'steep' | 'mash') => {
    recipe.grain.forEach((item, i) => {
      if (item.in === phase) {
        day.row(phase, 'grain in', item.name, { amount: item.weight_g.written, items: [`grain[${i}]`] });
      }
    });
  };
  let poured_L = 0;
  if (c.mash && recipe.mash) {
    day.row('heat', 'fill', 'water for the mash', { amount: volume(c.mash.water_L) });
    day.row('heat', 'heat', `to ${degrees(outcome[T.strike_water_c]!)}`, {
      amount: formatMinutes(Math.round(detail.thermal.minutesToStrike)),
    });
    day.minute += detail.thermal.minutesToStrike;
    grainRows('mash');
    day.row('mash', 'hold', `at ${recipe.mash.temperature_C.written}`, {
      amount: recipe.mash.time_min.written,
    });
    day.minute += c.mash.time_min;
    day.row('mash', 'grain out', 'lift and drain, never squeeze');
    day.minute += ASSUMED_DRAIN_MIN;
    if (recipe.rinse_L)
      day.row('mash', 'rinse', 'pour over the drained grain', { amount: recipe.rinse_L.written });
    poured_L = c.mash.water_L + c.rinse_L;
  }
  if (c.steep && recipe.steep) {
    const soak_L = steepWater_L(c);
    if (soak_L > 0.05) day.row('heat', 'fill', 'water for the steep', { amount: volume(soak_L) });
    day.row('heat', 'heat', `to ${degrees(outcome[T.steep_water_c]!)}`, {
      amount: formatMinutes(Math.round(outcome[T.minutes_to_steep]!)),
    });
    day.minute += outcome[T.minutes_to_steep]!;
    day.row('steep', 'flame off', 'before the grain goes in');
    put(
      day,
      'steep',
      all.filter(({ add, dissolves }) => add.at === 'steep' && !dissolves),
    );
    grainRows('steep');
    day.row('steep', 'hold', `at ${recipe.steep.temperature_C.written}, off the heat`, {
      amount: recipe.steep.time_min.written,
    });
    day.minute += c.steep.time_min;
    day.row('steep', 'grain out', 'lift and drain, never squeeze');
    day.minute += ASSUMED_DRAIN_MIN;
    poured_L += soak_L;
    if (recipe.rinse_L && !c.mash) {
      day.row('steep', 'rinse', 'pour over the drained grain', { amount: recipe.rinse_L.written });
      poured_L += c.rinse_L;
    }
  }
  const rest_L = c.waterToHeat_L - poured_L;
  if (rest_L > 0.05) {
    const what = poured_L > 0 ? 'the rest of the water' : 'water into the kettle';
    day.row('heat', 'fill', what, { amount: volume(rest_L) });
  }
}

function boil(
  day: Day,
  batch: Batch,
  outcome: Outcome,
  c: Case,
  detail: Detail,
  all: readonly Addition[],
): { minutes_left: number; minutes: number }[] {
  const length = c.boil_min;
  const early = (at: RecipeMoment['at']) =>
    all.filter((a) => a.add.at === at && (at !== 'steep' || a.dissolves));
  put(day, 'heat', early('first wort'));
  const atStart = [
    ...early('steep'),
    ...all.filter((a) => a.dissolves && a.add.at === 'boil' && a.add.minutesLeft >= length),
  ];
  if (length <= 0) {
    put(day, 'heat', atStart);
    put(day, 'heat', early('flameout'));
    return [];
  }
  day.row('heat', 'heat', 'to the boil', { amount: formatMinutes(Math.round(outcome[T.minutes_to_boil]!)) });
  day.minute += outcome[T.minutes_to_boil]!;
  day.row('heat', 'watch', 'for the first boil-over');
  const pauses: { minutes_left: number; minutes: number }[] = [];
  const pauseAt = (timeIndex: number) =>
    detail.thermal.pauses.find((pause) => pause.timeIndex === timeIndex)?.minutes ?? 0;
  const stirIn = (phase: Phase, list: readonly Addition[], timeIndex: number, minutesLeft?: number) => {
    const left = minutesLeft === undefined ? {} : { minutesLeft };
    day.row(phase, 'flame off', 'before the extract goes in', left);
    put(day, phase, list, minutesLeft);
    day.minute += ASSUMED_STIR_MIN;
    const back = pauseAt(timeIndex);
    day.row(phase, 'flame on', 'once nothing sticks to the bottom; back to the boil', {
      amount: formatMinutes(Math.max(1, Math.round(back))),
      ...left,
    });
    day.minute += back;
    pauses.push({ minutes_left: minutesLeft ?? length, minutes: ASSUMED_STIR_MIN + back });
  };
  if (atStart.length > 0) stirIn('heat', atStart, 0);

  let left = length;
  day.row('boil', 'boil begins', 'start the countdown', {
    minutesLeft: length,
    amount: batch.recipe.boil_min.written,
  });
  if (atStart.length > 0) day.row('boil', 'watch', 'for a boil-over', { minutesLeft: length });
  const due = all.filter((a) => a.add.at === 'boil' && !atStart.includes(a));
  const minutes = [...new Set(due.map((a) => (a.add.at === 'boil' ? a.add.minutesLeft : 0)))].sort(
    (a, b) => b - a,
  );
  for (const minutesLeft of minutes) {
    day.minute += left - minutesLeft;
    left = minutesLeft;
    const now = due.filter((a) => a.add.at === 'boil' && a.add.minutesLeft === minutesLeft);
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
    day.row('boil', 'watch', 'for a boil-over', { minutesLeft });
  }
  day.minute += left;
  day.row('boil', 'flame out', 'the boil is over', { minutesLeft: 0 });
  put(day, 'boil', early('flameout'), 0);
  return pauses;
}

function afterTheBoil(
  day: Day,
  batch: Batch,
  brewery: Brewery,
  c: Case,
  outcome: Outcome,
  detail: Detail,
  all: readonly Addition[],
): void {
  const { recipe, setup } = batch;
  const degrees = (celsius: number) => formatTemperature(celsius, brewery.units, { decimals: 0 });
  if (recipe.stand) {
    day.row('stand', 'stand', `let it fall to ${recipe.stand.temperature_C.written}, cover and leave it`, {
      amount: recipe.stand.time_min.written,
    });
    put(
      day,
      'stand',
      all.filter((a) => a.add.at === 'stand'),
    );
    day.minute += recipe.stand.time_min.value;
  }
  day.row(
    'chill',
    'sanitise',
    'whatever touches the cooled wort: fermenter, lid, airlock, siphon, thermometer',
  );
  const chill_C = outcome[T.chill_to_c]!;
  if (Number.isFinite(chill_C)) {
    const ice_kg = outcome[T.ice_kg]!;
    const first = `in water to ${degrees(bathLeaves_C(c))}`;
    day.row('chill', 'chill', `to ${degrees(chill_C)}, lid on`, {
      amount: ice_kg > LEAST_ICE_KG ? `${first}, then ${ice(ice_kg, brewery)} ice` : null,
    });
    day.minute += setup.chill.in_min.value;
  }
  day.row('chill', 'transfer', 'into the fermenter, leave the trub behind', {
    amount: formatVolume(detail.end_L - detail.lost_L, brewery.units),
  });
  const topUp_L = outcome[T.top_up_l]!;
  if (topUp_L >= 0.05) {
    const at = Number.isFinite(outcome[T.top_up_c]!) ? ` at ${degrees(outcome[T.top_up_c]!)}` : '';
    day.row('chill', 'top up', `with boiled and chilled water${at}, to ${recipe.intoFermenter_L.written}`, {
      amount: formatVolume(topUp_L, brewery.units),
    });
  }
  day.minute += ASSUMED_TRANSFER_MIN;
  day.row('read', 'read', 'volume, gravity and the temperature of the sample');
  day.minute += ASSUMED_READ_MIN;
  day.row('pitch', 'air', 'shake or stir air in, now that it is cool');
  recipe.yeast.forEach((yeast, i) => {
    day.row('pitch', 'pitch', yeast.name, { amount: yeast.amount.written, items: [`yeast[${i}]`] });
  });
  day.row('pitch', 'seal', 'lid on, airlock on and filled');
}
