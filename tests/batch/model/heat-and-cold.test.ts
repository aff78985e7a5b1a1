/** Energy balances of one run, with masses in whole kilograms: heating, soaking, boiling, chilling, topping up. */
import { describe, expect, it } from 'vitest';
import type { KettleMasses, KettleRun } from '../../../lib/batch/model/kettle.ts';
import { finalVolume } from '../../../lib/batch/model/model.ts';
import type { Case, ExtractPart } from '../../../lib/batch/model/model-input.ts';
import { fullestMoment, steepLiquor, steepWater_L } from '../../../lib/batch/model/peak-volume.ts';
import { emptyOutcome, TARGET_INDEX } from '../../../lib/batch/model/target-vector.ts';
import { heatAndCold } from '../../../lib/batch/model/thermal.ts';
import type { TargetKey } from '../../../lib/batch/types/targets.ts';

import { modelOf } from '../sample-plan.ts';

/** Water at 20 °C (IAPWS-95), and the heat capacity of wort: 4.1868 − 0.0251 P + 7.5e-5 P t kJ/(kg K). */
const KG_PER_L = 0.998207;
const CP = 4.1868;
const litres = (kg: number) => kg / KG_PER_L;

const { c: sample } = modelOf({});
const kitchen: Partial<Case> = {
  parts: [],
  hops: [],
  mash: null,
  steep: null,
  rinse_L: 0,
  steepGrain_kg: 0,
  mashGrain_kg: 0,
  boil_min: 60,
  heat_kW: 1.5,
  water_C: 12,
  room_C: 20,
  topUp_C: 12,
  pitch_C: 20,
  chillTo_C: 22,
  scale: 1,
  thermometer_K: 0,
  maltHeat_kJ_per_kgK: 1.7,
  grainAbsorption_L_per_kg: 1 / KG_PER_L,
  mashEfficiency: 0.7,
  steepEfficiency: 0.5,
  waterToHeat_L: litres(15),
};
const caseWith = (over: Partial<Case>): Case => ({ ...sample, ...kitchen, ...over });

const part = (over: Partial<ExtractPart>): ExtractPart => ({
  item: 'extract[0]',
  name: 'extract',
  kind: 'extract',
  weight_kg: 1,
  yield: 0.8,
  colour_L: 0,
  fermentability: 1,
  as: 'malt',
  efficiency: 'whole',
  stage: 'before',
  timeIndex: -1,
  heatsWithWater: false,
  labelBitterness_IBU_L: 0,
  ...over,
});
const malt = (efficiency: 'mash' | 'steep', weight_kg: number) =>
  part({ kind: 'grain', efficiency, weight_kg, yield: 0.75 });

/** Ten kilograms of 10 °P, of which nine reach the fermenter, and ten kilograms of top-up. */
const WORT = { extract_kg: 1, water_kg: 9 };
function run(over: Partial<Case>, more: { topUp_kg?: number; chilled?: typeof WORT } = {}) {
  const out = emptyOutcome();
  const kettle = { chilled: more.chilled ?? WORT } as KettleRun;
  const thermal = heatAndCold(caseWith(over), out, {
    kettle,
    boil_C: 100,
    share: 0.9,
    topUp_kg: more.topUp_kg ?? 10,
  });
  return { ...thermal, get: (key: TargetKey) => out[TARGET_INDEX[key]]! };
}
/** A burner of 1.5 kW. */
const minutes = (kJ: number) => kJ / 1.5 / 60;

describe('water alone', () => {
  it('15 kg from 12 to 100 °C with 1.5 kW: 61.4 min', () => {
    const { get, minutesToStrike, pauses } = run({});
    expect(get('minutes_to_boil')).toBeCloseTo(minutes(15 * CP * 88), 3);
    expect(get('minutes_back_to_boil')).toBeNaN();
    expect(minutesToStrike).toBeNaN();
    expect(pauses).toEqual([]);
  });

  it('twice the heat, half the time; hardly any heat, as long as 10 W take; hotter than the boil, none', () => {
    expect(run({ heat_kW: 3 }).get('minutes_to_boil')).toBeCloseTo(minutes(15 * CP * 44), 3);
    expect(run({ heat_kW: -1 }).get('minutes_to_boil')).toBeCloseTo((15 * CP * 88) / 0.01 / 60, 0);
    expect(run({ water_C: 101 }).get('minutes_to_boil')).toBe(0);
  });

  it('without a boil there is no heating to it', () => {
    const { get, pauses } = run({ boil_min: 0, parts: [part({})] });
    expect(get('minutes_to_boil')).toBeNaN();
    expect(pauses).toEqual([]);
  });
});

describe('a mash', () => {
  // 4 kg at 20 °C into 10 kg: 66 + 4 × 1.7 × 46 / (10 × 4.1868) = 73.47 °C.
  const strike_C = 66 + (4 * 1.7 * 46) / (10 * CP);
  const mash = { target_C: 66, water_L: litres(10), time_min: 60 };
  const over: Partial<Case> = { mash, mashGrain_kg: 4, rinse_L: litres(3), parts: [malt('mash', 4)] };

  it('its water, and the way there', () => {
    const { get, minutesToStrike } = run(over);
    expect(get('strike_water_c')).toBeCloseTo(strike_C, 3);
    expect(minutesToStrike).toBeCloseTo(minutes(10 * CP * (strike_C - 12)), 3);
    expect(get('steep_water_c')).toBeNaN();
    expect(run({ ...over, thermometer_K: 0.5 }).get('strike_water_c')).toBeCloseTo(strike_C + 0.5, 3);
  });

  /** Heat capacity of extract at a temperature: the formula’s at 100 °P. */
  const extractCp = (t_C: number) => CP - 2.51 + 7.5e-3 * t_C;
  // 3 kg of rinse come in, 4 stay in the grain, 4 × 0.75 × 0.7 = 2.1 kg of extract; 2 kg of water are left to pour in at 12 °C.
  const liquor = (10 + 3 - 4) * CP + 2.1 * extractCp(66);

  it('drained and rinsed, with the rest of the water to the boil', () => {
    const energy = liquor * (100 - 66) + 2 * CP * 88;
    expect(run(over).get('minutes_to_boil')).toBeCloseTo(minutes(energy), 3);
  });

  it('then a steep in it, with 1 kg of water of its own: 0.5 kg to 70 °C', () => {
    const steep = { target_C: 70, water_L: litres(1), time_min: 20 };
    const both = { ...over, steep, steepGrain_kg: 0.5, parts: [malt('mash', 4), malt('steep', 0.5)] };
    const { get } = run(both);
    const mixed_C = (liquor * 66 + CP * 12) / (liquor + CP);
    const water_C = 70 + (0.5 * 1.7 * 50) / (liquor + CP);
    expect(get('steep_water_c')).toBeCloseTo(water_C, 3);
    expect(get('minutes_to_steep')).toBeCloseTo(minutes((liquor + CP) * (water_C - mixed_C)), 3);
    // The steep keeps half a kilogram and gives 0.5 × 0.75 × 0.5 kg of extract; the rinse was the mash’s; 1 kg is left.
    const after = liquor + CP - 0.5 * CP + 0.1875 * extractCp(70);
    expect(get('minutes_to_boil')).toBeCloseTo(minutes(after * 30 + CP * 88), 3);
  });

  it('a steep alone, with its rinse', () => {
    const steep = { target_C: 70, water_L: litres(6), time_min: 20 };
    const one = { steep, steepGrain_kg: 1, rinse_L: litres(2), parts: [malt('steep', 1)] };
    const { get } = run(one);
    const water_C = 70 + (1.7 * 50) / (6 * CP);
    expect(get('steep_water_c')).toBeCloseTo(water_C, 3);
    expect(run({ ...one, thermometer_K: -1 }).get('steep_water_c')).toBeCloseTo(water_C - 1, 3);
    expect(get('minutes_to_steep')).toBeCloseTo(minutes(6 * CP * (water_C - 12)), 3);
    const after = (6 + 2 - 1) * CP + 0.375 * extractCp(70);
    expect(get('minutes_to_boil')).toBeCloseTo(minutes(after * 30 + 7 * CP * 88), 3);
    expect(get('strike_water_c')).toBeNaN();
  });

  it('half of everything on a scale that shows twice as much', () => {
    const double = { ...over, scale: 0.5, mashGrain_kg: 8, parts: [malt('mash', 8)] };
    expect(run(double).get('strike_water_c')).toBeCloseTo(strike_C, 3);
    expect(run(double).get('minutes_to_boil')).toBeCloseTo(run(over).get('minutes_to_boil'), 9);
  });
});

describe('extract and sugar', () => {
  // 1 kg of 80 °P from 20 to 100 °C, at the mean of 60: 4.1868 − 0.0251 × 80 + 7.5e-5 × 80 × 60 = 2.539 kJ/(kg K).
  const one = (CP - 0.0251 * 80 + 7.5e-5 * 80 * 60) * 80;
  const water = 15 * CP * 88;

  it('bring the boil to a halt at their minute, the first of them before the countdown', () => {
    const { get, pauses } = run({
      parts: [
        part({ stage: 'boil', timeIndex: 50 }),
        part({ stage: 'boil', timeIndex: 9, weight_kg: 2 }),
        part({ stage: 'boil', timeIndex: 50, kind: 'sugar', as: 'sugar' }),
        part({ stage: 'before', weight_kg: 3 }),
      ],
    });
    expect(pauses).toEqual([
      { timeIndex: 0, minutes: expect.closeTo(minutes(3 * one), 3) },
      { timeIndex: 9, minutes: expect.closeTo(minutes(2 * one), 3) },
      { timeIndex: 50, minutes: expect.closeTo(minutes(2 * one), 3) },
    ]);
    expect(get('minutes_back_to_boil')).toBe(pauses[0]!.minutes);
    expect(get('minutes_to_boil')).toBeCloseTo(minutes(water), 3);
  });

  it('as first wort heat with the water, and make no pause', () => {
    const { get, pauses } = run({ parts: [part({ heatsWithWater: true, weight_kg: 2 })] });
    expect(pauses).toEqual([]);
    expect(get('minutes_to_boil')).toBeCloseTo(minutes(water + 2 * one), 3);
  });

  it('at flame-out, in the stand and in the fermenter need no heat, nor does grain', () => {
    const parts = (['flameout', 'stand', 'fermenter'] as const).map((stage) => part({ stage }));
    const { get, pauses } = run({ parts: [...parts, part({ kind: 'grain', stage: 'before' })] });
    expect(pauses).toEqual([]);
    expect(get('minutes_to_boil')).toBeCloseTo(minutes(water), 3);
  });

  it('drier than 85 °P count as 85, and by the scale', () => {
    const dry = (CP - 0.0251 * 85 + 7.5e-5 * 85 * 60) * 80;
    const { pauses } = run({ parts: [part({ yield: 0.97 })], scale: 1.01 });
    expect(pauses[0]!.minutes).toBeCloseTo(minutes(1.01 * dry), 3);
  });
});

describe('chilled and topped up', () => {
  // Nine kilograms of 10 °P against ten of water at 12 °C, to land at 20: 10 × 4.1868 × 8 = 334.9 kJ, which nine kilograms
  // bring from 29.4 °C: 9 × 9.41 K × 3.954 kJ/(kg K), the capacity at their mean of 24.7 °C.
  it.each<[string, Partial<Case>, number, number]>([
    ['as far as the water at hand does not chill it, however far the kit could', {}, 29.41, 12],
    ['no further for a kit that chills to 60 °C', { chillTo_C: 60 }, 29.41, 12],
    // 10 × 4.1868 × 10 = 418.7 kJ: 11.8 K at 3.947, the capacity at 14.1 °C.
    ['further, where the water is at 30 °C', { topUp_C: 30 }, 20 - 418.68 / (9 * 3.9464), 30],
    // Water at 40 °C would need wort of −3.6 °C.
    ['to the pitch, where no wort would be cold enough', { topUp_C: 40 }, 20, 20],
    ['as a thermometer shows it that reads half a degree high', { thermometer_K: 0.5 }, 29.91, 12.5],
  ])('%s', (_, over, chill_C, water_C) => {
    const { get } = run(over);
    expect(get('chill_to_c')).toBeCloseTo(chill_C, 1);
    expect(get('top_up_c')).toBeCloseTo(water_C, 3);
  });

  it('never poured hotter than 40 °C: 40 kg of water would bear wort of 57.7, and is to be warmer for it', () => {
    const { get } = run({}, { topUp_kg: 40 });
    expect(get('chill_to_c')).toBe(40);
    // 9 kg × 20 K × 3.9583 kJ/(kg K), the capacity at 30 °C, over 40 × 4.1868.
    expect(get('top_up_c')).toBeCloseTo(20 - (9 * 20 * 3.9583) / (40 * 4.1868), 2);
  });

  it('with less than a jug to top up, to the pitch', () => {
    const { get } = run({ thermometer_K: 0.5 }, { topUp_kg: 0.049 });
    expect(get('chill_to_c')).toBe(20.5);
    expect(get('top_up_c')).toBeNaN();
    expect(run({}, { topUp_kg: 0.051 }).get('top_up_c')).not.toBeNaN();
  });

  it('without a boil there is nothing to chill, but water to pour in', () => {
    expect(run({ boil_min: 0 }, { topUp_kg: 0 }).get('chill_to_c')).toBeNaN();
    expect(run({ boil_min: 0 }).get('top_up_c')).toBeCloseTo(12, 9);
  });

  it('where no wort is left there is only the water', () => {
    const { get } = run({}, { chilled: { extract_kg: 0, water_kg: 0 } });
    expect(get('chill_to_c')).toBe(20);
    expect(get('top_up_c')).toBeNaN();
  });
});

describe('the fullest moment', () => {
  const boiled = (most_L: number, start = { extract_kg: 0, water_kg: 10 }) =>
    ({ most_L, start }) as KettleMasses;
  // Water takes 1 / (1 − 0.0399) of its room at 100 °C and 1 / (1 − 0.0150) at 60 (IAPWS); wet grain 0.7 L/kg.
  const AT_60 = 1 / (1 - 0.015);

  it.each<[string, Partial<Case>, number, number]>([
    ['the boil', {}, 10, 10 / (1 - 0.0399)],
    ['what is not boiled, as cold as it is', { boil_min: 0 }, 10, 10],
    ['nothing, where the kettle has boiled dry', {}, -1, 0],
    [
      'a mash with its grain',
      { mash: { target_C: 60, water_L: 12, time_min: 60 }, mashGrain_kg: 4 },
      5,
      12 * AT_60 + 2.8,
    ],
    [
      'a steep with its grain',
      { steep: { target_C: 60, water_L: 12, time_min: 20 }, steepGrain_kg: 1 },
      5,
      12 * AT_60 + 0.7,
    ],
    [
      'grain on a scale that shows twice as much',
      { scale: 0.5, mash: { target_C: 60, water_L: 12, time_min: 60 }, mashGrain_kg: 4 },
      5,
      12 * AT_60 + 1.4,
    ],
    [
      'the boil after a smaller mash',
      { mash: { target_C: 60, water_L: 3, time_min: 60 }, mashGrain_kg: 1 },
      10,
      10 / (1 - 0.0399),
    ],
    // 12 L of mash less 4 in its grain, 2 of rinse and 1 of its own: 11 L.
    [
      'a steep in what the mash left',
      {
        mash: { target_C: 60, water_L: 12, time_min: 60 },
        mashGrain_kg: 4,
        grainAbsorption_L_per_kg: 1,
        rinse_L: 2,
        steep: { target_C: 60, water_L: 1, time_min: 20 },
        steepGrain_kg: 10,
      },
      5,
      11 * AT_60 + 7,
    ],
  ])('is %s', (_, over, most_L, litres_) => {
    expect(fullestMoment(caseWith(over), boiled(most_L), 100)).toBeCloseTo(litres_, 1);
  });

  it('a steep in wort has the mash’s extract in it', () => {
    const mash = { target_C: 60, water_L: litres(12), time_min: 60 };
    const steep = { target_C: 60, water_L: litres(1), time_min: 20 };
    const parts = [malt('mash', 4), malt('steep', 1), part({})];
    const over = { mash, steep, mashGrain_kg: 4, steepGrain_kg: 1, rinse_L: litres(2), parts };
    const liquor = steepLiquor(caseWith(over));
    expect(liquor.extract_kg).toBeCloseTo(4 * 0.75 * 0.7, 9);
    expect(liquor.water_kg).toBeCloseTo(12 + 2 - 4 + 1, 3);
    // A mash whose grain keeps all gives none, and never less than none.
    expect(steepLiquor(caseWith({ ...over, mashGrain_kg: 20 })).water_kg).toBe(0);
    expect(steepLiquor(caseWith({ steep, rinse_L: 5 })).water_kg).toBeCloseTo(1, 3);
  });

  it('a steep of no stated water has all that mash and rinse leave', () => {
    const steep = { target_C: 68, water_L: Number.NaN, time_min: 20 };
    const mash = { target_C: 66, water_L: 8, time_min: 60 };
    expect(steepWater_L(caseWith({ steep, waterToHeat_L: 15 }))).toBe(15);
    expect(steepWater_L(caseWith({ steep, mash, rinse_L: 2, waterToHeat_L: 15 }))).toBe(5);
    expect(steepWater_L(caseWith({ steep, mash, rinse_L: 8, waterToHeat_L: 15 }))).toBe(0);
    expect(steepWater_L(caseWith({ steep: { ...steep, water_L: 4 }, waterToHeat_L: 15 }))).toBe(4);
  });
});

describe('what goes into the fermenter', () => {
  it.each([
    [19, 0, 19],
    [19, 0.5, 19.5],
    [19, -0.5, 18.5],
    [19, -30, 1.9],
  ])('%f L by a mark that is %f L out: %f', (intoFermenter_L, fermenterMark_L, volume_L) => {
    expect(finalVolume(caseWith({ intoFermenter_L, fermenterMark_L }))).toBeCloseTo(volume_L, 9);
  });
});
