import { describe, expect, test } from 'vitest';
import { alcoholByMassBalling_percent, alcoholByVolume_percent } from '../../lib/formulas/alcohol.ts';
import { realExtractBalling } from '../../lib/formulas/attenuation.ts';
import { platoFromSpecificGravity } from '../../lib/formulas/gravity.ts';
import { combine } from '../../lib/formulas/uncertainty.ts';

/** JCGM 100:2008, H.1: calibration of an end gauge (opened in part, the rest from memory); lengths in nm. */
describe('JCGM 100, H.1, end gauge', () => {
  test('u(d) = 9.7 nm from its three parts', () => {
    // The guide prints 9.7; 9.68 is √(5.8² + 3.9² + 6.7²).
    expect(combine([1, 1, 1], [5.8, 3.9, 6.7])).toBeCloseTo(9.68, 2);
  });

  test('u(l) = 32 nm', () => {
    // The parts are rounded in print: 31.71 from them, printed as 32.
    const u_nm = combine([1, 1, 1, 1], [25, 9.68, 2.9, 16.68]);
    expect(u_nm).toBeCloseTo(31.71, 1);
    expect(Math.round(u_nm)).toBe(32);
  });

  test('34 nm with the second-order terms, which the guide gives as 11.7 and 1.7 nm', () => {
    const u_nm = combine([1, 1, 1, 1, 1, 1], [25, 9.68, 2.9, 16.68, 11.7, 1.7]);
    expect(u_nm).toBeCloseTo(33.8, 1);
    expect(Math.round(u_nm)).toBe(34);
  });

  test('expanded by t99(16) = 2.921: U = 93 nm', () => {
    expect(Math.round(2.921 * combine([1, 1, 1, 1], [25, 9.68, 2.9, 16.68]))).toBe(93);
  });
});

/** JCGM 100:2008, H.2: resistance and reactance measured together (opened). */
describe('JCGM 100, H.2, correlated inputs', () => {
  const V = 4.999;
  const I = 19.661e-3;
  const φ = 1.04446;
  const us = [0.0032, 0.0095e-3, 0.00075];
  const correlations = [
    [1, -0.36, 0.86],
    [-0.36, 1, -0.65],
    [0.86, -0.65, 1],
  ];
  const R = (V / I) * Math.cos(φ);
  const X = (V / I) * Math.sin(φ);
  const Z = V / I;

  // Tolerance 0.002: the inputs are printed to two or three digits, the raw data give .071, .2956, .236.
  test.each([
    ['R', R, [R / V, -R / I, -X], 127.732, 0.07],
    ['X', X, [X / V, -X / I, R], 219.847, 0.296],
    ['Z', Z, [Z / V, -Z / I, 0], 254.26, 0.237],
  ] as const)('%s in ohms', (_, value, sensitivities, expected, u) => {
    expect(Math.abs(value - expected)).toBeLessThanOrEqual(0.0006);
    expect(Math.abs(combine(sensitivities, us, correlations) - u)).toBeLessThanOrEqual(0.0006);
  });

  test('leaving the correlations out makes u(R) nearly three times too large: .194', () => {
    expect(Math.abs(combine([R / V, -R / I, -X], us) - 0.194)).toBeLessThanOrEqual(0.001);
  });
});

describe('alcohol of 1.050 to 1.010, each read to ± 0.001', () => {
  const abv = (OG: number, FG: number): number => {
    const original_P = platoFromSpecificGravity(OG);
    const real_P = realExtractBalling({ original_P, apparent_P: platoFromSpecificGravity(FG) });
    const alcoholByMass_percent = alcoholByMassBalling_percent({ original_P, real_P });
    return alcoholByVolume_percent({ alcoholByMass_percent, gravity_SG: FG });
  };
  const h = 1e-6;
  const byOG = (abv(1.05 + h, 1.01) - abv(1.05 - h, 1.01)) / (2 * h);
  const byFG = (abv(1.05, 1.01 + h) - abv(1.05, 1.01 - h)) / (2 * h);

  // Figures worked out apart from this program, rounded to 0.1 and 0.001.
  test('sensitivities +135.4 and −132.4 % per unit of gravity', () => {
    expect(Math.abs(byOG - 135.4)).toBeLessThanOrEqual(0.1);
    expect(Math.abs(byFG + 132.4)).toBeLessThanOrEqual(0.1);
  });

  test('u = 0.189 % by volume', () => {
    expect(Math.abs(combine([byOG, byFG], [0.001, 0.001]) - 0.189)).toBeLessThanOrEqual(0.0006);
  });
});

describe('limits of the law', () => {
  test('wholly correlated inputs add, or cancel', () => {
    const together = [
      [1, 1],
      [1, 1],
    ];
    expect(combine([1, 1], [3, 4], together)).toBeCloseTo(7, 12);
    expect(combine([1, -1], [3, 3], together)).toBe(0);
  });

  test('no inputs, no uncertainty', () => {
    expect(combine([], [])).toBe(0);
  });

  test.each([
    ['lengths that differ', [1, 2], [1], undefined],
    ['a negative uncertainty', [1], [-1], undefined],
    ['an uncertainty that is no number', [1], [Number.NaN], undefined],
    ['an infinite sensitivity', [Number.POSITIVE_INFINITY], [1], undefined],
    ['a matrix of the wrong size', [1, 1], [1, 1], [[1]]],
    [
      'a diagonal that is not 1',
      [1, 1],
      [1, 1],
      [
        [1, 0],
        [0, 0.5],
      ],
    ],
    [
      'a matrix that is not symmetric',
      [1, 1],
      [1, 1],
      [
        [1, 0.5],
        [0.4, 1],
      ],
    ],
    [
      'a correlation beyond 1',
      [1, 1],
      [1, 1],
      [
        [1, 1.1],
        [1.1, 1],
      ],
    ],
    [
      'correlations that contradict each other',
      [1, 1, 1],
      [1, 1, 1],
      [
        [1, -0.9, -0.9],
        [-0.9, 1, -0.9],
        [-0.9, -0.9, 1],
      ],
    ],
  ])('%s throws RangeError', (_, sensitivities, us, correlations) => {
    expect(() => combine(sensitivities, us, correlations)).toThrow(RangeError);
  });

  test.each([
    ['2 sensitivities, but 1 uncertainties', [1, 2], [1], undefined],
    ['input 1: sensitivity 3, u -1', [1, 3], [1, -1], undefined],
    ['correlations must be 2 rows of 2', [1, 1], [1, 1], [[1]]],
    ['correlations must be 2 rows of 2', [1, 1], [1, 1], [[1, 0], [0]]],
    ['correlations must be 2 rows of 2', [1, 1], [1, 1], [[1, 0]]],
    [
      'correlation of input 1 with itself must be 1',
      [1, 1],
      [1, 1],
      [
        [1, 0],
        [0, 0.5],
      ],
    ],
    [
      'correlation of inputs 0 and 1 must be symmetric and from -1 to 1',
      [1, 1],
      [1, 1],
      [
        [1, -2],
        [-2, 1],
      ],
    ],
    [
      'correlations that no set of quantities can have',
      [1, 1, 1],
      [1, 1, 1],
      [
        [1, -1, -1],
        [-1, 1, -1],
        [-1, -1, 1],
      ],
    ],
  ])('“%s”', (message, sensitivities, us, correlations) => {
    expect(() => combine(sensitivities, us, correlations)).toThrow(message);
  });

  test('an input that is known for sure adds nothing, and may be correlated with anything', () => {
    expect(combine([2, 5], [3, 0])).toBe(6);
    expect(
      combine(
        [2, 5],
        [3, 0],
        [
          [1, 1],
          [1, 1],
        ],
      ),
    ).toBe(6);
  });
});
