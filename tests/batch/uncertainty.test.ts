/** The law of propagation against Monte Carlo: same inputs, same model, no linearisation. */
import { describe, expect, it } from 'vitest';
import { buildCase } from '../../lib/batch/build-case.ts';
import { designBoil } from '../../lib/batch/design.ts';
import { uncertainInputs } from '../../lib/batch/inputs.ts';
import { runModel } from '../../lib/batch/model.ts';
import { TARGET_INDEX } from '../../lib/batch/outcome.ts';
import type { TargetKey } from '../../lib/batch/plan.ts';
import { propagate } from '../../lib/batch/propagate.ts';
import { sampleBatch } from './sample.ts';

/** Mulberry32: a small seeded generator, so that the check is the same every time. */
function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Standard normal, Box and Muller 1958. */
const normal = (random: () => number) =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

const DRAWS = 20_000;
/** 20,000 draws know a standard deviation to 0.5 %; the model is nearly linear over the inputs' uncertainties. */
const AGREEMENT = 0.05;

const KEYS: readonly TargetKey[] = [
  'original_gravity',
  'final_gravity',
  'alcohol_volume_percent',
  'colour_ebc',
  'energy_kcal_per_litre',
  'boil_start_volume_hot_l',
  'boil_end_volume_l',
  'boil_end_gravity',
  'top_up_l',
  'steep_water_c',
  'minutes_to_steep',
  'packaged_volume_l',
  'priming_sugar_g',
  'residual_co2_vol',
  'bottle_pressure_30c_kpa',
];

describe('propagation of uncertainty', () => {
  it('agrees with Monte Carlo within 5 %', () => {
    const batch = sampleBatch();
    const c = buildCase(batch);
    designBoil(c);
    runModel(c);
    const inputs = uncertainInputs(batch, c).filter((input) => !input.oneSided);
    const linear = propagate(c, inputs);
    const random = seeded(20261125);
    const sums = KEYS.map(() => ({ mean: 0, m2: 0 }));
    for (let draw = 1; draw <= DRAWS; draw++) {
      for (const input of inputs) input.set(c, input.u * normal(random));
      const { outcome } = runModel(c);
      KEYS.forEach((key, k) => {
        const value = outcome[TARGET_INDEX[key]]!;
        const sum = sums[k]!;
        const delta = value - sum.mean;
        sum.mean += delta / draw;
        sum.m2 += delta * (value - sum.mean);
      });
    }
    for (const input of inputs) input.set(c, 0);
    const ratios = KEYS.map((key, k) => {
      const variance = linear.variances.reduce((sum, row) => sum + row[TARGET_INDEX[key]]!, 0);
      return [key, Math.sqrt(variance) / Math.sqrt(sums[k]!.m2 / (DRAWS - 1))] as const;
    });
    for (const [key, ratio] of ratios) {
      expect(ratio, key).toBeGreaterThan(1 - AGREEMENT);
      expect(ratio, key).toBeLessThan(1 + AGREEMENT);
    }
  });

  it('leaves the case as it was', () => {
    const batch = sampleBatch();
    const c = buildCase(batch);
    designBoil(c);
    const before = [...runModel(c).outcome];
    propagate(c, uncertainInputs(batch, c));
    expect([...runModel(c).outcome]).toEqual(before);
  });
});
