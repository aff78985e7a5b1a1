/** Which figure of a setup is which, and learned ones held to what is possible. */
import { describe, expect, it } from 'vitest';
import { createLearner, setupFigure } from '../../../lib/batch/learning/archive.ts';
import { batchToPlan, setupWithLearned, usable, usedFigures } from '../../../lib/batch/learning/use.ts';
import {
  LEARNED_KEYS,
  type Learned,
  type LearnedKey,
  type LearnedSetup,
} from '../../../lib/batch/types/learning.ts';
import type { Setup } from '../../../lib/batch/types/setup.ts';
import { grain, hop, sampleBatch, sampleRecipe, sampleSetup } from '../sample.ts';
import { own } from '../sample-plan.ts';
import { randomFrom } from './random.ts';
import { brew, drawTruth } from './simulate.ts';

/** A setup whose figures are all different, so that no two can be mistaken for each other. */
const setup = sampleSetup({
  heat_kW: own(1),
  steepEfficiency: own(0.2),
  mashEfficiency: own(0.3),
  boilOff_L_per_h: own(4),
  kettleLoss_L: own(0.6),
  hopAbsorption_L_per_kg: own(7),
  fermenterLoss_L: own(0.8),
  chill: { ...sampleSetup().chill, to_C: own(21), in_min: own(9) },
});
const FIGURES: readonly (readonly [LearnedKey, number, (of: Setup) => number])[] = [
  ['heat', 1, (of) => of.heat_kW.value],
  ['steep_efficiency', 0.2, (of) => of.steepEfficiency.value],
  ['mash_efficiency', 0.3, (of) => of.mashEfficiency.value],
  ['boil_off', 4, (of) => of.boilOff_L_per_h.value],
  ['kettle_loss', 0.6, (of) => of.kettleLoss_L.value],
  ['hop_absorption', 7, (of) => of.hopAbsorption_L_per_kg.value],
  ['fermenter_loss', 0.8, (of) => of.fermenterLoss_L.value],
  ['chill.to', 21, (of) => of.chill.to_C.value],
  ['chill.in', 9, (of) => of.chill.in_min.value],
];

const learned = (value: number, batches = 3): Learned => ({
  value,
  u: 0.01,
  next_u: 0.02,
  scatter: 0,
  prior: { value, u: 1 },
  batches,
  points: [],
  withOutliers: null,
});
const nothing = Object.fromEntries(LEARNED_KEYS.map((key) => [key, null])) as unknown as LearnedSetup;

describe('a learned setup', () => {
  it('knows every figure that can be learned', () => {
    expect(FIGURES.map(([key]) => key).sort()).toEqual([...LEARNED_KEYS].sort());
  });

  it.each(FIGURES)('%s is the setup’s %f, and is replaced alone', (key, value, of) => {
    expect(setupFigure(setup, key).value).toBe(value);
    const changed = setupWithLearned(setup, { ...nothing, [key]: learned(0.5) });
    // Half a minute of chill is less than there can be.
    expect(of(changed)).toBe(key === 'chill.in' ? 1 : 0.5);
    expect(setupFigure(changed, key)).toMatchObject({ u: 0.02, assumed: false });
    for (const [other, stays, otherOf] of FIGURES) if (other !== key) expect(otherOf(changed)).toBe(stays);
    expect(usedFigures(setup, { ...nothing, [key]: learned(0.5) })).toEqual([
      { key, value: of(changed), u: 0.02, batches: 3, setup_value: value },
    ]);
  });

  it.each(FIGURES)('%s stays the setup’s below three batches', (key, value, of) => {
    const found = { ...nothing, [key]: learned(0.5, 2) };
    expect(of(setupWithLearned(setup, found))).toBe(value);
    expect(usedFigures(setup, found)).toEqual([]);
  });

  it.each([
    ['heat', 0.05, 100],
    ['steep_efficiency', 0.01, 1],
    ['mash_efficiency', 0.01, 1],
    ['boil_off', 0, 100],
    ['chill.in', 1, 1440],
    ['kettle_loss', 0, 100],
    ['hop_absorption', 0, 30],
    ['fermenter_loss', 0, 100],
    ['attenuation', 0.05, 1],
  ] as const)('%s is held between %f and %f', (key, low, high) => {
    expect(usable(key, learned(-5)).value).toBe(low);
    expect(usable(key, learned(1e6)).value).toBe(high);
  });
});

describe('what is used', () => {
  const random = randomFrom(7);
  const truth = drawTruth(random);
  const learner = createLearner(Array.from({ length: 12 }, (_, i) => brew(truth, i, random)));
  const used = (recipe: Parameters<typeof sampleRecipe>[0]) =>
    batchToPlan(
      sampleBatch({
        brewed: '2026-06-01',
        setup: sampleSetup({ learned: 'use' }),
        recipe: sampleRecipe(recipe),
      }),
      learner,
    ).used.map(({ key }) => key);

  it('is what matters to the batch', () => {
    expect(used({})).toContain('steep_efficiency');
    expect(used({})).not.toContain('mash_efficiency');
    expect(used({})).toContain('hop_absorption');
    expect(used({ hops: [] })).not.toContain('hop_absorption');
    expect(used({ grain: [] })).not.toContain('steep_efficiency');
    const mash = { grain: [grain(1500, { in: 'mash' as const })], hops: [hop(10, { at: 'flameout' })] };
    expect(used(mash)).toContain('mash_efficiency');
    expect(used(mash)).not.toContain('steep_efficiency');
  });
});
