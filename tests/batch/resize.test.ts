/** Weights times factors and whole packs, each worked out by hand. */
import { describe, expect, it } from 'vitest';
import { amountOf, resized, roundedForKitchen, withExtract } from '../../lib/batch/scaling/resize-items.ts';
import type { Ingredient } from '../../lib/batch/types/ingredient.ts';
import type { OtherItem, Recipe, YeastItem } from '../../lib/batch/types/recipe.ts';
import { dryRow, extract, given, grain, hop, sampleRecipe, yeast } from './sample.ts';
import { steepAt } from './sample-plan.ts';

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

describe('yeast for the cells wanted', () => {
  const amounts = (items: readonly YeastItem[], wanted: number, units: 'metric' | 'us' = 'metric') =>
    amountOf({ ...recipe, yeast: items } as Recipe, wanted, units).yeast.map(({ amount }) => amount);
  /** 11 g of dry yeast at 10 billion a gram. */
  const dry = yeast();

  it.each([
    [100, 11, '11 g'],
    [110, 11, '11 g'],
    [111, 22, '22 g'],
    [300, 33, '33 g'],
    [1, 11, '11 g'],
  ])('%d billion are %d g in packs of 11 g', (wanted, value, written) => {
    expect(amounts([dry], wanted)).toEqual([{ value, unit: 'g', written }]);
  });

  it('two yeasts share the work', () => {
    expect(amounts([dry, dry], 300).map(({ value }) => value)).toEqual([22, 22]);
  });

  it('leaves the brewer’s words where the amount is the same, and a count that is no weight for a weight', () => {
    const worded = yeast({ amount: { value: 11, unit: 'g', written: '11 g, one sachet' } });
    expect(amountOf({ ...recipe, yeast: [worded] }, 100, 'metric').yeast[0]).toBe(worded);
    const pack = { value: 11, unit: 'g', written: '11 g' } as const;
    const counted = yeast({ pack, amount: { value: 11, unit: 'count', written: '11 sachets' } });
    expect(amounts([counted], 100)).toEqual([{ value: 11, unit: 'g', written: '11 g' }]);
  });

  it('goes by the pack that the recipe states', () => {
    const pack = { value: 5, unit: 'g', written: '5 g' } as const;
    expect(amounts([yeast({ pack })], 120)).toEqual([{ value: 15, unit: 'g', written: '15 g' }]);
    const vial = { value: 0.04, unit: 'L', written: '40 ml' } as const;
    const liquid = yeast({ form: 'liquid', pack: vial, cells: { billion: 2 as never, per: 'ml', u: null } });
    expect(amounts([liquid], 100)).toEqual([{ value: 0.08, unit: 'L', written: '80 ml' }]);
  });

  it('counts packs in the brewer’s words', () => {
    const cells = { billion: 100 as never, per: 'pack', u: null } as const;
    const packs = yeast({
      form: 'liquid',
      amount: { value: 1, unit: 'count', written: '1 smack pack' },
      cells,
    });
    expect(amounts([packs], 250)).toEqual([{ value: 3, unit: 'count', written: '3 smack pack' }]);
  });

  it('leaves slurry, and liquid yeast that no pack is known of', () => {
    const slurry = yeast({ form: 'slurry', amount: { value: 0.1, unit: 'L', written: '100 ml' } });
    const loose = yeast({ form: 'liquid', amount: { value: 0.05, unit: 'L', written: '50 ml' } });
    expect(amounts([slurry], 500)).toEqual([slurry.amount]);
    const jar = yeast({ form: 'slurry', amount: { value: 1, unit: 'count', written: '1 jar' } });
    expect(amounts([jar], 5000)).toEqual([jar.amount]);
    expect(amounts([loose], 500)).toEqual([loose.amount]);
  });

  it('leaves everything where the cells are not known', () => {
    const before = { ...recipe, yeast: [dry] } as Recipe;
    expect(amountOf(before, Number.NaN, 'metric')).toBe(before);
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
