import { isoAlphaShare } from './isomerisation.ts';
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

/**
 * Minutes of boiling at 100 °C that give as much bitterness as minutes at another boiling point.
 *
 * Formula: the minutes at which Tinseth's curve reaches its value at the real minutes × the ratio of the shares of iso-alpha
 *   acids at the two temperatures: u = 1 − e^(−0.04 t), −ln(1 − u × iso(T, t)/iso(100 °C, t)) / 0.04; at most 2 t.
 * Source: Tinseth 1997 (from memory) with Malowicki & Shellhammer 2005, see \`isomerisation.ts\`. The curve's own time course
 *   is steeper than the kinetics, so that scaling its minutes by the rate would take off too little.
 * Range: 60 to 130 °C, 0 to 1000 minutes; result in minutes; RangeError outside.
 */
export function minutesAt100C(of: { t_C: number; minutes: number }): number {
  const { t_C, minutes } = of;
  requireWithin('boiling point in °C', t_C, 60, 130);
  requireWithin('minutes of boiling', minutes, 0, 1000);
  if (minutes === 0) return 0;
  const ratio = isoAlphaShare(of) / isoAlphaShare({ t_C: 100, minutes });
  const left = 1 - ratio * (1 - Math.exp(-0.04 * minutes));
  return -Math.log(Math.max(left, Math.exp(-0.08 * minutes))) / 0.04;
}
