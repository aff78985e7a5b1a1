/**
 * Simulated archives: do intervals that say 90 % hold the truth nine times in ten?
 *
 * Five hundred kits are drawn from what the setup believes, each brews eight batches, and its readings are learned from. The
 * bounds are the task's own, 85 to 95 %; five hundred draws of a true 90 % scatter by 1.3 % (binomial).
 */
import { describe, expect, it } from 'vitest';
import { DEFAULT_BREWERY } from '../../../lib/archive/schema/brewery-schema.ts';
import { createLearner } from '../../../lib/batch/learning/archive.ts';
import { batchToPlan } from '../../../lib/batch/learning/use.ts';
import { planBatch } from '../../../lib/batch/plan/plan-batch.ts';
import type { Batch } from '../../../lib/batch/types/batch.ts';
import { LEARNED_KEYS, type Learned } from '../../../lib/batch/types/learning.ts';
import { randomFrom } from './random.ts';
import { brew, drawTruth } from './simulate.ts';

const RUNS = 500;
const BATCHES = 8;
/** Archives that plan one more batch; two plans each. */
const PLANNED = 200;
/** Two-sided 90 % of the normal distribution (Abramowitz & Stegun, table 26.5). */
const Z = 1.645;

/** Simulated brewers chill as far as they are asked to, from which nothing is learned. */
const KIT_KEYS = LEARNED_KEYS.filter((key) => key !== 'chill.to');
const FIGURES = [...KIT_KEYS, 'attenuation'] as const;
const everything = { before: null, counts: () => true };

function run(seed: number): Record<string, { learned: Learned; truth: number }> {
  const random = randomFrom(seed);
  const truth = drawTruth(random);
  const batches = Array.from({ length: BATCHES }, (_, i) => brew(truth, i, random));
  const learner = createLearner(batches);
  const setup = learner.setup(batches[0]!.setup, everything);
  const [yeast] = learner.yeasts(everything);
  const figures = KIT_KEYS.map((key) => [key, { learned: setup[key]!, truth: truth.kit[key] }] as const);
  return {
    ...Object.fromEntries(figures),
    attenuation: { learned: yeast!.attenuation, truth: truth.attenuation },
  };
}

describe(`${RUNS} simulated archives of ${BATCHES} batches`, () => {
  const runs = Array.from({ length: RUNS }, (_, i) => run(1000 + i));

  it.each(FIGURES)('%s: intervals of nine in ten hold the truth in 85 to 95 of 100', (key) => {
    const inside = runs.filter((one) => {
      const { learned, truth } = one[key]!;
      return Math.abs(learned.value - truth) <= Z * learned.u;
    }).length;
    expect(inside / RUNS).toBeGreaterThanOrEqual(0.85);
    expect(inside / RUNS).toBeLessThanOrEqual(0.95);
  });

  it.each(FIGURES)('%s: is known better than before, and not lopsided', (key) => {
    const better = runs.filter((one) => one[key]!.learned.u < one[key]!.learned.prior.u).length;
    expect(better).toBe(RUNS);
    const above = runs.filter((one) => one[key]!.learned.value > one[key]!.truth).length;
    // Half of them, within four standard deviations of a fair coin (0.022 each).
    expect(above / RUNS).toBeGreaterThan(0.41);
    expect(above / RUNS).toBeLessThan(0.59);
  });

  it('ranges of final gravity planned with what was learned hold the next reading, and are mostly narrower', () => {
    let inside = 0;
    let narrower = 0;
    const seeds = Array.from({ length: PLANNED }, (_, i) => 1000 + i);
    for (const seed of seeds) {
      const random = randomFrom(seed);
      const truth = drawTruth(random);
      const brewed = Array.from({ length: BATCHES + 2 }, (_, i) => brew(truth, i, random));
      const next = brewed.at(-1)!;
      const using: Batch = { ...next, setup: { ...next.setup, learned: 'use' } };
      const { batch, used } = batchToPlan(using, createLearner(brewed));
      expect(used.find(({ key }) => key === 'attenuation')?.batches).toBeGreaterThan(BATCHES / 2);
      const [with_, without] = [batch, next].map((one) => {
        const result = planBatch({ ...one, readings: {} }, DEFAULT_BREWERY);
        if (!result.ok) throw new Error('no plan');
        return result.plan.targets.final_gravity!;
      });
      const read = next.readings.final_gravity;
      if (read === undefined || read === 'not taken') throw new Error('no reading');
      if (read.value >= with_!.low && read.value <= with_!.high) inside++;
      if (with_!.high - with_!.low < without!.high - without!.low) narrower++;
    }
    // Two standard uncertainties either way: 95 of 100, give or take 1.5 (binomial, 200 draws); less than 90 would be four of them.
    expect(inside / PLANNED).toBeGreaterThan(0.9);
    // Where brews scatter more than the instruments explain, the range is as wide as they scatter.
    expect(narrower / PLANNED).toBeGreaterThan(0.75);
  });

  it('calls few honest readings outliers: three sigma are passed once in 370', () => {
    const points = runs.flatMap((one) => FIGURES.flatMap((key) => one[key]!.learned.points));
    expect(points.length).toBeGreaterThan(RUNS * BATCHES * 6);
    const share = points.filter(({ outlier }) => outlier).length / points.length;
    expect(share).toBeLessThan(0.006);
  });
});
