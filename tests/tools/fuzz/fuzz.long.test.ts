/** Mutated files by the hundred: `npm run fuzz`, more of them with `FUZZ_ROUNDS=200 FUZZ_SEED=7 npm run fuzz`. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { ROOT } from '../../../lib/site/paths.ts';
import { runCorpus, runRound } from './round.ts';

const SEED = Number(process.env.FUZZ_SEED ?? 1);
const ROUNDS = Number(process.env.FUZZ_ROUNDS ?? 5);
const FILES = 100;
/** What was trouble; once mended, it belongs into the corpus. */
const KEPT = join(ROOT, '.cache/fuzz');

it('every mutated file ends in a plan or in errors with their place', { timeout: 0 }, async () => {
  const sum = { planned: 0, shown: 0 };
  const found: string[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const seed = SEED + round;
    const result = await runRound({ seed, files: FILES, shown: 0.3, build: round % 50 === 0 });
    sum.planned += result.planned;
    sum.shown += result.shown;
    for (const { slug, what, bytes } of result.faults) {
      mkdirSync(KEPT, { recursive: true });
      writeFileSync(join(KEPT, `${seed}-${found.length}.md`), bytes);
      found.push(`seed ${seed}, ${slug}: ${what}`);
    }
  }
  expect(found).toEqual([]);
  // Were nothing planned, or everything, the files would be no test of the planner or of the reader.
  expect(sum.planned).toBeGreaterThan(ROUNDS * FILES * 0.1);
  expect(sum.planned).toBeLessThan(ROUNDS * FILES * 0.9);
  expect(sum.shown).toBeGreaterThan(2 * ROUNDS);
});

it('files that were trouble once are none any more', async () => {
  const result = await runCorpus();
  expect(result.files).toBeGreaterThanOrEqual(3);
  expect(result.planned).toBeGreaterThanOrEqual(1);
  expect(result.faults.map(({ slug, what }) => `${slug}: ${what}`)).toEqual([]);
});
