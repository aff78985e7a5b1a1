import { expect, it } from 'vitest';
import { killAtMoments } from '../tools/fuzz/kill.ts';
import { seeded } from '../tools/fuzz/random.ts';

// A group of processes, which a command and its browser are here, can be killed at once on POSIX systems only.
const POSIX = process.platform !== 'win32';

it.runIf(POSIX)(
  'work that is killed at any moment leaves whole files, and the next run makes all good',
  async () => {
    const { moments, early, each, faults } = await killAtMoments(6, seeded(7));
    expect(faults).toEqual([]);
    expect(moments).toBe(6);
    expect(each).toEqual({ build: 2, sheets: 2, 'key-in': 2 });
    expect(early).toBeGreaterThan(1);
  },
);
