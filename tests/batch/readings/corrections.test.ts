/** What brings a wort to its target, by hand: mass of extract and mass of water are conserved. */
import { describe, expect, it } from 'vitest';
import { buildCase } from '../../../lib/batch/model/build-model-input.ts';
import { correctingExtract, correction } from '../../../lib/batch/readings/corrections.ts';
import type { Recipe } from '../../../lib/batch/types/recipe.ts';
import type { Setup } from '../../../lib/batch/types/setup.ts';
import { specificGravityFromPlato } from '../../../lib/formulas/gravity.ts';
import { extract, sampleBatch, sampleRecipe, sampleSetup } from '../sample.ts';
import { own } from '../sample-plan.ts';

const share = (value: number) => ({ value: value as never, u: null, from: 'table' }) as const;

function mend(
  reading_SG: number,
  target_SG: number,
  recipe: Partial<Recipe> = {},
  setup: Partial<Setup> = {},
) {
  const batch = sampleBatch({ recipe: sampleRecipe(recipe), setup: sampleSetup(setup) });
  return correction({ batch, c: buildCase(batch), reading_SG, volume_L: 10, target_SG });
}

/*
 * Sucrose at 20 °C (ICUMSA SPS-4): 10 °P weighs 1.038115 kg/L, SG 1.03998; 12 °P 1.046444 kg/L, SG 1.04832.
 * 10 L of 10 °P are 10.38115 kg with 1.038115 kg of extract; 10 L of 12 °P are 10.46444 kg with 1.2557328 kg.
 */
const P10 = specificGravityFromPlato(10);
const P12 = specificGravityFromPlato(12);

describe('a wort of 12 °P that should have 10', () => {
  it('takes 1.2557328/0.1 − 10.46444 = 2.0929 kg of water, 2.0967 L', () => {
    const found = mend(P12, P10);
    expect(found.addWater_L).toBeCloseTo(2.0967, 3);
    expect(found).toMatchObject({ addExtract_g: null, boilOn_min: null });
  });
});

describe('a wort of 10 °P that should have 12', () => {
  it('takes (0.12 × 10.38115 − 1.038115) / (0.79 − 0.12) = 0.30986 kg of the recipe’s own extract', () => {
    const found = mend(P10, P12);
    expect(found.addExtract_g! / 309.86).toBeCloseTo(1, 3);
    expect(found.addWater_L).toBeNull();
    expect(found.extract).toEqual({ name: 'pale liquid extract', yield: 0.79 });
  });

  it('or boils 10.38115 − 1.038115/0.12 = 1.7302 kg away: 41.6 minutes at 2.5 L/h, none where nothing evaporates', () => {
    expect(mend(P10, P12).boilOn_min! / 41.6).toBeCloseTo(1, 3);
    expect(mend(P10, P12, {}, { boilOff_L_per_h: own(5) }).boilOn_min! / 20.8).toBeCloseTo(1, 3);
    expect(mend(P10, P12, {}, { boilOff_L_per_h: own(0) }).boilOn_min).toBeNull();
  });

  it('gets nothing from an extract that is no stronger than what is wanted', () => {
    expect(mend(P10, P12, { extract: [extract(1000, { yield: share(0.1) })] }).addExtract_g).toBeNull();
  });
});

it('a wort at its target takes a drop of nothing', () => {
  expect(mend(P10, P10)).toMatchObject({
    addWater_L: expect.closeTo(0, 9),
    addExtract_g: null,
    boilOn_min: null,
  });
});

describe('the extract to mend with', () => {
  const of = (items: Recipe['extract']) =>
    correctingExtract(sampleBatch({ recipe: sampleRecipe({ extract: items }) }));

  it('is the recipe’s heaviest, wherever it stands', () => {
    const light = extract(500, { name: 'wheat extract', yield: share(0.8) });
    const heavy = extract(1500, { name: 'pale extract', yield: share(0.78) });
    expect(of([light, heavy])).toEqual({ name: 'pale extract', yield: 0.78 });
    expect(of([heavy, light])).toEqual({ name: 'pale extract', yield: 0.78 });
  });

  it('is pale dry extract of 95 % where the recipe has none', () => {
    expect(of([])).toEqual({ name: 'pale dry extract', yield: 0.95 });
  });
});
