import { describe, expect, test } from 'vitest';
import { alcoholByMassBalling_percent, alcoholByVolume_percent } from '../../lib/formulas/alcohol.ts';
import { realExtractBalling } from '../../lib/formulas/attenuation.ts';
import { platoFromSpecificGravity } from '../../lib/formulas/gravity.ts';
import { combine } from '../../lib/formulas/uncertainty.ts';

/** JCGM 100:2008, H.1: calibration of an end gauge (opened in part, the rest from memory); contributions in nm. */
describe('JCGM 100, H.1, end gauge', () => {
  // The guide prints 9.7; 9.68 is √(5.8² + 3.9² + 6.7²).
  test('u(d) = 9.7 nm from its three parts', () => expect(combine([5.8, 3.9, 6.7])).toBeCloseTo(9.68, 2));

  test('u(l) = 32 nm', () => {
    // The parts are rounded in print: 31.71 from them, printed as 32.
    expect(combine([25, 9.68, 2.9, 16.68])).toBeCloseTo(31.71, 1);
  });

  test('34 nm with the second-order terms, which the guide gives as 11.7 and 1.7 nm', () => {
    expect(combine([25, 9.68, 2.9, 16.68, 11.7, 1.7])).toBeCloseTo(33.8, 1);
  });
});

test('alcohol of 1.050 to 1.010, both ± 0.001: sensitivities +135.4 and −132.4 % per SG give 0.189 %', () => {
  const abv = (original_SG: number, final_SG: number) => {
    const original_P = platoFromSpecificGravity(original_SG);
    const real_P = realExtractBalling({ original_P, apparent_P: platoFromSpecificGravity(final_SG) });
    const alcoholByMass_percent = alcoholByMassBalling_percent({ original_P, real_P });
    return alcoholByVolume_percent({ alcoholByMass_percent, gravity_SG: final_SG });
  };
  const moved = [abv(1.051, 1.01) - abv(1.049, 1.01), abv(1.05, 1.011) - abv(1.05, 1.009)];
  expect(moved[0]! / 0.002).toBeCloseTo(135.4, 0);
  expect(moved[1]! / 0.002).toBeCloseTo(-132.4, 0);
  expect(combine(moved.map((change) => change / 2))).toBeCloseTo(0.189, 3);
});

test('nothing uncertain is certain', () => expect(combine([])).toBe(0));
