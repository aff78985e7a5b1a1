/** What a plan says would fit the kettle does fit it. */
import { describe, expect, it } from 'vitest';
import { buildCase } from '../../../lib/batch/model/build-model-input.ts';
import { designBoil, fillFor } from '../../../lib/batch/model/design.ts';
import { whatFits } from '../../../lib/batch/model/kettle-limits.ts';
import { planBatch } from '../../../lib/batch/plan/plan-batch.ts';
import { boilFor, extract, given, grain, hop, sampleBatch, sampleRecipe, sampleSetup } from '../sample.ts';
import { brewery, modelOf, own, planOf, tight } from '../sample-plan.ts';

/** The sample recipe for another volume, in a pot of another size. */
function batchOf(volume_L: number, pot_L: number, boil_L: number | null) {
  const times = volume_L / 19;
  return sampleBatch({
    setup: sampleSetup({ kettle_L: own(pot_L) }),
    recipe: sampleRecipe({
      intoFermenter_L: given(volume_L),
      boilVolume_L: boil_L === null ? null : given(boil_L),
      grain: [grain(350 * times)],
      extract: [extract(1500 * times), extract(1100 * times, { add: boilFor(12) })],
      hops: [hop(30 * times, boilFor(60))],
    }),
  });
}

const caseOf = (batch: ReturnType<typeof sampleBatch>) => {
  const c = designBoil(buildCase(batch));
  return c;
};

describe('what fits', () => {
  it.each([
    [19, 15, 15],
    [19, 12, 13],
    [24, 9, 9],
    [30, 12, 20],
  ])('%f L in a pot of %f L, boiling %f L', (volume_L, pot_L, boil_L) => {
    const { boil_L: most_L, boils, batch_L } = whatFits(caseOf(batchOf(volume_L, pot_L, boil_L)));
    expect(most_L).not.toBeNull();
    // The whole recipe with the boil that fits: planned without a word about the kettle.
    const whole = planOf(batchOf(volume_L, pot_L, most_L));
    expect(whole.targets.kettle_fill_percent!.value).toBeLessThanOrEqual(85.001);
    expect(whole.targets.kettle_fill_percent!.value).toBeGreaterThan(83);
    // A tenth of a litre more does not fit.
    expect(fillFor(caseOf(batchOf(volume_L, pot_L, boil_L)), most_L! + 0.1)).toBeGreaterThan(0.85);
    const part = planOf(batchOf(volume_L / boils!, pot_L, null));
    expect(part.targets.kettle_fill_percent!.value).toBeLessThanOrEqual(85.001);
    const small = planOf(batchOf(batch_L!, pot_L, (boil_L * batch_L!) / volume_L));
    expect(small.targets.kettle_fill_percent!.value).toBeLessThanOrEqual(85.01);
  });

  it('a pot too small for anything says so', () => {
    expect(whatFits(caseOf(batchOf(19, 0.5, 10)))).toEqual({ boil_L: null, boils: null, batch_L: null });
    const result = planBatch(batchOf(19, 0.5, 10), brewery);
    expect(result.ok).toBe(false);
    if (!result.ok)
      expect(result.problems[0]).toMatchObject({ code: 'kettle-overflows', mend: 'use a larger kettle' });
  });

  it('a whole boil by hand: 19 L, 0.5 L of trub and 2.5 L of evaporation are 22 L, less what 12 °P contract', () => {
    const { get } = modelOf(
      { boilVolume_L: null, boil_min: given(60), steep: null, grain: [], hops: [], extract: [extract(2500)] },
      { ...tight, kettle_L: own(40), kettleLoss_L: own(0.5), boilOff_L_per_h: own(2.5) },
    );
    // Water leaves; the wort that stays is a little stronger and takes up to 0.1 % less room.
    expect(get('boil_start_volume_l')).toBeCloseTo(22, 1);
    expect(get('boil_end_volume_l')).toBeCloseTo(19.5, 6);
    expect(get('top_up_l')).toBeCloseTo(0, 6);
  });
});
