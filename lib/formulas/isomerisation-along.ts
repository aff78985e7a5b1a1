/** Isomerisation while the wort's temperature changes: a stand that cools, a slow chill. */
import { degradationRate_per_min, isomerisationRate_per_min, isomerisationRatio } from './isomerisation.ts';
import { requireWithin } from './range.ts';

interface Course {
  /** Temperature of the wort, °C, at a minute of the course; asked for 0 to `minutes`. */
  readonly temperature_C: (minute: number) => number;
  readonly minutes: number;
}

/**
 * Steps of at most a quarter of a minute: at that size the fourth-order error is below 1e-7 for any kettle.
 */
function stepsOf(minutes: number): number {
  requireWithin('minutes', minutes, 0, 10_000);
  return Math.max(4, Math.ceil(minutes * 4));
}

/**
 * Share of the alpha acids that is present as iso-alpha acids after a course of temperatures.
 *
 * Formula: dα/dt = −k1 α, di/dt = k1 α − k2 i, by the classical method of Runge and Kutta.
 * Source: Malowicki & Shellhammer 2005, see `isomerisation.ts`.
 * Range: 0 to 130 °C, 0 to 10,000 minutes; result 0 to 1; RangeError outside.
 * Cases: tests/formulas/bitterness.cases.ts.
 */
export function isoAlphaShareAlong(course: Course): number {
  const steps = stepsOf(course.minutes);
  const h = course.minutes / steps;
  let alpha = 1;
  let iso = 0;
  let rates = ratesAt(course.temperature_C(0));
  for (let step = 0; step < steps; step++) {
    const middle = ratesAt(course.temperature_C((step + 0.5) * h));
    const end = ratesAt(course.temperature_C((step + 1) * h));
    const a = slope(rates, alpha, iso);
    const b = slope(middle, alpha + (h / 2) * a.alpha, iso + (h / 2) * a.iso);
    const c = slope(middle, alpha + (h / 2) * b.alpha, iso + (h / 2) * b.iso);
    const d = slope(end, alpha + h * c.alpha, iso + h * c.iso);
    alpha += (h / 6) * (a.alpha + 2 * b.alpha + 2 * c.alpha + d.alpha);
    iso += (h / 6) * (a.iso + 2 * b.iso + 2 * c.iso + d.iso);
    rates = end;
  }
  return iso;
}

interface Rates {
  readonly first: number;
  readonly second: number;
}

function ratesAt(t_C: number): Rates {
  return { first: isomerisationRate_per_min(t_C), second: degradationRate_per_min(t_C) };
}

function slope({ first, second }: Rates, alpha: number, iso: number): { alpha: number; iso: number } {
  return { alpha: -first * alpha, iso: first * alpha - second * iso };
}

/**
 * Minutes at 100 °C that would isomerise as much as a course of temperatures.
 *
 * Formula: ∫ k1(T)/k1(100 °C) dt, by Simpson's rule.
 * Source: Malowicki & Shellhammer 2005, see `isomerisation.ts`.
 * Range: 0 to 130 °C, 0 to 10,000 minutes; result in minutes; RangeError outside.
 * Cases: tests/formulas/bitterness.cases.ts.
 */
export function equivalentBoilMinutesAlong(course: Course): number {
  const steps = stepsOf(course.minutes);
  const h = course.minutes / steps;
  let sum = 0;
  for (let step = 0; step < steps; step++) {
    sum +=
      isomerisationRatio(course.temperature_C(step * h)) +
      4 * isomerisationRatio(course.temperature_C((step + 0.5) * h)) +
      isomerisationRatio(course.temperature_C((step + 1) * h));
  }
  return (sum * h) / 6;
}
