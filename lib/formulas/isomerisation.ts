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
 * Rate at which alpha acids isomerise.
 *
 * Formula: k1 = 7.9e11 e^(−11858/T), T in kelvin.
 * Source: Malowicki & Shellhammer 2005, see the head of this file.
 * Range: 0 to 130 °C, measured from 90; result per minute; RangeError outside.
 * Cases: tests/formulas/bitterness.cases.ts.
 */
export function isomerisationRate_per_min(t_C: number): number {
  requireTemperature(t_C);
  return firstRate(t_C);
}

/**
 * Rate at which iso-alpha acids break down.
 *
 * Formula: k2 = 4.1e12 e^(−12994/T), T in kelvin.
 * Source: Malowicki & Shellhammer 2005, see the head of this file.
 * Range: 0 to 130 °C, measured from 90; result per minute; RangeError outside.
 * Cases: tests/formulas/bitterness.cases.ts.
 */
export function degradationRate_per_min(t_C: number): number {
  requireTemperature(t_C);
  return secondRate(t_C);
}

/**
 * How fast isomerisation goes compared with 100 °C.
 *
 * Formula: k1(T) / k1(100 °C).
 * Source: Malowicki & Shellhammer 2005, see the head of this file.
 * Range: 0 to 130 °C, measured from 90; result without unit; RangeError outside.
 * Cases: tests/formulas/bitterness.cases.ts.
 */
export function isomerisationRatio(t_C: number): number {
  requireTemperature(t_C);
  return firstRate(t_C) / FIRST_RATE_AT_100;
}

/**
 * Share of the alpha acids still unchanged after some minutes at one temperature.
 *
 * Formula: e^(−k1 t).
 * Source: Malowicki & Shellhammer 2005, see the head of this file.
 * Range: 0 to 130 °C, 0 to 10,000 minutes; result 0 to 1; RangeError outside.
 * Cases: tests/formulas/bitterness.cases.ts.
 */
export function alphaShareLeft(of: { t_C: number; minutes: number }): number {
  requireTemperature(of.t_C);
  requireWithin('minutes', of.minutes, 0, 10_000);
  return Math.exp(-firstRate(of.t_C) * of.minutes);
}

/**
 * Share of the alpha acids that is present as iso-alpha acids after some minutes at one temperature.
 *
 * Formula: k1/(k2 − k1) (e^(−k1 t) − e^(−k2 t)).
 * Source: Malowicki & Shellhammer 2005, see the head of this file.
 * Range: 0 to 130 °C, 0 to 10,000 minutes; result 0 to 1; RangeError outside.
 * Cases: tests/formulas/bitterness.cases.ts.
 */
export function isoAlphaShare(of: { t_C: number; minutes: number }): number {
  requireTemperature(of.t_C);
  requireWithin('minutes', of.minutes, 0, 10_000);
  const k1 = firstRate(of.t_C);
  const k2 = secondRate(of.t_C);
  return (k1 / (k2 - k1)) * (Math.exp(-k1 * of.minutes) - Math.exp(-k2 * of.minutes));
}
