import { describe, expect, it } from 'vitest';
import { calibration, shareInterval } from '../../../lib/batch/learning/calibration.ts';
import type { Plan, ReadingVerdict } from '../../../lib/batch/types/plan.ts';

describe('the interval of a share', () => {
  it.each([
    [0, 10],
    [7, 10],
    [95, 100],
    [100, 100],
  ])('of %i in %i solves the score equation that defines it (Wilson 1927)', (hits, n) => {
    const z = 1.6448536269514722;
    const { low, high } = shareInterval(hits, n);
    for (const bound of [low, high]) {
      if (bound === 0 || bound === 1) continue;
      expect(Math.abs(hits / n - bound)).toBeCloseTo(z * Math.sqrt((bound * (1 - bound)) / n), 10);
    }
    expect(low).toBeLessThanOrEqual(hits / n);
    expect(high).toBeGreaterThanOrEqual(hits / n);
  });

  it('of nothing is everything', () => expect(shareInterval(0, 0)).toEqual({ low: 0, high: 1 }));
});

const read = (verdict: ReadingVerdict['verdict'], target: ReadingVerdict['target']): ReadingVerdict => ({
  value: 1,
  verdict,
  target,
  likeliest_cause: null,
});

it('counts what was read and has a range, and nothing else', () => {
  const plans = [
    {
      readings: {
        original_gravity: read('fine', 'original_gravity'),
        boil_end_volume: read('a_little_off', 'boil_end_volume_l'),
        top_up: read('not_taken', 'top_up_l'),
        fermenter_volume: read(null, null),
      },
    },
    { readings: { original_gravity: read('off', 'original_gravity') } },
  ] as unknown as Plan[];
  const found = calibration(plans);
  expect(found).toMatchObject({ inside: 1, readings: 3, batches: 2 });
  expect(found.targets.map(({ target, inside, readings }) => [target, inside, readings])).toEqual([
    ['original_gravity', 1, 2],
    ['boil_end_volume_l', 0, 1],
  ]);
});

it('a reading without a verdict, or whose figure has no target, counts in none', () => {
  const plans = [
    {
      readings: {
        a: read('fine', null),
        b: read(null, 'final_gravity'),
        c: read('not_taken', 'final_gravity'),
      },
    },
  ] as unknown as Plan[];
  expect(calibration(plans)).toEqual({ inside: 0, readings: 0, batches: 0, low: 0, high: 1, targets: [] });
});

it('the figures most often read come first, those read as often by their names', () => {
  const plans = [
    {
      readings: {
        one: read('fine', 'top_up_l'),
        two: read('fine', 'boil_end_volume_l'),
        three: read('fine', 'original_gravity'),
      },
    },
    { readings: { three: read('fine', 'original_gravity') } },
  ] as unknown as Plan[];
  const { targets } = calibration(plans);
  expect(targets.map(({ target }) => target)).toEqual(['original_gravity', 'boil_end_volume_l', 'top_up_l']);
});

it('all of ten inside: at least 78.7 of a hundred in the long run, and at most all (1 / (1 + z²/10))', () => {
  const { low, high } = shareInterval(10, 10);
  expect(low).toBeCloseTo(1 / (1 + 1.6448536 ** 2 / 10), 6);
  expect(high).toBe(1);
  // And none of ten is the same from the other side.
  expect(shareInterval(0, 10).low).toBe(0);
  expect(shareInterval(0, 10).high).toBeCloseTo(1 - low, 12);
});
