/** Recipes, kits and readings at random, from a seed: ordinary ones, and ones that no kitchen has seen. */
import type { Batch } from '../../lib/batch/types/batch.ts';
import type { Plan } from '../../lib/batch/types/plan.ts';
import type { Readings } from '../../lib/batch/types/readings.ts';
import type { Recipe, RecipeMoment } from '../../lib/batch/types/recipe.ts';
import type { SetupFigure } from '../../lib/batch/types/setup.ts';
import type { TargetKey } from '../../lib/batch/types/targets.ts';
import { clockAfter, dateAfter } from '../../lib/batch/types/time.ts';
import type { GivenGravity } from '../../lib/units/parse/given.ts';
import { extract, figure, given, grain, hop, sampleBatch, sampleSetup, yeast } from './sample.ts';
import { litres, sg } from './sample-readings.ts';

/** Mulberry32: a small seeded generator, so that the check is the same every time. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

export interface Dice {
  readonly between: (low: number, high: number) => number;
  readonly pick: <V>(choices: readonly V[]) => V;
  readonly chance: (share: number) => boolean;
}

export function dice(seed: number): Dice {
  const next = seeded(seed);
  return {
    between: (low, high) => low + (high - low) * next(),
    pick: (choices) => choices[Math.floor(next() * choices.length)]!,
    chance: (share) => next() < share,
  };
}

const list = <V>(count: number, make: () => V): V[] => Array.from({ length: count }, make);

function moment(roll: Dice, boil_min: number, for_: 'hop' | 'extract'): RecipeMoment {
  const at = roll.between(0, 1);
  if (at < 0.6) {
    const minutesLeft = roll.pick([
      boil_min,
      0,
      Math.floor(roll.between(0, boil_min)),
      roll.between(0, boil_min),
    ]);
    return { at: 'boil', minutesLeft: minutesLeft as never, written: `${minutesLeft} min` };
  }
  if (at < 0.7) return { at: 'flameout' };
  if (at < 0.8) return { at: 'stand' };
  if (at < 0.87) return { at: 'first wort' };
  if (at < 0.92) return { at: 'steep' };
  if (for_ === 'hop') return { at: 'dry', day: 7, for_min: null, forWritten: null };
  return roll.chance(0.5) ? { at: 'fermenter', day: 3 } : { at: 'packaging' };
}

/** Wild: anything that the schema lets through; else what somebody might brew. */
export function randomRecipe(roll: Dice, wild: boolean): Recipe {
  const into = wild
    ? roll.pick([0.001, 0.5, 4, 19, 60, 500, 9000]) * roll.between(0.5, 2)
    : roll.between(3.5, 25);
  const boil_min = roll.pick([0, 5, 7.5, 15, 30, 60, 60, 60, 90, wild ? 240 : 75]);
  const grams = (per_L: number) =>
    into * per_L * (wild ? roll.pick([0.001, 0.2, 1, 1, 5, 40]) : roll.between(0.7, 1.3));
  const mash = roll.chance(0.15);
  const steep = roll.chance(0.5);
  const temperature = () => (wild ? roll.between(0, 100) : roll.between(60, 75));
  return {
    label: null,
    intoFermenter_L: given(into, `${into} L`),
    boil_min: given(boil_min, `${boil_min} min`),
    boilVolume_L: roll.chance(0.4) ? given(into * roll.between(wild ? 0.01 : 0.4, wild ? 3 : 0.9)) : null,
    steep: steep
      ? {
          temperature_C: given(temperature()),
          time_min: given(20, '20 min'),
          water_L: roll.chance(0.2) ? given(into * roll.between(0.05, 0.5)) : null,
        }
      : null,
    mash: mash
      ? {
          temperature_C: given(temperature()),
          time_min: given(60, '60 min'),
          ratio_L_per_kg: given(roll.between(2, 4)),
        }
      : null,
    rinse_L: roll.chance(0.1) ? given(into * 0.1) : null,
    grain: [
      ...(steep ? list(roll.pick([0, 1, 2]), () => grain(grams(18))) : []),
      ...(mash ? list(2, () => grain(grams(40), { in: 'mash', name: 'pale malt' })) : []),
    ],
    extract: list(roll.pick([0, 1, 2]), () => {
      const form = roll.pick(['liquid', 'dry'] as const);
      const share = form === 'dry' ? 0.96 : 0.79;
      const looked = { value: share as never, u: null, from: 'table' as const };
      const kit = roll.chance(0.1)
        ? { ibu: 25 as never, in_L: 23 as never, labelWeight_g: null, written: '25 IBU in 23 L' }
        : null;
      return extract(grams(70), {
        form,
        yield: looked,
        bitterness: kit,
        add: moment(roll, boil_min, 'extract'),
      });
    }),
    sugar: list(roll.pick([0, 0, 1]), () => {
      const as = roll.pick(['sugar', 'none'] as const);
      return extract(grams(15), {
        kind: 'sugar',
        name: 'sugar',
        fermentableAs: as,
        yield: { value: 1 as never, u: null, from: 'table' },
        add: moment(roll, boil_min, 'extract'),
      });
    }),
    hops: list(roll.pick([0, 1, 3]), () =>
      hop(grams(1.5), moment(roll, boil_min, 'hop'), {
        alpha: {
          value: roll.between(0, wild ? 1 : 0.14) as never,
          u: roll.chance(0.2) ? 0.01 : null,
          from: 'recipe',
        },
      }),
    ),
    stand: roll.chance(0.4)
      ? { temperature_C: given(wild ? roll.between(0, 110) : 80), time_min: given(20, '20 min') }
      : null,
    other: [],
    yeast: roll.chance(0.95)
      ? list(roll.pick([1, 1, 2]), () =>
          yeast({
            attenuation: {
              value: roll.between(wild ? 0 : 0.65, wild ? 1 : 0.85) as never,
              u: null,
              from: 'recipe',
            },
            kind: roll.pick(['ale', 'lager', 'kveik'] as const),
          }),
        )
      : [],
    ferment: list(roll.pick([0, 1, 3]), () => ({
      temperature_C: given(wild ? roll.between(-5, 60) : roll.between(8, 24)),
      time_min: given(1440 * roll.between(0, 14)),
    })),
    packaging: list(roll.pick([0, 1, 1, 2]), () => ({
      into: roll.pick(['bottles', 'bottles', 'keg'] as const),
      carbonation_vol: given(wild ? roll.between(0, 6) : roll.between(1.8, 2.8)),
      sugar: roll.chance(0.8) ? { name: 'table sugar', co2_g_per_g: 0.5143, extract: 1 } : null,
      bottle_L: roll.chance(0.8) ? given(0.5) : null,
      limit: {
        unit: roll.pick(['vol', 'kPa'] as const),
        value: wild ? roll.between(1, 20) : 3,
        written: '3 vol',
        assumed: false,
      },
      temperature_C: roll.chance(0.5) ? given(wild ? roll.between(-5, 60) : 5) : null,
      volume_L: roll.chance(0.3) ? given(into * roll.between(0.2, 1.2)) : null,
    })),
  };
}

function randomReadings(roll: Dice, wild: boolean, into: number): Readings {
  const gravity = (low: number, high: number) => ({
    scale: roll.pick(['sg', 'sg', 'plato', 'brix'] as const),
    value: 0,
    u: roll.chance(0.1) ? 0.001 : null,
    sample_C: roll.chance(0.5) ? roll.between(wild ? -5 : 15, wild ? 100 : 50) : null,
    written: '',
    sg: roll.between(low, high),
  });
  const reading = (low: number, high: number) => {
    const { sg, ...rest } = gravity(low, high);
    return { ...rest, value: rest.scale === 'sg' ? sg : Math.max(0, (sg - 1) * 250) };
  };
  const volume = (share: number) => ({
    value: into * share * roll.between(wild ? 0 : 0.9, wild ? 3 : 1.1),
    u: null,
    at_C: roll.chance(0.1) ? roll.between(0, 100) : null,
    written: '',
  });
  const maybe = <V>(make: () => V): V | 'not taken' | undefined =>
    roll.chance(0.3) ? undefined : roll.chance(0.15) ? 'not taken' : make();
  const readings = {
    boil_start_volume: maybe(() => volume(0.55)),
    boil_start_gravity: maybe(() => reading(wild ? 0.95 : 1.03, wild ? 1.3 : 1.07)),
    boil_end_volume: maybe(() => volume(0.5)),
    boil_end_gravity: maybe(() => reading(wild ? 0.95 : 1.05, wild ? 1.4 : 1.1)),
    chilled: maybe(() => ({ at: null, temperature_C: given(roll.between(15, 40)) as never })),
    top_up: maybe(() => ({ volume: volume(0.5), temperature_C: null })),
    original_gravity: maybe(() => reading(wild ? 0.95 : 1.035, wild ? 1.3 : 1.065)),
    fermenter_volume: maybe(() => volume(1)),
    fermentation: maybe(() =>
      list(roll.pick([0, 1, 2, 4]), () => ({
        on: {
          date: `2026-03-${String(Math.floor(roll.between(10, 28)))}`,
          clock: roll.chance(0.5) ? '18:30' : null,
        },
        gravity: roll.chance(0.9) ? reading(1.002, 1.03) : null,
        temperature_C: null,
        note: null,
      })),
    ),
    warmest_after: maybe(() => given(roll.between(wild ? -5 : 15, wild ? 60 : 25)) as never),
    final_gravity: maybe(() => reading(wild ? 0.95 : 1.004, wild ? 1.2 : 1.02)),
    packaged: maybe(() =>
      list(roll.pick([1, 1, 2]), () => ({
        on: { date: '2026-03-29', clock: null },
        into: roll.pick(['bottles', 'keg', null] as const),
        volume: roll.chance(0.8) ? volume(0.9) : null,
        temperature_C: null,
        sugar_g: roll.chance(0.8) ? (given(into * roll.between(0, wild ? 50 : 6)) as never) : null,
        bottles: roll.chance(0.5) ? 35 : null,
      })),
    ),
    abandoned: roll.chance(0.05) ? { on: { date: '2026-03-30', clock: null }, why: 'sour' } : undefined,
  };
  return Object.fromEntries(Object.entries(readings).filter(([, value]) => value !== undefined)) as Readings;
}

/**
 * A whole batch as somebody keys it in, about what its plan says: most readings near it, some far, some not taken, one in fifty
 * with a slip of the decimal point; given up, burst and tasted now and then.
 */
export function readingsAbout({ recipe, brewed }: Batch, { targets }: Plan, roll: Dice): Readings {
  const near = () => roll.between(-1, 1) + roll.between(-1, 1) + (roll.chance(0.1) ? roll.pick([-4, 4]) : 0);
  const read = (key: TargetKey, or: number): number => {
    const { value, high } = targets[key] ?? { value: or, high: or * 1.02 };
    return (value + (near() * (high - value)) / 2) * (roll.chance(0.02) ? roll.pick([0.1, 10]) : 1);
  };
  const taken = <V>(share: number, make: () => V): V | 'not taken' | undefined =>
    roll.chance(share) ? make() : roll.pick([undefined, 'not taken' as const]);
  const round = (value: number, step: number) => Math.round(value / step) * step;
  const litre = (key: TargetKey, or: number, hot = false) =>
    litres(Math.max(0, round(read(key, or), 0.1)), hot ? null : 20);
  const gravity = (key: TargetKey, or: number): GivenGravity => {
    const value = round(read(key, or), 0.001);
    return roll.chance(0.1)
      ? { ...sg(round(250 * (value - 1), 0.1)), scale: 'brix' }
      : sg(value, roll.pick([20, 20, 30]));
  };
  const degrees = (value: number) => given<never>(Math.round(value), `${Math.round(value)} °C`);
  const clock = (minute: number) => clockAfter('14:00', Math.max(0, Math.round(minute + 3 * near())));
  const boil_min = recipe.boil_min.value;
  const on = (day: number, hour: string | null = null) => ({
    date: dateAfter(brewed!, day),
    clock: hour,
  });
  const start_SG = targets.original_gravity?.value ?? 1.045;
  const end_SG = targets.final_gravity?.value ?? 1.01;
  const left_SG = roll.chance(0.2) ? roll.between(0.002, 0.009) : 0;
  const fell = (day: number) =>
    end_SG + left_SG + (start_SG - end_SG) * Math.exp(-roll.between(0.3, 0.7) * day);
  const log = [3, 6, 8, 11, 14].slice(roll.pick([0, 1, 2]), roll.pick([3, 4, 5]));
  const into_L = recipe.intoFermenter_L.value;
  const parts =
    recipe.packaging.length > 1 && roll.chance(0.5) ? recipe.packaging : recipe.packaging.slice(0, 1);
  const readings = {
    heating_started: '12:30',
    steep_in: clock(-40),
    steep_temperature: degrees(66 + near()),
    steep_out: clock(-15),
    boil_started: '14:00',
    boil_start_volume: taken(0.8, () => litre('boil_start_volume_hot_l', into_L / 2, true)),
    boil_start_gravity: taken(0.5, () => gravity('boil_start_gravity', 1.045)),
    additions: recipe.hops.flatMap(({ name, add }) =>
      add.at === 'boil' && roll.chance(0.7)
        ? {
            at: add.written,
            what: roll.pick([undefined, name]),
            minutesLeft: add.minutesLeft,
            clock: roll.chance(0.1) ? ('left out' as const) : clock(boil_min - add.minutesLeft),
          }
        : [],
    ),
    boil_ended: clock(boil_min + 4),
    boil_end_volume: taken(0.8, () => litre('boil_end_volume_hot_l', into_L / 2.2, true)),
    boil_end_gravity: taken(0.4, () => gravity('boil_end_gravity', 1.09)),
    chilled: taken(0.8, () => ({ at: clock(boil_min + 30), temperature_C: degrees(read('chill_to_c', 22)) })),
    top_up: taken(0.6, () => ({
      volume: litre('top_up_l', into_L / 2),
      temperature_C: degrees(Math.max(0, read('top_up_c', 12))),
    })),
    fermenter_volume: taken(0.8, () => litre('fermenter_volume_l', into_L)),
    original_gravity: taken(0.8, () => gravity('original_gravity', 1.045)),
    pitched: taken(0.8, () => ({
      on: on(0, roll.pick(['17:20', null])),
      temperature_C: degrees(20 + 2 * near()),
      yeast: { value: roll.pick([5, 11, 110]), unit: 'g' as const, written: '11 g' },
    })),
    fermentation: taken(0.9, () =>
      log.map((day) => ({
        on: on(day, roll.pick(['18:30', null])),
        gravity: sg(round(fell(day) + 0.0005 * near(), 0.001)),
        temperature_C: degrees(19 + near()),
        note: null,
      })),
    ),
    warmest_after: taken(0.6, () => degrees(20 + 2 * near())),
    fermented_out: roll.chance(0.1) ? sg(end_SG) : undefined,
    final_gravity: taken(0.6, () => gravity('final_gravity', 1.01)),
    packaged: taken(0.6, () =>
      parts.map(({ into, volume_L }) => ({
        on: on(16),
        into: roll.pick([into, null]),
        volume: roll.chance(0.8)
          ? litres(volume_L?.value ?? round(read('packaged_volume_l', into_L), 0.1))
          : null,
        temperature_C: roll.chance(0.5) ? degrees(19 + near()) : null,
        sugar_g: roll.chance(0.8) ? given<never>(round(read('priming_sugar_g', 100), 1)) : null,
        bottles: roll.chance(0.6) ? Math.round(2 * read('packaged_volume_l', into_L)) : null,
        ...(roll.chance(0.05) ? { burst: 1 } : {}),
      })),
    ),
    tasted: roll.chance(0.3) ? [{ on: on(roll.pick([40, 110])), score: 4, note: null }] : undefined,
    abandoned: roll.chance(0.03) ? { on: on(12), why: 'sour' } : undefined,
  };
  const untilNow = Object.entries(readings).slice(0, roll.pick([7, 9, 14, 17, 22, 22, 22]));
  return Object.fromEntries(untilNow.filter(([, value]) => value !== undefined)) as Readings;
}

export function randomBatch(seed: number): { batch: Batch; wild: boolean } {
  const roll = dice(seed);
  const wild = roll.chance(0.4);
  const recipe = randomRecipe(roll, wild);
  const into = recipe.intoFermenter_L.value;
  const own = (value: number, u: number): SetupFigure => ({
    value,
    u,
    written: String(value),
    assumed: false,
  });
  const setup = sampleSetup({
    kettle_L: own(wild ? roll.between(0.5, 600) : roll.between(8, 30), 0),
    heat_kW: own(roll.between(wild ? 0.05 : 1, 3.5), 0.2),
    boilOff_L_per_h: own(wild ? roll.between(0, 20) : roll.between(1, 4), 0.4),
    kettleLoss_L: own(wild ? roll.between(0, 5) : 0.5, 0.15),
    altitude_m: own(wild ? roll.between(-450, 6000) : roll.between(0, 1500), 100),
    fermenter_L: roll.chance(0.3) ? own(into * roll.between(0.8, 1.6), 0) : null,
    roomTemperature_C: own(roll.between(-5, 35), 2),
    waterTemperature_C: figure('water_temperature', roll.between(0, wild ? 100 : 25)),
    topUpTemperature_C: figure('top_up_temperature', roll.between(0, wild ? 60 : 25)),
    chill: {
      to_C: figure('chill.to', roll.between(0, wild ? 60 : 30)),
      in_min: figure('chill.in', roll.between(0, 60)),
      with: roll.pick(['ice bath', 'cold-water bath', 'none'] as const),
      assumed: false,
    },
  });
  const readings = roll.chance(0.2) ? randomReadings(roll, wild, into) : {};
  const start = roll.pick(['13:30', '23:45', null]);
  return { batch: sampleBatch({ recipe, setup, readings, start }), wild };
}
