/** Whole days, row by row: what is done, in which words, how much of it, and how long it takes. `…` stands for a computed amount. */
import { describe, expect, it } from 'vitest';
import type { Plan } from '../../../lib/batch/types/plan.ts';
import type { ExtractItem, HopItem, OtherItem } from '../../../lib/batch/types/recipe.ts';
import {
  boilFor,
  extract,
  given,
  grain,
  hop,
  sampleBatch,
  sampleRecipe,
  sampleSetup,
  yeast,
} from '../sample.ts';
import { mashAt, own, planOf, steepAt, worded } from '../sample-plan.ts';

const COMPUTED = /^(fill|heat|flame on|transfer|top up|chill|prepare|ready)$/;

/** A line for each row; amounts that the recipe states or that a head can work out are kept. */
const inWords = ({ timetable }: Plan, known: readonly string[] = []): string[] =>
  worded(timetable).map(({ phase, action, what, amount, minutes_left, items }) => {
    const computed =
      amount !== null && COMPUTED.test(action) && items.length === 0 && !known.includes(amount);
    const left = minutes_left === null ? '' : ` at ${minutes_left}`;
    return `${phase}${left}: ${action} ${what}${amount === null ? '' : `, ${computed ? '…' : amount}`}`;
  });

/** Minutes from each row to the next. */
const steps = ({ timetable }: Plan): number[] =>
  timetable.slice(1).map(({ minute }, i) => minute - timetable[i]!.minute);

describe('a steeped extract batch', () => {
  const plan = planOf(sampleBatch());

  // Chilled as far as the top-up needs: 7.8 L at 29 °C and 11.2 L at 12 °C are 19 L at 19 °C.
  it('in words', () => {
    expect(inWords(plan)).toEqual([
      'gather: prepare boil, cover and chill the top-up water, …',
      'gather: prepare have the yeast ready: English ale, 11 g',
      'gather: sanitise mix the sanitiser as its label says',
      'gather: weigh weigh everything out in the order of the day',
      'heat: fill water for the steep, …',
      'heat: heat to 69 °C, …',
      'steep: flame off before the grain goes in',
      'steep: grain in crystal malt 150, 350 g',
      'steep: hold at 68 °C, off the heat, 20 min',
      'steep: grain out lift it, never squeeze',
      'steep: drain over the pot, 5 min',
      'heat: heat to the boil, …',
      'heat: watch for the first boil-over',
      'heat: flame off before the extract goes in',
      'heat: stir in pale liquid extract, 1500 g',
      'heat: flame on once nothing sticks to the bottom; back to the boil, …',
      'boil at 60: boil begins start the countdown, 60 min',
      'boil at 60: watch for a boil-over',
      'boil at 60: add Fuggle, 30 g',
      'boil at 60: watch for a boil-over',
      'boil at 20: sanitise whatever touches the cooled wort: fermenter, lid, airlock, siphon, thermometer',
      'boil at 15: add Fuggle, 20 g',
      'boil at 15: watch for a boil-over',
      'boil at 12: flame off before the extract goes in',
      'boil at 12: stir in pale liquid extract, 1100 g',
      'boil at 12: flame on once nothing sticks to the bottom; back to the boil, …',
      'boil at 12: watch for a boil-over',
      'boil at 10: ready tub, cold water; yeast out of the cold; jar, hydrometer',
      'boil at 0: flame out the boil is over',
      'boil at 0: add Fuggle, 15 g',
      'chill: chill to 29 °C, lid on',
      'chill: transfer into the fermenter, leave the trub behind, …',
      'chill: top up with boiled and chilled water at 12 °C, to 19 L, …',
      'read: read volume, gravity and the temperature of the sample',
      'pitch: air shake or stir air in, now that it is cool',
      'pitch: pitch English ale, 11 g',
      'pitch: seal lid on, airlock on and filled',
    ]);
  });

  it('on the clock: the steep, its draining, the pauses with three minutes to stir, chill, transfer and reading', () => {
    const { minutes_to_steep, minutes_to_boil, minutes_back_to_boil } = plan.targets;
    const first = minutes_back_to_boil!.value;
    const second = plan.pauses[1]!.minutes - 3;
    // By the number of the row; all others take no time.
    const waits: Readonly<Record<number, number>> = {
      ...{ 1: 1410, 2: 10, 3: 20, 5: minutes_to_steep!.value, 8: 20, 10: 5, 11: minutes_to_boil!.value },
      ...{ 14: 3, 15: first, 19: 40, 20: 5, 22: 3, 24: 3, 25: second, 26: 2, 27: 10, 30: 40, 32: 10, 33: 5 },
    };
    const expected = Array.from({ length: 36 }, (_, at) => waits[at] ?? 0);
    expect(steps(plan)).toEqual(expected.map((minutes) => expect.closeTo(minutes, 9)));
    expect(plan.pauses[0]).toEqual({ minutes_left: 60, minutes: expect.closeTo(3 + first, 9) });
  });
});

const finings: OtherItem = {
  name: 'finings',
  amount: { value: 1, unit: 'count', written: '1 tablet' },
  add: boilFor(15),
  allergens: [],
  note: null,
};
const cinnamon: OtherItem = {
  ...finings,
  name: 'cinnamon',
  amount: { value: 1, unit: 'count', written: '1 stick' },
  add: { at: 'steep' },
};
const dry: HopItem['add'] = { at: 'dry', day: 5, for_min: null, forWritten: null };
const firstWort: ExtractItem['add'] = { at: 'first wort' };

describe('a small mash, a steep, a stand and an ice bath', () => {
  const plan = planOf(
    sampleBatch({
      setup: sampleSetup({
        chill: { to_C: own(25), in_min: own(20), with: 'ice bath', assumed: false },
        sanitiser: {
          dose_ml_per_L: 1.5,
          doseWritten: '1.5 ml/L',
          make: { value: 5, unit: 'L', written: '5 L' },
          note: null,
        },
      }),
      recipe: sampleRecipe({
        mash: mashAt(66, 3),
        rinse_L: given(1, '1 L'),
        steep: steepAt(70, 2),
        grain: [grain(1500, { in: 'mash', name: 'pale malt' }), grain(200)],
        extract: [extract(1000, { add: firstWort })],
        stand: { temperature_C: given(80, '80 °C'), time_min: given(20, '20 min') },
        hops: [
          hop(10, firstWort),
          hop(20, boilFor(15)),
          hop(5, { at: 'flameout' }),
          hop(30, { at: 'stand' }),
          hop(40, dry),
        ],
        other: [finings, cinnamon],
        yeast: [yeast({ form: 'liquid', amount: { value: 1, unit: 'count', written: '1 pack' } })],
      }),
    }),
  );

  it('in words: 1.5 kg at 3 L/kg are 4.5 L, 5 L at 1.5 ml/L take 7.5 ml', () => {
    expect(inWords(plan, ['4.5 L', '2 L', '1 L'])).toEqual([
      'gather: prepare boil, cover and chill the top-up water, …',
      'gather: prepare freeze the ice for the bath, …',
      'gather: prepare make the yeast’s starter, if it needs one: English ale, 1 pack',
      'gather: sanitise mix the sanitiser as its label says, 7.5 ml in 5 L',
      'gather: weigh weigh everything out in the order of the day',
      'heat: fill water for the mash, 4.5 L',
      'heat: heat to 72 °C, …',
      'mash: grain in pale malt, 1500 g',
      'mash: hold at 66 °C, 60 min',
      'mash: heat the rinse water for the rinse to 75 °C, in another pot, 1 L',
      'mash: grain out lift it, never squeeze',
      'mash: drain over the pot, 5 min',
      'mash: rinse pour over the drained grain, 1 L',
      'heat: fill water for the steep, 2 L',
      'heat: heat to 71 °C, …',
      'steep: flame off before the grain goes in',
      'steep: add cinnamon, 1 stick',
      'steep: grain in crystal malt 150, 200 g',
      'steep: hold at 70 °C, off the heat, 20 min',
      'steep: grain out lift it, never squeeze',
      'steep: drain over the pot, 5 min',
      'heat: fill the rest of the water, …',
      'heat: stir in pale liquid extract, 1000 g',
      'heat: add Fuggle, 10 g',
      'heat: heat to the boil, …',
      'heat: watch for the first boil-over',
      'boil at 60: boil begins start the countdown, 60 min',
      'boil at 20: sanitise whatever touches the cooled wort: fermenter, lid, airlock, siphon, thermometer',
      'boil at 15: add Fuggle, 20 g',
      'boil at 15: add finings, 1 tablet',
      'boil at 15: watch for a boil-over',
      'boil at 10: ready tub, cold water, ice; yeast out of the cold; jar, hydrometer, …',
      'boil at 0: flame out the boil is over',
      'boil at 0: add Fuggle, 5 g',
      'stand: stand let it fall to 80 °C, cover and leave it, 20 min',
      'stand: add Fuggle, 30 g',
      'chill: chill to 31 °C, lid on, …',
      'chill: transfer into the fermenter, leave the trub behind, …',
      'chill: top up with boiled and chilled water at 12 °C, to 19 L, …',
      'read: read volume, gravity and the temperature of the sample',
      'pitch: air shake or stir air in, now that it is cool',
      'pitch: pitch English ale, 1 pack',
      'pitch: seal lid on, airlock on and filled',
    ]);
    expect(plan.pauses).toEqual([]);
  });

  it('on the clock', () => {
    const at = (action: string, phase: string) =>
      plan.timetable.findLast((row) => row.action === action && row.phase === phase)!.minute;
    expect(at('grain out', 'mash') - at('hold', 'mash')).toBeCloseTo(60, 9);
    expect(at('rinse', 'mash') - at('drain', 'mash')).toBeCloseTo(5, 9);
    expect(at('grain in', 'steep') - at('rinse', 'mash')).toBeCloseTo(
      plan.targets.minutes_to_steep!.value,
      9,
    );
    expect(at('flame out', 'boil') - at('boil begins', 'boil')).toBeCloseTo(60, 9);
    expect(at('chill', 'chill') - at('stand', 'stand')).toBeCloseTo(20, 9);
    expect(at('transfer', 'chill') - at('chill', 'chill')).toBeCloseTo(20, 9);
  });
});

describe('a batch without a boil', () => {
  const plan = planOf(
    sampleBatch({
      recipe: sampleRecipe({
        boil_min: given(0, '0 min'),
        boilVolume_L: null,
        steep: null,
        grain: [],
        extract: [extract(3000), extract(200, { add: firstWort })],
        hops: [hop(20, { at: 'flameout' })],
        intoFermenter_L: given(10, '10 L'),
        yeast: [yeast(), yeast({ name: 'second yeast' })],
      }),
    }),
  );

  it('in words', () => {
    expect(inWords(plan)).toEqual([
      'gather: prepare have the yeast ready: English ale, 11 g',
      'gather: prepare have the yeast ready: second yeast, 11 g',
      'gather: sanitise mix the sanitiser as its label says',
      'gather: weigh weigh everything out in the order of the day',
      'heat: fill water into the kettle, …',
      'heat: stir in pale liquid extract, 200 g',
      'heat: stir in pale liquid extract, 3000 g',
      'heat: add Fuggle, 20 g',
      'chill: sanitise whatever touches the cooled wort: fermenter, lid, airlock, siphon, thermometer',
      'chill: transfer into the fermenter, leave the trub behind, …',
      'read: read volume, gravity and the temperature of the sample',
      'pitch: air shake or stir air in, now that it is cool',
      'pitch: pitch English ale, 11 g',
      'pitch: pitch second yeast, 11 g',
      'pitch: seal lid on, airlock on and filled',
    ]);
    expect(plan.pauses).toEqual([]);
  });

  it('names what each row is of', () => {
    const items = plan.timetable.flatMap(({ items }) => items.map(({ path }) => path));
    expect(items).toEqual([
      'yeast[0]',
      'yeast[1]',
      'extract[1]',
      'extract[0]',
      'hops[0]',
      'yeast[0]',
      'yeast[1]',
    ]);
  });
});

describe('what a day goes without', () => {
  const amountOf = (setup: Parameters<typeof sampleSetup>[0]) =>
    worded(planOf(sampleBatch({ setup: sampleSetup(setup) })).timetable).find(
      ({ action }) => action === 'sanitise',
    )!.amount;
  const sanitiser = { dose_ml_per_L: 2, doseWritten: '2 ml/L', note: null };

  it('an amount of sanitiser where it is not said how much of it is made, or not in litres', () => {
    expect(amountOf({ sanitiser: { ...sanitiser, make: null } })).toBeNull();
    expect(
      amountOf({ sanitiser: { ...sanitiser, make: { value: 2, unit: 'g', written: '2 g' } } }),
    ).toBeNull();
    expect(amountOf({ sanitiser: { ...sanitiser, make: { value: 4, unit: 'L', written: '4 L' } } })).toBe(
      '8 ml in 4 L',
    );
  });

  it('a pause: liquid extract with the flame on again takes a minute at least', () => {
    const quick = planOf(
      sampleBatch({
        setup: sampleSetup({ heat_kW: own(50) }),
        recipe: sampleRecipe({ extract: [extract(1500), extract(50, { add: boilFor(12) })] }),
      }),
    );
    const on = worded(quick.timetable).findLast(({ action }) => action === 'flame on')!;
    expect(on.amount).toBe('1 min');
  });
});
