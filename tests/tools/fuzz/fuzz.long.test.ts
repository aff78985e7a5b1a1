import { expect, it } from 'vitest';
import { runCorpus, runRound } from './round.ts';

const SEED = 1;
const ROUNDS = 5;
const FILES = 100;

it('every mutated file ends in a plan or in errors with their place', async () => {
  let planned = 0;
  let shown = 0;
  for (let round = 0; round < ROUNDS; round += 1) {
    const options = { seed: SEED + round, files: FILES, shown: 0.3, build: round === ROUNDS - 1 };
    const result = await runRound(options);
    planned += result.planned;
    shown += result.shown;
    expect(result.faults.map(({ slug, what }) => `seed ${options.seed}, ${slug}: ${what}`)).toEqual([]);
  }
  // Were nothing planned, or everything, the files would be no test of the planner or of the reader.
  expect(planned).toBeGreaterThan(ROUNDS * FILES * 0.1);
  expect(planned).toBeLessThan(ROUNDS * FILES * 0.9);
  expect(shown).toBeGreaterThan(10);
});

it('files that were trouble once are none any more', async () => {
  const result = await runCorpus();
  expect(result.files).toBeGreaterThanOrEqual(3);
  expect(result.planned).toBeGreaterThanOrEqual(1);
  expect(result.faults.map(({ slug, what }) => `${slug}: ${what}`)).toEqual([]);
});
