import { requireWithin } from './range.ts';

/**
 * Temperature of a wort, °C, at a minute of a chill that ends at `to_C` after `minutes`.
 *
 * Formula: Tc + (T0 − Tc) e^(−t/τ), τ = minutes / ln((T0 − Tc)/(T1 − Tc)), Tc the cold side's steady temperature.
 * Source: Newton's law of cooling (1701), from memory. A bath that warms up is slower at the end.
 * Range: from to 130 °C and above to, to above cold, minutes above 0 (1e-3) to 10,000; RangeError outside.
 */
export function coolingNewton(of: {
  from_C: number;
  to_C: number;
  cold_C: number;
  minutes: number;
}): (minute: number) => number {
  const { cold_C, minutes } = of;
  requireWithin('temperature of the cold side in °C', cold_C, -50, of.to_C - 1e-6);
  requireWithin('temperature before the chill in °C', of.from_C, 0, 130);
  requireWithin('temperature after the chill in °C', of.to_C, 0, of.from_C - 1e-6);
  requireWithin('minutes of the chill', minutes, 1e-3, 10_000);
  const rise_K = of.from_C - cold_C;
  const rate = Math.log(rise_K / (of.to_C - cold_C)) / minutes;
  return (minute) => cold_C + rise_K * Math.exp(-rate * minute);
}
