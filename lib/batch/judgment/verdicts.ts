import type { VerdictWord } from '../types/plan.ts';

/**
 * How a reading compares with a printed range: fine inside it, a little off up to twice its half-width from the middle,
 * off beyond.
 *
 * The reading and the range are in the same unit and reduced in the same way (20 °C, SG 20/20).
 */
export function verdict(
  reading: number,
  printed: { readonly low: number; readonly high: number },
): Exclude<VerdictWord, 'not_taken'> {
  // Readings are typed in whole steps of the range, so only binary dust may be forgiven.
  const dust = 1e-9;
  if (reading >= printed.low - dust && reading <= printed.high + dust) return 'fine';
  const { low, high } = littleOff(printed);
  return reading >= low - dust && reading <= high + dust ? 'a_little_off' : 'off';
}

/** Readings for which only the warm end matters: the paper says *at most*. */
export const NO_WARMER: ReadonlySet<string> = new Set(['top_up.temperature', 'chilled.temperature']);

/**
 * How a temperature compares with one that it is to be at most: fine up to that figure in whole degrees, as the paper prints it, a
 * little off up to the end of the printed range, off beyond.
 */
export function verdictAtMost(
  reading_C: number,
  target: { readonly value: number; readonly printed: { readonly high: number } },
): Exclude<VerdictWord, 'not_taken'> {
  if (reading_C <= target.value + HALF_DEGREE_C) return 'fine';
  return reading_C <= target.printed.high ? 'a_little_off' : 'off';
}

/** What a thermometer that is read to the degree cannot tell apart. */
const HALF_DEGREE_C = 0.5;

/** Ends of *a little off*: twice the half-width of the printed range from its middle. */
export function littleOff(printed: { readonly low: number; readonly high: number }): {
  readonly low: number;
  readonly high: number;
} {
  const half = (printed.high - printed.low) / 2;
  return { low: printed.low - half, high: printed.high + half };
}
