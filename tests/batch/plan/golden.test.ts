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

/** Slug, a few figures to see by, and a hash of all that the plan says. */
function line(batch: Batch, units: 'metric' | 'us', used: unknown = []): string {
  const result = planBatch(batch, { ...brewery, units }, '2026-11-25');
  if (!result.ok) return `${batch.slug}: ${revisionOf(result.problems)}`;
  const figures = SHOWN.map((key) => result.plan.targets[key]?.value.toPrecision(5) ?? '-');
  return `${batch.slug}: ${figures.join(' ')} ${revisionOf([result, used])}`;
}

function archive(folder: 'content/' | 'tests/archive/strained/us-units/', units: 'metric' | 'us'): string[] {
  const others = folder === 'content/' ? batchFiles('tests/archive/strained/') : [];
  const batches = checkArchive(folder, others).files.flatMap(({ batch }) => batch ?? []);
  const learner = createLearner(batches);
  return batches.map((each) => {
    const { batch, used } = batchToPlan(each, learner);
    return line(batch, units, used);
  });
}

/** Ten at a time. */
function random(from: number): string {
  const seeds = Array.from({ length: 10 }, (_, i) => from + i);
  const lines = seeds.map((seed) => line(randomBatch(seed).batch, seed % 2 === 0 ? 'us' : 'metric'));
  return `at random, from ${from}: ${revisionOf(lines)}`;
}

it('plans say what they said before', () => {
  const now = [
    ...archive('content/', 'metric'),
    ...archive('tests/archive/strained/us-units/', 'us'),
    ...[1, 11, 21, 31, 41, 51, 61, 71, 81, 91].map(random),
  ];
  if (UPDATE) writeFileSync(FILE, `${now.join('\n')}\n`);
  expect(now).toEqual(readFileSync(FILE, 'utf8').trimEnd().split('\n'));
});
