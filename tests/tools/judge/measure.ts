/** How often good batches of careful brewers see a mark, and how surely bad ones do. */

import { join } from 'node:path';
import { readArchive } from '../../../lib/archive/read-archive.ts';
import { planBatch } from '../../../lib/batch/plan/plan-batch.ts';
import type { Brewery } from '../../../lib/batch/types/brewery.ts';
import { LEVELS, type Level } from '../../../lib/batch/types/judgment.ts';
import type { Figure, Plan } from '../../../lib/batch/types/plan.ts';
import type { FermentationRow, Readings } from '../../../lib/batch/types/readings.ts';
import type { TargetKey } from '../../../lib/batch/types/targets.ts';
import { dateOfDay, dayNumber } from '../../../lib/batch/types/time.ts';
import { ROOT } from '../../../lib/site/paths.ts';
import { randomFrom } from '../../batch/learning/random.ts';
import { given } from '../../batch/sample.ts';
import { litres } from '../../batch/sample-readings.ts';
import { Tally } from './goals.ts';
import {
  alcohol_percent,
  GAS_OF_POINT_vol,
  gasOfSugar_vol,
  type Random,
  residualGas_vol,
} from './physics.ts';
import { type Brew, brewDay, type Known, SPREAD } from './truth.ts';

/** Of the demo archive, by what they are: extract with a steep, with sugar, a kit, a small mash, a lager, a small pot. */
const FROM_THE_DEMO = [
  'moorhen-brown-3',
  'cousins-porter',
  'stoppage-kit',
  'hawthorn-saison',
  'black-ice-lager',
  'regatta-bitter',
  'lock-house-wit',
];

const kitchens = async (): Promise<readonly Known[]> => {
  const tablesDir = join(ROOT, 'shared');
  const demo = await readArchive(join(ROOT, 'content'), { tablesDir });
  const own = await readArchive(join(import.meta.dirname, 'kitchen'), { tablesDir });
  if (own.problems.some(({ severity }) => severity === 'error'))
    throw new Error(JSON.stringify(own.problems));
  const batches = [...demo.batches.filter(({ slug }) => FROM_THE_DEMO.includes(slug)), ...own.batches];
  return batches.map((read) => {
    const batch = { ...read, readings: {} };
    return { batch, plan: planned(batch, {}) };
  });
};

const BREWERY: Brewery = {
  name: 'Judge',
  units: 'metric',
  paper: 'a4',
  author: null,
  url: null,
  language: 'en',
};

function planned(batch: Known['batch'], readings: Readings): Plan {
  const result = planBatch({ ...batch, readings }, BREWERY);
  if (!result.ok) throw new Error(`${batch.slug}: ${JSON.stringify(result.problems)}`);
  return result.plan;
}

const POINT_SG = 0.001;
const loudest = (levels: readonly Level[]): Level =>
  LEVELS[Math.max(0, ...levels.map((level) => LEVELS.indexOf(level)))]!;
const ofBottles = ({ bottles }: Plan): Level => loudest((bottles ?? []).map(({ level }) => level));

/** Beer in the fermenter as a log and a packaging are written of it. */
class Cellar {
  readonly rows: FermentationRow[] = [];
  readonly #days: number[] = [];
  readonly temperature_C: number;
  readonly #brewed: number;

  constructor(
    readonly brew: Brew,
    readonly random: Random,
  ) {
    this.temperature_C = brew.batch.recipe.ferment[0]!.temperature_C.value;
    this.#brewed = dayNumber(brew.batch.brewed!);
  }

  /** Days after the brew day. */
  read(day: number, gravity_SG: number): void {
    const t_C = this.temperature_C + this.random.normal(0, 1);
    this.#days.push(day);
    this.rows.push({
      on: { date: dateOfDay(this.#brewed + day), clock: '18:00' },
      gravity: this.brew.hydrometer(gravity_SG, t_C),
      temperature_C: given(Math.round(t_C), `${Math.round(t_C)} °C`),
      note: null,
    });
  }

  open(): Plan {
    return planned(this.brew.batch, { ...this.brew.readings, fermentation: this.rows });
  }

  nextDay(plan: Plan): number {
    const { next } = plan.fermentation!;
    return Math.max(this.#days.at(-1)! + 1, next === null ? 0 : dayNumber(next) - this.#brewed);
  }

  /** Packaged on the day of the last reading, with the plan's sugar for the volume that is read. */
  packaged(
    at_SG: number,
    times = 1,
  ): { readonly plan: Plan; readonly gas_vol: number; readonly left_L: number } {
    const { batch, plan, readings, left_L, scale, gasYield, final_SG } = this.brew;
    const { random } = this;
    const read_L = Math.round(4 * left_L * random.normal(1, SPREAD.packagedVolume)) / 4;
    const warmest_C = this.temperature_C + 1;
    const keyed_g = Math.round(times * sugarFor(plan, read_L, warmest_C));
    const [step] = batch.recipe.packaging;
    const last = this.rows.at(-1)!;
    // Half of them leave the last reading to its own blank, half write it into the log too.
    const log = random.uniform() < 0.5 ? this.rows : this.rows.slice(0, -1);
    const all: Readings = {
      ...readings,
      ...(log.length > 0 ? { fermentation: log } : {}),
      warmest_after: given(warmest_C, `${warmest_C} °C`),
      final_gravity: last.gravity!,
      packaged: [
        {
          on: { date: last.on.date, clock: null },
          into: 'bottles',
          volume: litres(read_L, null),
          temperature_C: last.temperature_C,
          sugar_g: given(keyed_g, `${keyed_g} g`),
          bottles: Math.round(read_L / (step!.bottle_L?.value ?? 0.5)),
        },
      ],
    };
    const sugar_g = keyed_g * scale + random.normal(0, SPREAD.sugar_g);
    const gas_vol =
      residualGas_vol(warmest_C + random.normal(0, SPREAD.temperature_K)) +
      gasOfSugar_vol(gasYield * sugar_g * step!.sugar!.co2_g_per_g, left_L) +
      GAS_OF_POINT_vol * Math.max(0, (at_SG - final_SG) / POINT_SG);
    return { plan: planned(batch, all), gas_vol, left_L };
  }
}

/** By the sheet's own table, between its rows. */
function sugarFor({ priming }: Plan, volume_L: number, warmest_C: number): number {
  const { rows, temperatures_c } = priming!;
  const [one, two] = [rows[0]!, rows[1]!];
  const column = (sugar_g: readonly number[]) => between(temperatures_c, sugar_g, warmest_C);
  const perLitre = (column(two.sugar_g) - column(one.sugar_g)) / (two.volume_l - one.volume_l);
  return column(one.sugar_g) + perLitre * (volume_L - one.volume_l);
}

function between(at: readonly number[], of: readonly number[], x: number): number {
  const found = at.findIndex((one, i) => i > 0 && x <= one);
  const i = found < 0 ? at.length - 1 : found;
  const share = (x - at[i - 1]!) / (at[i]! - at[i - 1]!);
  return of[i - 1]! + share * (of[i]! - of[i - 1]!);
}

export const SCENARIOS = ['good', 'early', 'stalled-3', 'stalled-6', 'double', 'sluggish'] as const;
export type Scenario = (typeof SCENARIOS)[number];

interface Draw {
  readonly brew: Brew;
  readonly random: Random;
  readonly tally: Tally;
  /** Days for which readings must agree. */
  readonly n: number;
}

/** Rate of a good fermentation, 1/day, at 19 °C; half of it 8 K colder. Common practice, no source. */
const RATE = { at19_C: 0.6, spread: 0.2, halfIn_K: 8, lag_days: 0.5 } as const;
/** Nobody reads more often than this and learns nothing. */
const MOST_READINGS = 10;

/** What a brewer has been shown of a batch; `again` without what is said of bottles and of a beer that is nearly there. */
interface Seen {
  act: boolean;
  again: boolean;
  first: boolean;
  readonly causes: Set<string>;
}

function look(plan: Plan, seen: Seen, rows: number): void {
  for (const { key, level, cause } of plan.judgments) {
    if (level === 'calm') continue;
    const first = rows === 1 && cause?.code === 'too few readings';
    const what = `${level}: ${key.replace(/\[\d+\]/, '')}, ${cause?.code ?? ''}`;
    seen.causes.add(first ? `${what}, the first of the log` : what);
    if (level === 'act') seen.act = true;
    else if (first) seen.first = true;
    else if (cause?.code !== 'gas' && cause?.code !== 'nearly') seen.again = true;
  }
}

const READ: readonly (readonly [target: TargetKey, reading: string])[] = [
  ['boil_start_volume_l', 'boil_start_volume'],
  ['boil_start_gravity', 'boil_start_gravity'],
  ['boil_end_volume_l', 'boil_end_volume'],
  ['boil_end_gravity', 'boil_end_gravity'],
  ['top_up_l', 'top_up.volume'],
  ['original_gravity', 'original_gravity'],
  ['fermenter_volume_l', 'fermenter_volume'],
  ['final_gravity', 'final_gravity'],
  ['packaged_volume_l', 'packaged.volume'],
  ['priming_sugar_g', 'packaged.sugar'],
];

function ranges({ brew, tally }: Draw, plan: Plan, left_L: number): void {
  const { slug } = brew.batch;
  const holds = (row: string, figure: Figure | null | undefined, value: number | null | undefined) => {
    if (!figure || typeof value !== 'number') return;
    tally.count(row, value >= figure.low && value <= figure.high, slug);
    tally.distance(row, (4 * (value - figure.value)) / (figure.high - figure.low));
  };
  for (const [target, reading] of READ)
    holds(`planned ${target}`, plan.targets[target], plan.readings[reading]?.value);
  const { as_brewed } = plan;
  const { original_SG, original_P, final_SG, final_P } = brew;
  const truth: readonly (readonly [TargetKey, number])[] = [
    ['original_gravity', original_SG],
    ['original_extract_plato', original_P],
    ['final_gravity', final_SG],
    ['alcohol_volume_percent', alcohol_percent(original_P, final_P, final_SG)],
    ['boil_start_volume_l', brew.boilStart_L],
    ['boil_end_volume_l', brew.boilEnd_L],
    ['packaged_volume_l', left_L],
  ];
  for (const [target, value] of truth) {
    if (brew.boils || !target.startsWith('boil')) holds(`as brewed ${target}`, as_brewed?.[target], value);
  }
}

function good(draw: Draw): void {
  const { brew, random, tally, n } = draw;
  const { batch, readings, original_SG, final_SG } = brew;
  const cellar = new Cellar(brew, random);
  const rate =
    RATE.at19_C *
    2 ** ((cellar.temperature_C - 19) / RATE.halfIn_K) *
    Math.exp(random.normal(0, RATE.spread));
  const at = (day: number) =>
    final_SG + (original_SG - final_SG) * Math.exp(-rate * Math.max(0, day - RATE.lag_days));
  const seen: Seen = { act: false, again: false, first: false, causes: new Set() };
  look(planned(batch, readings), seen, 0);
  let day = Math.round(batch.recipe.ferment[0]!.time_min.value / 1440 / 2);
  let plan: Plan;
  for (;;) {
    cellar.read(day, at(day));
    plan = cellar.open();
    look(plan, seen, cellar.rows.length);
    const state = plan.fermentation!.state;
    if (state === 'finished' || state === 'nearly' || cellar.rows.length >= MOST_READINGS) break;
    day = cellar.nextDay(plan);
  }
  tally.count('first called finished', plan.fermentation!.state === 'finished', batch.slug);
  const one = cellar.packaged(at(day));
  look(one.plan, seen, 0);
  tally.count('bottles', ofBottles(one.plan) !== 'calm', batch.slug);
  tally.count('of them act', ofBottles(one.plan) === 'act', batch.slug);
  ranges(draw, one.plan, one.left_L);
  const [told] = one.plan.bottles!;
  tally.count('true gas at most', one.gas_vol <= told!.at_most_vol, batch.slug);
  if (told!.level === 'calm')
    tally.count('calm, yet over the limit', one.gas_vol > told!.limit_vol, batch.slug);
  day += n;
  cellar.read(day, at(day));
  look(cellar.open(), seen, 0);
  const two = cellar.packaged(at(day));
  look(two.plan, seen, 0);
  tally.count('bottles, read once more', ofBottles(two.plan) !== 'calm', batch.slug);
  tally.count('of them act, read once more', ofBottles(two.plan) === 'act', batch.slug);
  tally.count('act', seen.act, batch.slug);
  tally.count('look again', seen.again, batch.slug);
  tally.count('first reading marked', seen.first, batch.slug);
  for (const what of seen.causes) tally.cause(what);
}

/** The day on which a log of bad ends begins. */
const SOON = 8;

/** Packaged with six points to go, by one who may have read it two days before, or not. */
function early({ brew, random, tally }: Draw): void {
  const cellar = new Cellar(brew, random);
  const at = (days: number) => brew.final_SG + 6 * POINT_SG * Math.exp(-RATE.at19_C * days);
  if (random.uniform() < 0.5) cellar.read(SOON - 2, Math.min(brew.original_SG, at(-2)));
  cellar.read(SOON, at(0));
  const { plan } = cellar.packaged(at(0));
  tally.count('early: act', ofBottles(plan) === 'act', brew.batch.slug);
}

function stalled(points: number, { brew, random, tally, n }: Draw): void {
  const { slug } = brew.batch;
  const cellar = new Cellar(brew, random);
  const at_SG = brew.final_SG + points * POINT_SG;
  cellar.read(SOON, at_SG);
  cellar.read(SOON + n, at_SG);
  const { plan } = cellar.packaged(at_SG);
  const { state } = plan.fermentation!;
  const name = `stalled-${points}`;
  tally.count(`${name}: finished`, state === 'finished', slug);
  tally.count(`${name}: calm`, ofBottles(plan) === 'calm', slug);
  tally.count(`${name}: act`, ofBottles(plan) === 'act', slug);
}

function double({ brew, random, tally, n }: Draw): void {
  const cellar = new Cellar(brew, random);
  cellar.read(SOON, brew.final_SG);
  cellar.read(SOON + n, brew.final_SG);
  tally.count('double: act', ofBottles(cellar.packaged(brew.final_SG, 2).plan) === 'act', brew.batch.slug);
}

const FLAT = ['finished', 'nearly', 'stopped high'];

/** The last points of a slow yeast, with three to five of them left at the reading from which it is judged. */
function sluggish({ brew, random, tally, n }: Draw): void {
  const cellar = new Cellar(brew, random);
  const left = (3 + 2 * random.uniform()) * POINT_SG;
  const at = (days: number) => brew.final_SG + left * Math.exp(-0.2 * days);
  for (const days of [-3, 0, n]) cellar.read(SOON + days, at(days));
  tally.count('sluggish: flat', FLAT.includes(cellar.open().fermentation!.state), brew.batch.slug);
}

const RUNS: Readonly<Record<Scenario, (draw: Draw) => void>> = {
  good,
  early,
  'stalled-3': (draw) => stalled(3, draw),
  'stalled-6': (draw) => stalled(6, draw),
  double,
  sluggish,
};

export interface Asked {
  readonly draws: number;
  readonly seed: number;
  /** Scenarios and slugs; all where there is none of either. */
  readonly only: readonly string[];
  readonly onDraw?: (done: number) => void;
}

export async function measure({
  draws,
  seed,
  only,
  onDraw,
}: Asked): Promise<{ tally: Tally; recipes: readonly string[] }> {
  const all = await kitchens();
  const slugs = all.map(({ batch }) => batch.slug);
  const some = all.filter(
    ({ batch }) => !only.some((one) => slugs.includes(one)) || only.includes(batch.slug),
  );
  const runs = SCENARIOS.filter((name) => !only.some((one) => one in RUNS) || only.includes(name));
  const random = randomFrom(seed);
  const tally = new Tally();
  for (let i = 0; i < draws; i++) {
    const known = some[i % some.length]!;
    const brew = brewDay(known, random);
    for (const name of runs) RUNS[name]({ brew, random, tally, n: known.plan.finish!.days });
    onDraw?.(i + 1);
  }
  return { tally, recipes: some.map(({ batch }) => batch.slug) };
}
