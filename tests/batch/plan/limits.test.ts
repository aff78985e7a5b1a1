/** Where a warning or an error of the plan begins: a figure on either side of each limit. */
import { describe, expect, it } from 'vitest';
import { planBatch } from '../../../lib/batch/plan/plan-batch.ts';
import type { PackageStep, Recipe } from '../../../lib/batch/types/recipe.ts';
import type { Setup } from '../../../lib/batch/types/setup.ts';
import { type Problem, pathText } from '../../../lib/units/problem.ts';
import {
  boilFor,
  extract,
  figure,
  given,
  grain,
  hop,
  sampleBatch,
  sampleRecipe,
  sampleSetup,
  yeast,
} from '../sample.ts';
import { brewery, mashAt, own, steepAt, tight } from '../sample-plan.ts';

/** What the plan says of a recipe and a kit, errors or warnings. */
function problemsOf(recipe: Partial<Recipe>, setup: Partial<Setup> = {}): readonly Problem[] {
  const batch = sampleBatch({ recipe: sampleRecipe(recipe), setup: sampleSetup(setup) });
  const result = planBatch(batch, brewery);
  return result.ok ? result.warnings : result.problems;
}
const keysOf = (...of: Parameters<typeof problemsOf>) =>
  problemsOf(...of).map(({ code, path }) => `${code} ${pathText(path).replace('recipe.', '')}`);

/** A recipe, the kit it is brewed with, and what is said of it. */
type Row = readonly [string, Partial<Recipe>, Partial<Setup>, readonly string[]];

/** 10 L of water boiled in a kettle that loses nothing: what a soak takes can be told to the millilitre. */
const water: Partial<Recipe> = { extract: [], hops: [], grain: [], steep: null, boilVolume_L: given(10) };
const husks = (g: number, soak: 'steep' | 'mash' = 'steep') =>
  grain(g, { in: soak, yield: { value: 0 as never, u: null, from: 'table' } });
const wet = { ...tight, kettle_L: own(40) };
const NO_EXTRACT = 'no-extract recipe';

const bottle = sampleRecipe().packaging[0]!;
const bottled = (volume_L: number): PackageStep => ({ ...bottle, volume_L: given(volume_L) });
const label = { ibu: 24 as never, in_L: 23 as never, labelWeight_g: null, written: '24 IBU in 23 L' };
const standAt = (t_C: number) => ({ temperature_C: given<never>(t_C), time_min: given<never>(20) });
const fermentAt = (t_C: number) => [{ temperature_C: given<never>(t_C), time_min: given<never>(14 * 1440) }];

const ROWS: readonly Row[] = [
  // Water boils at 99.97 °C at sea level; half a degree is the thermometer's.
  ['a stand at the boil, as far as a thermometer shows', { stand: standAt(100.4) }, {}, []],
  ['a stand above it', { stand: standAt(100.5) }, {}, ['stand-too-hot stand.temperature']],
  [
    'a stand at the boil at 1000 m, where that is 96.65 °C',
    { stand: standAt(97.2) },
    { altitude_m: own(1000) },
    ['stand-too-hot stand.temperature'],
  ],
  [
    'a mash at the boil',
    { steep: null, mash: mashAt(100, 3), grain: [grain(500, { in: 'mash' })] },
    {},
    ['soak-too-hot mash.temperature'],
  ],
  [
    'two soaks at the boil',
    { mash: mashAt(100, 3), steep: steepAt(100), grain: [grain(500, { in: 'mash' }), grain(300)] },
    {},
    ['soak-too-hot steep.temperature', 'soak-too-hot mash.temperature'],
  ],
  // Three litres at 98 °C and 1 kg at 20: 98 + 1.7 × 78 / (3 × 4.17) = 108.6 °C.
  [
    'a mash just below it, for which the water would be above',
    { steep: null, mash: mashAt(98, 3), grain: [grain(1000, { in: 'mash' })] },
    {},
    ['soak-too-hot mash'],
  ],

  ['a fermenter filled to its brim', {}, { fermenter_L: own(19) }, ['fermenter-nearly-full into_fermenter']],
  ['a fermenter filled above it', {}, { fermenter_L: own(18.9) }, ['fermenter-too-small into_fermenter']],
  ['a fermenter filled to nine tenths', { intoFermenter_L: given(18, '18 L') }, { fermenter_L: own(20) }, []],
  [
    'a fermenter filled further',
    { intoFermenter_L: given(18.1, '18.1 L') },
    { fermenter_L: own(20) },
    ['fermenter-nearly-full into_fermenter'],
  ],

  [
    'hopped extract for 10 min',
    { extract: [extract(1700, { bitterness: label, add: boilFor(10) })] },
    {},
    [],
  ],
  [
    'hopped extract for 11 min',
    { extract: [extract(1000), extract(1700, { bitterness: label, add: boilFor(11) })] },
    {},
    ['hopped-extract-boiled extract[1].add'],
  ],
  [
    'hopped extract from the first wort on',
    { extract: [extract(1700, { bitterness: label, add: { at: 'first wort' } })] },
    {},
    ['hopped-extract-boiled extract[0].add'],
  ],
  [
    'hopped extract once the flame is out',
    { extract: [extract(1700, { bitterness: label, add: { at: 'flameout' } })] },
    {},
    [],
  ],

  ['a yeast at the cold end of its band', { ferment: fermentAt(17) }, {}, []],
  ['a yeast at the warm end of it', { ferment: fermentAt(21) }, {}, []],
  ['a yeast below it', { ferment: fermentAt(16.9) }, {}, ['outside-yeast-band ferment[0].temperature']],
  ['a yeast above it', { ferment: fermentAt(21.1) }, {}, ['outside-yeast-band ferment[0].temperature']],
  ['a yeast of no stated band', { ferment: fermentAt(30), yeast: [yeast({ temperature_C: null })] }, {}, []],
  ['no yeast', { yeast: [] }, {}, []],
  ['no steps', { ferment: [] }, {}, []],

  // 19 L less 0.7 on the yeast are 18.3; half a decilitre is not worth a word.
  ['bottles for what is there', { packaging: [bottled(18.34)] }, {}, []],
  ['bottles for more', { packaging: [bottled(18.36)] }, {}, ['parts-exceed-batch package']],
  [
    'two parts for more',
    { packaging: [bottled(9.2), bottled(9.2), { ...bottle, volume_L: null }] },
    {},
    ['parts-exceed-batch package'],
  ],

  [
    'all water through the steep',
    { ...water, steep: steepAt(68, 10.004), grain: [husks(500)] },
    wet,
    [NO_EXTRACT],
  ],
  [
    'more than all',
    { ...water, steep: steepAt(68, 10.006), grain: [husks(500)] },
    wet,
    ['water-parts-exceed-total steep'],
  ],
  [
    'a steep and its rinse',
    { ...water, steep: steepAt(68, 7), rinse_L: given(2.9), grain: [husks(500)] },
    wet,
    [NO_EXTRACT],
  ],
  [
    'a steep and more of a rinse',
    { ...water, steep: steepAt(68, 7), rinse_L: given(3.1), grain: [husks(500)] },
    wet,
    ['water-parts-exceed-total steep'],
  ],
  [
    'a mash and its rinse',
    { ...water, mash: mashAt(66, 3), rinse_L: given(3.9), grain: [husks(2000, 'mash')] },
    wet,
    [NO_EXTRACT],
  ],
  [
    'a mash and more of a rinse',
    { ...water, mash: mashAt(66, 3), rinse_L: given(4.1), grain: [husks(2000, 'mash')] },
    wet,
    ['water-parts-exceed-total mash'],
  ],
  [
    'a mash, its rinse and a steep',
    {
      ...water,
      mash: mashAt(66, 3),
      rinse_L: given(2),
      steep: steepAt(68, 1.9),
      grain: [husks(2000, 'mash'), husks(300)],
    },
    wet,
    [NO_EXTRACT],
  ],
  [
    'a mash, its rinse and a larger steep',
    {
      ...water,
      mash: mashAt(66, 3),
      rinse_L: given(2),
      steep: steepAt(68, 2.1),
      grain: [husks(2000, 'mash'), husks(300)],
    },
    wet,
    ['water-parts-exceed-total mash'],
  ],
  // Of a mash whose 6 L the grain keeps, and of 5 ml; of 15 ml it would have to be far above the boil.
  [
    'a steep without water of its own, and none from the mash',
    {
      ...water,
      mash: mashAt(66, 3),
      steep: steepAt(68, 0.005),
      grain: [husks(2000, 'mash'), husks(300)],
    },
    { ...wet, grainAbsorption_L_per_kg: own(3) },
    ['soak-too-hot steep'],
  ],
  [
    'a steep of a spoonful',
    { ...water, steep: steepAt(68, 0.015), grain: [husks(300)] },
    wet,
    ['soak-too-hot steep', NO_EXTRACT],
  ],
  [
    'extract that fills the boil by itself',
    { ...water, boilVolume_L: given(4), extract: [extract(7000)] },
    wet,
    ['more-extract-than-water boil_volume'],
  ],
  [
    'the same without a volume of its own',
    { ...water, boilVolume_L: null, intoFermenter_L: given(1), extract: [extract(7000)] },
    wet,
    ['more-extract-than-water extract[0].weight'],
  ],
  // 4.9 and 5.1 kg of sugar with what makes 10 kg: 49 and 51 °P. 10 kg of 49 °P are 10 / 1.2235 L, of 51 °P 10 / 1.2346 (ICUMSA SPS-4).
  ['a wort of 49 °P', { ...water, boilVolume_L: given(10 / 1.2235), sugar: [sucrose(4900)] }, wet, []],
  [
    'a wort of 51 °P',
    { ...water, boilVolume_L: given(10 / 1.2346), sugar: [sucrose(5100)] },
    wet,
    ['more-extract-than-water boil_volume'],
  ],
  // 5 kg in 11 kg are 45 °P, and after an hour that takes 1.2 kg of water 51; then 5 kg more at flame-out.
  [
    'a wort that boils down to 51 °P',
    { ...water, boilVolume_L: given(11 / 1.2022), sugar: [sucrose(5000)] },
    { ...wet, boilOff_L_per_h: own(1.2) },
    ['more-extract-than-water boil_volume'],
  ],
  [
    'a wort that is 51 °P with its last sugar',
    { ...water, boilVolume_L: given(5), sugar: [sucrose(5200, 0)] },
    wet,
    ['more-extract-than-water boil_volume'],
  ],

  // All of 10 L boiled away in an hour, and all but a litre, of which trub keeps half, and hops the rest.
  ['a boil that leaves nothing', water, { ...wet, boilOff_L_per_h: own(10) }, ['boils-dry boil']],
  [
    'a boil that leaves the trub',
    water,
    { ...wet, boilOff_L_per_h: own(9.5), kettleLoss_L: own(0.5) },
    ['boils-dry boil'],
  ],
  [
    'a boil that leaves the hops',
    { ...water, hops: [hop(100, boilFor(60))] },
    { ...wet, boilOff_L_per_h: own(9), kettleLoss_L: own(0.5), hopAbsorption_L_per_kg: own(6) },
    ['boils-dry boil'],
  ],
  [
    'a boil that leaves a little',
    { ...water, hops: [hop(100, boilFor(60))] },
    { ...wet, boilOff_L_per_h: own(8.8), kettleLoss_L: own(0.5), hopAbsorption_L_per_kg: own(6) },
    [NO_EXTRACT],
  ],

  ['a boil of what goes into the fermenter', { ...water, boilVolume_L: given(19.004) }, wet, [NO_EXTRACT]],
  // 2 % of 19 L are 0.38 L, a quarter is 4.75 L.
  ['a boil of 2 % more', { ...water, boilVolume_L: given(19.37) }, wet, [NO_EXTRACT]],
  [
    'a boil of more than that',
    { ...water, boilVolume_L: given(19.39) },
    wet,
    ['boil-too-large boil_volume', NO_EXTRACT],
  ],
  [
    'a boil of a quarter more',
    { ...water, boilVolume_L: given(23.74) },
    { ...wet, kettle_L: own(40) },
    ['boil-too-large boil_volume', NO_EXTRACT],
  ],
  [
    'and of more than that',
    { ...water, boilVolume_L: given(23.76) },
    { ...wet, kettle_L: own(40) },
    ['boil-too-large boil_volume'],
  ],

  // 10 L of water are 10.416 L boiling (IAPWS: 3.99 %).
  ['a kettle of 12.26 L, 84.96 % full', water, { ...wet, kettle_L: own(12.26) }, [NO_EXTRACT]],
  [
    'a kettle of 12.2 L, 85.4 % full',
    water,
    { ...wet, kettle_L: own(12.2) },
    ['kettle-nearly-full boil_volume', NO_EXTRACT],
  ],
  [
    'a kettle of 10.45 L, 99.7 % full',
    water,
    { ...wet, kettle_L: own(10.45) },
    ['kettle-nearly-full boil_volume', NO_EXTRACT],
  ],
  [
    'a kettle of 10.38 L, 100.3 % full',
    water,
    { ...wet, kettle_L: own(10.38) },
    ['kettle-overflows boil_volume'],
  ],
];

function sucrose(g: number, minutes = 60) {
  return extract(g, {
    kind: 'sugar',
    name: 'sugar',
    form: null,
    fermentableAs: 'sugar',
    yield: { value: 1 as never, u: null, from: 'table' },
    colour_EBC: { value: 0 as never, u: null, from: 'table' },
    add: minutes === 0 ? { at: 'flameout' } : boilFor(minutes),
  });
}

describe('what is said of', () => {
  it.each(ROWS)('%s', (_, recipe, setup, said) => {
    expect(keysOf(recipe, setup)).toEqual(said);
  });
});

describe('in words', () => {
  const wordsOf = (code: string, ...of: Parameters<typeof problemsOf>) => {
    const one = problemsOf(...of).find((problem) => problem.code === code)!;
    return [one.found, one.expected, one.mend];
  };
  /** A vessel whose size nobody wrote. */
  const _assumed = (value: number) => ({ ...figure('heat', value), written: null });

  it('extract that fills the boil by itself', () => {
    expect(
      wordsOf('more-extract-than-water', { ...water, boilVolume_L: given(4), extract: [extract(7000)] }, wet),
    ).toEqual([
      'the extract alone fills the boil volume, most of it from 7000 g of pale liquid extract: there is no water left to heat',
      'water to dissolve the extract in',
      'check the weights, raise boil_volume, or move extract to a later addition',
    ]);
  });

  // 18 L at 66 °C and 6 kg of wet grain take 18 × 1.019 + 6 × 0.7 = 22.5 L: 11.3 in halves, 7.5 in thirds, 5.6 in quarters.
  it.each([
    [14, 'boil it in two equal parts, one after another'],
    [10, 'boil it in three equal parts, one after another'],
    [7, 'boil it in four equal parts, one after another'],
  ])('a mash that is too much for a kettle of %f L: %s', (kettle_L, way) => {
    const whole = {
      ...water,
      boilVolume_L: given<never>(19),
      mash: mashAt(66, 3),
      grain: [husks(6000, 'mash')],
    };
    expect(wordsOf('kettle-overflows', whole, { ...wet, kettle_L: own(kettle_L) })[2]).toContain(way);
  });

  it('a steep without water', () => {
    const dry: Partial<Recipe> = { ...water, steep: steepAt(68, 0.005), grain: [husks(300)] };
    expect(wordsOf('soak-too-hot', dry, wet)).toEqual([
      '5 ml of water, which cannot get hot enough',
      'water that covers the grain',
      'use more water for the steep, or leave its water out',
    ]);
  });

  it('evaporation over half an hour is half of that over an hour', () => {
    const short: Partial<Recipe> = { ...water, boil_min: given(30) };
    expect(wordsOf('boils-dry', short, { ...wet, boilOff_L_per_h: own(21) })[0]).toBe(
      'boil-off (10.5 L) takes all of the 10 L boil',
    );
  });

  it('what stays in the kettle is named where it takes a part of the boil', () => {
    const kit = { ...wet, boilOff_L_per_h: own(9.5), kettleLoss_L: own(0.5) };
    expect(wordsOf('boils-dry', water, kit)[0]).toBe(
      'boil-off (9.5 L), trub and hops (500 ml) take all of the 10 L boil',
    );
  });
});
