/** Readings: reduced, held against the range, explained, and put in the place of what was planned. */
import { describe, expect, it } from 'vitest';
import { explain } from '../../../lib/batch/judgment/likely-cause.ts';
import { verdict } from '../../../lib/batch/judgment/verdicts.ts';
import { buildCase } from '../../../lib/batch/model/build-model-input.ts';
import { designBoil } from '../../../lib/batch/model/design.ts';
import { runModel } from '../../../lib/batch/model/model.ts';
import { TARGET_INDEX } from '../../../lib/batch/model/target-vector.ts';
import { asBrewed } from '../../../lib/batch/readings/as-brewed.ts';
import { correction } from '../../../lib/batch/readings/corrections.ts';
import { observations } from '../../../lib/batch/readings/normalise-readings.ts';
import type { Readings } from '../../../lib/batch/types/readings.ts';
import type { TargetKey } from '../../../lib/batch/types/targets.ts';
import { uncertainInputs } from '../../../lib/batch/uncertainty/inputs.ts';
import { roundOutward } from '../../../lib/batch/uncertainty/printed.ts';
import { propagate } from '../../../lib/batch/uncertainty/propagate.ts';
import type { GivenGravity, GivenVolume } from '../../../lib/units/parse/given.ts';
import { given, sampleBatch, sampleRecipe, sampleSetup } from '../sample.ts';
import { own, planOf } from '../sample-plan.ts';

const sg = (value: number, sample_C: number | null = null, u: number | null = null): GivenGravity => ({
  scale: 'sg',
  value,
  u,
  sample_C,
  written: String(value),
});
const litres = (value: number, at_C: number | null = null): GivenVolume => ({
  value,
  u: null,
  at_C,
  written: '',
});

function reduced(
  readings: Readings,
  setup = sampleSetup(),
): ReadonlyMap<string, { value: number | null; u: number }> {
  const batch = sampleBatch({ readings, setup });
  const c = designBoil(buildCase(batch));
  const { outcome, detail } = runModel(c);
  return new Map(observations(batch, outcome, detail).map((one) => [one.key, one]));
}

describe('reduced readings', () => {
  it('a hydrometer at 20 °C in a sample of 40 and of 60 °C (derived from the sucrose densities, ± 0.6 and 1 point)', () => {
    const read = reduced({ boil_start_gravity: sg(1.04, 40), original_gravity: sg(1.04, 60) });
    expect(Math.abs(read.get('boil_start_gravity')!.value! - 1.04633)).toBeLessThan(0.0006);
    expect(Math.abs(read.get('original_gravity')!.value! - 1.05562)).toBeLessThan(0.001);
  });

  it('one made for 60 °F shows 1.050 at 20 °C in a wort of 1.05074', () => {
    const hydrometer = { at_C: own(15.556), step: 0.002, u: 0.001, assumed: false };
    const read = reduced({ original_gravity: sg(1.05, 20) }, sampleSetup({ hydrometer }));
    expect(Math.abs(read.get('original_gravity')!.value! - 1.05074)).toBeLessThan(0.0003);
  });

  it('9.7 L boiling hot are 9.31 L at 20 °C (water shrinks by 3.99 %, IAPWS); @ says otherwise', () => {
    const read = reduced({ boil_start_volume: litres(9.7), boil_end_volume: litres(9.7, 60) });
    // A 12 °P wort is within 0.07 % of water.
    expect(read.get('boil_start_volume')!.value! / (9.7 * (1 - 0.0399))).toBeCloseTo(1, 2);
    expect(read.get('boil_end_volume')!.value! / (9.7 * (1 - 0.015))).toBeCloseTo(1, 2);
  });

  it('11.8 °Bx at a factor of 1.04 are 11.35 °P, 1.0457', () => {
    // 11.8 / 1.04 = 11.346 °P; SG between 10.004 °P (1.040) and 12.397 °P (1.050): 1.0456.
    const read = reduced({ original_gravity: { ...sg(11.8), scale: 'brix' } });
    expect(read.get('original_gravity')!.value!).toBeCloseTo(1.0456, 3);
  });

  it('a fermented 6 °Bx of a wort of 12 is 1.0117 (Terrill 2011), known to 3 points', () => {
    const readings: Readings = {
      original_gravity: { ...sg(12.48), scale: 'brix' },
      final_gravity: { ...sg(6.24), scale: 'brix' },
    };
    const read = reduced(readings).get('final_gravity')!;
    expect(read.value).toBeCloseTo(1.01168, 4);
    expect(2 * read.u).toBeCloseTo(0.003, 9);
  });

  it('an uncertainty written in °P becomes one in gravity: 0.25 °P are about a point', () => {
    const read = reduced({ original_gravity: { ...sg(12), scale: 'plato', u: 0.25 } }).get(
      'original_gravity',
    )!;
    expect(read.value).toBeCloseTo(1.04833, 5);
    expect(read.u).toBeCloseTo(0.00105, 5);
  });

  it('what was not taken is known as such; what no instrument can show keeps its fault', () => {
    const read = reduced({ boil_end_volume: 'not taken', original_gravity: sg(1.05, 95) });
    expect(read.get('boil_end_volume')!.value).toBeNull();
    expect(read.get('original_gravity')).toMatchObject({
      value: null,
      fault: 'sample temperature in °C must be from 0 to 80, not 95',
    });
    const plan = planOf(
      sampleBatch({ readings: { original_gravity: sg(1.05, 95), boil_end_volume: 'not taken' } }),
    );
    expect(plan.readings.original_gravity?.verdict).toBeNull();
    expect(plan.readings.boil_end_volume).toMatchObject({ verdict: 'not_taken' });
    expect(plan.judgments.find(({ key }) => key === 'original_gravity')?.cause?.code).toBe('fault');
  });
});

it('a sample that is too hot takes no other gravity with it', () => {
  const read = reduced({
    boil_end_gravity: sg(1.09, 20),
    original_gravity: sg(1.045, 85),
    fermentation: [
      { on: { date: '2026-02-20', clock: null }, gravity: sg(1.014, 20), temperature_C: null, note: null },
    ],
    final_gravity: sg(1.01, 20),
  });
  expect(read.get('original_gravity')!.value).toBeNull();
  for (const key of ['boil_end_gravity', 'fermentation[0].gravity', 'final_gravity'])
    expect(read.get(key)!.value).not.toBeNull();
});

describe('printed ranges and verdicts', () => {
  it.each([
    [1.0414, 1.0479, 0.002, 1.04, 1.048],
    [1.04, 1.048, 0.002, 1.04, 1.048],
    [1.0401, 1.0481, 0.001, 1.04, 1.049],
    [18.71, 19.29, 0.1, 18.7, 19.3],
    [66.2, 69.8, 1, 66, 70],
    [101, 119.5, 5, 100, 120],
    [-0.32, 0.41, 0.1, -0.4, 0.5],
  ])('%f to %f in steps of %f is printed as %f to %f', (low, high, step, from, to) => {
    expect(roundOutward(low, high, step)).toEqual({ low: from, high: to });
  });

  const printed = { low: 1.04, high: 1.048 };
  it.each([
    [1.044, 'fine'],
    [1.04, 'fine'],
    [1.048, 'fine'],
    [1.0401, 'fine'],
    [1.0399, 'a_little_off'],
    [1.036, 'a_little_off'],
    [1.052, 'a_little_off'],
    [1.0359, 'off'],
    [1.0521, 'off'],
  ] as const)('%f against 1.040 to 1.048 is %s', (reading, word) => {
    expect(verdict(reading, printed)).toBe(word);
  });
});

/** Mixing back, with nothing of the code under test: published densities, straight lines between them. */
const TABLE = [
  [0, 0.998207],
  [1, 1.002068],
  [5, 1.017805],
  [10, 1.038115],
  [12, 1.046444],
  [15, 1.059162],
  [20, 1.080977],
  [25, 1.103591],
] as const;
function density(plato: number): number {
  const i = Math.max(
    1,
    TABLE.findIndex(([p]) => p >= plato),
  );
  const [p0, d0] = TABLE[i - 1]!;
  const [p1, d1] = TABLE[i]!;
  return d0 + ((d1 - d0) * (plato - p0)) / (p1 - p0);
}

describe('corrections, mixed back', () => {
  const batch = sampleBatch();
  const c = designBoil(buildCase(batch));
  // Chords between the printed densities are off by 0.0002 at most.
  const near = (plato: number, wanted_SG: number) => Math.abs(density(plato) / 0.998207 - wanted_SG);

  it('water brings a strong wort down', () => {
    const mend = correction({ batch, c, reading_SG: 1.04833, volume_L: 18, target_SG: 1.03998 });
    // 18 L × 1.046444 kg/L of 12 °P.
    const mass = 18 * 1.046444;
    const mixed = (12 * mass) / (mass + mend.addWater_L! * 0.998207);
    expect(near(mixed, 1.03998)).toBeLessThan(0.0001);
    expect(mend.addExtract_g).toBeNull();
    expect(mend.boilOn_min).toBeNull();
  });

  it('extract or boiling brings a weak one up', () => {
    const mend = correction({ batch, c, reading_SG: 1.03998, volume_L: 18, target_SG: 1.04833 });
    const mass = 18 * 1.038115;
    expect(mend.extract).toEqual({ name: 'pale liquid extract', yield: 0.79 });
    const syrup = mend.addExtract_g! / 1000;
    expect(near((100 * (0.1 * mass + 0.79 * syrup)) / (mass + syrup), 1.04833)).toBeLessThan(0.0001);
    const boiled = (mend.boilOn_min! / 60) * c.boilOff_L_per_h * 0.998207;
    expect(near((10 * mass) / (mass - boiled), 1.04833)).toBeLessThan(0.0001);
    expect(mend.addWater_L).toBeNull();
  });

  it('the strip on the paper has its fine row in the middle, and rows that follow on each other', () => {
    const plan = planOf(batch);
    const rows = plan.corrections;
    const fine = rows.find((row) => row.meaning === 'fine')!;
    expect(fine).toMatchObject(
      plan.targets.original_gravity!.printed.low === fine.from
        ? { to: plan.targets.original_gravity!.printed.high }
        : { from: -1 },
    );
    for (const row of rows) {
      if (row.from !== null && row.to !== null) expect(row.to).toBeGreaterThanOrEqual(row.from);
    }
    for (let i = 1; i < rows.length; i++) {
      if (rows[i]!.from !== null && rows[i - 1]!.to !== null)
        expect(rows[i]!.from!).toBeGreaterThan(rows[i - 1]!.to! - 1e-9);
    }
  });
});

describe('the likeliest cause', () => {
  /** A day on which one input was out by some standard uncertainties, read without error. */
  function causesOf(
    label: string,
    by: number,
    keys: readonly [string, TargetKey][],
    batch = sampleBatch(),
  ): Map<string, string> {
    const c = designBoil(buildCase(batch));
    runModel(c);
    const inputs = uncertainInputs(batch, c);
    const propagation = propagate(c, inputs);
    const input = inputs.find((one) => one.label === label);
    if (!input) throw new Error(`no input ${label}: ${inputs.map((one) => one.label).join(', ')}`);
    const real = input.moved(c, by * input.u, (moved) => runModel(moved)).outcome;
    const readings = keys.map(([key, target]) => ({
      key,
      target,
      value: real[TARGET_INDEX[target]]!,
      u: key.endsWith('gravity') ? 0.0005 : 0.1,
    }));
    return explain(readings, propagation, inputs, 19);
  }
  const day: readonly [string, TargetKey][] = [
    ['boil_start_volume', 'boil_start_volume_l'],
    ['boil_start_gravity', 'boil_start_gravity'],
    ['boil_end_volume', 'boil_end_volume_l'],
    ['boil_end_gravity', 'boil_end_gravity'],
    ['original_gravity', 'original_gravity'],
  ];

  it('too much evaporation is seen in the volume at the end', () => {
    expect(causesOf('boil-off', 4, day).get('boil_end_volume')).toBe('boil-off');
  });

  it('a wrong mark on the kettle is seen in the volume at the start', () => {
    expect(causesOf("the kettle's volume mark", 4, day).get('boil_start_volume')).toBe(
      "the kettle's volume mark",
    );
  });

  it('a fermenter filled too far explains its weak wort', () => {
    const readings: Readings = { original_gravity: sg(1.032), fermenter_volume: litres(24) };
    const plan = planOf(sampleBatch({ readings }));
    expect(plan.readings.original_gravity!.likeliest_cause).toBe('the volume in the fermenter');
  });

  it('a lone reading far off among good ones is the reading itself', () => {
    const plan = planOf(sampleBatch());
    const at = (key: TargetKey) => plan.targets[key]!.value;
    const readings: Readings = {
      boil_start_volume: litres(at('boil_start_volume_hot_l')),
      boil_start_gravity: sg(at('boil_start_gravity') - 0.02),
      boil_end_volume: litres(at('boil_end_volume_hot_l')),
      boil_end_gravity: sg(at('boil_end_gravity')),
      original_gravity: sg(at('original_gravity')),
    };
    const read = planOf(sampleBatch({ readings })).readings.boil_start_gravity!;
    expect(read).toMatchObject({ verdict: 'off', likeliest_cause: 'the reading itself' });
  });
});

describe('the batch as brewed', () => {
  const readings: Readings = {
    boil_start_volume: litres(11.2),
    boil_start_gravity: sg(1.045),
    boil_end_volume: litres(8.8),
    boil_end_gravity: sg(1.098),
    original_gravity: sg(1.05),
    fermenter_volume: litres(18.5, 20),
    warmest_after: given(20),
    final_gravity: sg(1.01),
    packaged: [
      {
        on: { date: '2026-03-01', clock: null },
        into: null,
        volume: litres(17.6, 20),
        temperature_C: null,
        sugar_g: given(100),
        bottles: 34,
      },
    ],
  };
  const brewedBy = (own: Readings, recipe = sampleRecipe()) => {
    const batch = sampleBatch({ readings: own, recipe });
    const c = designBoil(buildCase(batch));
    const { outcome, detail } = runModel(c);
    return asBrewed(batch, c, observations(batch, outcome, detail));
  };
  const _plan = planOf(sampleBatch({ readings }));
  const as_brewed = brewedBy(readings)!;
  const brewed = (key: TargetKey) => as_brewed[key]!.value;

  it('has the alcohol and the energy of the published row 1.050/1.010: 5.318 %, 4.163 %, 461.6 kcal/L', () => {
    expect(brewed('alcohol_volume_percent')).toBeCloseTo(5.318, 2);
    expect(brewed('alcohol_mass_percent')).toBeCloseTo(4.163, 2);
    expect(brewed('energy_kcal_per_litre')).toBeCloseTo(461.6, 0);
    expect(brewed('apparent_attenuation_percent')).toBeCloseTo(79.3, 1);
  });

  it('knows the alcohol as the two gravities do: 0.00108 each make 0.205 % (JCGM 100, sensitivities 135.4 and 132.4)', () => {
    const abv = as_brewed.alcohol_volume_percent!;
    expect((abv.high - abv.low) / 4).toBeCloseTo(0.205, 2);
  });

  it('reckons the carbonation from the sugar and the volume that were there', () => {
    // 0.96 × 100 g × 0.5143 / (17.6 L × 1.9768) = 1.419 vol on top of 0.846 at 20 °C: 2.265 vol, 1.69 bar at 20 °C.
    // The published row: 2.0 vol 1.37 bar, 2.5 vol 1.97 bar.
    expect(brewed('bottle_pressure_20c_kpa') / 100).toBeCloseTo(1.37 + (0.265 / 0.5) * 0.6, 1);
    // Missing 2.3 − 0.846 = 1.454 vol × 17.6 × 1.9768 / (0.96 × 0.5143) = 102.5 g.
    expect(brewed('priming_sugar_g')).toBeCloseTo(102.5, 0);
  });
});
