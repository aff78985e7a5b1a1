/** Weights times factors and whole packs, each worked out by hand. */
import { describe, expect, it } from 'vitest';
import {
  amountOf,
  resized,
  roundedForKitchen,
  withExtract,
} from '../../../lib/batch/scaling/resize-items.ts';
import type { Ingredient } from '../../../lib/batch/types/ingredient.ts';
import type { OtherItem, Recipe, YeastItem } from '../../../lib/batch/types/recipe.ts';
import { dryRow, extract, given, grain, hop, sampleRecipe, yeast } from '../sample.ts';
import { steepAt } from '../sample-plan.ts';

const other = (value: number, unit: 'count' | 'g' | 'L', written: string): OtherItem => ({
  name: 'something',
  amount: { value, unit, written },
  add: { at: 'flameout' },
  allergens: [],
  note: null,
});

const recipe = sampleRecipe({
  steep: steepAt(68, 6),
  rinse_L: given(2, '2 L'),
  grain: [grain(300)],
  extract: [extract(1000), extract(500)],
  sugar: [extract(200, { kind: 'sugar', name: 'table sugar' })],
  hops: [hop(30, { at: 'flameout' }), hop(20, { at: 'flameout' })],
  other: [other(3, 'count', '3 sachets'), other(15, 'g', '15 g'), other(0.1, 'L', '100 ml')],
});
const factors = { parts: [2, 0.5, 3, 4], hops: [1.5, 0.1] };

describe('weights times their factors', () => {
  const twice = resized(recipe, factors, 2, 'metric');

  it('grain, extract, sugar and hops each by their own', () => {
    expect(twice.grain[0]!.weight_g).toEqual({ value: 600, u: null, written: '600 g' });
    expect(twice.extract.map(({ weight_g }) => weight_g.value)).toEqual([500, 1500]);
    expect(twice.sugar[0]!.weight_g).toEqual({ value: 800, u: null, written: '800 g' });
    expect(twice.hops.map(({ weight_g }) => weight_g.written)).toEqual(['45 g', '2 g']);
  });

  it('volumes and what no formula weighs by the ratio of the volumes', () => {
    expect(twice.intoFermenter_L).toMatchObject({ value: 38, written: '38 L' });
    expect(twice.steep?.water_L).toMatchObject({ value: 12, written: '12 L' });
    expect(twice.rinse_L).toMatchObject({ value: 4, written: '4 L' });
    expect(twice.other.map(({ amount }) => amount.written)).toEqual(['6 sachets', '30 g', '200 ml']);
    expect(twice.other.map(({ amount }) => amount.value)).toEqual([6, 30, 0.2]);
    expect(twice.steep?.temperature_C).toBe(recipe.steep?.temperature_C);
  });

  it('at the same volume the words of the brewer stay', () => {
    const same = resized(recipe, factors, 1, 'metric');
    expect(same.intoFermenter_L).toBe(recipe.intoFermenter_L);
    expect(same.other).toBe(recipe.other);
    expect(same.packaging).toBe(recipe.packaging);
  });

  it('what the recipe does not say stays unsaid', () => {
    const bare = resized(
      sampleRecipe({ steep: null, rinse_L: null }),
      { parts: [1, 1, 1], hops: [1, 1, 1] },
      2,
      'metric',
    );
    expect([bare.steep, bare.rinse_L, bare.packaging[0]!.volume_L]).toEqual([null, null, null]);
    expect(
      resized(sampleRecipe(), { parts: [1, 1, 1], hops: [1, 1, 1] }, 2, 'metric').steep?.water_L,
    ).toBeNull();
  });

  it('a part that is kegged goes by the ratio too', () => {
    const [step] = recipe.packaging;
    const kegged = { ...recipe, packaging: [{ ...step!, volume_L: given(9, '9 L') as never }] };
    expect(resized(kegged, factors, 2, 'metric').packaging[0]!.volume_L).toMatchObject({
      value: 18,
      written: '18 L',
    });
  });

  it('weights and volumes of other things stay weights and volumes, however little', () => {
    const odd = { ...recipe, other: [other(7.3, 'g', '7.3 g'), other(0.13, 'L', '130 ml')] };
    expect(resized(odd, factors, 0.1, 'metric').other.map(({ amount }) => amount)).toEqual([
      { value: expect.closeTo(0.73, 9), unit: 'g', written: '0.7 g' },
      { value: expect.closeTo(0.013, 9), unit: 'L', written: '13 ml' },
    ]);
  });

  it.each([
    [0.5, '1.5 sachets', 1.5],
    [0.4, '1 sachets', 1],
    // Never less than half of one.
    [0.01, '0.5 sachets', 0.5],
  ])('three sachets times %f are %s', (ratio, written, value) => {
    expect(resized(recipe, factors, ratio, 'metric').other[0]!.amount).toEqual({
      value,
      unit: 'count',
      written,
    });
  });

  it.each([
    ['2', '4'],
    ['1/2 tablet', '4 tablet'],
    ['½ tablet', '4 tablet'],
    ['1.5 tablets', '4 tablets'],
  ])('a number at the head of “%s” gives way to the new one', (written, expected) => {
    const one = { ...recipe, other: [other(2, 'count', written)] };
    expect(resized(one, factors, 2, 'metric').other[0]!.amount.written).toBe(expected);
  });

  it('a kit’s label says of which weight it speaks before that changes', () => {
    const bitterness = {
      ibu: 24 as never,
      in_L: 23 as never,
      labelWeight_g: null,
      written: '24 IBU in 23 L',
    };
    const kit = { ...recipe, extract: [extract(1700, { bitterness }), extract(500)] };
    expect(resized(kit, factors, 2, 'metric').extract[0]!.bitterness?.labelWeight_g).toBe(1700);
    const stated = {
      ...kit,
      extract: [extract(850, { bitterness: { ...bitterness, labelWeight_g: 1700 as never } }), extract(500)],
    };
    expect(resized(stated, factors, 2, 'metric').extract[0]!.bitterness?.labelWeight_g).toBe(1700);
    expect(resized(recipe, factors, 2, 'metric').extract[0]!.bitterness).toBeNull();
  });
});

describe('extract of the other kind', () => {
  const row: Ingredient = { ...dryRow, fermentability: 0.9, allergens: ['gluten', 'milk'] };

  it('brings the same mass of extract: 1000 g at 79 % are 822.9 g at 96 %', () => {
    const [item] = withExtract(recipe, { to: 'dry', row }).extract;
    expect(item).toMatchObject({
      name: 'pale dry extract',
      form: 'dry',
      yield: { value: 0.96, u: null, from: 'table' },
      colour_EBC: { value: 12, u: null, from: 'table' },
      fermentability: { value: 0.9, u: null, from: 'table' },
      allergens: ['gluten', 'milk'],
    });
    expect(item!.weight_g.value).toBeCloseTo(822.917, 3);
    expect(item!.add).toBe(recipe.extract[0]!.add);
  });

  it('without a colour or a fermentability of its own has none, and ferments as malt does', () => {
    const plain = { ...row, colour_EBC: null, fermentability: null };
    expect(withExtract(recipe, { to: 'dry', row: plain }).extract[0]).toMatchObject({
      colour_EBC: { value: 0 },
      fermentability: { value: 1 },
    });
  });

  it('leaves what is of that kind already, and a kit’s hopped extract', () => {
    const bitterness = {
      ibu: 24 as never,
      in_L: 23 as never,
      labelWeight_g: null,
      written: '24 IBU in 23 L',
    };
    const mixed = {
      ...recipe,
      extract: [extract(500, { form: 'dry' }), extract(1700, { bitterness }), extract(800)],
    };
    const after = withExtract(mixed, { to: 'dry', row }).extract;
    expect(after[0]).toBe(mixed.extract[0]);
    expect(after[1]).toBe(mixed.extract[1]);
    expect(after[2]).not.toBe(mixed.extract[2]);
    expect(withExtract(mixed, undefined)).toBe(mixed);
  });
});

describe('yeast for another wort', () => {
  const amounts = (items: readonly YeastItem[], was: number, is: number) =>
    amountOf({ ...recipe, yeast: items } as Recipe, { was, is }, 'metric').yeast.map(({ amount }) => amount);
  const dry = yeast();

  it.each([
    ['as stated where it takes as many packs', 0.4, 0.9, 11, '11 g'],
    ['twice as much for two packs', 0.9, 1.2, 22, '22 g'],
    ['and three times', 0.9, 2.7, 33, '33 g'],
    ['never less than a pack', 0.9, 0.01, 11, '11 g'],
  ])('%s', (_, was, is, value, written) => {
    expect(amounts([dry], was, is)).toEqual([{ value, unit: 'g', written }]);
  });

  it('leaves what the brewer stated, and the words for it, where nothing asks for more', () => {
    const worded = yeast({ amount: { value: 22, unit: 'g', written: '22 g, two sachets' } });
    expect(amountOf({ ...recipe, yeast: [worded] }, { was: 0.9, is: 0.8 }, 'metric').yeast[0]).toBe(worded);
    expect(amounts([worded], 0.9, 1.8)).toEqual([{ value: 44, unit: 'g', written: '44 g' }]);
  });

  it('goes by the pack that the recipe states', () => {
    const pack = { value: 5, unit: 'g', written: '5 g' } as const;
    expect(amounts([yeast({ pack })], 2, 3)).toEqual([{ value: 20, unit: 'g', written: '20 g' }]);
  });

  it('counts packs in the brewer’s words', () => {
    const packs = yeast({ form: 'liquid', amount: { value: 1, unit: 'count', written: '1 smack pack' } });
    expect(amounts([packs], 1, 2.5)).toEqual([{ value: 3, unit: 'count', written: '3 smack pack' }]);
  });

  it('leaves slurry, and liquid yeast that no pack is known of', () => {
    const slurry = yeast({ form: 'slurry', amount: { value: 0.1, unit: 'L', written: '100 ml' } });
    const loose = yeast({ form: 'liquid', amount: { value: 0.05, unit: 'L', written: '50 ml' } });
    expect(amounts([slurry, loose], 1, 5)).toEqual([slurry.amount, loose.amount]);
    expect(amounts([dry], Number.NaN, Number.NaN)).toEqual([dry.amount]);
  });
});

describe('rounded for the kitchen', () => {
  const odd = {
    ...recipe,
    grain: [grain(343.3)],
    extract: [extract(1234.5)],
    sugar: [extract(97.4, { kind: 'sugar' })],
    hops: [hop(0.3, { at: 'flameout' })],
    other: [other(7.6, 'g', '7.6 g'), other(0.5, 'count', '0.5 tablet')],
  } as Recipe;

  it('10 g over a kilogram, 5 g over 100 g, 1 g below, never down to nothing', () => {
    const {
      grain: [malt],
      extract: [syrup],
      sugar: [sugar],
      hops: [hops],
      other: rest,
    } = roundedForKitchen(odd, 'metric');
    expect([malt, syrup, sugar, hops].map((item) => item!.weight_g)).toEqual([
      { value: 345, u: null, written: '345 g' },
      { value: 1230, u: null, written: '1.23 kg' },
      { value: 97, u: null, written: '97 g' },
      { value: 1, u: null, written: '1 g' },
    ]);
    expect(rest.map(({ amount }) => amount.written)).toEqual(['8 g', '0.5 tablet']);
    expect(rest[0]!.amount.value).toBe(8);
  });
});
