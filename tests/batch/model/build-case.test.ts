/** A recipe as the flat numbers that the model runs on. */
import { describe, expect, it } from 'vitest';
import {
  buildCase,
  packCells,
  pitchingTemperature,
  warmestAfterFermentation,
} from '../../../lib/batch/model/build-model-input.ts';
import type {
  FermentStep,
  HopItem,
  Recipe,
  RecipeMoment,
  YeastItem,
} from '../../../lib/batch/types/recipe.ts';
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
import { mashAt, own } from '../sample-plan.ts';

const caseOf = (recipe: Partial<Recipe>) => buildCase(sampleBatch({ recipe: sampleRecipe(recipe) }));

describe('cells in a pack, billions', () => {
  const pack = (value: number, unit: 'g' | 'L' | 'count') => ({ value, unit, written: '' });
  const cells = (billion: number, per: 'g' | 'ml' | 'pack') => ({ billion: billion as never, per, u: null });
  const ROWS: readonly (readonly [string, Partial<YeastItem>, number])[] = [
    ['as the recipe states them', { cells: cells(180, 'pack'), pack: pack(11, 'g') }, 180],
    ['by the gram of a stated pack', { cells: cells(15, 'g'), pack: pack(5, 'g') }, 75],
    [
      'by the millilitre of a stated pack',
      { form: 'liquid', cells: cells(2, 'ml'), pack: pack(0.035, 'L') },
      70,
    ],
    ['by the gram of liquid yeast', { form: 'liquid', cells: cells(2, 'g'), pack: pack(35, 'g') }, 70],
    ['cells by the gram of a pack that is no weight', { form: 'liquid', cells: cells(2, 'g') }, 100],
    ['a dry pack by volume says nothing of its weight', { pack: pack(0.02, 'L'), cells: cells(5, 'g') }, 55],
    ['a dry pack of 11 g at 10 a gram', {}, 110],
    ['a dry pack that is stated, at 10 a gram', { pack: pack(7, 'g') }, 70],
    ['a dry amount by the gram, itself the pack', { amount: pack(8, 'g'), cells: cells(12, 'g') }, 96],
    ['a little over a usual sachet is still one', { amount: pack(12, 'g') }, 120],
    ['much more than a sachet are several of the usual 11 g', { amount: pack(25, 'g') }, 110],
    ['a counted dry sachet holds the usual 11 g', { amount: pack(2, 'count') }, 110],
    ['a liquid pack that says nothing', { form: 'liquid', amount: pack(1, 'count') }, 100],
    ['slurry by its volume, at 1 a millilitre', { form: 'slurry', amount: pack(0.25, 'L') }, 250],
    [
      'slurry by its volume, as stated',
      { form: 'slurry', amount: pack(0.2, 'L'), cells: cells(1.5, 'ml') },
      300,
    ],
    ['slurry by the jar: 100 ml', { form: 'slurry', amount: pack(1, 'count') }, 100],
  ];
  it.each(ROWS)('%s', (_, over, billion) => {
    expect(packCells(yeast(over))).toBeCloseTo(billion, 9);
  });
});

describe('temperatures of the fermentation', () => {
  const step = (t_C: number, days: number): FermentStep => ({
    temperature_C: given(t_C, `${t_C} °C`),
    time_min: given(days * 1440, `${days} days`),
  });

  it('it is pitched at the first step’s, else in the middle of the yeast’s band, else by its kind', () => {
    expect(pitchingTemperature(sampleRecipe({ ferment: [step(18, 7), step(21, 3)] }))).toBe(18);
    expect(pitchingTemperature(sampleRecipe({ ferment: [] }))).toBe(19);
    const plain = { ferment: [], yeast: [yeast({ temperature_C: null })] };
    expect(pitchingTemperature(sampleRecipe(plain))).toBe(20);
    const lager = { ferment: [], yeast: [yeast({ temperature_C: null, kind: 'lager' })] };
    expect(pitchingTemperature(sampleRecipe(lager))).toBe(12);
    expect(pitchingTemperature(sampleRecipe({ ferment: [], yeast: [] }))).toBe(20);
  });

  const ROWS: readonly (readonly [string, readonly FermentStep[], number])[] = [
    ['one step', [step(19, 14)], 19],
    [
      'a warm start that is over before the bulk is fermented does not count',
      [step(24, 2), step(18, 12)],
      18,
    ],
    ['a warm end counts', [step(18, 6), step(22, 3)], 22],
    ['the first step counts where it lasts long enough', [step(20, 10), step(4, 14)], 20],
    ['a cold fermentation takes longer to its bulk', [step(10, 6), step(16, 3), step(2, 20)], 2],
    ['a warm fermentation is past its bulk after five days', [step(20, 6), step(18, 3)], 20],
    ['five days are five days', [step(22, 5), step(18, 3)], 22],
    ['15 °C are not cold yet', [step(15, 6), step(12, 3)], 15],
    ['ten cold days are ten cold days', [step(14, 10), step(3, 3)], 14],
    ['steps that are all too short: the last', [step(20, 1), step(22, 1)], 22],
    ['no steps: as it was pitched', [], 19],
  ];
  it.each(ROWS)('the warmest since: %s', (_, ferment, t_C) => {
    expect(warmestAfterFermentation(sampleRecipe({ ferment }))).toBe(t_C);
  });
});

describe('when extract goes in', () => {
  const ROWS: readonly (readonly [RecipeMoment, string])[] = [
    [boilFor(60), 'before'],
    [boilFor(59), 'boil'],
    [boilFor(1), 'boil'],
    [boilFor(0), 'flameout'],
    [{ at: 'first wort' }, 'before'],
    [{ at: 'steep' }, 'before'],
    [{ at: 'flameout' }, 'flameout'],
    [{ at: 'stand' }, 'stand'],
    [{ at: 'fermenter', day: 3 }, 'fermenter'],
    [{ at: 'packaging' }, 'fermenter'],
    [{ at: 'dry', day: 3, for_min: null, forWritten: null }, 'fermenter'],
  ];
  it.each(ROWS)('%j: %s', (add, stage) => {
    const { parts, times_min } = caseOf({ grain: [], extract: [extract(1000, { add })] });
    expect(parts).toHaveLength(1);
    expect(parts[0]).toMatchObject({ stage, efficiency: 'whole', heatsWithWater: add.at === 'first wort' });
    const at = stage === 'boil' && add.at === 'boil' ? add.minutesLeft : undefined;
    expect(times_min[parts[0]!.timeIndex]).toBe(at);
  });
});

describe('when hops go in', () => {
  const ROWS: readonly (readonly [HopItem['add'], string, number | undefined, number])[] = [
    [boilFor(60), 'boil', 60, 60],
    [boilFor(7.5), 'boil', 7.5, 7.5],
    [boilFor(0), 'flameout', undefined, 0],
    [{ at: 'first wort' }, 'boil', 60, 60],
    [{ at: 'flameout' }, 'flameout', undefined, 0],
    [{ at: 'stand' }, 'stand', undefined, 0],
    [{ at: 'steep' }, 'steep', undefined, 0],
    [{ at: 'dry', day: 3, for_min: null, forWritten: null }, 'dry', undefined, 0],
    [{ at: 'fermenter', day: 3 }, 'dry', undefined, 0],
  ];
  it.each(ROWS)('%j: %s', (add, stage, at, boil_min) => {
    const { hops, times_min } = caseOf({ hops: [hop(25, add)] });
    expect(hops).toEqual([
      expect.objectContaining({
        item: 'hops[0]',
        name: 'Fuggle',
        weight_kg: 0.025,
        alpha: 0.046,
        stage,
        boil_min,
      }),
    ]);
    expect(times_min[hops[0]!.timeIndex]).toBe(at);
  });
});

describe('the minutes of the boil', () => {
  it('are whole ones and every addition’s, falling to 0', () => {
    const { times_min } = caseOf({
      boil_min: given(4.5, '4.5 min'),
      extract: [extract(1000)],
      hops: [hop(10, boilFor(2.5)), hop(10, boilFor(3))],
    });
    expect([...times_min]).toEqual([4.5, 4, 3, 2.5, 2, 1, 0]);
    expect([...caseOf({ boil_min: given(0, '0 min'), hops: [], extract: [] }).times_min]).toEqual([0]);
  });

  it('know the additions that are neither extract nor hops, and none after the boil', () => {
    const finings = {
      name: 'finings',
      amount: { value: 1, unit: 'count' as const, written: '1' },
      allergens: [],
      note: null,
    };
    const { times_min } = caseOf({
      boil_min: given(3, '3 min'),
      hops: [],
      extract: [],
      sugar: [extract(100, { kind: 'sugar', add: boilFor(0.5) })],
      other: [
        { ...finings, add: boilFor(1.5) },
        { ...finings, add: { at: 'flameout' } },
      ],
    });
    expect([...times_min]).toEqual([3, 2, 1.5, 1, 0.5, 0]);
  });
});

describe('grain', () => {
  it('is weighed by where it goes; a mash without any is none', () => {
    const both = caseOf({
      mash: mashAt(66, 3),
      grain: [grain(1500, { in: 'mash' }), grain(250), grain(150)],
    });
    expect(both).toMatchObject({ mashGrain_kg: 1.5, mash: { target_C: 66, water_L: 4.5, time_min: 60 } });
    expect(both.steepGrain_kg).toBeCloseTo(0.4, 12);
    expect(caseOf({ mash: mashAt(66, 3) }).mash).toBeNull();
    expect(caseOf({ steep: null }).steep).toBeNull();
  });

  it('has a laboratory’s colour, sugar its own: 150 EBC are 57.1 °L of malt, or 76.2 SRM of a syrup', () => {
    // °L = (EBC + 1.2)/2.65, SRM = 12.7/25 EBC.
    const sugar = extract(100, {
      kind: 'sugar',
      colour_EBC: { value: 150 as never, u: null, from: 'table' },
    });
    const { parts } = caseOf({ extract: [], sugar: [sugar] });
    expect(parts.map(({ colour_L }) => colour_L)).toEqual([
      expect.closeTo(151.2 / 2.65, 9),
      expect.closeTo((150 * 12.7) / 25, 9),
    ]);
    expect(parts.map(({ item }) => item)).toEqual(['grain[0]', 'sugar[0]']);
  });
});

describe('a kit’s label', () => {
  const labelOf = (weight_g: number, labelWeight_g: number | null) =>
    caseOf({
      grain: [],
      extract: [
        extract(weight_g, {
          bitterness: {
            ibu: 24 as never,
            in_L: 23 as never,
            labelWeight_g: labelWeight_g as never,
            written: '',
          },
        }),
      ],
    }).parts[0]!.labelBitterness_IBU_L;

  it('is for its own weight: 24 IBU in 23 L, half of it for half a tin', () => {
    expect(labelOf(1700, null)).toBe(552);
    expect(labelOf(1700, 1700)).toBe(552);
    expect(labelOf(850, 1700)).toBe(276);
    expect(caseOf({ grain: [] }).parts[0]!.labelBitterness_IBU_L).toBe(0);
  });
});

describe('the yeast of a case', () => {
  it('attenuates as the strongest of them, and wants what the hungriest wants', () => {
    const attenuation = (value: number) => ({ value: value as never, u: null, from: 'table' }) as const;
    const c = caseOf({
      yeast: [
        yeast({ attenuation: attenuation(0.7) }),
        yeast({ attenuation: attenuation(0.8), kind: 'lager' }),
      ],
    });
    // 0.75 million cells per millilitre and °P for an ale, 1.5 for a lager. Common practice, no source.
    expect(c).toMatchObject({ attenuation: 0.8, rate_million_per_mL_P: 1.5, packCells_billion: 110 });
    expect(caseOf({}).rate_million_per_mL_P).toBe(0.75);
  });

  it('is unknown where there is none', () => {
    const c = caseOf({ yeast: [] });
    expect([c.attenuation, c.rate_million_per_mL_P, c.packCells_billion]).toEqual([
      Number.NaN,
      Number.NaN,
      Number.NaN,
    ]);
  });
});

it('takes the kit’s figures each for what it is', () => {
  const setup = sampleSetup({
    kettle_L: own(11),
    heat_kW: own(12),
    boilOff_L_per_h: own(13),
    kettleLoss_L: own(14),
    hopAbsorption_L_per_kg: own(15),
    grainAbsorption_L_per_kg: own(16),
    fermenterLoss_L: own(17),
    steepEfficiency: own(0.18),
    mashEfficiency: own(0.19),
    chill: { to_C: own(20), in_min: own(21), with: 'ice bath', assumed: false },
    waterTemperature_C: own(22),
    topUpTemperature_C: own(23),
    roomTemperature_C: own(24),
    altitude_m: own(25),
  });
  expect(buildCase(sampleBatch({ setup }))).toMatchObject({
    kettle_L: 11,
    heat_kW: 12,
    boilOff_L_per_h: 13,
    kettleLoss_L: 14,
    hopAbsorption_L_per_kg: 15,
    grainAbsorption_L_per_kg: 16,
    fermenterLoss_L: 17,
    steepEfficiency: 0.18,
    mashEfficiency: 0.19,
    chillTo_C: 20,
    water_C: 22,
    topUp_C: 23,
    room_C: 24,
    altitude_m: 25,
    chillWith: 'ice bath',
  });
  expect(buildCase(sampleBatch()).chillWith).toBe('cold-water bath');
});
