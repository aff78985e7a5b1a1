/** The polynomials of the density set, each power of its own: Σj ((t − 20)/100)^j Σi c_ji w^i, as the set is printed. */
import { describe, expect, it } from 'vitest';
import {
  excessAt20,
  excessSlopeAt20,
  solutionDensity,
  waterDensity,
} from '../../lib/formulas/sucrose-set.ts';

/** c_ji of ICUMSA SPS-4: a row for each power of the temperature, from w on (coefficients seen in two transcriptions). */
const C = [
  [385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.289],
  [-46.272, -7.172, 1.1597, 5.1126, 17.5254],
  [59.7712, 7.2491, 12.363, -35.4791],
  [-47.2207, -21.6977, 27.6301],
  [18.3184, 12.3081],
];
const WATER = [999.83952, 16.952577, -7.9905127e-3, -46.241757e-6, 105.84601e-9, -281.03006e-12];

const powers = (coefficients: readonly number[], x: number) =>
  coefficients.reduce((sum, c, i) => sum + c * x ** i, 0);
const summed = (w: number, t: number) =>
  powers(
    C.map((row) => w * powers(row, w)),
    (t - 20) / 100,
  );

describe('the density of sucrose solutions', () => {
  it.each([0, 4, 20, 37, 80, 100])('of water at %d °C is a polynomial over a straight line', (t) => {
    expect(waterDensity(t)).toBeCloseTo(powers(WATER, t) / (1 + 16.887236e-3 * t), 9);
  });

  it.each([
    [0.05, 0],
    [0.12, 20],
    [0.3, 45],
    [0.6, 80],
    [0.85, 70],
    [-0.08, 10],
  ])('of a share of %f at %d °C is the sum of all its terms', (w, t) => {
    expect(solutionDensity(w, t)).toBeCloseTo(waterDensity(t) + summed(w, t), 9);
    expect(excessAt20(w)).toBeCloseTo(summed(w, 20), 9);
  });

  it.each([-0.05, 0, 0.12, 0.4, 0.85])('rises at 20 °C and a share of %f as its slope says', (w) => {
    // A chord over ±0.001 differs from the tangent by a sixth of the third derivative (250 to 800) times 1e-6.
    const chord = (excessAt20(w + 0.001) - excessAt20(w - 0.001)) / 0.002;
    expect(excessSlopeAt20(w)).toBeCloseTo(chord, 3);
  });
});
