/** What a plan is put together of: the batch as brewed, its rows of hops, yeast and minutes, and what nobody has read yet. */
import { describe, expect, it } from 'vitest';
import { planBatch, planUnread } from '../../../lib/batch/plan/plan-batch.ts';
import { asBrewed } from '../../../lib/batch/readings/as-brewed.ts';
import type { Observation } from '../../../lib/batch/readings/normalise-readings.ts';
import type { Plan } from '../../../lib/batch/types/plan.ts';
import type { Readings } from '../../../lib/batch/types/readings.ts';
import type { Recipe } from '../../../lib/batch/types/recipe.ts';
import type { Litre } from '../../../lib/units/brands.ts';
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
import { brewery, mashAt, modelOf, own, planOf } from '../sample-plan.ts';

const { c } = modelOf({});
const read = (key: string, value: number | null, u = 0.001): Observation => ({ key, value, u, target: null });
const brewed = (...readings: Observation[]) => asBrewed(sampleBatch(), modelOf({}).c, readings);
const contributorsOf = (
  targets: ReturnType<typeof brewed>,
  key: 'boil_start_volume_l' | 'packaged_volume_l',
) => targets![key]!.contributors.map(({ input }) => input);

describe('a batch as brewed', () => {
  it('is told in what a beer is, and not in how it was heated or chilled', () => {
    expect(Object.keys(brewed(read('original_gravity', 1.044))!)).toEqual([
      'original_gravity',
      'final_gravity',
      'original_extract_plato',
      'alcohol_volume_percent',
      'alcohol_mass_percent',
      'bitterness_ibu',
      'colour_ebc',
      'colour_srm',
      'energy_kcal_per_litre',
      'apparent_attenuation_percent',
      'boil_start_volume_l',
      'boil_start_gravity',
      'boil_end_volume_l',
      'boil_end_gravity',
      'packaged_volume_l',
      'bottles',
      'priming_sugar_g',
      'residual_co2_vol',
      'bottle_pressure_20c_kpa',
      'bottle_pressure_30c_kpa',
    ]);
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
    ['boil_start_volume', 10.5, 'boil_start_volume_l', "the kettle's volume mark"],
    ['fermenter_volume', 19, 'packaged_volume_l', "the fermenter's volume mark"],
  ] as const)('%s, once read, stands for its mark', (key, value, target, mark) => {
    const before = contributorsOf(brewed(read('warmest_after', 20, 0.5)), target);
    const after = contributorsOf(brewed(read('warmest_after', 20, 0.5), read(key, value, 0.2)), target);
    expect(before).toContain(mark);
    expect(after).not.toContain(mark);
    expect(after).toContain(`the reading of ${key.replaceAll('_', ' ')}`);
  });

  it('a fermenter read to 0.2 L of 18 holds 18 ± 0.4, and the beer what the yeast leaves of it', () => {
    // 0.7 ± 0.3 L stay on the yeast: u = √(0.2² + 0.3²) = 0.36.
    const beer = brewed(read('fermenter_volume', 18, 0.2))!.packaged_volume_l!;
    expect(beer.value).toBeCloseTo(17.3, 9);
    expect(beer.high - beer.value).toBeCloseTo(2 * Math.hypot(0.2, 0.3), 9);
  });

  it.each(['boil_start_gravity', 'boil_end_gravity'] as const)(
    '%s stays as it was read, 1.06 ± 0.002',
    (key) => {
      // A later reading asks for another extract; a hydrometer of 0.002 prints its steps.
      const targets = brewed(read(key, 1.06, 0.001), read('original_gravity', 1.05))!;
      expect(targets[key]).toEqual({
        value: 1.06,
        low: expect.closeTo(1.058, 12),
        high: expect.closeTo(1.062, 12),
        printed: { low: 1.058, high: 1.062 },
        contributors: [{ input: `the reading of ${key.replaceAll('_', ' ')}`, share: 1 }],
      });
    },
  );

  it('beer read without its sugar is taken to be primed for what it is', () => {
    // 2.3 volumes, of which 0.846 are there at 20 °C: 1.454 × 10 × 1.9768 / (0.96 × 0.5143) = 58.2 g.
    const half = brewed(read('packaged.volume', 10, 0.1), read('warmest_after', 20, 0.5))!;
    expect(half.priming_sugar_g!.value).toBeCloseTo(58.2, 0);
    expect(half.bottles!.value).toBe(20);
    // 2.0 and 2.5 volumes: 1.37 and 1.97 bar (Weiss 1974).
    expect(half.bottle_pressure_20c_kpa!.value / 100).toBeCloseTo(1.37 + 0.6 * 0.6, 1);
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

  it('the case that it starts from stays as it was planned', () => {
    const before = JSON.stringify({ ...c, times_min: [] });
    asBrewed(sampleBatch(), c, [read('original_gravity', 1.05), read('packaged.volume', 10, 0.1)]);
    expect(JSON.stringify({ ...c, times_min: [] })).toBe(before);
  });
});

describe('a plan', () => {
  const planWith = (recipe: Partial<Recipe>, readings: Readings = {}): Plan =>
    planOf(sampleBatch({ recipe: sampleRecipe(recipe), readings }));
  const sg = (value: number) => ({ scale: 'sg' as const, value, u: null, sample_C: 20, written: '' });

  it('of a recipe that nobody has brewed has no readings, whatever its file says', () => {
    const batch = sampleBatch({ readings: { original_gravity: sg(1.06), final_gravity: sg(1.03) } });
    const result = planUnread(batch, brewery);
    expect(result.ok && result.plan).toMatchObject({
      readings: {},
      as_brewed: null,
      fermentation: null,
      warnings: [],
    });
    const whole = planBatch(sampleBatch(), brewery);
    expect(result.ok && result.plan.targets).toEqual(whole.ok && whole.plan.targets);
  });

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

  it('has a row for each hop and each kit, with the key of its item', () => {
    const label = { ibu: 24 as never, in_L: 23 as never, labelWeight_g: null, written: '24 IBU in 23 L' };
    const rows = planWith({
      hops: [hop(30, boilFor(60)), hop(10, { at: 'steep' })],
      extract: [extract(1000), extract(1700, { bitterness: label, add: { at: 'flameout' } })],
    }).bitterness;
    expect(rows.map(({ what, item, remark }) => [what, item, remark])).toEqual([
      ['Fuggle', 'hops[0]', null],
      ['Fuggle', 'hops[1]', 'little, not counted'],
      ['pale liquid extract', 'extract[1]', "from the extract's label"],
    ]);
    const [first, late, kit] = rows;
    expect(first!.equivalent_minutes).toBeCloseTo(60, 0);
    expect(first!.ibu).toBeGreaterThan(0);
    expect(late).toMatchObject({
      equivalent_minutes: null,
      mean_gravity: null,
      utilisation: null,
      ibu: null,
    });
    expect(kit).toMatchObject({ equivalent_minutes: null, mean_gravity: null, utilisation: null });
    expect(kit!.ibu).toBeGreaterThan(0);
  });

  it('has a row of the kettle for each whole minute, the first of the boil and the last', () => {
    const rows = planWith({
      boil_min: given(3.5),
      hops: [hop(10, boilFor(1.25))],
      extract: [extract(2600, { add: boilFor(3.5) })],
    }).kettle;
    expect(rows.map(({ minutes_left }) => minutes_left)).toEqual([3.5, 3, 2, 1, 0]);
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

  it('loses next to nothing in a pot in which nothing is boiled, steeped or hopped', () => {
    const stirred = { boil_min: given(0), boilVolume_L: null, steep: null, grain: [], hops: [], stand: null };
    const lossOf = (over: Partial<Recipe>) =>
      planWith({ ...stirred, ...over } as never).assumed.find(({ key }) => key === 'kettle_loss')?.value;
    expect(lossOf({})).toBe('50 ml');
    const trub = lossOf({ boil_min: given(10), boilVolume_L: given(8) } as never);
    expect(trub).not.toBe(lossOf({}));
    expect(lossOf({ hops: [hop(10, { at: 'flameout' })] })).toBe(trub);
    expect(planWith({}).assumed[0]!.key).toBe('kettle_loss');
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

  it('says each warning as what, expected, mend', () => {
    const batch = sampleBatch({ setup: sampleSetup({ fermenter_L: own(20) }) });
    expect(planOf(batch).warnings).toEqual([
      {
        code: 'fermenter-nearly-full',
        key: 'recipe.into_fermenter',
        message:
          '19 L in a fermenter of 20; expected at most 18 L, so that the foam has room; leave head space, or lead the foam away through a wide tube',
      },
    ]);
  });
});
