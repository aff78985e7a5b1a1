/** What a plan says would fit the kettle does fit it. */
import { describe, expect, it } from 'vitest';
import { buildCase } from '../../../lib/batch/model/build-model-input.ts';
import { designBoil, fillFor, largestBoil, smallestBoil, topUpFor } from '../../../lib/batch/model/design.ts';
import { whatFits } from '../../../lib/batch/model/kettle-limits.ts';
import { planBatch } from '../../../lib/batch/plan/plan-batch.ts';
import { boilFor, extract, given, grain, hop, sampleBatch, sampleRecipe, sampleSetup } from '../sample.ts';
import { brewery, mashAt, modelOf, own, planOf, steepAt, tight } from '../sample-plan.ts';

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
  const c = buildCase(batch);
  designBoil(c);
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

  it('the largest boil leaves no wort over, and fills the pot no further than asked', () => {
    const c = caseOf(batchOf(19, 40, null));
    expect(topUpFor(c, largestBoil(c, 0.85))).toBeCloseTo(0, 6);
    const tighter = caseOf(batchOf(19, 15, null));
    for (const fill of [0.6, 0.75, 0.85])
      expect(fillFor(tighter, largestBoil(tighter, fill))).toBeCloseTo(fill, 6);
    // Room for the 1.5 kg of syrup and the grain's extract: 0.65 L/kg and a little.
    expect(smallestBoil(tighter)).toBeCloseTo(0.65 * (1.5 * 0.79 + 0.35 * 0.75 * 0.5) + 0.05, 9);
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

  // Water for 20 L of it in a kettle that loses nothing but what is stated: 10 L are 10.416 L hot (IAPWS: 3.99 %).
  const waterCase = (
    boil_L: number,
    pot_L: number,
    more: Partial<Parameters<typeof modelOf>[0]> = {},
    lost = {},
  ) =>
    modelOf(
      {
        intoFermenter_L: given(20),
        boilVolume_L: given(boil_L),
        extract: [],
        hops: [],
        grain: [],
        steep: null,
        ...more,
      },
      { ...tight, kettle_L: own(pot_L), ...lost },
    ).c;
  const husks = (kg: number) =>
    grain(1000 * kg, { in: 'mash', yield: { value: 0 as never, u: null, from: 'table' } });

  it.each([
    // 85 % of 6 L are 4.896 L at 20 °C; of the boil of 10 L 48 % fit (4.999 L hot), 49 do not (5.104).
    ['half of the batch, boiled in a pot of 6 L', 10, 6, {}, {}, { boil_L: 4.8, boils: 2, batch_L: 9.6 }],
    [
      'the same over 4.7 L of trub',
      10,
      6,
      {},
      { kettleLoss_L: own(4.7) },
      { boil_L: 4.8, boils: 2, batch_L: 9.6 },
    ],
    // 48 % of the boil are 4.80 L, and all of it trub.
    [
      'the same over 4.85 L of trub',
      10,
      6,
      {},
      { kettleLoss_L: own(4.85) },
      { boil_L: 4.8, boils: 2, batch_L: null },
    ],
    [
      'the same over 4.95 L of trub',
      10,
      6,
      {},
      { kettleLoss_L: own(4.95) },
      { boil_L: null, boils: null, batch_L: null },
    ],
    ['a boil of more than the batch', 24, 6, {}, {}, { boil_L: 4.8, boils: 2, batch_L: null }],
    // 10 % of the boil are 1.042 L hot and 85 % of 1.23 L 1.0455, 9 % of 1.05 L would be needed for less.
    ['a tenth of the batch', 10, 1.23, {}, {}, { boil_L: 1, boils: 2, batch_L: 2 }],
    ['and no less', 10, 1.22, {}, {}, { boil_L: 0.9, boils: 2, batch_L: null }],
    // 18 L at 66 °C and 6 kg of wet grain take 22.5 L: 52 % fit 85 % of 14 L, 37 % those of 10, 26 % those of 7.
    [
      'a mash in two',
      19,
      14,
      { mash: mashAt(66, 3), grain: [husks(6)] },
      {},
      { boil_L: null, boils: 2, batch_L: 10.4 },
    ],
    [
      'a mash in three',
      19,
      10,
      { mash: mashAt(66, 3), grain: [husks(6)] },
      {},
      { boil_L: null, boils: 3, batch_L: 7.4 },
    ],
    [
      'a mash in four',
      19,
      7,
      { mash: mashAt(66, 3), grain: [husks(6)] },
      {},
      { boil_L: null, boils: 4, batch_L: 5.2 },
    ],
    [
      'a mash in more than four',
      19,
      5,
      { mash: mashAt(66, 3), grain: [husks(6)] },
      {},
      { boil_L: null, boils: null, batch_L: 3.6 },
    ],
    // 3 L of mash and 6 of rinse want a boil of 9 L; half of it is 4.5, within the 4.896.
    [
      'a boil that mash and rinse leave no smaller',
      10,
      6,
      { mash: mashAt(66, 3), rinse_L: given<never>(6), grain: [husks(1)] },
      {},
      { boil_L: null, boils: 2, batch_L: 9.6 },
    ],
    [
      'one that a steep of 9 L does not either',
      10,
      6,
      { steep: { ...steepAt(66, 9) }, grain: [{ ...husks(1), in: 'steep' as const }] },
      {},
      { boil_L: null, boils: 2, batch_L: 9.6 },
    ],
  ] as const)('%s', (_, boil_L, pot_L, more, lost, fits) => {
    expect(whatFits(waterCase(boil_L, pot_L, more, lost))).toEqual(fits);
  });

  it('top-up is what the fermenter wants over what the kettle gives: 20 − (10 − 0.5 − 0.6) L', () => {
    const lost = { kettleLoss_L: own(0.5), hopAbsorption_L_per_kg: own(6) };
    expect(topUpFor(waterCase(10, 40), 10)).toBeCloseTo(10, 9);
    expect(topUpFor(waterCase(10, 40), 8)).toBeCloseTo(12, 9);
    expect(topUpFor(waterCase(10, 40, { hops: [hop(100, boilFor(60))] }, lost), 10)).toBeCloseTo(11.1, 9);
    // Boiled dry, all of it.
    const dry = waterCase(10, 40, {}, { boilOff_L_per_h: own(10) });
    expect(topUpFor(dry, 10)).toBe(20);
    expect(topUpFor(dry, 9)).toBe(20);
  });

  it('a pot is as full as its boil is hot', () => {
    expect(fillFor(waterCase(10, 40), 10)).toBeCloseTo(10.416 / 40, 4);
    expect(fillFor(waterCase(10, 40), 30)).toBeCloseTo(31.247 / 40, 4);
  });

  it.each([
    // 1 L of beer, and what an hour and trub take.
    [1, 2.5, 0, 3.5],
    [1, 9, 0, 10],
    [1, 9, 0.5, 10.5],
    [20, 0, 0, 20],
  ])(
    'the whole boil for %f L, less %f an hour and %f L of trub, is %f L',
    (into_L, off_L_per_h, trub_L, boil_L) => {
      const lost = { boilOff_L_per_h: own(off_L_per_h), kettleLoss_L: own(trub_L) };
      const c = waterCase(10, 100, { intoFermenter_L: given<never>(into_L), boilVolume_L: null }, lost);
      expect(c.boilVolume_L).toBeCloseTo(boil_L, 6);
    },
  );

  it('extract that is more than the batch is boiled in as little as holds it', () => {
    // 7 kg of syrup at 79 % are 5.53 kg of extract, and that takes 0.62 to 0.69 L/kg: sugar’s, and a syrup’s of 85 °P.
    const recipe = sampleRecipe({
      intoFermenter_L: given(1),
      boilVolume_L: null,
      grain: [],
      extract: [extract(7000)],
    });
    const c = caseOf(sampleBatch({ recipe, setup: sampleSetup(tight) }));
    expect(largestBoil(c, 0.85)).toBeGreaterThan(0.62 * 5.53);
    expect(largestBoil(c, 0.85)).toBeLessThan(0.7 * 5.53);
  });
});
