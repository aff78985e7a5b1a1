/** The same beer for another volume, kitchen, packet of hops or kind of extract. */
import { describe, expect, it } from 'vitest';
import { kitchenGrams } from '../../../lib/batch/scaling/resize-items.ts';
import { refit } from '../../../lib/batch/scaling/scale-recipe.ts';
import type { Recipe } from '../../../lib/batch/types/recipe.ts';
import type { Setup } from '../../../lib/batch/types/setup.ts';
import type { TargetKey } from '../../../lib/batch/types/targets.ts';
import { boilFor, dryRow, extract, hop, sampleBatch, sampleRecipe, sampleSetup } from '../sample.ts';
import { modelOf, own } from '../sample-plan.ts';

const batch = sampleBatch();
const figures = (recipe: Recipe, setup: Partial<Setup> = {}) => {
  const { get, detail } = modelOf(recipe, setup);
  return { get, ibus: detail.hopRows.map((row) => row.ibu) };
};
const was = figures(batch.recipe);
const SAME: readonly TargetKey[] = ['original_gravity', 'bitterness_ibu', 'colour_ebc', 'final_gravity'];

/** The plan's own model says what the new recipe makes: nothing of the fit is trusted. */
function expectSameBeer(recipe: Recipe, setup: Partial<Setup> = {}): void {
  const is = figures(recipe, setup);
  expect(is.get('original_gravity')).toBeCloseTo(was.get('original_gravity'), 5);
  expect(is.get('colour_ebc')).toBeCloseTo(was.get('colour_ebc'), 2);
  was.ibus.forEach((ibu, i) => {
    expect(is.ibus[i]).toBeCloseTo(ibu, 3);
  });
}

describe('refit', () => {
  it('changes nothing where nothing is asked', () => {
    const { recipe, kept, notKept, rounding } = refit(batch, {});
    expectSameBeer(recipe);
    recipe.extract.forEach((item, i) => {
      expect(item.weight_g.value).toBeCloseTo(batch.recipe.extract[i]!.weight_g.value, 3);
    });
    expect(kept.map(({ what }) => what)).toEqual(SAME);
    expect(notKept).toEqual([]);
    expect(rounding).toBeNull();
  });

  it.each([5, 9.5, 12, 23])('to %f L: gravity, colour and each addition’s bitterness stay', (volume_L) => {
    const { recipe, kept } = refit(batch, { intoFermenter_L: volume_L });
    expect(recipe.intoFermenter_L.value).toBeCloseTo(volume_L, 9);
    expectSameBeer(recipe);
    expect(kept.map(({ what }) => what)).toEqual(SAME);
  });

  it('half the volume is not half the grams: the trub and the evaporation do not halve', () => {
    const { recipe } = refit(batch, { intoFermenter_L: 9.5 });
    const half = batch.recipe.extract[0]!.weight_g.value / 2;
    expect(recipe.extract[0]!.weight_g.value).toBeGreaterThan(half * 1.01);
  });

  it('to another kitchen: weaker efficiency, more evaporation, a smaller pot', () => {
    const other = {
      steepEfficiency: own(0.35),
      boilOff_L_per_h: own(3.5),
      kettle_L: own(11),
      kettleLoss_L: own(0.8),
    };
    const { recipe, notKept } = refit(batch, { setup: sampleSetup(other) });
    expectSameBeer(recipe, other);
    expect(notKept.map(({ what }) => what)).toEqual(['boil_volume']);
    expect(recipe.boilVolume_L).toBeNull();
    expect(modelOf(recipe, other).get('kettle_fill_percent')).toBeLessThan(85.01);
  });

  it('to other alpha acids: the grams change, the bitterness does not', () => {
    const { recipe } = refit(batch, { alphas: { 0: 0.092 } });
    expectSameBeer(recipe);
    // Twice the alpha acids, half the hops, but for the wort that fewer hops hold.
    expect(recipe.hops[0]!.weight_g.value / 15).toBeCloseTo(1, 1);
    expect(recipe.hops[0]!.alpha.value).toBe(0.092);
    expect(recipe.hops[1]!.alpha.value).toBe(0.046);
  });

  it('from liquid to dry extract: 79 to 96, and the grain makes up for the colour', () => {
    const { recipe } = refit(batch, { extractForm: { to: 'dry', row: dryRow } });
    expect(recipe.extract.map((item) => [item.name, item.form])).toEqual([
      ['pale dry extract', 'dry'],
      ['pale dry extract', 'dry'],
    ]);
    const is = figures(recipe);
    expect(is.get('original_gravity')).toBeCloseTo(was.get('original_gravity'), 5);
    expect(is.get('colour_ebc')).toBeCloseTo(was.get('colour_ebc'), 1);
    expect(recipe.extract[0]!.weight_g.value / ((1500 * 0.79) / 0.96)).toBeCloseTo(1, 1);
    expect(recipe.grain[0]!.weight_g.value).toBeLessThan(350);
  });

  it('says where the colour cannot be kept: no grain to make up for it', () => {
    const bare = sampleBatch({ recipe: sampleRecipe({ grain: [], steep: null }) });
    const dark = { ...dryRow, colour_EBC: 60 };
    const { notKept } = refit(bare, { extractForm: { to: 'dry', row: dark } });
    const colour = notKept.find(({ what }) => what === 'colour_ebc')!;
    expect(colour.is).toBeGreaterThan(colour.was);
    expect(colour.why).toMatch(/other extract has another colour/);
  });

  it('a kit’s label goes with its weight', () => {
    const bitterness = {
      ibu: 24 as never,
      in_L: 20 as never,
      labelWeight_g: null,
      written: '24 IBU in 20 L',
    };
    const kit = sampleBatch({
      recipe: sampleRecipe({
        hops: [],
        extract: [extract(1700, { bitterness, add: { at: 'flameout' } }), extract(900)],
      }),
    });
    const before = modelOf(kit.recipe).get('bitterness_ibu');
    const after = modelOf(refit(kit, { intoFermenter_L: 10 }).recipe).get('bitterness_ibu');
    expect(after).toBeCloseTo(before, 3);
  });

  it.each([
    [0.2, 1],
    [7.4, 7],
    [99.6, 100],
    [101, 100],
    [103, 105],
    [998, 1000],
    [1004, 1000],
    [1006, 1010],
    [0, 0],
  ])('a kitchen scale shows %f g as %i g', (weight, shown) => {
    expect(kitchenGrams(weight)).toBe(shown);
  });

  it('rounds for the kitchen and says what that cost', () => {
    const { recipe, rounding } = refit(batch, { intoFermenter_L: 7, rounding: 'kitchen' });
    for (const item of [...recipe.grain, ...recipe.extract, ...recipe.hops]) {
      const { value } = item.weight_g;
      expect(value % (value > 1000 ? 10 : value > 100 ? 5 : 1)).toBe(0);
    }
    const is = figures(recipe);
    expect(is.get('original_gravity') - was.get('original_gravity')).toBeCloseTo(
      rounding!.original_gravity,
      5,
    );
    expect(is.get('bitterness_ibu') - was.get('bitterness_ibu')).toBeCloseTo(rounding!.bitterness_ibu, 2);
    expect(is.get('colour_ebc') - was.get('colour_ebc')).toBeCloseTo(rounding!.colour_ebc, 1);
    expect(Math.abs(rounding!.original_gravity)).toBeLessThan(0.001);
  });

  it('yeast stays as stated in other units, and goes by whole packs to another volume', () => {
    const amount = (change: Parameters<typeof refit>[1]) =>
      refit(batch, change).recipe.yeast[0]!.amount.written;
    expect(amount({ units: 'us' })).toBe(batch.recipe.yeast[0]!.amount.written);
    // Half a gram a litre: 19 L want 9.5 g, 38 L 19 g of a sachet of 11 g, up to a tenth over.
    expect(amount({ intoFermenter_L: 12 })).toBe('11 g');
    expect(amount({ intoFermenter_L: 24 })).toBe('11 g');
    expect(amount({ intoFermenter_L: 25 })).toBe('22 g');
    // Packs that nobody weighed keep their word.
    const [yeast] = batch.recipe.yeast;
    const counted = { value: 1, unit: 'count' as const, written: '1 sachet' };
    const recipe = { ...batch.recipe, yeast: [{ ...yeast!, amount: counted }] };
    const packs = refit({ ...batch, recipe }, { intoFermenter_L: 25 }).recipe.yeast[0]!.amount;
    expect(packs.written).toMatch(/^[2-9] sachet$/);
  });

  it('other additions go by volume, tablets by halves', () => {
    const other = [
      {
        name: 'finings',
        amount: { value: 1, unit: 'count' as const, written: '1 tablet' },
        add: boilFor(10),
        allergens: [],
        note: null,
      },
      {
        name: 'peel',
        amount: { value: 15, unit: 'g' as const, written: '15 g' },
        add: { at: 'flameout' as const },
        allergens: [],
        note: null,
      },
    ];
    const { recipe } = refit(sampleBatch({ recipe: sampleRecipe({ other }) }), { intoFermenter_L: 9.5 });
    expect(recipe.other.map(({ amount }) => amount.written)).toEqual(['0.5 tablet', '7.5 g']);
  });

  it('a US-unit brewer gets ounces and gallons', () => {
    const { recipe } = refit(batch, { intoFermenter_L: 9.5, units: 'us' });
    expect(recipe.extract[0]!.weight_g.written).toMatch(/lb|oz/);
    expect(recipe.intoFermenter_L.written).toMatch(/gal/);
  });

  it('dry hops go by volume', () => {
    const dry = { at: 'dry', day: 5, for_min: null, forWritten: null } as const;
    const recipe = sampleRecipe({ hops: [hop(20, boilFor(60)), hop(30, dry)] });
    const refitted = refit(sampleBatch({ recipe }), { intoFermenter_L: 9.5 }).recipe;
    expect(refitted.hops[1]!.weight_g.value).toBeCloseTo(15, 9);
  });
});
