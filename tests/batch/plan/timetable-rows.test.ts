/** Rows of the day from figures that are set by hand: which of them are there, and what they carry. */
import { describe, expect, it } from 'vitest';
import type { Detail } from '../../../lib/batch/model/model.ts';
import type { Case } from '../../../lib/batch/model/model-input.ts';
import { TARGET_INDEX as T } from '../../../lib/batch/model/target-vector.ts';
import { timetable } from '../../../lib/batch/plan/timetable.ts';

import type { Recipe } from '../../../lib/batch/types/recipe.ts';
import type { Setup } from '../../../lib/batch/types/setup.ts';
import type { TargetKey } from '../../../lib/batch/types/targets.ts';
import { boilFor, extract, given, grain, hop, sampleBatch, sampleRecipe, sampleSetup } from '../sample.ts';
import { mashAt, modelOf, steepAt, worded } from '../sample-plan.ts';

interface Given {
  readonly recipe?: Partial<Recipe>;
  readonly setup?: Partial<Setup>;
  readonly outcome?: Partial<Record<TargetKey, number>>;
  readonly c?: Partial<Case>;
  readonly detail?: (detail: Detail, c: Case) => Partial<Detail>;
  readonly start?: string | null;
  readonly units?: 'metric' | 'us';
}

function day(of: Given = {}) {
  const run = modelOf(of.recipe ?? {}, of.setup ?? {});
  const batch = sampleBatch({
    recipe: sampleRecipe(of.recipe),
    setup: sampleSetup(of.setup),
    start: of.start === undefined ? '13:30' : of.start,
  });
  const outcome = run.outcome.slice();
  for (const [key, value] of Object.entries(of.outcome ?? {})) outcome[T[key as TargetKey]] = value;
  const c = { ...run.c, ...of.c };
  const detail = { ...run.detail, ...of.detail?.(run.detail, run.c) };
  const found = timetable(batch, c, outcome, detail);
  return { ...found, rows: worded(found.rows, of.units) };
}
type Worded = ReturnType<typeof worded>;
const rowsOf = (of: Given = {}): Worded => day(of).rows;
const row = (rows: Worded, words: string) =>
  rows.find(({ action, what }) => `${action} ${what}`.startsWith(words));

describe('the day before', () => {
  it('top-up water is boiled from half a decilitre on', () => {
    const asked = row(rowsOf({ outcome: { top_up_l: 9.3 } }), 'prepare boil, cover and chill');
    expect(asked).toMatchObject({ amount: '9.3 L', minute: -1440, phase: 'gather', clock: null });
    expect(row(rowsOf({ outcome: { top_up_l: 0.05 } }), 'prepare boil')).toBeDefined();
    expect(row(rowsOf({ outcome: { top_up_l: 0.049 } }), 'prepare boil')).toBeUndefined();
  });

  it('ice is frozen from a little more than 50 g on, and lies in the bath the day after', () => {
    const iced = rowsOf({ outcome: { ice_kg: 2.4, chill_to_c: 22 } });
    expect(row(iced, 'prepare freeze the ice for the bath')).toMatchObject({
      amount: '2.4 kg',
      minute: -1440,
    });
    // Tap water first, 12 °C and the 20 K by which it leaves the wort warmer; the ice is reckoned from there.
    expect(row(iced, 'chill to 22 °C, lid on')?.amount).toBe('in water to 32 °C, then 2.4 kg ice');
    const upwards = rowsOf({ outcome: { ice_kg: 2.31 } });
    expect(row(upwards, 'prepare freeze')?.amount).toBe('2.4 kg');
    const none = rowsOf({ outcome: { ice_kg: 0.05 } });
    expect(row(none, 'prepare freeze')).toBeUndefined();
    expect(row(none, 'chill to')?.amount).toBeNull();
  });

  it('in US units speaks of quarts and ounces or their like, not of litres', () => {
    const rows = rowsOf({ outcome: { top_up_l: 9.3, ice_kg: 2.4, chill_to_c: 22 }, units: 'us' });
    for (const words of ['prepare boil', 'prepare freeze', 'chill to', 'transfer', 'top up'])
      expect(row(rows, words)?.amount, words).not.toMatch(/\b(L|ml|kg|g)\b/);
    expect(row(rows, 'chill to 72 °F')).toBeDefined();
  });

  it('sanitiser half an hour before, weighing twenty minutes before', () => {
    const rows = rowsOf();
    expect(row(rows, 'sanitise mix')?.minute).toBe(-30);
    expect(row(rows, 'weigh')?.minute).toBe(-20);
  });
});

describe('the clock', () => {
  it('goes from the moment that the kettle is put on, and not before it', () => {
    const rows = rowsOf({ start: '08:00' });
    expect(row(rows, 'weigh')?.clock).toBeNull();
    expect(row(rows, 'fill')?.clock).toBe('08:00');
    expect(rowsOf({ start: null }).every(({ clock }) => clock === null)).toBe(true);
  });
});

describe('water', () => {
  it('for a steep is what the case heats, the rest follows after the soak', () => {
    const recipe = { steep: steepAt(68, 4) };
    const rows = rowsOf({ recipe, c: { waterToHeat_L: 9.5 } });
    expect(row(rows, 'fill water for the steep')?.amount).toBe('4 L');
    expect(row(rows, 'fill the rest of the water')?.amount).toBe('5.5 L');
    expect(row(rowsOf({ recipe, c: { waterToHeat_L: 4.05 } }), 'fill the rest')).toBeUndefined();
  });

  it('of a hair is not filled: a steep in the mash’s wort', () => {
    const recipe = { steep: steepAt(68, 0.05) };
    expect(row(rowsOf({ recipe }), 'fill water for the steep')).toBeUndefined();
  });

  it('that rinses the grain is poured already: 9.5 L less 4 of the steep and 2 of the rinse', () => {
    const recipe = { steep: steepAt(68, 4), rinse_L: given(2, '2 L') as never };
    const rows = rowsOf({ recipe, c: { waterToHeat_L: 9.5 } });
    expect(row(rows, 'rinse pour over the drained grain')).toMatchObject({ phase: 'steep', amount: '2 L' });
    expect(row(rows, 'fill the rest of the water')?.amount).toBe('3.5 L');
  });

  it('of a mash and its rinse: 9.5 L less 4.5 and 2', () => {
    const recipe = {
      mash: mashAt(66, 3),
      steep: null,
      grain: [grain(1500, { in: 'mash' })],
      rinse_L: given(2, '2 L') as never,
    };
    const rows = rowsOf({ recipe, c: { waterToHeat_L: 9.5 } });
    expect(row(rows, 'fill water for the mash')?.amount).toBe('4.5 L');
    expect(row(rows, 'rinse')).toMatchObject({ phase: 'mash', amount: '2 L' });
    expect(row(rows, 'fill the rest of the water')?.amount).toBe('3 L');
    expect(rows.filter(({ action }) => action === 'rinse')).toHaveLength(1);
  });

  it('without any soak is all put in at once', () => {
    const recipe = { steep: null, grain: [] };
    const rows = rowsOf({ recipe, c: { waterToHeat_L: 9.5 } });
    expect(row(rows, 'fill')).toMatchObject({ what: 'water into the kettle', amount: '9.5 L' });
  });

  it('a mash that the case does not have is not in the day', () => {
    const rows = rowsOf({ recipe: { mash: mashAt(66, 3) } });
    expect(rows.some(({ phase }) => phase === 'mash')).toBe(false);
  });

  it('is warmed in the minutes that the outcome says', () => {
    const rows = rowsOf({ outcome: { minutes_to_steep: 31.4, minutes_to_boil: 12.6, steep_water_c: 70.4 } });
    expect(row(rows, 'heat to 70 °C')?.amount).toBe('31 min');
    expect(row(rows, 'heat to the boil')?.amount).toBe('13 min');
    const held = row(rows, 'hold')!;
    expect(held.minute).toBeCloseTo(31.4, 9);
  });
});

describe('extract in the boil', () => {
  const recipe = {
    extract: [extract(1500, { add: boilFor(12) }), extract(1100, { add: boilFor(40) })],
    hops: [hop(30, boilFor(60))],
  };
  const { rows, pauses } = day({
    recipe,
    detail: ({ thermal }, c) => ({
      thermal: {
        ...thermal,
        pauses: [
          { timeIndex: c.times_min.indexOf(40), minutes: 2.4 },
          { timeIndex: c.times_min.indexOf(12), minutes: 7.1 },
        ],
      },
    }),
  });

  it('each has its own way back to the boil, and three minutes to stir', () => {
    expect(pauses).toEqual([
      { minutes_left: 40, minutes: expect.closeTo(5.4, 9) },
      { minutes_left: 12, minutes: expect.closeTo(10.1, 9) },
    ]);
    const back = rows.filter(({ action }) => action === 'flame on');
    expect(back.map(({ amount, minutes_left }) => [amount, minutes_left])).toEqual([
      ['2 min', 40],
      ['7 min', 12],
    ]);
  });

  it('goes in by the minutes left, whatever the order in the recipe', () => {
    const stirred = rows.filter(({ action }) => action === 'stir in');
    expect(stirred.map(({ items, minutes_left }) => [items[0], minutes_left])).toEqual([
      ['extract[1]', 40],
      ['extract[0]', 12],
    ]);
  });

  it('a pause that is not known of takes the three minutes alone', () => {
    const none = day({ recipe, detail: ({ thermal }) => ({ thermal: { ...thermal, pauses: [] } }) });
    expect(none.pauses.map(({ minutes }) => minutes)).toEqual([3, 3]);
    expect(none.rows.filter(({ action }) => action === 'flame on').map(({ amount }) => amount)).toEqual([
      '1 min',
      '1 min',
    ]);
  });

  it('rows before the countdown have no minutes left, those in it have', () => {
    const heating = rows.filter(({ phase }) => phase === 'heat');
    expect(heating.every(({ minutes_left }) => minutes_left === null)).toBe(true);
    const boiling = rows.filter(({ phase }) => phase === 'boil');
    expect(boiling.every(({ minutes_left }) => minutes_left !== null)).toBe(true);
  });
});

describe('extract that is named for the steep', () => {
  const recipe = { extract: [extract(1500, { add: { at: 'steep' } })], hops: [hop(30, boilFor(60))] };

  it('is stirred in once, at the boil’s start, with the flame off', () => {
    const { rows, pauses } = day({ recipe });
    const stirred = rows.filter(({ action }) => action === 'stir in');
    expect(stirred.map(({ items, phase, minutes_left }) => [items[0], phase, minutes_left])).toEqual([
      ['extract[0]', 'heat', null],
    ]);
    expect(pauses.map(({ minutes_left }) => minutes_left)).toEqual([60]);
  });

  it('and into the warm water where nothing is boiled', () => {
    const rows = rowsOf({ recipe: { ...recipe, boil_min: given(0, '0 min'), hops: [] } as never });
    expect(rows.filter(({ action }) => action === 'stir in')).toHaveLength(1);
    expect(row(rows, 'boil begins')).toBeUndefined();
  });
});

describe('after the boil', () => {
  it('a wort that needs no chill is not chilled, and takes its top-up as it is', () => {
    const rows = rowsOf({ outcome: { chill_to_c: Number.NaN, top_up_c: Number.NaN, top_up_l: 8 } });
    expect(row(rows, 'chill to')).toBeUndefined();
    expect(row(rows, 'top up')).toMatchObject({
      what: 'with boiled and chilled water, to 19 L',
      amount: '8 L',
    });
    const chilled = rowsOf({ outcome: { chill_to_c: 25, top_up_c: 12.4, top_up_l: 8 } });
    expect(row(chilled, 'chill to 25 °C, lid on')).toBeDefined();
    expect(row(chilled, 'top up')?.what).toBe('with boiled and chilled water at 12 °C, to 19 L');
  });

  it('what goes over is what the trub and the hops leave: 8.6 of 9.5 L', () => {
    const rows = rowsOf({ detail: () => ({ end_L: 9.5, lost_L: 0.9 }) });
    expect(row(rows, 'transfer')?.amount).toBe('8.6 L');
  });

  it('is topped up from half a decilitre on', () => {
    expect(row(rowsOf({ outcome: { top_up_l: 0.05 } }), 'top up')).toBeDefined();
    expect(row(rowsOf({ outcome: { top_up_l: 0.049 } }), 'top up')).toBeUndefined();
  });

  it('a stand takes its time before the chill', () => {
    const stand: Recipe['stand'] = { temperature_C: given(80, '80 °C'), time_min: given(25, '25 min') };
    const rows = rowsOf({ recipe: { stand, hops: [hop(20, { at: 'stand' })] } });
    const standing = row(rows, 'stand let it fall to 80 °C, cover and leave it')!;
    expect(standing.amount).toBe('25 min');
    const next = row(rows, 'chill')!;
    expect(next.minute - standing.minute).toBeCloseTo(25, 9);
    expect(row(rows, 'add Fuggle')).toMatchObject({ phase: 'stand', amount: '20 g', minutes_left: null });
  });
});
