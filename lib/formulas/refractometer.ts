/** What a refractometer says of a wort, before and after fermentation. */
import { requireWithin } from './range.ts';

/**
 * Extract of an unfermented wort of a refractometer's reading.
 *
 * Formula: Bx / factor.
 * Source: common practice, no source; the factor belongs to instrument and wort, 1.00 to 1.06 being met.
 * Range: 0 to 40 °Bx, factor 0.9 to 1.2; result in °P; RangeError outside.
 */
export function wortPlatoFromBrix(of: { brix: number; factor: number }): number {
  requireWithin('refractometer reading in °Bx', of.brix, 0, 40);
  requireWithin('wort factor', of.factor, 0.9, 1.2);
  return of.brix / of.factor;
}

/**
 * Gravity of a fermenting or finished beer from its refractometer reading and that of its wort.
 *
 * Formula: 1 − 0.0044993 i + 0.0117741 f + 0.000275806 i² − 0.00127169 f² − 7.27999e-6 i³ + 6.32929e-5 f³,
 *   where i and f are the readings before and now, each divided by the wort factor.
 * Source: Terrill 2011, a published regression, the cubic (coefficients from memory).
 * Range: 0 to 30 °Bx both, factor 0.9 to 1.2; result as SG; RangeError outside.
 * Uncertainty: 0.003, reading high in dry beers: never decide by it whether a bottle is safe.
 */
export function finalGravityTerrill2011(of: { originalBrix: number; brix: number; factor: number }): number {
  requireWithin('original refractometer reading in °Bx', of.originalBrix, 0, 30);
  requireWithin('refractometer reading in °Bx', of.brix, 0, 30);
  requireWithin('wort factor', of.factor, 0.9, 1.2);
  const i = of.originalBrix / of.factor;
  const f = of.brix / of.factor;
  return (
    1 +
    i * (-0.0044993 + i * (0.000275806 + i * -7.27999e-6)) +
    f * (0.0117741 + f * (-0.00127169 + f * 6.32929e-5))
  );
}
