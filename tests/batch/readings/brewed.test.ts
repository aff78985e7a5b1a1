/** What a plan is put together of: the batch as brewed, its rows of hops, yeast and minutes, and what nobody has read yet. */
import { describe, expect, it } from 'vitest';
import { asBrewed } from '../../../lib/batch/readings/as-brewed.ts';
import type { Observation } from '../../../lib/batch/readings/normalise-readings.ts';
import type { Plan } from '../../../lib/batch/types/plan.ts';
import type { Readings } from '../../../lib/batch/types/readings.ts';
import type { Recipe } from '../../../lib/batch/types/recipe.ts';
import type { Litre } from '../../../lib/units/brands.ts';
import { given, grain, sampleBatch, sampleRecipe, sampleSetup, yeast } from '../sample.ts';
import { mashAt, modelOf, own, planOf } from '../sample-plan.ts';

const read = (key: string, value: number | null, u = 0.001): Observation => ({ key, value, u, target: null });
const brewed = (...readings: Observation[]) => asBrewed(sampleBatch(), modelOf({}).c, readings);
const contributorsOf = (
  targets: ReturnType<typeof brewed>,
  key: 'boil_start_volume_l' | 'packaged_volume_l',
) => targets![key]!.contributors.map(({ input }) => input);

describe('a batch as brewed', () => {
  it('says what a beer is, and not how it was heated or chilled', () => {
    const keys = Object.keys(brewed(read('original_gravity', 1.044))!);
    expect(keys).toEqual(expect.arrayContaining(['original_gravity', 'bitterness_ibu', 'priming_sugar_g']));
    expect(keys.filter((key) => /heat|minutes|chill|ice|steep|strike|top_up|yeast/.test(key))).toEqual([]);
  });

  it('the beer’s own figures wait for its end gravity', () => {
    const waiting = (targets: ReturnType<typeof brewed>) =>
      Object.entries(targets!)
        .filter(([, figure]) => figure === null)
        .map(([key]) => key)
        .sort();
    expect(waiting(brewed(read('original_gravity', 1.044)))).toEqual([
      'alcohol_mass_percent',
      'alcohol_volume_percent',
      'apparent_attenuation_percent',
      'energy_kcal_per_litre',
      'final_gravity',
    ]);
    expect(waiting(brewed(read('final_gravity', 1.01)))).toEqual([]);
  });

  it.each([
    ['nothing', []],
    ['what was not taken', [read('original_gravity', null)]],
    ['what is no part of the balance', [read('mash_temperature', 66), read('fermentation[0].gravity', 1.02)]],
    [
      'wort no heavier than water',
      [read('original_gravity', 1), read('boil_start_gravity', 0.999), read('boil_end_gravity', 1)],
    ],
    ['a fermenter with nothing in it', [read('fermenter_volume', 0)]],
    ['a figure that is certain', [read('packaged.sugar', 100, 0)]],
  ])('%s tells nothing of it', (_, readings) => {
    expect(brewed(...readings)).toBeNull();
  });

  it.each([
    ['original_gravity', 1.0001],
    ['final_gravity', 0.998],
    ['packaged.volume', 0.5],
  ])('%s of %f does', (key, value) => {
    expect(brewed(read(key, value))).not.toBeNull();
  });

  it.each([
    [
      'boil_start_volume',
      10.5,
      'boil_start_volume_l',
      "the kettle's volume mark",
      'In the pot at the start of the boil',
    ],
    ['fermenter_volume', 19, 'packaged_volume_l', "the fermenter's volume mark", 'Into the fermenter'],
  ] as const)('%s, once read, stands for its mark', (key, value, target, mark, label) => {
    const before = contributorsOf(brewed(read('warmest_after', 20, 0.5)), target);
    const after = contributorsOf(brewed(read('warmest_after', 20, 0.5), read(key, value, 0.2)), target);
    expect(before).toContain(mark);
    expect(after).not.toContain(mark);
    expect(after).toContain(`the reading “${label}”`);
  });

  it('a fermenter read to 0.2 L of 18 holds 18 ± 0.4, and the beer what the yeast leaves of it', () => {
    // 0.7 ± 0.3 L stay on the yeast: u = √(0.2² + 0.3²) = 0.36.
    const beer = brewed(read('fermenter_volume', 18, 0.2))!.packaged_volume_l!;
    expect(beer.value).toBeCloseTo(17.3, 9);
    expect(beer.high - beer.value).toBeCloseTo(2 * Math.hypot(0.2, 0.3), 9);
  });

  it('with its sugar, has what that makes: 116.4 g in 10 L are twice 1.454 volumes', () => {
    const sweet = brewed(
      read('packaged.volume', 10, 0.1),
      read('warmest_after', 20, 0.5),
      read('packaged.sugar', 116.4, 1),
    )!;
    // 0.846 + 2.908 = 3.754 volumes; 3.5 and 4.0 are 3.17 and 3.78 bar.
    expect(sweet.bottle_pressure_20c_kpa!.value / 100).toBeCloseTo(3.17 + (0.254 / 0.5) * 0.61, 1);
  });
});

describe('a plan', () => {
  const planWith = (recipe: Partial<Recipe>, readings: Readings = {}): Plan =>
    planOf(sampleBatch({ recipe: sampleRecipe(recipe), readings }));
  const sg = (value: number) => ({ scale: 'sg' as const, value, u: null, sample_C: 20, written: '' });

  it('stands where readings are of no beer', () => {
    // From 1.010 up to 1.250: less than no alcohol.
    const { as_brewed, readings } = planWith({}, { original_gravity: sg(1.01), final_gravity: sg(1.25) });
    expect(as_brewed).toBeNull();
    expect(Object.keys(readings)).toEqual(['original_gravity', 'final_gravity']);
  });

  it('names a cause for what is off or a little off, and none for what is fine', () => {
    const { low, high } = planWith({}).targets.original_gravity!.printed;
    const width = (high - low) / 2;
    const of = (value: number) => planWith({}, { original_gravity: sg(value) }).readings.original_gravity!;
    expect(of(high).likeliest_cause).toBeNull();
    expect(of(high + 0.5 * width)).toMatchObject({
      verdict: 'a_little_off',
      likeliest_cause: expect.any(String),
    });
    expect(of(high + 2 * width)).toMatchObject({ verdict: 'off', likeliest_cause: expect.any(String) });
  });

  it('leaves what the fermenter is not to hold in the pot, at the gravity of the kettle', () => {
    const more = planOf(
      sampleBatch({
        recipe: sampleRecipe({ boilVolume_L: given(24) }),
        setup: sampleSetup({ kettle_L: own(40) }),
      }),
    );
    const { top_up_l, original_gravity, boil_end_gravity } = more.targets;
    expect(top_up_l!.value).toBe(0);
    expect(original_gravity!.value).toBeCloseTo(boil_end_gravity!.value, 9);
    expect(more.warnings.map(({ code }) => code)).toEqual(['boil-too-large']);
  });

  it('says why it differs from the label of a kit', () => {
    // 2.6 kg of syrup and its like: as much extract in 19 L as the plan says, and 1.056 in the less of it.
    const volume_L = given<Litre>(19, '19 L');
    const og = { scale: 'sg' as const, value: 1.056, u: null, sample_C: null, written: '1.056' };
    const { label, targets } = planWith({ label: { originalGravity: og, finalGravity: null, volume_L } });
    expect(label).toMatchObject({ original_gravity: 1.056, final_gravity: null, volume_l: 19 });
    expect(label!.reachable_gravity).toBeCloseTo(targets.original_gravity!.value, 6);
    // Extract is V × ρ × P: 1.056 is 13.80 °P (1.050: 12.397, 1.065: 15.913, printed SPS-4).
    const gram_per_L = 10 * 1.056 * 0.998203 * 13.8;
    const { value: og_is } = targets.original_gravity!;
    const is_g_per_L = 10 * og_is * 0.998203 * targets.original_extract_plato!.value;
    expect(label!.volume_for_label_l).toBeCloseTo((19 * is_g_per_L) / gram_per_L, 1);
    expect(planWith({}).label).toBeNull();
  });

  it('shares the cells among its yeasts, and rounds packs up', () => {
    // An 11 g pack of 10 billion a gram holds 110 billion (common practice, from memory).
    const two = planWith({ yeast: [yeast(), yeast({ name: 'second', form: 'liquid' })] });
    const wanted = two.targets.yeast_cells_billion!.value / 2;
    expect(two.yeast.map(({ name, wanted_billion, pack }) => [name, wanted_billion, pack])).toEqual([
      ['English ale', wanted, '11 g'],
      ['second', wanted, 'pack'],
    ]);
    expect(two.yeast[0]!.wanted_g).toEqual({
      low: expect.closeTo(0.25 * 19, 6),
      high: expect.closeTo(0.4 * 19, 6),
    });
    expect(two.yeast[0]!.packs).toBe(1);
    expect(two.yeast[1]!.wanted_g).toBeNull();
    const own_ = planWith({
      yeast: [yeast({ pack: { value: 500 as never, unit: 'g', written: '500 g' } as never })],
    });
    expect(own_.yeast[0]!.pack).toBe('500 g');
  });

  it('says which efficiencies it assumed: of the soaks that it has', () => {
    const efficiencies = (recipe: Partial<Recipe>) =>
      planWith(recipe)
        .assumed.map(({ key }) => key)
        .filter((key) => key.endsWith('efficiency'));
    expect(efficiencies({})).toEqual(['steep_efficiency']);
    expect(efficiencies({ steep: null, grain: [] })).toEqual([]);
    expect(efficiencies({ steep: null, mash: mashAt(66, 3), grain: [grain(1000, { in: 'mash' })] })).toEqual([
      'mash_efficiency',
    ]);
  });
});
