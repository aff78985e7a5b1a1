/** Ranges as the sheet prints them: the rule of each kind of figure, and its ends. */
import { describe, expect, it } from 'vitest';
import { littleOff, verdict } from '../../../lib/batch/judgment/verdicts.ts';
import type { TargetKey } from '../../../lib/batch/types/targets.ts';

import { printedRange } from '../../../lib/batch/uncertainty/printed.ts';

describe('printed ranges', () => {
  it.each<[TargetKey, number, number, number, number, number]>([
    ['original_gravity', 1.044, 1.0407, 1.0473, 1.04, 1.048],
    ['bitterness_ibu', 30.4, 24.2, 36.6, 24, 37],
    ['colour_ebc', 20.5, 16.8, 24.1, 16, 25],
    ['water_to_heat_l', 10.04, 9.51, 10.57, 9.5, 10.6],
    ['steep_water_c', 69.8, 68.2, 71.4, 68, 72],
    ['energy_kcal_per_litre', 421, 402, 439, 400, 440],
    // 1 g up to 100 g, 5 g above: the value decides.
    ['priming_sugar_g', 100, 92.4, 107.6, 92, 108],
    ['priming_sugar_g', 100.1, 92.4, 107.8, 90, 110],
    ['priming_sugar_g', 45, 41.5, 48.5, 41, 49],
    // No volume, weight or time below nothing; a temperature may be.
    ['top_up_l', 0.1, -0.4, 0.6, 0, 0.6],
    ['ice_kg', -0.2, -0.5, -0.1, 0, 0],
    ['chill_to_c', 0.5, -1.5, 2.5, -2, 3],
    ['apparent_attenuation_percent', 1, -0.4, 2.4, -1, 3],
  ])('%s of %f, %f to %f, is printed as %f to %f', (key, value, low, high, from, to) => {
    expect(printedRange(key, { value, low, high }, 0.002)).toEqual({ low: from, high: to });
  });
});

describe('verdicts at the ends', () => {
  it('a whole-number range forgives no half', () => {
    const printed = { low: 66, high: 70 };
    expect(littleOff(printed)).toEqual({ low: 64, high: 72 });
    expect([63.9, 64, 65.9, 66, 70, 70.1, 72, 72.1].map((reading) => verdict(reading, printed))).toEqual([
      'off',
      'a_little_off',
      'a_little_off',
      'fine',
      'fine',
      'a_little_off',
      'a_little_off',
      'off',
    ]);
  });
});
