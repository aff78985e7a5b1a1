import { OutOfRange } from './range.ts';

/**
 * Standard uncertainty of a result from what each of its independent inputs contributes to it.
 *
 * Formula: u = √Σ cᵢ², cᵢ the change of the result with one standard uncertainty of input i.
 * Source: JCGM 100:2008 (GUM), equation 10. Range: any finite contributions, in the unit of the result; RangeError else.
 */
export function combine(contributions: readonly number[]): number {
  let variance = 0;
  for (const part of contributions) variance += part * part;
  if (!Number.isFinite(variance)) throw new OutOfRange(`contributions must be numbers: ${contributions}`);
  return Math.sqrt(variance);
}
