/**
 * How fast hop alpha acids turn into iso-alpha acids, and those into nothing, in hot wort.
 *
 * Source: Malowicki & Shellhammer 2005, J. Agric. Food Chem. 53:4434 (abstract opened): two reactions of the
 * first order in series, measured from 90 to 130 °C. That the rates are per minute is derived: they give
 * alpha acids at 100 °C a half-life of 55.5, which fits a boil in no other unit. Below 90 °C everything here
 * is extrapolation.
 */
import { ZERO_CELSIUS_K } from './constants.ts';
import { requireWithin } from './range.ts';

function requireTemperature(t_C: number): void {
  requireWithin('wort temperature in °C', t_C, 0, 130);
}

function firstRate(t_C: number): number {
  return 7.9e11 * Math.exp(-11858 / (t_C + ZERO_CELSIUS_K));
}

function secondRate(t_C: number): number {
  return 4.1e12 * Math.exp(-12994 / (t_C + ZERO_CELSIUS_K));
}

const FIRST_RATE_AT_100 = firstRate(100);

/**
 * How fast isomerisation goes compared with 100 °C.
 *
 * Formula: k1(T) / k1(100 °C).
 * Source: Malowicki & Shellhammer 2005, see the head of this file.
 * Range: 0 to 130 °C, measured from 90; result without unit; RangeError outside.
 */
export function isomerisationRatio(t_C: number): number {
  requireTemperature(t_C);
  return firstRate(t_C) / FIRST_RATE_AT_100;
}

/**
 * Share of the alpha acids that is present as iso-alpha acids after some minutes at one temperature.
 *
 * Formula: k1/(k2 − k1) (e^(−k1 t) − e^(−k2 t)).
 * Source: Malowicki & Shellhammer 2005, see the head of this file.
 * Range: 0 to 130 °C, 0 to 10,000 minutes; result 0 to 1; RangeError outside.
 */
export function isoAlphaShare(of: { t_C: number; minutes: number }): number {
  requireTemperature(of.t_C);
  requireWithin('minutes', of.minutes, 0, 10_000);
  const k1 = firstRate(of.t_C);
  const k2 = secondRate(of.t_C);
  return (k1 / (k2 - k1)) * (Math.exp(-k1 * of.minutes) - Math.exp(-k2 * of.minutes));
}

interface Course {
  /** Temperature of the wort, °C, at a minute of the course; asked for 0 to `minutes`. */
  readonly temperature_C: (minute: number) => number;
  readonly minutes: number;
}

/**
 * Minutes at 100 °C that would isomerise as much as a course of temperatures.
 *
 * Formula: ∫ k1(T)/k1(100 °C) dt, by Simpson's rule.
 * Source: Malowicki & Shellhammer 2005, see the head of this file.
 * Range: 0 to 130 °C, 0 to 10,000 minutes; result in minutes; RangeError outside.
 */
export function equivalentBoilMinutesAlong(course: Course): number {
  requireWithin('minutes', course.minutes, 0, 10_000);
  // At half a minute the error is some 1e-5 minutes for any kettle.
  const steps = Math.max(4, Math.ceil(course.minutes * 2));
  const h = course.minutes / steps;
  let sum =
    isomerisationRatio(course.temperature_C(0)) - isomerisationRatio(course.temperature_C(course.minutes));
  for (let step = 0; step < steps; step++) {
    sum += 4 * isomerisationRatio(course.temperature_C((step + 0.5) * h));
    sum += 2 * isomerisationRatio(course.temperature_C((step + 1) * h));
  }
  return (sum * h) / 6;
}
