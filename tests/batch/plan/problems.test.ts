/** Every code of the plan is reached, at its key and in its words. */
import { describe, expect, it } from 'vitest';
import { planBatch } from '../../../lib/batch/plan/plan-batch.ts';
import type { Batch } from '../../../lib/batch/types/batch.ts';
import { BATCH_PROBLEMS, type BatchCode } from '../../../lib/batch/types/problem.ts';
import type { Recipe } from '../../../lib/batch/types/recipe.ts';
import type { Setup } from '../../../lib/batch/types/setup.ts';
import { type Problem, pathText } from '../../../lib/units/problem.ts';
import { boilFor, extract, given, grain, sampleBatch, sampleRecipe, sampleSetup } from '../sample.ts';
import { brewery, mashAt, own, steepAt } from '../sample-plan.ts';

function problemsOf(batch: Batch, units: 'metric' | 'us' = 'metric'): readonly Problem[] {
  const result = planBatch(batch, { ...brewery, units });
  return result.ok ? result.warnings : result.problems;
}
const withParts = (recipe: Partial<Recipe>, setup: Partial<Setup> = {}, more: Partial<Batch> = {}) =>
  sampleBatch({ recipe: sampleRecipe(recipe), setup: sampleSetup(setup), ...more });
const bottle = sampleRecipe().packaging[0]!;
const kit = { ibu: 24 as never, in_L: 23 as never, labelWeight_g: null, written: '24 IBU in 23 L' };
const sg = (value: number, sample_C: number | null = null) => ({
  scale: 'sg' as const,
  value,
  u: null,
  sample_C,
  written: '',
});
/** Code, batch, severity, key, and the words: found | expected | mend. */
const CASES: readonly (readonly [BatchCode, Batch, Problem['severity'], string, string])[] = [
  [
    'boil-too-large',
    withParts({ boilVolume_L: given(24, '24 L') }, { kettle_L: own(40) }),
    'warning',
    'recipe.boil_volume',
    'a boil of 24 L leaves 2.4 L more than the 19 L that go into the fermenter: it stays in the pot, and 11 % of the extract with it | a boil of at most 21.6 L | fill the fermenter to 21.4 L to keep it, or lower boil_volume to 21.6 L, or leave it out, or boil for longer',
  ],
  [
    'kettle-overflows',
    withParts({ boilVolume_L: given(15, '15 L') }),
    'error',
    'recipe.boil_volume',
    'a kettle of 15 L that is 104 % full at its fullest, hot | at most 85 %: 12.2 L of boil | lower boil_volume to 12.2 L and top up, or boil it in two equal parts, one after another, or make a batch of at most 15.3 L',
  ],
  [
    'kettle-overflows',
    withParts({
      boilVolume_L: null,
      steep: null,
      mash: mashAt(66, 3),
      grain: [grain(4500, { in: 'mash' })],
      extract: [],
    }),
    'error',
    'recipe.into_fermenter',
    'a kettle of 15 L that is 113 % full at its fullest, hot | at most 85 %, which no boil of this recipe keeps to | boil it in two equal parts, one after another, or make a batch of at most 14.2 L',
  ],
  [
    'kettle-nearly-full',
    withParts({ boilVolume_L: given(13, '13 L') }),
    'warning',
    'recipe.boil_volume',
    'a kettle of 15 L that is 90 % full at its fullest, hot | at most 85 %: 12.2 L of boil | watch it closely, or lower boil_volume to 12.2 L and top up, or boil it in two equal parts, one after another, or make a batch of at most 17.8 L',
  ],
  [
    'boils-dry',
    withParts({ boilVolume_L: given(4, '4 L'), extract: [] }, { boilOff_L_per_h: own(5) }),
    'error',
    'recipe.boil',
    'boil-off (5 L), trub and hops (900 ml) take all of the 4 L boil | wort left to ferment | boil a larger volume, or for a shorter time',
  ],
  // 30 kg at 75 % and 50 % are 11 kg of extract: at some 0.62 L/kg more than the 5 L there are.
  [
    'boils-dry',
    withParts({ boilVolume_L: given(5, '5 L'), grain: [grain(30_000)], extract: [] }),
    'error',
    'recipe.grain[0].weight',
    'extract alone fills the 5 L boil, most of it from 30000 g of crystal malt 150 | wort left to ferment | check the weights, boil a larger volume, or move extract to a later addition',
  ],
  // 9.5 kg of extract, at some 0.62 L/kg, take all but 2 L of 8 L.
  [
    'boils-dry',
    withParts(
      {
        boilVolume_L: given(8, '8 L'),
        grain: [],
        steep: null,
        extract: [extract(10_000, { yield: { value: 0.95 as never, u: null, from: 'table' } })],
      },
      { boilOff_L_per_h: own(2.5) },
    ),
    'error',
    'recipe.extract[0].weight',
    'extract takes all but 2 L of the 8 L boil, most of it from 10000 g of pale liquid extract; boil-off takes 2.5 L | wort left to ferment | check the weights, boil a larger volume, or move extract to a later addition',
  ],
  [
    'more-extract-than-water',
    withParts({ boilVolume_L: given(2, '2 L'), extract: [extract(300_000)] }),
    'error',
    'recipe.extract[0].weight',
    'the extract alone fills the boil volume, most of it from 300000 g of pale liquid extract: there is no water left to heat | water to dissolve the extract in | check the weights, raise boil_volume, or move extract to a later addition',
  ],
  // 3.2 kg of extract, at some 0.62 L/kg, take 2 L of 3.5 L; for 19 L they are no more than a beer, so it is the boil that is too small.
  [
    'boils-dry',
    withParts(
      { boilVolume_L: given(3.5, '3.5 L'), grain: [], steep: null, hops: [], extract: [extract(4000)] },
      { boilOff_L_per_h: own(2.5) },
    ),
    'error',
    'recipe.boil_volume',
    'extract takes all but 1.5 L of the 3.5 L boil, most of it from 4000 g of pale liquid extract; boil-off takes 2.5 L | wort left to ferment | check the weights, boil a larger volume, or move extract to a later addition',
  ],
  [
    'water-parts-exceed-total',
    withParts({ steep: steepAt(68, 12) }),
    'error',
    'recipe.steep',
    '12 L for soaking and rinsing, of 9.7 L to heat in all | parts that add up to at most 9.7 L | use less water for the soak or the rinse, or a larger boil_volume',
  ],
  [
    'more-extract-than-water',
    withParts({ extract: [extract(14_000)] }),
    'error',
    'recipe.extract[0].weight',
    '85 °P of extract in the kettle, most of it from 14000 g of pale liquid extract | at most 50 °P, half extract and half water | check the weights, raise boil_volume, or move sugar to the fermenter',
  ],
  [
    'more-extract-than-water',
    withParts({ extract: [extract(7500)] }),
    'error',
    'recipe.boil_volume',
    '59 °P of extract in the kettle, most of it from 7500 g of pale liquid extract | at most 50 °P, half extract and half water | check the weights, raise boil_volume, or move sugar to the fermenter',
  ],
  [
    'stand-too-hot',
    withParts({ stand: { temperature_C: given(105, '105 °C'), time_min: given(20) } }),
    'error',
    'recipe.stand.temperature',
    '"105 °C", while water boils at 100 °C here | a temperature below 100 °C | lower the temperature of the stand',
  ],
  [
    'soak-too-hot',
    withParts({ steep: steepAt(101) }),
    'error',
    'recipe.steep.temperature',
    '"101 °C", while water boils at 100 °C here | a temperature below 100 °C; most soaks are between 60 °C and 75 °C | lower the temperature of the steep',
  ],
  [
    'soak-too-hot',
    withParts({ steep: steepAt(90, 1), grain: [grain(1000)] }),
    'error',
    'recipe.steep',
    'so little water for the grain that it would have to be at 118 °C | water below its boiling point of 100 °C | use more water, or a lower temperature for the steep',
  ],
  [
    'figure-out-of-range',
    withParts({
      sugar: [
        extract(40_000, {
          kind: 'sugar',
          name: 'sugar',
          fermentableAs: 'sugar',
          add: { at: 'fermenter', day: 3 },
        }),
      ],
    }),
    'error',
    'recipe',
    'extract in °P must be from -8 to 85, not -10.8042 | figures that a kitchen can reach | check the weights, volumes, temperatures and times of the recipe',
  ],
  [
    'fermenter-too-small',
    withParts({}, { fermenter_L: own(18) }),
    'error',
    'recipe.into_fermenter',
    '"19 L" into a fermenter of 18 | at most 16.2 L, which leaves head space | make a smaller batch or use a larger fermenter',
  ],
  [
    'fermenter-nearly-full',
    withParts({}, { fermenter_L: own(20) }),
    'warning',
    'recipe.into_fermenter',
    '19 L in a fermenter of 20 | at most 18 L, so that the foam has room | leave head space, or lead the foam away through a wide tube',
  ],
  [
    'bottle-too-weak',
    withParts({ packaging: [{ ...bottle, carbonation_vol: given(3.2, '3.2 vol') }] }),
    'warning',
    'recipe.package.carbonation',
    '3.2 vol, which may come to 3.6 vol | at most 3 vol in bottles made for 3 vol | ask for less carbonation, or use bottles made for more pressure',
  ],
  [
    'gas-already-there',
    withParts({ packaging: [{ ...bottle, carbonation_vol: given(0.7, '0.7 vol') }] }),
    'warning',
    'recipe.package.carbonation',
    '0.7 vol, less than the 0.9 vol that stay from fermentation | more than 0.9 vol | no sugar is needed; ask for more carbonation if it should be livelier',
  ],
  [
    'hopped-extract-boiled',
    withParts({ extract: [extract(1700, { bitterness: kit, add: boilFor(20) })] }),
    'warning',
    'recipe.extract[0].add',
    'hopped extract boiled for 20 min | at most 10 min: a longer boil changes the bitterness that its label promises | add it at flame-out or in the last minutes',
  ],
  [
    'little-yeast',
    withParts({
      yeast: [
        {
          ...sampleRecipe().yeast[0]!,
          amount: { ...sampleRecipe().yeast[0]!.amount, value: 4, written: '4 g' },
        },
      ],
    }),
    'warning',
    'recipe.yeast[0].amount',
    '4 g for 19 L | about 9.5 g to 15 g, the usual dose of dry yeast | add a pack, or expect a slow start',
  ],
  [
    'outside-yeast-band',
    withParts({ ferment: [{ temperature_C: given(25, '25 °C'), time_min: given(14 * 1440) }] }),
    'warning',
    'recipe.ferment[0].temperature',
    '25 °C with a yeast for 17-21 °C | a first step from 17 °C to 21 °C | move the step into the band, or choose another yeast',
  ],
  [
    'parts-exceed-batch',
    withParts({ packaging: [{ ...bottle, volume_L: given(19, '19 L') }] }),
    'warning',
    'recipe.package',
    '19 L for kegs and bottles | about 18.3 L, which is what will be there | lower the volume of one of them, or leave it out',
  ],
  [
    'no-extract',
    withParts({ extract: [], grain: [], steep: null }),
    'warning',
    'recipe',
    'no grain, extract or sugar that gives extract | something for the yeast to ferment | add extract, grain or sugar with their weights',
  ],
  [
    'reading-out-of-range',
    withParts({}, {}, { readings: { original_gravity: sg(1.05, 95) } }),
    'warning',
    'readings.original_gravity',
    'sample temperature in °C must be from 0 to 80, not 95 | a figure that the instrument can show | check the figure and its temperature, or write not taken',
  ],
];

/** What the cases themselves write in metric. */
const WRITTEN = /\b(19 L|15 L|105 °C|101 °C|25 °C|17-21 °C)/g;

describe('problems of a plan', () => {
  it.each(CASES)('%s', (code, batch, severity, key, words) => {
    const found = problemsOf(batch).find((one) => one.code === code);
    expect(found, JSON.stringify(problemsOf(batch).map((one) => one.code))).toBeDefined();
    expect({
      severity: found!.severity,
      key: pathText(found!.path),
      words: `${found!.found} | ${found!.expected} | ${found!.mend}`,
    }).toEqual({ severity, key, words });
  });

  it('every code has its case', () => {
    expect([...new Set(CASES.map(([code]) => code))].sort()).toEqual(Object.keys(BATCH_PROBLEMS).sort());
  });

  it('a brace that a brewer wrote is shown as it is', () => {
    const batch = withParts({ intoFermenter_L: given(40, '{most} ?? 40 L') }, { fermenter_L: own(30) });
    expect(problemsOf(batch)[0]).toMatchObject({ found: '"{most} ?? 40 L" into a fermenter of 30' });
  });

  it('an ordinary recipe has none', () => {
    expect(problemsOf(sampleBatch())).toEqual([]);
  });

  it('errors leave no plan, warnings stand on it', () => {
    for (const [code, batch, severity] of CASES) {
      expect(planBatch(batch, brewery).ok, code).toBe(severity === 'warning');
    }
  });

  it('a US-unit brewer reads no litres and no degrees Celsius that they did not write', () => {
    for (const [code, batch] of CASES) {
      for (const { found, expected, mend } of problemsOf(batch, 'us')) {
        const said = `${found} ${expected} ${mend}`.replace(WRITTEN, '');
        expect(said, code).not.toMatch(/\d L\b|\d °C/);
      }
    }
  });
});
