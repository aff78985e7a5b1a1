/**
 * The whole plan of every batch of the demo, of those that strain it, and of recipes at random, against what it was: it only says that
 * something has changed. `UPDATE_GOLDEN=1` writes what it is now; say in the commit what changed, and why.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { createLearner } from '../../../lib/batch/learning/archive.ts';
import { batchToPlan } from '../../../lib/batch/learning/use.ts';
import { planBatch } from '../../../lib/batch/plan/plan-batch.ts';
import { revisionOf } from '../../../lib/batch/plan/revision.ts';
import type { Batch } from '../../../lib/batch/types/batch.ts';
import { batchFiles, checkArchive } from '../../archive/strained/archive.ts';
import { randomBatch } from '../random.ts';
import { brewery } from '../sample-plan.ts';

const FILE = join(import.meta.dirname, 'golden.txt');
const UPDATE = process.env.UPDATE_GOLDEN === '1' && process.env.CI === undefined;
const SHOWN = ['original_gravity', 'final_gravity', 'bitterness_ibu', 'colour_ebc', 'top_up_l'] as const;
const GROUP = 4;

type Units = 'metric' | 'us';

/** A few figures to see by, and a hash of all that the plan says. */
function said(batch: Batch, units: Units, used: unknown = []): string {
  const result = planBatch(batch, { ...brewery, units }, '2026-11-25');
  if (!result.ok) return revisionOf(result.problems);
  const figures = SHOWN.map((key) => result.plan.targets[key]?.value.toPrecision(5) ?? '-');
  return `${figures.join(' ')} ${revisionOf([result, used])}`;
}

function archive(folder: 'content/' | 'tests/archive/strained/us-units/', units: Units) {
  const others = folder === 'content/' ? batchFiles('tests/archive/strained/') : [];
  const batches = checkArchive(folder, others).files.flatMap(({ batch }) => batch ?? []);
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

const plans = [
  ...archive('content/', 'metric'),
  ...archive('tests/archive/strained/us-units/', 'us'),
  ...random,
];
if (UPDATE) writeFileSync(FILE, plans.map(([name, now]) => `${name}: ${now()}\n`).join(''));
const before = new Map(
  readFileSync(FILE, 'utf8')
    .trimEnd()
    .split('\n')
    .map((line) => line.split(': ') as [string, string]),
);

it('there is a line for each plan', () => expect([...before.keys()]).toEqual(plans.map(([name]) => name)));

it.each(plans)('%s', (name, now) => expect(now()).toBe(before.get(name)));
