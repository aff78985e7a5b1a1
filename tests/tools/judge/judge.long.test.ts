/** What is said of good batches and of bad ones, counted on thousands of each. */
import { expect, it } from 'vitest';
import { isMet, measure, rowsOf } from './measure.ts';

const DRAWS = 4000;
/** Some fifty thousand plans: minutes on a quiet machine, an hour on a busy one. */
const HANG_MS = 3 * 3_600_000;

it.each([1, 2, 3])(
  'a careful brewer is left in peace and a careless one is warned, seed %i',
  async (seed) => {
    const { careful, ranges, bad } = rowsOf((await measure({ draws: DRAWS, seed, only: [] })).tally);
    expect([careful.length, ranges.length, bad.length]).toEqual([5, 17, 8]);
    const missed = [...careful, ...ranges, ...bad].filter((row) => !isMet(row));
    expect(missed.map(({ what, share, least, most }) => ({ what, share, least, most }))).toEqual([]);
  },
  HANG_MS,
);
