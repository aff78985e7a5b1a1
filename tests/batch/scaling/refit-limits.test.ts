/** Where a recipe cannot be kept as it was: what is said of it, and what is taken instead. */
import { describe, expect, it } from 'vitest';
import { refit } from '../../../lib/batch/scaling/scale-recipe.ts';
import type { Ingredient } from '../../../lib/batch/types/ingredient.ts';
import { dryRow, extract, given, grain, sampleBatch, sampleRecipe, sampleSetup } from '../sample.ts';
import { mashAt, modelOf, own } from '../sample-plan.ts';

const looked = (value: number) => ({ value: value as never, u: null, from: 'table' }) as const;
const row: Ingredient = { ...dryRow, name: 'dark dry extract', colour_EBC: 60, fermentability: 0.8 };
const batch = sampleBatch();
const missed = (found: ReturnType<typeof refit>) => found.notKept.map(({ what, why }) => [what, why]);

describe('what cannot be kept', () => {
  it('colour and dryness, where the other extract is darker and ferments less', () => {
    const found = refit(batch, { extractForm: { to: 'dry', row } });
    expect(missed(found)).toEqual([
      ['colour_ebc', 'the other extract has another colour, and the grain cannot make up for it'],
      ['final_gravity', 'the other extract ferments differently'],
    ]);
    const [colour] = found.notKept;
    expect(colour!.was).toBeCloseTo(modelOf({}).get('colour_ebc'), 9);
    expect(colour!.is).toBeGreaterThan(colour!.was + 5);
    // Half of the grain is as far as it goes, however often it is tried.
    expect(found.recipe.grain[0]!.weight_g.value).toBeCloseTo(175, 6);
    const { get } = modelOf(found.recipe);
    expect(get('original_gravity')).toBeCloseTo(modelOf({}).get('original_gravity'), 5);
  });

  it('bitterness, of hops that have none', () => {
    const found = refit(batch, { alphas: { 0: 0, 1: 0, 2: 0 } });
    expect(missed(found)).toContainEqual(['bitterness_ibu', 'no weight of the hops gives it']);
    expect(found.recipe.hops.map(({ weight_g }) => weight_g.value)).toEqual([
      expect.closeTo(30, 6),
      expect.closeTo(20, 6),
      expect.closeTo(15, 6),
    ]);
  });

  it('colour, where twice the grain would be more extract than the whole beer: all keep their share', () => {
    // Two mashed grains give more extract than the dark syrup; pale, it would want 3 times as much of them, and gets none of it.
    const dark = sampleBatch({
      recipe: sampleRecipe({
        steep: null,
        mash: mashAt(66, 3),
        boilVolume_L: null,
        grain: ['pale malt', 'wheat malt'].map((name) =>
          grain(1300, { name, in: 'mash', colour_EBC: looked(20) }),
        ),
        extract: [extract(1000, { colour_EBC: looked(200) })],
      }),
    });
    const found = refit(dark, {
      extractForm: { to: 'dry', row: { ...row, colour_EBC: 0, fermentability: 1 } },
    });
    expect(found.kept.map(({ what }) => what)).toContain('original_gravity');
    expect(found.notKept.map(({ what }) => what)).toContain('colour_ebc');
    for (const { weight_g } of found.recipe.grain) expect(weight_g.value / 1300).toBeCloseTo(1, 3);
    // The same extract: 79 of liquid are 96 of dry.
    expect(found.recipe.extract[0]!.weight_g.value / (1000 * (0.79 / 0.96))).toBeCloseTo(1, 3);
  });

  it('a boil that would leave more than goes into the fermenter, once less stays in the kettle', () => {
    // 22 L less 2.5 L boiled off, with 0.8 L of late syrup, are 20.3 L for 19: 1.5 L of trub leave room, none do not.
    const kitchen = (loss_L: number) => sampleSetup({ kettle_L: own(40), kettleLoss_L: own(loss_L) });
    const whole = sampleBatch({
      recipe: sampleRecipe({ boilVolume_L: given(22, '22 L') }),
      setup: kitchen(1.5),
    });
    expect(refit(whole, {}).recipe.boilVolume_L?.written).toBe('22 L');
    const found = refit(whole, { setup: kitchen(0) });
    expect(found.recipe.boilVolume_L).toBeNull();
    expect(missed(found)).toEqual([
      [
        'boil_volume',
        'it leaves more wort than goes into the fermenter: the largest boil that works is used instead',
      ],
    ]);
  });

  it('a boil that no longer fits: the largest that does', () => {
    const found = refit(batch, { setup: sampleSetup({ kettle_L: own(8) }) });
    expect(missed(found)).toContainEqual([
      'boil_volume',
      'it does not fit the kettle: the largest boil that works is used instead',
    ]);
    expect(found.recipe.boilVolume_L).toBeNull();
    const boil = found.notKept.find(({ what }) => what === 'boil_volume')!;
    expect(boil.was).toBeCloseTo(10.5, 6);
    expect(boil.is).toBeLessThan(0.85 * 8);
  });
});

describe('a boil of a share of the batch', () => {
  it('keeps its share, and boils off what this kettle does', () => {
    // 10.5 L less 2.5 L boiled off are 8; half of them and 1 L of this kettle’s are 5.
    const setup = sampleSetup({ boilOff_L_per_h: own(1) });
    const { recipe } = refit(batch, { intoFermenter_L: 9.5, setup });
    expect(recipe.boilVolume_L).toMatchObject({ value: expect.closeTo(5, 6), written: '5 L' });
  });

  it('that would leave too little over the trub is left open', () => {
    const setup = sampleSetup({ kettleLoss_L: own(1.5) });
    const found = refit(batch, { intoFermenter_L: 9.5, setup });
    expect(found.recipe.boilVolume_L).toBeNull();
    expect(missed(found)).toContainEqual([
      'boil_volume',
      'it leaves too little over what stays in the kettle: the largest boil that works is used instead',
    ]);
  });
});

describe('refused', () => {
  it.each([0, -3, Number.NaN])('a volume of %f L', (volume_L) => {
    expect(() => refit(batch, { intoFermenter_L: volume_L })).toThrow(
      new RangeError(`the new volume must be above 0 L, not ${volume_L}`),
    );
  });

  it('an extract whose yield no table knows', () => {
    expect(() => refit(batch, { extractForm: { to: 'dry', row: { ...row, yield: null } } })).toThrow(
      'dark dry extract has no yield',
    );
  });

  it('a kettle that keeps everything', () => {
    const setup = sampleSetup({ kettleLoss_L: own(40) });
    expect(() => refit(batch, { setup })).toThrow(RangeError);
  });
});
