import { expect, it } from 'vitest';
import { killAtMoments } from '../tools/fuzz/kill.ts';
import { seeded } from '../tools/fuzz/random.ts';

// A group of processes, which a command and its browser are here, can be killed at once on POSIX systems only.
const MOMENTS = Number(process.env.KILL_MOMENTS ?? 6);
const POSIX = process.platform !== 'win32';

it.runIf(POSIX)(
  'work that is killed at any moment leaves whole files, and the next run makes all good',
  async () => {
    const { moments, early, each, faults } = await killAtMoments(
      MOMENTS,
      seeded(Number(process.env.KILL_SEED ?? 7)),
    );
    expect(faults).toEqual([]);
    expect(moments).toBe(MOMENTS);
    expect(Math.min(...Object.values(each))).toBe(Math.floor(MOMENTS / 3));
    expect(early).toBeGreaterThan(0);
  },
);
