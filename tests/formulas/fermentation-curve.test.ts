/** The fermentation curve against its differential equation, and what must hold for any of its shapes. */
import fc from 'fast-check';
import { Solver } from 'odex';
import { describe, expect, test } from 'vitest';
import { dayOfShareLeftSpeers2003, shareLeftSpeers2003 } from '../../lib/formulas/fermentation-curve.ts';

const SHAPES = [0.1, 0.5, 1, 2.5, 10];

describe('by odex (extrapolation of Gragg, Bulirsch and Stoer)', () => {
  test.each(SHAPES)('R′ = −(B/s) R (1 − R^s) at a shape of %d', (shape) => {
    const curve = { inflection_d: 2, rate_per_d: 1.5, shape };
    const left = shareLeftSpeers2003(curve);
    const solver = new Solver(1);
    solver.absoluteTolerance = 1e-13;
    solver.relativeTolerance = 1e-12;
    // The logarithm of the share, which no step of the solver carries below nothing.
    const fall = (_: number, [log]: number[]): number[] => [
      (-curve.rate_per_d / shape) * (1 - Math.exp(shape * log!)),
    ];
    // At the inflection (1 + s)^(−1/s) is left: the one point that is not the function's own.
    for (const day of [2.5, 3, 5, 9]) {
      const { y } = solver.solve(fall, 2, [-Math.log(1 + shape) / shape], day);
      expect(Math.abs(left(day) - Math.exp(y[0]!))).toBeLessThanOrEqual(1e-10);
    }
  });
});

const curves = fc.record({
  inflection_d: fc.double({ min: -5, max: 30, noNaN: true }),
  rate_per_d: fc.double({ min: 0.05, max: 20, noNaN: true }),
  shape: fc.double({ min: 0.05, max: 50, noNaN: true }),
});

test('never rises, and stays between all and nothing', () => {
  fc.assert(
    fc.property(
      curves,
      fc.double({ min: -50, max: 500, noNaN: true }),
      fc.double({ min: 0, max: 50, noNaN: true }),
      (curve, day, later) => {
        const left = shareLeftSpeers2003(curve);
        expect(left(day)).toBeGreaterThanOrEqual(0);
        expect(left(day)).toBeLessThanOrEqual(1);
        expect(left(day + later)).toBeLessThanOrEqual(left(day) + 1e-15);
      },
    ),
  );
});

test('the day of a share is the day on which that share is left', () => {
  fc.assert(
    fc.property(curves, fc.double({ min: 1e-4, max: 0.99, noNaN: true }), (curve, share) => {
      const day = dayOfShareLeftSpeers2003({ ...curve, share });
      expect(Math.abs(shareLeftSpeers2003(curve)(day) - share)).toBeLessThanOrEqual(1e-9);
    }),
  );
});

test('the fall is steepest at the inflection', () => {
  for (const shape of SHAPES) {
    const left = shareLeftSpeers2003({ inflection_d: 4, rate_per_d: 1, shape });
    const slope = (day: number): number => (left(day - 1e-4) - left(day + 1e-4)) / 2e-4;
    expect(slope(4)).toBeGreaterThan(slope(3.8));
    expect(slope(4)).toBeGreaterThan(slope(4.2));
  }
});

describe('beyond what a computer holds in one number', () => {
  const steep = { inflection_d: 0, rate_per_d: 1000, shape: 100 };

  test('the share is its own limit, (s e^(B t))^(−1/s): e^−(ln 100 + 1000)/100 after a day', () => {
    expect(shareLeftSpeers2003(steep)(1)).toBeCloseTo(Math.exp(-(Math.log(100) + 1000) / 100), 12);
    expect(shareLeftSpeers2003(steep)(-1)).toBe(1);
  });

  test('so is the day of a small share: r^−100 of a billionth has nine hundred digits', () => {
    // ln r^−s = 100 × 20.7233 = 2072.33; less ln 100 = 4.605; over 1000 a day.
    expect(dayOfShareLeftSpeers2003({ ...steep, share: 1e-9 })).toBeCloseTo(2.06772, 4);
  });
});

test.each([0, 1, 1.0000000001, Number.NaN])('a share of %d is never reached, or never left', (share) => {
  expect(() => dayOfShareLeftSpeers2003({ inflection_d: 2, rate_per_d: 1, shape: 1, share })).toThrow(
    RangeError,
  );
});
