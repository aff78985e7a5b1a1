import { expect, it } from 'vitest';
import { killAtMoments } from '../fuzz/kill.ts';
import { seeded } from '../fuzz/random.ts';

it('work that is killed at any moment leaves whole files, and the next run makes all good', async () => {
  const { moments, early, faults } = await killAtMoments(6, seeded(7));
  expect(faults).toEqual([]);
  expect(moments).toBe(6);
  expect(early).toBeGreaterThan(1);
}, 180_000);
