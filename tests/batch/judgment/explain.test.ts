/** The likeliest cause from a propagation that is written by hand: linear Gaussian conditioning, solved in the comments. */
import { describe, expect, it } from 'vitest';
import { explain } from '../../../lib/batch/judgment/likely-cause.ts';
import { emptyOutcome, TARGET_INDEX } from '../../../lib/batch/model/target-vector.ts';
import type { Observation } from '../../../lib/batch/readings/normalise-readings.ts';
import type { TargetKey } from '../../../lib/batch/types/targets.ts';

import type { Input } from '../../../lib/batch/uncertainty/inputs.ts';

/** Three targets, each planned at 100. */
const TARGETS = ['boil_start_volume_l', 'boil_end_volume_l', 'colour_ebc'] as const satisfies TargetKey[];
const PLANNED = 100;

const input = (label: string, key: Input['key'] = 'scale', u = 1): Input => ({
  key,
  label,
  u,
  movesKettle: false,
  set: () => undefined,
});

/** What each input brings to each of the targets, standard deviations. */
type Brings = Readonly<Record<string, readonly number[]>>;

const observed = (target: TargetKey | null, value: number | null, u: number, key = String(target)) =>
  ({ key, target, value, u }) satisfies Observation;

function causes(
  brings: Brings,
  readings: readonly Observation[],
  inputs = Object.keys(brings).map((label) => input(label)),
) {
  const nominal = emptyOutcome();
  for (const target of TARGETS) nominal[TARGET_INDEX[target]] = PLANNED;
  const contributions = Object.values(brings).map((row) => {
    const outcome = emptyOutcome();
    row.forEach((value, i) => {
      outcome[TARGET_INDEX[TARGETS[i]!]] = value;
    });
    return outcome;
  });
  return explain(readings, { nominal, contributions, variances: [] }, inputs, 19);
}

/** Readings of the targets that are off by so much, each with a standard uncertainty of its own. */
const off = (differences: readonly number[], u = 1) =>
  differences.map((difference, i) => observed(TARGETS[i]!, PLANNED + difference, u));

const ITSELF = 'the reading itself';

describe('one reading', () => {
  const two: Brings = { malt: [3], hops: [4] };

  it.each([26, -26])(
    'off by %f: the input that brings more of the variance, 16 of 9 + 16 + 1',
    (difference) => {
      expect([...causes(two, off([difference]))]).toEqual([[TARGETS[0], 'hops']]);
    },
  );

  it('an instrument that is worse than either input is named itself: 25 of 9 + 16.01 + 25 is not, 16.2 of 41 is', () => {
    expect(causes(two, off([10], 4.02)).get(TARGETS[0])).toBe(ITSELF);
    expect(causes(two, off([10], 3.98)).get(TARGETS[0])).toBe('hops');
  });

  it('an input that does not bear on the target accounts for nothing', () => {
    expect(causes({ malt: [3], hops: [Number.NaN] }, off([10])).get(TARGETS[0])).toBe('malt');
  });

  it('exactly as planned needs no cause but itself', () => {
    expect(causes(two, off([0])).get(TARGETS[0])).toBe(ITSELF);
  });
});

describe('two readings that share an input', () => {
  // Variances 26 and 17, covariance 16: the inverse is [17, −16; −16, 26] / 186.
  const shared: Brings = { malt: [3, 0], hops: [4, 4] };

  it('the other one being right clears the input that they share', () => {
    // Weights 17 and −16: malt 3 × 3 × 17 = 153, hops 4 × 4 × 1 = 16, the reading 17 of 186.
    expect(causes(shared, off([10, 0])).get(TARGETS[0])).toBe('malt');
  });

  it('both off the same way blame it', () => {
    // Weights 1 and 10 (of 186, in tenths): hops 16 × 11 = 176 of both.
    const found = causes(shared, off([10, 10]));
    expect([...found.values()]).toEqual(['hops', 'hops']);
  });

  it('off in different ways: one up by what is its own, the other down by what they share', () => {
    // Weights 33 and −42: of the first malt 297, hops −144, itself 33; of the second hops 144, itself 42.
    expect([...causes(shared, off([10, -10])).values()]).toEqual(['malt', 'hops']);
  });
});

describe('three readings', () => {
  // Covariance [30 25 16; 25 26 16; 16 16 17], its inverse [186 −169 −16; −169 254 −80; −16 −80 155] / 1099.
  const chain: Brings = { malt: [2, 0, 0], boil: [3, 3, 0], scale: [4, 4, 4] };

  it.each([
    // Parts of the first reading by malt, boil, scale and itself; each row sums to the difference × 1099.
    ['7440, 1530, 160, 1860', [10, 0, 0], ['malt', ITSELF, ITSELF]],
    ['of the second 7650, 800, 2540', [0, 10, 0], [ITSELF, 'boil', ITSELF]],
    ['of the third 9440, 1550', [0, 0, 10], [ITSELF, ITSELF, 'scale']],
    ['680, 9180, 960, 170; of the second 9180, 960, 850', [10, 10, 0], ['boil', 'boil', ITSELF]],
    ['40, 540, 10400, 10', [10, 10, 10], ['scale', 'scale', 'scale']],
    ['21640, −4590, −480, 5410; of the second 4590, 480, 5920', [20, -10, 0], ['malt', ITSELF, ITSELF]],
    ['the same from below', [-20, 10, 0], ['malt', ITSELF, ITSELF]],
  ] as const)('%s', (_, differences, names) => {
    expect([...causes(chain, off(differences)).values()]).toEqual(names);
  });
});

describe('the volume in the fermenter', () => {
  const MARK = "the fermenter's volume mark";
  // A mark half a litre out moves the target by 2, and so does half a litre more: 4 a litre.
  const inputs = [input(MARK, 'fermenterMark_L', 0.5)];
  const strength = (difference: number) => observed(TARGETS[0], PLANNED + difference, 1);
  const filled = (volume_L: number) => observed(null, volume_L, 0.1, 'fermenter_volume');
  const FILL = 'the volume in the fermenter';

  it('is guessed to a litre where it was not read: 16 of 4 + 16 + 1', () => {
    expect(causes({ mark: [-2] }, [strength(-10)], inputs).get(TARGETS[0])).toBe(FILL);
  });

  it('is cleared by a reading that is as planned', () => {
    // Variances 21 and 1.01, covariance −4, determinant 5.21: mark 40.4, filling 1.6, reading 10.1 of 52.1.
    expect(causes({ mark: [-2] }, [strength(-10), filled(19)], inputs).get(TARGETS[0])).toBe(MARK);
  });

  it('is blamed by one that is not: 2.4 L too much', () => {
    // Weights −0.5 and 10.4: filling 4 × 12.4, mark 2, reading 0.5; of the volume 12.4 against 0.1.
    const found = causes({ mark: [-2] }, [strength(-10), filled(21.4)], inputs);
    expect([...found.values()]).toEqual([FILL, FILL]);
  });
});

describe('left out', () => {
  it.each([
    ['what was not taken', observed(TARGETS[1], null, 1)],
    ['what is counted, and so certain', observed(TARGETS[1], 90, 0)],
    ['what no target stands for', observed(null, 66, 1, 'mash_temperature')],
    ['a target that does not apply', observed('ice_kg', 4, 1)],
    ['sugar, which is weighed for what is there', observed(TARGETS[1], 90, 1, 'packaged.sugar')],
    ['and that of one of several parts', observed(TARGETS[1], 90, 1, 'packaged[1].sugar')],
  ])('%s', (_, reading) => {
    // Were it used, it would clear what both share, and blame the malt.
    const found = causes({ malt: [3, 0], hops: [4, 4] }, [observed(TARGETS[0], PLANNED + 10, 1), reading]);
    expect([...found]).toEqual([[TARGETS[0], 'hops']]);
  });
});
