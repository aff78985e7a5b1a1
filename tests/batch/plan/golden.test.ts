/**
 * The whole plan of every batch of the demo, of those that strain it, and of recipes and readings at random, against what it was: it
 * only says that something has changed, and that what is published follows its schema. `UPDATE_GOLDEN=1` writes what it is now; say in the commit what changed, and why.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { createLearner } from '../../../lib/batch/learning/archive.ts';
import { batchToPlan } from '../../../lib/batch/learning/use.ts';
import { planBatch } from '../../../lib/batch/plan/plan-batch.ts';
import { revisionOf } from '../../../lib/batch/plan/revision.ts';
import { type RefitChange, refit } from '../../../lib/batch/scaling/scale-recipe.ts';
import type { Batch } from '../../../lib/batch/types/batch.ts';
import { planJsonSchema, planSchema } from '../../../lib/batch/types/plan-schema.ts';
import type { Recipe } from '../../../lib/batch/types/recipe.ts';
import { dateAfter } from '../../../lib/batch/types/time.ts';
import { published } from '../../../lib/site/plan-json.ts';
import { batchFiles, checkArchive } from '../../archive/strained/archive.ts';
import { dice, randomBatch, randomRecipe, readingsAbout } from '../random.ts';
import { dryRow, extract, given, grain, hop, sampleBatch, sampleRecipe, sampleSetup } from '../sample.ts';
import { brewery, mashAt, own } from '../sample-plan.ts';

const FILE = join(import.meta.dirname, 'golden.txt');
const UPDATE = process.env.UPDATE_GOLDEN === '1' && process.env.CI === undefined;
const SHOWN = ['original_gravity', 'final_gravity', 'bitterness_ibu', 'colour_ebc', 'top_up_l'] as const;
const GROUP = 4;

type Units = 'metric' | 'us';

/** A few figures to see by, and a hash of all that the plan says. */
function said(batch: Batch, units: Units, used: unknown = []): string {
  const result = planBatch(batch, { ...brewery, units }, '2026-11-25');
  if (!result.ok) return revisionOf(result.problems);
  expect(planSchema.safeParse(published(result.plan, { units, language: 'en' })).error).toBeUndefined();
  const figures = SHOWN.map((key) => result.plan.targets[key]?.value.toPrecision(5) ?? '-');
  return `${figures.join(' ')} ${revisionOf([result, used])}`;
}

function archive(batches: readonly Batch[], units: Units) {
  const learner = createLearner(batches);
  return batches.map((each) => {
    const now = () => {
      const { batch, used } = batchToPlan(each, learner);
      return said(batch, units, used);
    };
    return [each.slug, now] as const;
  });
}

const random = Array.from({ length: 25 }, (_, at) => {
  const seeds = Array.from({ length: GROUP }, (_, i) => GROUP * at + i + 1);
  const now = () =>
    revisionOf(seeds.map((seed) => said(randomBatch(seed).batch, seed % 2 ? 'metric' : 'us')));
  return [`at random, ${seeds[0]} to ${seeds.at(-1)}`, now] as const;
});

/** The same batch as it may have been read. */
function asRead(batch: Batch, seed: number): Batch {
  const planned = planBatch(batch, brewery);
  if (!planned.ok) return batch;
  const readings = readingsAbout(batch, planned.plan, dice(seed));
  // What hung on the wall may have said a little less.
  const { contributors: _, ...og } = planned.plan.targets.original_gravity!;
  const targets = { original_gravity: { ...og, value: og.value - 0.001, low: og.low - 0.001 } };
  return { ...batch, readings, ...(seed % 7 === 0 ? { printed: { revision: 'aaaaaaa', targets } } : {}) };
}

const MASHED = {
  grain: [grain(2500, { in: 'mash' })],
  steep: null,
  mash: mashAt(67, 3),
  extract: [extract(700)],
} as const satisfies Partial<Recipe>;
const NO_BOIL = {
  boil_min: given(0, '0 min'),
  boilVolume_L: null,
  grain: [],
  steep: null,
  extract: [extract(2000)],
  hops: [hop(20, { at: 'dry', day: 5, for_min: null, forWritten: null })],
} satisfies Partial<Recipe>;

/** The sample, also mashed or without a boil, fermented and packaged in another way. */
function anEnd(seed: number): Recipe {
  const { yeast, ferment, packaging, stand } = randomRecipe(dice(seed), false);
  return sampleRecipe({ yeast, ferment, packaging, stand, ...[MASHED, {}, {}, NO_BOIL, {}][seed % 5] });
}

const read = Array.from({ length: 48 }, (_, at) => {
  const seeds = [2 * at + 101, 2 * at + 102];
  const now = () =>
    revisionOf(seeds.map((seed) => said(asRead(sampleBatch({ recipe: anEnd(seed) }), seed), 'metric')));
  return [`read at random, ${seeds.join(' and ')}`, now] as const;
});

/** One kitchen's, a batch each three weeks, of which each learns from those before it. */
const kitchen = Array.from({ length: 12 }, (_, at) =>
  asRead(
    sampleBatch({
      slug: `batch-${at + 1}`,
      brewed: dateAfter('2026-01-03', 21 * at),
      setup: sampleSetup({ learned: 'use' }),
    }),
    at,
  ),
);

/** The same beer for another volume, kitchen, packet of hops or kind of extract, in words of either unit. */
const fitted = Array.from({ length: 40 }, (_, at) => {
  const roll = dice(at);
  const batch = sampleBatch({ recipe: at % 4 ? randomRecipe(roll, false) : anEnd(at) });
  const change: RefitChange = {
    ...(roll.chance(0.7) ? { intoFermenter_L: roll.between(0, 30) } : {}),
    ...(roll.chance(0.5)
      ? { setup: sampleSetup({ kettle_L: own(roll.between(6, 30)), kettleLoss_L: own(1) }) }
      : {}),
    ...(roll.chance(0.3) ? { alphas: { 0: roll.between(0.02, 0.15) } } : {}),
    ...(roll.chance(0.3) ? { extractForm: { to: 'dry', row: dryRow } } : {}),
    ...(roll.chance(0.5) ? { rounding: 'kitchen' } : {}),
    ...(roll.chance(0.5) ? { units: 'us' } : {}),
  };
  const now = () => {
    try {
      return revisionOf(refit(batch, change));
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      return error.message;
    }
  };
  return [`fitted at random ${at}`, now] as const;
});

const filesOf = (
  folder: Parameters<typeof checkArchive>[0],
  others: Parameters<typeof checkArchive>[1] = [],
) => checkArchive(folder, others).files.flatMap(({ batch }) => batch ?? []);
const plans = [
  ...archive(filesOf('content/', batchFiles('tests/archive/strained/')), 'metric'),
  ...archive(filesOf('tests/archive/strained/us-units/'), 'us'),
  ...random,
  ...read,
  ...archive(kitchen, 'metric'),
  ...fitted,
  ['the schema of what is published', () => revisionOf(planJsonSchema())] as const,
];
if (UPDATE) writeFileSync(FILE, plans.map(([name, now]) => `${name}: ${now()}\n`).join(''));
const before = new Map(
  readFileSync(FILE, 'utf8')
    .trimEnd()
    .split('\n')
    .map((line) => line.split(/: (.*)/) as unknown as [string, string]),
);

it('there is a line for each plan', () => expect([...before.keys()]).toEqual(plans.map(([name]) => name)));

it.each(plans)('%s', (name, now) => expect(now()).toBe(before.get(name)));
