import { requireWithin } from './range.ts';

/**
 * Food energy of a litre of beer.
 *
 * Formula: 10 SG (6.9 × alcohol in percent by mass + 4.0 × (real extract − 0.1)), the 0.1 being ash.
 * Source: ASBC Methods of Analysis, Beer-33, as given in the Oxford Companion to Beer (opened).
 * Range: alcohol −5 to 30 % by mass (below 0 counts as none), real extract −8 to 85 °P (below 0.1 counts as
 *   none), SG 0.9 to 1.5; result in kcal/L; RangeError outside.
 * Uncertainty: 3 %; the factors of EU labels, 7 and 4 (from memory), give 1 % more.
 */
export function energyAsbc_kcal_per_L(of: {
  alcoholByMass_percent: number;
  real_P: number;
  gravity_SG: number;
}): number {
  requireWithin('alcohol by mass in percent', of.alcoholByMass_percent, -5, 30);
  requireWithin('real extract in °P', of.real_P, -8, 85);
  requireWithin('specific gravity of the beer', of.gravity_SG, 0.9, 1.5);
  const per100g = 6.9 * Math.max(0, of.alcoholByMass_percent) + 4 * Math.max(0, of.real_P - 0.1);
  return 10 * per100g * of.gravity_SG;
}
