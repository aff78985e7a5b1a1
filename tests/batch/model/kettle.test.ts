/** The kettle by hand: masses from published densities of sucrose solutions, arithmetic in the comments. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildCase } from '../../../lib/batch/model/build-model-input.ts';
import { designBoil } from '../../../lib/batch/model/design.ts';
import { extractOf, kettleMasses } from '../../../lib/batch/model/kettle.ts';
import { runModel } from '../../../lib/batch/model/model.ts';
import { WATER_KG_PER_L } from '../../../lib/formulas/wort.ts';
import { randomBatch } from '../random.ts';
import { boilFor, extract, given, grain, hop } from '../sample.ts';
import { modelOf, own, steepAt, tight } from '../sample-plan.ts';

/** Densities at 20 °C, kg/m³: water of IAPWS-95, sucrose solutions of the printed set (ICUMSA SPS-4). */
const RHO = { water: 998.207, p10: 1038.115, p20: 1080.977 };
const whole = { value: 1 as never, u: null, from: 'table' as const };
const bare = { steep: null, grain: [], hops: [] };

describe('the kettle, by hand', () => {
  it('10 L of 10 °P less 2 L of water is 12.381 °P, 1.04993', () => {
    // 10 L × 1.038115 kg/L = 10.38115 kg, of it 1.038115 kg extract and 9.343035 kg water.
    // Less 2 L × 0.998207 = 1.996414 kg of water: 1.038115 / 8.384736 = 12.381 %.
    const { get, detail } = modelOf(
      {
        ...bare,
        boilVolume_L: given(10),
        boil_min: given(60),
        extract: [extract(1038.115, { yield: whole })],
        intoFermenter_L: given(8),
      },
      { ...tight, boilOff_L_per_h: own(2) },
    );
    expect(get('boil_start_gravity')).toBeCloseTo(1.03998, 5);
    expect(get('boil_end_gravity')).toBeCloseTo(1.04993, 5);
    const { extract_kg, water_kg } = detail.kettle.end;
    expect((100 * extract_kg) / (extract_kg + water_kg)).toBeCloseTo(12.381, 3);
    // 8.384736 kg / (1.04993 × 0.998207 kg/L) = 8.0005 L.
    expect(get('boil_end_volume_l')).toBeCloseTo(8.0005, 3);
    // Water to heat = 10.38115 − 1.038115 kg = 9.343035 kg / 0.998207 = 9.3598 L.
    expect(get('water_to_heat_l')).toBeCloseTo((10 * RHO.p10 * 0.9) / RHO.water, 3);
  });

  it('6 L of 20 °P and 13 L of water make 18.997 L of 6.665 °P, 1.02633', () => {
    // 6 × 1.080977 = 6.485862 kg with 1.2971724 kg extract; 13 × 0.998207 = 12.976691 kg water.
    // 1.2971724 / 19.462553 = 6.665 %; 19.462553 / (1.02633 × 0.998207) = 18.997 L.
    const { get } = modelOf(
      {
        ...bare,
        boilVolume_L: given(6),
        boil_min: given(60),
        extract: [extract((6 * RHO.p20) / 5, { yield: whole })],
        intoFermenter_L: given(18.997),
      },
      tight,
    );
    expect(get('original_extract_plato')).toBeCloseTo(6.665, 3);
    expect(get('original_gravity')).toBeCloseTo(1.02633, 5);
    expect(get('top_up_l')).toBeCloseTo(13, 2);
  });

  it('trub takes wort at kettle gravity, and its extract is lost', () => {
    // 10 L of 10 °P, 1 L left behind: 0.9 × 1.038115 kg = 0.9343 kg extract reach the fermenter.
    const { detail } = modelOf(
      {
        ...bare,
        boilVolume_L: given(10),
        extract: [extract(1038.115, { yield: whole })],
        intoFermenter_L: given(15),
      },
      { ...tight, kettleLoss_L: own(1) },
    );
    expect(detail.inFermenter.extract_kg).toBeCloseTo(0.9343, 4);
  });

  it.each([
    [{ at: 'dry', day: 5, for_min: null, forWritten: null }, 'nothing'],
    [{ at: 'fermenter', day: 5 }, 'nothing'],
    [{ at: 'packaging' }, 'nothing'],
    [{ at: 'flameout' }, 'trub'],
  ] as const)(
    'hops at %o leave %s in a pot that does not boil, where the setup says no figure',
    (add, what) => {
      const kit = { ...bare, boil_min: given<never>(0), boilVolume_L: null, hops: [hop(20, add)] };
      const left_L = modelOf(kit).c.kettleLoss_L;
      if (what === 'trub') expect(left_L).toBe(modelOf({}).c.kettleLoss_L);
      else expect(left_L).toBeLessThan(modelOf({}).c.kettleLoss_L / 5);
      expect(modelOf(kit, { kettleLoss_L: own(0.7) }).c.kettleLoss_L).toBe(0.7);
    },
  );

  it('hops hold wort by their weight, dry hops none of the kettle’s', () => {
    // 50 g in the boil × 6 L/kg = 0.3 L; 100 g of dry hops later take beer, not wort.
    const dry = { at: 'dry', day: 5, for_min: null, forWritten: null } as const;
    const { detail, get, c } = modelOf(
      { ...bare, hops: [hop(30, boilFor(60)), hop(20, { at: 'flameout' }), hop(100, dry)] },
      { ...tight, hopAbsorption_L_per_kg: own(6) },
    );
    expect(detail.lost_L).toBeCloseTo(0.3, 12);
    expect(get('packaged_volume_l')).toBeCloseTo(19 - 0.7 - 0.6, 9);
    expect(c.fermenterLoss_L).toBe(0.7);
  });

  it('grain keeps its water, and its efficiency counts the extract', () => {
    // 1 kg × 75 % × 50 % = 0.375 kg extract; it keeps 0.9 L.
    const steep = steepAt(68);
    const dry = modelOf({ ...bare, extract: [], boilVolume_L: given(10) }, tight);
    const wet = modelOf(
      { ...bare, steep, grain: [grain(1000)], extract: [], boilVolume_L: given(10) },
      { ...tight, grainAbsorption_L_per_kg: own(0.9) },
    );
    expect(wet.detail.kettle.start.extract_kg).toBeCloseTo(0.375, 12);
    const wort_kg = 0.375 + wet.detail.kettle.start.water_kg;
    // Of 3.7 °P: 10 L at 1.01458 × 0.998207.
    expect((100 * 0.375) / wort_kg).toBeCloseTo(3.7, 2);
    const displaced_L = 10 - wet.detail.kettle.start.water_kg / WATER_KG_PER_L;
    expect(wet.get('water_to_heat_l')).toBeCloseTo(dry.get('water_to_heat_l') - displaced_L + 0.9, 9);
  });

  it('a litre of boil-off is a litre of water at 20 °C', () => {
    const { detail } = modelOf({ ...bare, boil_min: given(30) }, { ...tight, boilOff_L_per_h: own(2.4) });
    const lost_kg = detail.kettle.start.water_kg - detail.kettle.end.water_kg;
    // The second extract addition of the sample brings 21 % of 1.1 kg as water.
    expect(lost_kg + 1.1 * 0.21).toBeCloseTo((1.2 * RHO.water) / 1000, 4);
  });
});

const seeds = fc.integer({ min: 1, max: 2 ** 31 });

describe('the kettle, at random', () => {
  it('loses no extract: all that went in is in the fermenter, in the kettle, or comes later', () => {
    let ran = 0;
    fc.assert(
      fc.property(seeds, (seed) => {
        const { batch, wild } = randomBatch(seed);
        if (wild) return;
        const c = designBoil(buildCase(batch));
        if (!(kettleMasses(c).chilled.water_kg > 0)) return;
        const { detail } = runModel(c);
        ran++;
        const put = c.parts.reduce((sum, part) => sum + extractOf(part, c), 0);
        const later = c.parts
          .filter((p) => p.stage === 'fermenter')
          .reduce((sum, p) => sum + extractOf(p, c), 0);
        const left = detail.kettle.chilled.extract_kg * (1 - detail.share);
        expect(detail.inFermenter.extract_kg + left + later).toBeCloseTo(put, 9);
        // Water: heated, in syrups and as top-up; in the fermenter, in the kettle, in the grain, in the air.
        const syrups = c.parts
          .filter((p) => p.kind !== 'grain' && p.stage !== 'fermenter')
          .reduce((sum, p) => sum + p.weight_kg * (1 - p.yield), 0);
        const grain_kg = (c.steepGrain_kg + c.mashGrain_kg) * c.grainAbsorption_L_per_kg * WATER_KG_PER_L;
        const air_kg = (c.boilOff_L_per_h * WATER_KG_PER_L * c.boil_min) / 60;
        const inKg = c.waterToHeat_L * WATER_KG_PER_L + syrups + detail.topUp_kg;
        const behind = detail.kettle.chilled.water_kg * (1 - detail.share);
        expect(detail.inFermenter.water_kg + behind + grain_kg + air_kg).toBeCloseTo(inKg, 8);
      }),
      { numRuns: 300, seed: 20261125 },
    );
    expect(ran).toBeGreaterThan(100);
  });
});

describe('what physics says of the kettle', () => {
  const at = (over: Parameters<typeof modelOf>[0], setup: Parameters<typeof modelOf>[1] = {}) =>
    modelOf(over, setup);
  const rising = (values: readonly number[]) => values.every((value, i) => i === 0 || value > values[i - 1]!);

  it('more extract, more gravity; more volume, less', () => {
    const weights = [1500, 2000, 2500, 3000].map((g) => at({ extract: [extract(g)] }));
    expect(rising(weights.map((m) => m.get('original_gravity')))).toBe(true);
    const volumes = [23, 21, 19, 17].map((L) => at({ intoFermenter_L: given(L) }));
    expect(rising(volumes.map((m) => m.get('original_gravity')))).toBe(true);
  });

  it('more evaporation: less at the end, stronger, more top-up, the same starting gravity but for the trub', () => {
    const runs = [1, 2, 3, 4].map((L) => at({}, { boilOff_L_per_h: own(L) }));
    expect(rising(runs.map((m) => -m.get('boil_end_volume_l')))).toBe(true);
    expect(rising(runs.map((m) => m.get('boil_end_gravity')))).toBe(true);
    expect(rising(runs.map((m) => m.get('top_up_l')))).toBe(true);
    expect(rising(runs.map((m) => m.detail.lost_L - 1e-9 * m.get('boil_end_gravity')))).toBe(false);
    // The trub holds a stronger wort, so a little less extract arrives.
    expect(rising(runs.map((m) => -m.get('original_gravity')))).toBe(true);
  });

  it('a larger boil: weaker wort in it, and more bitterness', () => {
    const runs = [8, 10, 12, 14].map((L) => at({ boilVolume_L: given(L) }));
    expect(rising(runs.map((m) => -m.get('boil_start_gravity')))).toBe(true);
    expect(rising(runs.map((m) => m.get('bitterness_ibu')))).toBe(true);
  });

  it('altitude: less isomerised, more gas lost', () => {
    const runs = [0, 1000, 2000, 3000].map((m) => at({}, { altitude_m: own(m) }));
    expect(rising(runs.map((m) => -m.get('bitterness_ibu')))).toBe(true);
    expect(rising(runs.map((m) => -m.get('residual_co2_vol')))).toBe(true);
  });

  it.each([5, 8, 12.3, 17, 21.7])(
    'a whole boil of %f L leaves nothing to top up, not even a hair below nothing',
    (litres) => {
      const { get } = modelOf(
        { boilVolume_L: null, intoFermenter_L: given(litres, '') },
        { kettle_L: own(60) },
      );
      expect(get('top_up_l')).toBe(0);
    },
  );

  it('the whole boil is taken where it fits, else the largest that fills the pot to 85 %', () => {
    const large = at({ boilVolume_L: null, steep: null, grain: [] }, { kettle_L: own(40) });
    expect(large.get('top_up_l')).toBeCloseTo(0, 6);
    const small = at({ boilVolume_L: null, steep: null, grain: [] });
    expect(small.get('kettle_fill_percent')).toBeCloseTo(85, 4);
    expect(small.get('top_up_l')).toBeGreaterThan(1);
  });

  it('the fullest moment may be the soak: grain takes 0.7 L/kg in the hot water', () => {
    // 12 L at 68 °C are 12 × 998.207 / 978.9 = 12.237 L (water at 68 °C: 978.9 kg/m³); 2 kg of grain take 1.4 L.
    const steep = steepAt(68, 12);
    const { detail } = at(
      { boilVolume_L: given(13), steep, grain: [grain(2000)], extract: [], hops: [] },
      { ...tight, grainAbsorption_L_per_kg: own(3) },
    );
    expect(detail.fullest_L).toBeGreaterThan(13.6);
    expect(detail.fullest_L).toBeCloseTo(12.237 + 1.4, 1);
  });
});
