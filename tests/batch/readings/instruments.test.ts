/** What a gravity is worth, by the instrument that it was read with. */
import { describe, expect, it } from 'vitest';
import { buildCase } from '../../../lib/batch/model/build-model-input.ts';
import { designBoil } from '../../../lib/batch/model/design.ts';
import { runModel } from '../../../lib/batch/model/model.ts';
import { observations } from '../../../lib/batch/readings/normalise-readings.ts';
import type { Readings } from '../../../lib/batch/types/readings.ts';
import type { GivenGravity } from '../../../lib/units/parse/given.ts';
import { sampleBatch } from '../sample.ts';

const on = { date: '2026-02-14', clock: null };
function read(readings: Readings) {
  const batch = sampleBatch({ readings });
  const c = buildCase(batch);
  designBoil(c);
  const { outcome, detail } = runModel(c);
  return observations(batch, outcome, detail);
}

describe('a refractometer', () => {
  // 11.8 / 1.04 = 11.346 °P. Half a division of 0.2 °Bx and the factor's 0.02: √(0.0962² + 0.2182²) = 0.2385 °P, at 0.00418 a °P.
  it.each([
    ['read to half a division', null, Math.hypot(0.1 / 1.04, (11.346 * 0.02) / 1.04)],
    ['read to 0.3 °Bx, as it says', 0.3, Math.hypot(0.3 / 1.04, (11.346 * 0.02) / 1.04)],
  ])('%s', (_, u, plato_u) => {
    const wort: GivenGravity = { scale: 'brix', value: 11.8, u, sample_C: null, written: '' };
    const [one] = read({ original_gravity: wort });
    expect(one!.u).toBeCloseTo(((1.05 - 1.04) / (12.397 - 10.004)) * plato_u, 4);
  });

  it('in the kettle shows wort, and in the fermenter beer', () => {
    const shown: GivenGravity = { scale: 'brix', value: 6.24, u: null, sample_C: null, written: '' };
    const found = read({
      boil_start_gravity: shown,
      original_gravity: { ...shown, value: 12.48 },
      fermentation: [{ on, gravity: shown, temperature_C: null, note: null }],
      final_gravity: shown,
    });
    // 6 °P are 1.0236; 12 and 6 of a fermented beer 1.01168 (Terrill 2011).
    expect(found.map(({ value }) => value)).toEqual([
      expect.closeTo(1.0236, 3),
      expect.closeTo(1.04833, 4),
      expect.closeTo(1.01168, 4),
      expect.closeTo(1.01168, 4),
    ]);
  });
});

describe('a hydrometer', () => {
  it('is taken to be at its calibration where the sample’s temperature is not written', () => {
    const [one] = read({
      original_gravity: { scale: 'sg', value: 1.05, u: null, sample_C: null, written: '' },
    });
    expect(one!.value).toBeCloseTo(1.05, 9);
  });
});
