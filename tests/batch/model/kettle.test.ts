/** The kettle by hand: masses from published densities of sucrose solutions, arithmetic in the comments. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildCase } from '../../../lib/batch/model/build-model-input.ts';
import { designBoil } from '../../../lib/batch/model/design.ts';
import { extractOf, kettleMasses, runKettle } from '../../../lib/batch/model/kettle.ts';
import { runModel } from '../../../lib/batch/model/model.ts';
import { TARGET_INDEX as T } from '../../../lib/batch/model/target-vector.ts';
import { platoOf, WATER_KG_PER_L, waterForVolume } from '../../../lib/formulas/wort.ts';
import { randomBatch } from '../random.ts';
import { boilFor, extract, given, grain, hop } from '../sample.ts';
import { mashAt, modelOf, own, steepAt, tight } from '../sample-plan.ts';

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

  it('water for a volume of wort is what the density asks for', () => {
    // 10 L of 20 °P weigh 10.80977 kg: 2.161954 kg of extract and 8.647816 kg of water.
    expect(waterForVolume(2.161954, 10)).toBeCloseTo(8.647816, 4);
    expect(waterForVolume(0, 10)).toBeCloseTo(9.98207, 3);
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
        const c = buildCase(batch);
        designBoil(c);
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

  it('gives the same masses with and without its minutes', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { batch, wild } = randomBatch(seed);
        if (wild) return;
        const c = buildCase(batch);
        designBoil(c);
        const minutes = runKettle(c);
        const masses = kettleMasses(c);
        for (const key of ['start', 'end', 'chilled'] as const) {
          expect(masses[key].extract_kg).toBeCloseTo(minutes[key].extract_kg, 9);
          expect(masses[key].water_kg).toBeCloseTo(minutes[key].water_kg, 9);
        }
        expect(masses.most_L).toBeCloseTo(minutes.most_L, 9);
      }),
      { numRuns: 300, seed: 20261125 },
    );
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

  it('later extract: more bitterness from the same hops', () => {
    const runs = [60, 45, 30, 15].map((min) =>
      at({ extract: [extract(1500), extract(1100, { add: boilFor(min) })] }),
    );
    expect(rising(runs.map((m) => m.get('bitterness_ibu')))).toBe(true);
  });

  it('more heat, sooner; colder water, later', () => {
    const heats = [1, 1.5, 2, 3].map((kW) => at({}, { heat_kW: own(kW) }));
    expect(rising(heats.map((m) => -m.get('minutes_to_boil')))).toBe(true);
    const taps = [20, 15, 10, 5].map((C) => at({}, { waterTemperature_C: own(C) }));
    expect(rising(taps.map((m) => m.get('minutes_to_steep')))).toBe(true);
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

  it('a steep after a mash has the mash’s wort in the pot as well', () => {
    const mash = mashAt(66, 3);
    const steep = steepAt(68, 4);
    const parts = [grain(2000, { in: 'mash' }), grain(1000)];
    const { c, detail } = at(
      { boilVolume_L: given(9), mash, steep, grain: parts, extract: [], hops: [] },
      tight,
    );
    // 6 L of mash and 4 L of steep water, 2 × 0.75 × 0.7 = 1.05 kg of extract (0.62 L/kg), 1 kg of grain.
    expect(detail.fullest_L).toBeGreaterThan(10 + 0.6 + 0.7);
    expect(runModel(c).outcome[T.kettle_fill_percent]).toBeCloseTo((100 * detail.fullest_L) / 15, 9);
  });
});

describe('the boil by the minute', () => {
  const boil = (parts: readonly ReturnType<typeof extract>[]) => {
    const { c, detail } = modelOf({ ...bare, boilVolume_L: given(10), extract: parts }, tight);
    return { c, run: detail.kettle, at: (left: number) => c.times_min.indexOf(left) };
  };

  it('extract that goes in later counts for the minutes after it', () => {
    // Nothing evaporates: half an hour of one gravity, half an hour of another.
    const { run, at } = boil([extract(1000), extract(1000, { add: boilFor(30) })]);
    const thin = run.gravity_SG[at(60)]!;
    const thick = run.gravity_SG[at(30)]!;
    expect(thick).toBeGreaterThan(thin + 0.02);
    expect(run.gravity_SG[at(31)]).toBe(thin);
    expect(run.gravity_SG[at(0)]).toBe(thick);
    expect(run.meanGravity_SG[at(60)]).toBeCloseTo((thin + thick) / 2, 9);
    expect(run.meanGravity_SG[at(45)]).toBeCloseTo((15 * thin + 30 * thick) / 45, 9);
    expect(run.meanGravity_SG[at(30)]).toBeCloseTo(thick, 9);
    expect(run.meanGravity_SG[at(0)]).toBe(thick);
  });

  it('goes by the minutes left, whatever the order in the recipe', () => {
    const early = extract(1000, { add: boilFor(40) });
    const late = extract(500, { add: boilFor(12) });
    const { c, run, at } = boil([late, early]);
    const other = boil([early, late]).run;
    expect([...run.gravity_SG]).toEqual([...other.gravity_SG]);
    // 1.5 kg at 79 % are 1.185 kg of extract.
    expect(run.end.extract_kg).toBeCloseTo(1.185, 9);
    expect(run.gravity_SG[at(41)]).toBeCloseTo(1, 9);
    expect(run.gravity_SG[at(40)]).toBeGreaterThan(1.02);
    expect(kettleMasses(c).most_L).toBeCloseTo(kettleMasses(boil([early, late]).c).most_L, 12);
    expect(kettleMasses(c).end.extract_kg).toBeCloseTo(1.185, 9);
  });

  it('extract at flame-out makes the last minute’s wort, and no minute before it', () => {
    const { run, at } = boil([extract(1000, { add: { at: 'flameout' } })]);
    expect(run.gravity_SG[at(1)]).toBeCloseTo(1, 9);
    expect(run.gravity_SG[at(0)]).toBeGreaterThan(1.02);
    expect(run.volume_L[at(0)]).toBeGreaterThan(run.volume_L[at(1)]! + 0.5);
    expect(run.most_L).toBeCloseTo(run.volume_L[at(0)]!, 12);
  });

  it('sugar in the stand counts for the fullest moment too', () => {
    const { run, at } = boil([extract(1000, { add: { at: 'stand' } })]);
    expect(run.end.extract_kg).toBe(0);
    expect(run.chilled.extract_kg).toBeCloseTo(0.79, 9);
    expect(run.most_L).toBeGreaterThan(run.volume_L[at(0)]! + 0.5);
  });
});

it('a kettle that is empty, or more than boiled dry, holds nothing of a gravity', () => {
  expect(platoOf({ extract_kg: 0, water_kg: 0 })).toBe(0);
  expect(platoOf({ extract_kg: 1, water_kg: -2 })).toBe(0);
  expect(platoOf({ extract_kg: 1, water_kg: 9 })).toBeCloseTo(10, 12);
  expect(platoOf({ extract_kg: 1, water_kg: 0.01 })).toBe(85);
});

describe('water for more extract than the volume has room for', () => {
  it('is less than none: 2 kg of extract in 1 L, which no syrup of 85 °P holds', () => {
    // The densest syrup of the set, 85 °P, has SG 1.4485: 1.4485 × 0.998207 kg in the litre, less 2 kg.
    expect(waterForVolume(2, 1)).toBeCloseTo(1.4485 * 0.998207 - 2, 2);
    expect(waterForVolume(1, 0.68)).toBeLessThan(0);
  });

  it('of nothing at all is nothing', () => {
    expect(waterForVolume(0, 0)).toBe(0);
  });
});
