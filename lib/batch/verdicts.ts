import type { VerdictWord } from './plan.ts';

/**
 * How a reading stands to a printed range: fine inside it, a little off up to twice its half-width from the middle,
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

/** Ends of *a little off*: twice the half-width of the printed range from its middle. */
export function littleOff(printed: { readonly low: number; readonly high: number }): {
  readonly low: number;
  readonly high: number;
} {
  const half = (printed.high - printed.low) / 2;
  return { low: printed.low - half, high: printed.high + half };
}
