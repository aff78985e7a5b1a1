import { requireWithin } from './range.ts';

/**
 * Share of the alpha acids that an addition gives to the finished beer as bitterness.
 *
 * Formula: 1.65 × 0.000125^(SG − 1) × (1 − e^(−0.04 t)) / 4.15.
 * Source: Tinseth 1997, a published fit (from memory).
 * Range: SG 0.97 to 1.3, 0 to 1000 minutes; result a share, 0 to 0.5; RangeError outside.
 * Uncertainty: real bitterness is within about 20 %.
 */
export function utilisationTinseth1997(gravity_SG: number, minutes: number): number {
  requireWithin('gravity of the boiling wort', gravity_SG, 0.97, 1.3);
  requireWithin('minutes of boiling', minutes, 0, 1000);
  return (1.65 * 0.000125 ** (gravity_SG - 1) * (1 - Math.exp(-0.04 * minutes))) / 4.15;
}
