/** Figures made of a propagation that is written by hand: JCGM 100, equation 10, with nothing of the model in it. */
import { describe, expect, it } from 'vitest';
import { emptyOutcome, TARGET_INDEX } from '../../../lib/batch/model/target-vector.ts';
import { TARGET_KEYS, type TargetKey } from '../../../lib/batch/types/targets.ts';

import { allFigures, figure, readingInstrument } from '../../../lib/batch/uncertainty/figures.ts';
import type { Input } from '../../../lib/batch/uncertainty/inputs.ts';
import type { Propagation } from '../../../lib/batch/uncertainty/propagate.ts';
import { sampleSetup } from '../sample.ts';
import { own } from '../sample-plan.ts';

const setup = {
  ...sampleSetup(),
  hydrometer: { at_C: own(20), step: 0.002, u: 0.001, assumed: false },
  instruments: {
    kettleMark_L: own(10, 0.3),
    fermenterMark_L: own(20, 0.4),
    scale: own(1),
    thermometer_C: own(0),
  },
};

const input = (label: string): Input => ({
  key: 'scale',
  label,
  u: 1,
  movesKettle: false,
  set: () => undefined,
});

/** One target with its value and the standard uncertainty that each input brings to it. */
function propagated(key: TargetKey, value: number, us: readonly number[]) {
  const at = TARGET_INDEX[key];
  const nominal = emptyOutcome();
  nominal[at] = value;
  const variances = us.map((u) => {
    const row = emptyOutcome();
    row[at] = u * u;
    return row;
  });
  const propagation: Propagation = { nominal, contributions: variances, variances };
  return { propagation, inputs: us.map((_, i) => input(`input ${i}`)) };
}

function figureOf(key: TargetKey, value: number, us: readonly number[], read = true) {
  const { propagation, inputs } = propagated(key, value, us);
  const found = figure(key, propagation, inputs, setup, { read });
  if (!found) throw new Error(`no ${key}`);
  return found;
}

describe('a figure', () => {
  it('is its value, and two standard uncertainties either way: 3, 4 and 12 make 13', () => {
    const { value, low, high } = figureOf('bitterness_ibu', 100, [3, 4, 12]);
    expect(value).toBe(100);
    expect(low).toBeCloseTo(74, 12);
    expect(high).toBeCloseTo(126, 12);
  });

  it('names its inputs by their share of the variance, the largest first: 144, 16 and 9 of 169', () => {
    expect(figureOf('bitterness_ibu', 100, [3, 4, 12]).contributors).toEqual([
      { input: 'input 2', share: expect.closeTo(144 / 169, 12) },
      { input: 'input 1', share: expect.closeTo(16 / 169, 12) },
      { input: 'input 0', share: expect.closeTo(9 / 169, 12) },
    ]);
  });

  it('names five at most, and none below a hundredth', () => {
    expect(figureOf('bitterness_ibu', 100, [1, 1, 1, 1, 1, 1, 1]).contributors).toHaveLength(5);
    // 0.1² of 1.01 is just below a hundredth, 0.11² of 1.0121 above; of a hundred inputs alike each is on it.
    expect(figureOf('bitterness_ibu', 100, [1, 0.1]).contributors).toHaveLength(1);
    expect(figureOf('bitterness_ibu', 100, [1, 0.11]).contributors).toHaveLength(2);
    expect(figureOf('bitterness_ibu', 100, [...Array.from({ length: 64 }, () => 1), 6]).contributors).toEqual(
      [
        { input: 'input 64', share: expect.closeTo(0.36, 12) },
        ...[0, 1, 2, 3].map((i) => ({ input: `input ${i}`, share: 0.01 })),
      ],
    );
  });

  it('owes nothing to anything where nothing is uncertain', () => {
    expect(figureOf('bitterness_ibu', 30, [])).toMatchObject({ low: 30, high: 30, contributors: [] });
    expect(figureOf('bitterness_ibu', 30, [0, 0]).contributors).toEqual([]);
  });

  it('counts nothing for an input that does not bear on it', () => {
    const { propagation, inputs } = propagated('bitterness_ibu', 100, [3, 4]);
    propagation.variances[1]![TARGET_INDEX.bitterness_ibu] = Number.NaN;
    expect(figure('bitterness_ibu', propagation, inputs, setup)).toMatchObject({
      low: 94,
      contributors: [{ input: 'input 0', share: 1 }],
    });
  });

  it('is none where the target does not apply', () => {
    const { propagation, inputs } = propagated('bitterness_ibu', Number.NaN, [1]);
    expect(figure('bitterness_ibu', propagation, inputs, setup)).toBeNull();
    expect(allFigures(propagation, inputs, setup)).toEqual(
      Object.fromEntries(TARGET_KEYS.map((key) => [key, null])),
    );
  });
});

describe('a target that will be read', () => {
  it.each([
    ['original_gravity', 'the hydrometer', 0.001],
    ['final_gravity', 'the hydrometer', 0.001],
    ['boil_start_gravity', 'the hydrometer', 0.001],
    ['boil_end_gravity', 'the hydrometer', 0.001],
    ['water_to_heat_l', 'reading the kettle', 0.3],
    ['boil_start_volume_l', 'reading the kettle', 0.3],
    ['boil_end_volume_l', 'reading the kettle', 0.3],
    ['boil_start_volume_hot_l', 'reading the kettle', 0.3],
    ['boil_end_volume_hot_l', 'reading the kettle', 0.3],
    ['top_up_l', 'reading the kettle', 0.3],
    ['packaged_volume_l', 'reading the fermenter', 0.4],
  ] as const)('%s is read with %s', (key, label, u) => {
    expect(readingInstrument(key, setup)).toEqual({ label, u });
  });

  it('all others are only computed', () => {
    const read = TARGET_KEYS.filter((key) => readingInstrument(key, setup) !== null);
    expect(read).toHaveLength(12);
  });

  it('has its instrument’s own uncertainty in its range: 0.3 and 0.4 make 0.5', () => {
    const { low, high, contributors } = figureOf('boil_end_volume_l', 10, [0.4]);
    expect(low).toBeCloseTo(9, 12);
    expect(high).toBeCloseTo(11, 12);
    expect(contributors).toEqual([
      { input: 'input 0', share: expect.closeTo(0.64, 12) },
      { input: 'reading the kettle', share: expect.closeTo(0.36, 12) },
    ]);
  });

  it('has none of it once it is itself worked out from readings', () => {
    const { low, contributors } = figureOf('boil_end_volume_l', 10, [0.4], false);
    expect(low).toBeCloseTo(9.2, 12);
    expect(contributors).toEqual([{ input: 'input 0', share: 1 }]);
  });
});

describe('whole things', () => {
  it('are rounded up, and have no range: 40.2 ± 1 bottles are 41', () => {
    expect(figureOf('bottles', 40.2, [0.5])).toMatchObject({
      value: 41,
      low: 41,
      high: 41,
      printed: { low: 41, high: 41 },
    });
  });

  it('what is whole but for the arithmetic is not rounded up to one more', () => {
    expect(figureOf('bottles', 40 + 1e-12, [])).toMatchObject({ value: 40, low: 40, high: 40 });
    expect(figureOf('yeast_packs', 2 + 1e-12, [0.5])).toMatchObject({ value: 2, low: 2, high: 2 });
  });
});
