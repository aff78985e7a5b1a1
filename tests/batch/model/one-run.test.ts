/** Pieces of one run of the model on masses written by hand, against published rows and sums in the comments. */
import { describe, expect, it } from 'vitest';
import { colour, ferment } from '../../../lib/batch/model/beer.ts';
import { bitternessOf } from '../../../lib/batch/model/bitterness.ts';
import type { KettleRun } from '../../../lib/batch/model/kettle.ts';
import type { Case, ExtractPart, HopPart, PackagePart } from '../../../lib/batch/model/model-input.ts';
import { gasTemperature, packaging } from '../../../lib/batch/model/packaging.ts';
import { emptyOutcome, TARGET_INDEX } from '../../../lib/batch/model/target-vector.ts';
import type { TargetKey } from '../../../lib/batch/types/targets.ts';

import { modelOf } from '../sample-plan.ts';

const { c: sample } = modelOf({});
const caseWith = (over: Partial<Case>): Case => ({ ...sample, parts: [], hops: [], packages: [], ...over });

const part = (over: Partial<ExtractPart>): ExtractPart => ({
  item: 'extract[0]',
  name: 'extract',
  kind: 'extract',
  weight_kg: 1,
  yield: 1,
  colour_L: 0,
  fermentability: 1,
  as: 'malt',
  efficiency: 'whole',
  stage: 'boil',
  timeIndex: 0,
  heatsWithWater: false,
  labelBitterness_IBU_L: 0,
  ...over,
});
const hops = (over: Partial<HopPart>): HopPart => ({
  item: 'hops[0]',
  name: 'hops',
  weight_kg: 0.02,
  alpha: 0.05,
  stage: 'boil',
  timeIndex: 0,
  boil_min: 60,
  ...over,
});

function run<R>(of: (out: Float64Array) => R): { returned: R; get: (key: TargetKey) => number } {
  const out = emptyOutcome();
  return { returned: of(out), get: (key) => out[TARGET_INDEX[key]]! };
}

describe('colour', () => {
  const of = (parts: readonly ExtractPart[], share: number, over: Partial<Case> = {}) =>
    run((out) => colour(caseWith({ parts, ...over }), out, { final_L: 3.785411784, share })).get;

  // 2.2046 lb of 10 °L in a US gallon are 22.046 units; Morey: 1.4922 × 22.046^0.6859 = 12.45, of the half 7.74.
  it.each([
    ['whole', 'boil', 1, 12.45],
    ['by what reaches the fermenter', 'boil', 0.5, 7.74],
    ['whole, where it is added there', 'fermenter', 0.5, 12.45],
  ] as const)('of what is in the wort counts %s', (_, stage, share, srm) => {
    const get = of([part({ colour_L: 10, stage })], share);
    expect(get('colour_srm')).toBeCloseTo(srm, 2);
    expect(get('colour_ebc')).toBeCloseTo((25 / 12.7) * srm, 1);
  });

  it('of two halves is that of the whole; none is none, and never less', () => {
    const half = part({ colour_L: 10, weight_kg: 0.5 });
    expect(of([half, half], 1)('colour_srm')).toBeCloseTo(12.45, 2);
    expect(of([], 1)('colour_srm')).toBe(0);
    expect(of([part({ colour_L: 10 })], -0.1)('colour_srm')).toBe(0);
  });

  it('goes with the scale and with the fit', () => {
    expect(of([part({ colour_L: 10 })], 1, { scale: 0.5 })('colour_srm')).toBeCloseTo(7.74, 2);
    expect(of([part({ colour_L: 10 })], 1, { morey: 1.1 })('colour_srm')).toBeCloseTo(1.1 * 12.45, 2);
  });
});

describe('fermentation', () => {
  const wort = { extract_kg: 1.2397, water_kg: 8.7603 };
  const of = (parts: readonly ExtractPart[], over: Partial<Case> = {}, more = { wort, share: 1 }) =>
    run((out) => ferment(caseWith({ parts, attenuation: 0.75, fermentability: 1, ...over }), out, more));
  const REAL = 0.8192 * 0.75;

  it.each<[string, readonly ExtractPart[], Partial<Case>, number, number]>([
    ['malt', [part({})], {}, 1, REAL],
    ['sugar', [part({ as: 'sugar' })], {}, 1, 1],
    ['what does not ferment', [part({ as: 'none' })], {}, 1, 0],
    ['malt that ferments less, 0.6 of it', [part({ fermentability: 0.6 })], {}, 1, 0.6 * REAL],
    // 1 + (0.6 − 1) × 1.5 = 0.4.
    [
      'the same, half as far from base malt again',
      [part({ fermentability: 0.6 })],
      { fermentability: 1.5 },
      1,
      0.4 * REAL,
    ],
    ['malt that would ferment beyond its mass', [part({ fermentability: 2 })], {}, 1, 1],
    ['nothing', [], {}, 1, 0],
    // 2 kg at a yield of a half, of which half reaches the fermenter, and 0.8 kg of sugar there: 0.5 and 0.8.
    [
      'malt in the kettle and honey in the fermenter',
      [part({ weight_kg: 2, yield: 0.5 }), part({ as: 'sugar', yield: 0.8, stage: 'fermenter' })],
      {},
      0.5,
      (0.5 * REAL + 0.8) / 1.3,
    ],
  ])('of %s, by mass', (_, parts, over, share, attenuation) => {
    expect(of(parts, over, { wort, share }).returned).toBeCloseTo(attenuation, 12);
  });

  // Published row 1.050/1.010: OE 12.397, RE 4.345, ABW 4.163, ABV 5.318, 461.6 kcal/L, ADF 79.3 %.
  const published = (get: (key: TargetKey) => number) => {
    expect(get('final_gravity')).toBeCloseTo(1.01, 4);
    expect(get('alcohol_mass_percent')).toBeCloseTo(4.163, 2);
    expect(get('alcohol_volume_percent')).toBeCloseTo(5.318, 2);
    expect(get('energy_kcal_per_litre')).toBeCloseTo(461.6, 0);
    expect(get('apparent_attenuation_percent')).toBeCloseTo(79.3, 1);
  };
  const attenuation = (12.397 - 2.568) / 12.397;

  it('of 1.050 to 1.010', () => {
    published(of([part({})], { attenuation }).get);
  });

  it('of the same, made with a kilogram of syrup in the fermenter', () => {
    // 0.8 kg of extract and 0.2 kg of water come later.
    const syrup = part({ yield: 0.8, stage: 'fermenter' });
    const thin = { extract_kg: 1.2397 - 0.8, water_kg: 8.7603 - 0.2 };
    published(of([part({}), syrup], { attenuation }, { wort: thin, share: 1 }).get);
  });

  it('to 1.010 as it was read, whatever the yeast was to do', () => {
    for (const stated of [0.6, 0.9, Number.NaN]) {
      const { returned, get } = of([part({})], { attenuation: stated, finalRead_SG: 1.01 });
      published(get);
      expect(get('final_gravity')).toBe(1.01);
      expect(returned).toBeCloseTo(1 - 4.345 / 12.397, 3);
    }
  });

  it('of water is none, read or not', () => {
    const water = { wort: { extract_kg: 0, water_kg: 10 }, share: 1 };
    expect(of([], {}, water).returned).toBe(0);
    const { returned, get } = of([], { finalRead_SG: 1 }, water);
    expect(returned).toBe(0);
    expect(get('apparent_attenuation_percent')).toBeNaN();
    expect(get('alcohol_volume_percent')).toBeCloseTo(0, 9);
  });

  it('without yeast and without a reading is none, and sets nothing', () => {
    const { returned, get } = of([part({})], { attenuation: Number.NaN });
    expect(returned).toBeNaN();
    expect(get('final_gravity')).toBeNaN();
  });
});

describe('bitterness', () => {
  const SG = (...values: number[]) => Float64Array.from(values);
  /** At the boil's start 1.040, at its end 1.060, 1.050 on average. */
  const kettle = { gravity_SG: SG(1.04, 1.06), meanGravity_SG: SG(1.05, 1.06) } as unknown as KettleRun;
  const of = (over: Partial<Case>, run_ = kettle, boil_C = 100) =>
    bitternessOf(
      caseWith({ boil_min: 60, standMinutes: 0, chillIn_min: 0, chillTo_C: 22, water_C: 12, ...over }),
      run_,
      {
        boil_C,
        final_L: 20,
        share: 0.9,
      },
    );

  // 1000 mg of alpha acids in 20 L, of which 0.9 is kept: 45 IBU × Tinseth's table.
  it.each([
    ['an hour at 1.050', {}, 60, 1.05, 0.231],
    ['a quarter of an hour at the end’s 1.060', { timeIndex: 1, boil_min: 15 }, 15, 1.06, 0.105],
  ] as const)('%s', (_, over, minutes, gravity, utilisation) => {
    const { ibu, hopRows } = of({ hops: [hops(over)] });
    expect(hopRows[0]!.meanGravity_SG).toBe(gravity);
    expect(hopRows[0]!.equivalent_min).toBeCloseTo(minutes, 9);
    expect(hopRows[0]!.utilisation).toBeCloseTo(utilisation, 3);
    expect(ibu / (45 * utilisation)).toBeCloseTo(1, 2);
  });

  it('is the sum over the hops, in proportion to weight, alpha acids, scale and the fit', () => {
    const once = of({ hops: [hops({})] }).ibu;
    expect(of({ hops: [hops({}), hops({})] }).ibu).toBeCloseTo(2 * once, 9);
    expect(of({ hops: [hops({ weight_kg: 0.06 })] }).ibu).toBeCloseTo(3 * once, 9);
    expect(of({ hops: [hops({ alpha: 0.1 })] }).ibu).toBeCloseTo(2 * once, 9);
    expect(of({ hops: [hops({})], scale: 1.01 }).ibu).toBeCloseTo(1.01 * once, 9);
    expect(of({ hops: [hops({})], tinseth: 0.8 }).ibu).toBeCloseTo(0.8 * once, 9);
  });

  // 20 min at 80 °C are worth 3.315 at 100 (k1 0.00207 and 0.01249, Malowicki & Shellhammer 2005).
  it.each([
    ['boil', 60, 63.315, 1.05],
    ['flameout', 0, 3.315, 1.06],
    ['stand', 0, 3.315, 1.06],
    ['steep', 0, 0, 1.06],
  ] as const)('a stand, for hops of the %s', (stage, boil_min, minutes, gravity) => {
    const { hopRows } = of({ hops: [hops({ stage, boil_min })], standMinutes: 20, stand_C: 80 });
    expect(hopRows[0]!.equivalent_min).toBeCloseTo(stage === 'steep' ? 0 : minutes, 1);
    expect(hopRows[0]!.meanGravity_SG).toBe(gravity);
  });

  // 40 minutes to 22 °C in water of 12 °C are worth 2.7 at the boil: by hand from the published rates.
  it.each([
    ['flameout', 0, 2.7],
    ['boil', 3, 3 + 0.8 * 2.7],
    ['boil', 12, 12 + 0.2 * 2.7],
    ['boil', 15, 15],
    ['boil', 60, 60],
    ['steep', 0, 0],
  ] as const)('the chill, for hops of the %s with %d minutes left', (stage, boil_min, minutes) => {
    const { hopRows } = of({ hops: [hops({ stage, boil_min })], chillIn_min: 40 });
    expect(hopRows[0]!.equivalent_min).toBeCloseTo(minutes, 1);
  });

  it('a chill that does not cool, or of a wort that was never hot, is worth nothing', () => {
    const late = { hops: [hops({ stage: 'flameout', boil_min: 0 })], chillIn_min: 40 };
    expect(of({ ...late, chillTo_C: 99.5 }).ibu).toBe(0);
    expect(of({ ...late, boil_min: 0 }).ibu).toBe(0);
    // Colder than its own bath: the bath is taken to be colder still.
    expect(of({ ...late, chillTo_C: 10 }).ibu).toBeGreaterThan(0);
  });

  it('at 1,900 m, where water boils at 93.65 °C, an hour gives about a third less: 0.70 by the published rates', () => {
    const bitterness = (boil_C: number) => of({ hops: [hops({})] }, kettle, boil_C).ibu;
    expect(bitterness(93.65) / bitterness(100)).toBeCloseTo(0.7, 2);
  });

  it('dry hops have no row, and syrups and days of boiling are taken at the end of the curve', () => {
    expect(of({ hops: [hops({ stage: 'dry' })] })).toEqual({ ibu: 0, hopRows: [], kitBitterness: [] });
    const thick = { gravity_SG: SG(1.4), meanGravity_SG: SG(1.4) } as unknown as KettleRun;
    const end = { gravity_SG: SG(1.3), meanGravity_SG: SG(1.3) } as unknown as KettleRun;
    expect(of({ hops: [hops({})] }, thick).ibu).toBe(of({ hops: [hops({})] }, end).ibu);
    expect(of({ hops: [hops({ boil_min: 5000 })] }).ibu).toBe(of({ hops: [hops({ boil_min: 1000 })] }).ibu);
  });

  it('a kit’s label: 24 IBU in 23 L are 27.6 in 20, less what stays in the kettle', () => {
    const kit = (stage: ExtractPart['stage']) => part({ labelBitterness_IBU_L: 24 * 23, stage });
    const { ibu, kitBitterness } = of({ parts: [kit('boil'), part({}), kit('fermenter')] });
    expect(kitBitterness.map((row) => row.ibu)).toEqual([
      expect.closeTo(0.9 * 27.6, 9),
      expect.closeTo(27.6, 9),
    ]);
    expect(ibu).toBeCloseTo(1.9 * 27.6, 9);
  });
});

describe('packaging', () => {
  const filled = (over: Partial<PackagePart>): PackagePart => ({
    into: 'bottles',
    carbonation_vol: 2.5,
    volume_L: Number.NaN,
    bottle_L: 0.5,
    co2_g_per_g: 0.5143,
    serving_C: Number.NaN,
    sugar_g: Number.NaN,
    ...over,
  });
  const keg = (over: Partial<PackagePart>) =>
    filled({ into: 'keg', co2_g_per_g: 0, bottle_L: Number.NaN, serving_C: 4, ...over });
  const of = (packages: readonly PackagePart[], over: Partial<Case> = {}) =>
    run((out) => {
      const c = caseWith({
        packages,
        fermenterLoss_L: 0,
        warmest_C: 20,
        co2Yield: 1,
        beerSolubility: 1,
        kegSolubility: 0,
        packagedRead_L: Number.NaN,
        ...over,
      });
      return packaging(c, out, 20, 101.325);
    });

  it.each<[string, Partial<Case>, number]>([
    ['all of it', {}, 20],
    ['less what stays on the yeast', { fermenterLoss_L: 0.7 }, 19.3],
    [
      'and in the dry hops alone, 6 L a kilogram',
      { hops: [hops({ stage: 'dry', weight_kg: 0.05 }), hops({})], hopAbsorption_L_per_kg: 6 },
      19.7,
    ],
    ['never less than none', { fermenterLoss_L: 30 }, 0],
    ['as it was read', { fermenterLoss_L: 0.7, packagedRead_L: 17 }, 17],
  ])('there is %s', (_, over, volume_L) => {
    expect(of([filled({})], over).get('packaged_volume_l')).toBeCloseTo(volume_L, 9);
  });

  // At 20 °C 0.846 volumes are left, at 0 °C 1.705 (Weiss 1974).
  it.each([
    [20, 1, 0.846],
    [0, 1, 1.705],
    [-2, 1, 1.705],
    [20, 0.97, 0.97 * 0.846],
  ])(
    'beer that was at %f °C and holds %f of what water does keeps %f volumes',
    (warmest_C, beerSolubility, vol) => {
      expect(of([filled({})], { warmest_C, beerSolubility }).get('residual_co2_vol')).toBeCloseTo(vol, 2);
    },
  );

  it('is reckoned inside the range of the gas law', () => {
    expect([-1, 0, 20, 40, 45].map(gasTemperature)).toEqual([0, 0, 20, 40, 40]);
  });

  it('sugar for what is missing: (2.5 − 0.846) × 20 × 1.9768 / 0.5143 = 127.2 g, more where less of it becomes gas', () => {
    expect(of([filled({})]).get('priming_sugar_g')).toBeCloseTo(127.2, 0);
    expect(of([filled({})], { co2Yield: 0.95 }).get('priming_sugar_g')).toBeCloseTo(127.2 / 0.95, 0);
  });

  it('open parts share what the others leave; sugar and bottles are summed, the liveliest has its pressure told', () => {
    const parts = [
      filled({ volume_L: 4, carbonation_vol: 2 }),
      filled({ bottle_L: 0.25 }),
      filled({ carbonation_vol: 3, bottle_L: Number.NaN }),
    ];
    const { returned, get } = of(parts);
    expect(returned.map(({ volume_L }) => volume_L)).toEqual([4, 8, 8]);
    expect(returned.map(({ volumes }) => volumes)).toEqual([2, 2.5, 3].map((vol) => expect.closeTo(vol, 9)));
    // 8 + 32, and of the third nobody said what it goes into.
    expect(get('bottles')).toBeCloseTo(40, 9);
    // 88.7, 127.2 and 165.6 g for 20 L each.
    expect(get('priming_sugar_g')).toBeCloseTo(0.2 * 88.7 + 0.4 * 127.2 + 0.4 * 165.6, 0);
    expect(get('bottle_pressure_20c_kpa') / 100).toBeCloseTo(2.57, 1);
    expect(get('bottle_pressure_30c_kpa') / 100).toBeCloseTo(3.71, 1);
    const turned = of([parts[2]!, parts[1]!, parts[0]!].map((one) => ({ ...one, sugar_g: Number.NaN })));
    expect(turned.get('bottle_pressure_30c_kpa')).toBe(get('bottle_pressure_30c_kpa'));
  });

  it('parts that want more than there is leave the open one nothing: no sugar, and only the gas that was there', () => {
    const { returned } = of([filled({ volume_L: 21, co2_g_per_g: 0 }), filled({})]);
    expect(returned[1]!.volume_L).toBe(0);
    expect(returned[1]!.part.sugar_g).toBe(0);
    expect(returned[1]!.volumes).toBeCloseTo(0.846, 2);
  });

  it('sugar once weighed is held: what was for 2.5 volumes in 20 L makes (2.5 − 0.846) × 2 + 0.846 in 10', () => {
    const bottles = filled({});
    of([bottles]);
    const { returned } = of([bottles], { packagedRead_L: 10 });
    expect(returned[0]!.volumes).toBeCloseTo(1.654 * 2 + 0.846, 2);
    // Nine tenths of it as gas, as much less.
    expect(of([bottles], { co2Yield: 0.9 }).returned[0]!.volumes).toBeCloseTo(0.9 * 1.654 + 0.846, 2);
  });

  it('unprimed beer has what was asked for, and no less than it kept', () => {
    const asked = (carbonation_vol: number) => of([keg({ carbonation_vol })]).returned[0]!.volumes;
    expect(asked(2.5)).toBe(2.5);
    expect(asked(0.5)).toBeCloseTo(0.846, 2);
  });

  // Water without head space: 10.5 psi for 2.5 volumes at 4 °C (Weiss 1974).
  it('a keg: 10.5 psi at 4 °C, the liveliest of several, no less than none and no more than the law reaches', () => {
    const psi = (...parts: PackagePart[]) => of(parts).get('keg_pressure_kpa') / 6.894757;
    expect(Math.abs(psi(keg({})) - 11.8)).toBeLessThan(0.1);
    expect(psi(keg({ carbonation_vol: 1.5 }), keg({}), keg({ carbonation_vol: 2 }))).toBe(psi(keg({})));
    expect(psi(keg({ carbonation_vol: 0.2 }))).toBe(0);
    expect(psi(keg({ carbonation_vol: 30 }))).toBe(psi(keg({ carbonation_vol: 20 })));
    expect(psi(keg({ serving_C: -3 }))).toBe(psi(keg({ serving_C: 0 })));
    expect(of([keg({ carbonation_vol: 20, serving_C: 40 })]).get('keg_pressure_kpa')).toBeLessThanOrEqual(
      5000,
    );
  });

  it('beer that holds half of what water does stands under the pressure of twice the gas', () => {
    const half = { beerSolubility: 0.5 };
    // 0.95 of water's in the cold, less 0.475.
    const keg_kPa = (over: Partial<PackagePart>, more: Partial<Case> = {}) =>
      of([keg(over)], more).get('keg_pressure_kpa');
    expect(keg_kPa({ carbonation_vol: 1.25 }, { kegSolubility: -0.475 })).toBeCloseTo(keg_kPa({}), 9);
    // 0.97 from 8 to 12 °C, and water's own above.
    expect(keg_kPa({ serving_C: 8 })).toBeCloseTo(keg_kPa({ serving_C: 8 }, { kegSolubility: 0 }), 9);
    expect(keg_kPa({ serving_C: 13 })).toBeLessThan(keg_kPa({ serving_C: 13 }, { kegSolubility: -0.03 }));
    // 1.5 volumes as 3: 2.57 and 3.71 bar.
    const { get } = of([filled({ carbonation_vol: 1.5 })], half);
    expect(get('bottle_pressure_20c_kpa') / 100).toBeCloseTo(2.57, 1);
    expect(get('bottle_pressure_30c_kpa') / 100).toBeCloseTo(3.71, 1);
  });

  it('bottles say nothing of kegs, and kegs nothing of bottles or sugar', () => {
    const { get } = of([keg({})]);
    expect(get('bottles')).toBeNaN();
    expect(get('priming_sugar_g')).toBeNaN();
    expect(get('bottle_pressure_20c_kpa')).toBeNaN();
    expect(get('bottle_pressure_30c_kpa')).toBeNaN();
    expect(of([filled({})]).get('keg_pressure_kpa')).toBeNaN();
  });
});
