/** What is said of good batches and of bad ones, counted on many of each; `npm run judge -- --draws 4000` counts on more. */
import { expect, it } from 'vitest';
import { isMet, type Row, rowsOf } from './goals.ts';
import { measure } from './measure.ts';

const DRAWS = 300;

/** So few draws know a share to a standard error: a target counts as missed from two of them on. */
function isMissed(row: Row): boolean {
  const { share, least, most, number } = row;
  const target = share < least ? least : most;
  return !isMet(row) && Math.abs(share - target) > 2 * Math.sqrt((target * (1 - target)) / number);
}

it.each([1, 2, 3])(
  'a careless brewer is warned, and a careful one mostly left in peace, seed %i',
  async (seed) => {
    const { careful, ranges, bad } = rowsOf((await measure({ draws: DRAWS, seed, only: [] })).tally);
    expect([careful.length, ranges.length, bad.length]).toEqual([5, 17, 8]);
    const missed = [...careful, ...ranges, ...bad].filter(isMissed);
    expect(missed.map(({ what, share, least, most }) => ({ what, share, least, most }))).toEqual([]);
  },
);
