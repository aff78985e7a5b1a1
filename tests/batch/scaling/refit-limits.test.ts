/** Where a recipe cannot be kept as it was: what is said of it, and what is taken instead. */
import { describe, expect, it } from 'vitest';
import { refit } from '../../../lib/batch/scaling/scale-recipe.ts';
import type { Ingredient } from '../../../lib/batch/types/ingredient.ts';
import {
  boilFor,
  dryRow,
  extract,
  given,
  grain,
  hop,
  sampleBatch,
  sampleRecipe,
  sampleSetup,
  yeast,
} from '../sample.ts';
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

  it('bitterness that the old hops did not have: their weight stays', () => {
    const mild = sampleBatch({
      recipe: sampleRecipe({ hops: [hop(30, boilFor(60), { alpha: looked(0) }), hop(20, boilFor(15))] }),
    });
    const found = refit(mild, { alphas: { 0: 0.05 } });
    expect(found.recipe.hops[0]!.weight_g.value).toBeCloseTo(30, 6);
    expect(missed(found)).toContainEqual(['bitterness_ibu', 'no weight of the hops gives it']);
  });

  it('nothing is said of an end gravity that no yeast makes', () => {
    const still = sampleBatch({ recipe: sampleRecipe({ yeast: [] }) });
    const found = refit(still, { intoFermenter_L: 12 });
    expect(found.kept.map(({ what }) => what)).toEqual(['original_gravity', 'bitterness_ibu', 'colour_ebc']);
    expect(found.notKept).toEqual([]);
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

  it('colour of one malt alone, of which a poorer mash needs 0.75/0.5 as much', () => {
    const single = sampleBatch({
      recipe: sampleRecipe({
        steep: null,
        mash: mashAt(66, 3),
        boilVolume_L: null,
        intoFermenter_L: given(10, '10 L'),
        grain: [grain(2000, { name: 'amber malt', in: 'mash', colour_EBC: looked(60) })],
        extract: [],
      }),
      setup: sampleSetup({ kettle_L: own(40), mashEfficiency: own(0.75) }),
    });
    const found = refit(single, { setup: sampleSetup({ kettle_L: own(40), mashEfficiency: own(0.5) }) });
    expect(found.recipe.grain[0]!.weight_g.value / 3000).toBeCloseTo(1, 2);
    expect(missed(found)).toEqual([['colour_ebc', 'the grain cannot make up for it']]);
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
        'it leaves more wort than goes into the fermenter: the largest boil that serves is taken instead',
      ],
    ]);
  });

  it('a boil that no longer fits: the largest that does', () => {
    const found = refit(batch, { setup: sampleSetup({ kettle_L: own(8) }) });
    expect(missed(found)).toContainEqual([
      'boil_volume',
      'it does not fit the kettle: the largest boil that serves is taken instead',
    ]);
    expect(found.recipe.boilVolume_L).toBeNull();
    const boil = found.notKept.find(({ what }) => what === 'boil_volume')!;
    expect(boil.was).toBeCloseTo(10.5, 6);
    expect(boil.is).toBeLessThan(0.85 * 8);
  });

  it('colour alone, where the grain would have to be doubled and more', () => {
    // 40 g at 151 °L and 2.6 kg at 3.5: without the latter’s colour the grain would have to be two and a half times as much.
    const pale = sampleBatch({
      recipe: sampleRecipe({
        grain: [grain(40, { colour_EBC: looked(400) })],
        extract: [extract(2600, { form: 'liquid' })],
      }),
    });
    const found = refit(pale, {
      extractForm: { to: 'dry', row: { ...row, colour_EBC: 0, fermentability: 1 } },
    });
    expect(found.notKept.map(({ what }) => what)).toContain('colour_ebc');
    const factor = found.recipe.grain[0]!.weight_g.value / 40;
    expect(factor).toBeCloseTo(2, 6);
  });
});

describe('a boil of a share of the batch', () => {
  it('keeps its share, and boils off what this kettle does', () => {
    // 10.5 L less 2.5 L boiled off are 8; half of them and 1 L of this kettle’s are 5.
    const setup = sampleSetup({ boilOff_L_per_h: own(1) });
    const { recipe } = refit(batch, { intoFermenter_L: 9.5, setup });
    expect(recipe.boilVolume_L).toMatchObject({ value: expect.closeTo(5, 6), written: '5 L' });
  });

  it('is left open where it was, and as it was written where nothing changes it', () => {
    const open = sampleBatch({ recipe: sampleRecipe({ boilVolume_L: null }) });
    expect(refit(open, { intoFermenter_L: 10 }).recipe.boilVolume_L).toBeNull();
    expect(refit(batch, {}).recipe.boilVolume_L).toBe(batch.recipe.boilVolume_L);
  });

  it('that would leave too little over the trub is left open', () => {
    const setup = sampleSetup({ kettleLoss_L: own(1.5) });
    const found = refit(batch, { intoFermenter_L: 9.5, setup });
    expect(found.recipe.boilVolume_L).toBeNull();
    expect(missed(found)).toContainEqual([
      'boil_volume',
      'it leaves too little over what stays in the kettle: the largest boil that serves is taken instead',
    ]);
  });
});

describe('refused', () => {
  it.each([0, -3, Number.NaN])('a volume of %f L', (volume_L) => {
    expect(() => refit(batch, { intoFermenter_L: volume_L })).toThrow(RangeError);
  });

  it('a kettle that keeps everything', () => {
    const setup = sampleSetup({ kettleLoss_L: own(40) });
    expect(() => refit(batch, { setup })).toThrow(RangeError);
  });
});

describe('sugars', () => {
  it('keep their share of the extract, so that the beer stays as dry', () => {
    const sweet = sampleBatch({
      recipe: sampleRecipe({
        sugar: [
          extract(400, {
            kind: 'sugar',
            name: 'table sugar',
            fermentableAs: 'sugar',
            yield: looked(1),
            colour_EBC: looked(0),
          }),
        ],
      }),
    });
    const { recipe, kept } = refit(sweet, {
      intoFermenter_L: 12,
      setup: sampleSetup({ kettleLoss_L: own(1) }),
    });
    expect(kept.map(({ what }) => what)).toContain('final_gravity');
    const before = modelOf(sweet.recipe);
    const after = modelOf(recipe, { kettleLoss_L: own(1) });
    const shareOf = ({ c, detail }: typeof before) =>
      (c.parts.find(({ kind }) => kind === 'sugar')!.weight_kg * detail.share) / c.intoFermenter_L;
    expect(shareOf(after)).toBeCloseTo(shareOf(before), 6);
  });

  it('added after pitching are not thinned by what the kettle keeps: 300 g in 19 L are 150 g in 9.5', () => {
    const later = sampleBatch({
      recipe: sampleRecipe({
        sugar: [
          extract(300, {
            kind: 'sugar',
            name: 'honey',
            fermentableAs: 'sugar',
            yield: looked(0.8),
            colour_EBC: looked(0),
            add: { at: 'fermenter', day: 3 },
          }),
        ],
      }),
    });
    const { recipe } = refit(later, { intoFermenter_L: 9.5 });
    expect(recipe.sugar[0]!.weight_g.value).toBeCloseTo(150, 6);
  });
});

describe('the main fermentable', () => {
  it('bears the change of strength, the others that of colour', () => {
    const recipe = sampleRecipe({
      extract: [extract(500, { name: 'amber extract', colour_EBC: looked(40) }), extract(2100)],
    });
    const darker = sampleBatch({ recipe });
    const found = refit(darker, { setup: sampleSetup({ steepEfficiency: own(0.3) }) });
    const factor = (weight: number, was: number) => weight / was;
    // Less from the grain: more of the pale extract, and nothing like a doubling of the amber.
    expect(factor(found.recipe.extract[1]!.weight_g.value, 2100)).toBeGreaterThan(1);
    expect(found.notKept).toEqual([]);
    const yeasts = refit(sampleBatch({ recipe: sampleRecipe({ yeast: [yeast(), yeast()] }) }), {
      intoFermenter_L: 38,
    });
    expect(yeasts.recipe.yeast).toHaveLength(2);
  });

  it('hops that the new batch has no use of go by volume', () => {
    const dry = { at: 'dry', day: 4, for_min: null, forWritten: null } as const;
    const recipe = sampleRecipe({
      hops: [hop(20, boilFor(60)), hop(40, dry)],
      intoFermenter_L: given(20, '20 L'),
    });
    expect(refit(sampleBatch({ recipe }), { intoFermenter_L: 5 }).recipe.hops[1]!.weight_g.value).toBeCloseTo(
      10,
      9,
    );
  });
});
