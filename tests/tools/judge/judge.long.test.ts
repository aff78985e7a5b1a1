/** What is said of good batches and of bad ones, counted on many of each; `npm run judge -- --draws 4000` counts on more. */
import { expect, it } from 'vitest';
import { isMet, measure, rowsOf } from './measure.ts';

const DRAWS = 300;

/**
 * Targets that are not reached yet. Marks: a flat log is lost by one reading that is off by more than a point, and a last fall of
 * two points then makes bottles look dangerous. Ranges: marks of the fermenter and what steeps give vary more than is assumed.
 */
const NOT_YET: ReadonlySet<string> = new Set([
  'any act',
  'any look again of the day or the log',
  'bottles other than calm, read once more',
  ...[
    'boil_start_gravity',
    'top_up_l',
    'original_gravity',
    'fermenter_volume_l',
    'final_gravity',
    'packaged_volume_l',
  ].map((key) => `planned ${key}`),
  ...['original_gravity', 'original_extract_plato', 'packaged_volume_l'].map((key) => `as brewed ${key}`),
]);

it.each([1, 2, 3])(
  'a careless brewer is warned, and a careful one mostly left in peace, seed %i',
  async (seed) => {
    const { careful, ranges, bad } = rowsOf((await measure({ draws: DRAWS, seed, only: [] })).tally);
    expect([careful.length, ranges.length, bad.length]).toEqual([5, 17, 8]);
    const missed = [...careful, ...ranges, ...bad].filter((row) => !isMet(row) && !NOT_YET.has(row.what));
    expect(missed.map(({ what, share, least, most }) => ({ what, share, least, most }))).toEqual([]);
    // What is not reached may not get worse.
    for (const { what, share } of careful) expect(share, what).toBeLessThan(0.2);
    for (const { what, share } of ranges) expect(share, what).toBeGreaterThan(0.82);
  },
);
