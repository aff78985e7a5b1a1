/** What a beer of a colour looks like through a glass. */
import { FIRST_WAVELENGTH_nm, OBSERVER_AND_D65, WAVELENGTH_STEP_nm } from './cie-tables.ts';
import { requireWithin } from './range.ts';

/**
 * Absorbance through 1 cm at a wavelength over that at 430 nm, for the average beer.
 *
 * 0.02465 e^(−(λ − 430)/17.591) + 0.97535 e^(−(λ − 430)/82.122). Source: deLange, published average
 * absorption spectrum of beers (coefficients from memory; abstract of the method opened).
 */
function relativeAbsorbance(wavelength_nm: number): number {
  const past430 = wavelength_nm - 430;
  return 0.02465 * Math.exp(-past430 / 17.591) + 0.97535 * Math.exp(-past430 / 82.122);
}

/** Per wavelength: absorbance, and the three weights that add up to X, Y, Z with Y = 1 for clear water. */
const BANDS = (() => {
  let white = 0;
  for (const [, y, , power] of OBSERVER_AND_D65) white += y * power;
  return OBSERVER_AND_D65.map(([x, y, z, power], row) => ({
    absorbance: relativeAbsorbance(FIRST_WAVELENGTH_nm + WAVELENGTH_STEP_nm * row),
    x: (x * power) / white,
    y: (y * power) / white,
    z: (z * power) / white,
  }));
})();

/**
 * Tristimulus values of a beer in daylight (D65, 1931 observer), clear water being Y = 1.
 *
 * Formula: the share of light let through is 10^(−A path), A = SRM/12.7 times the relative absorbance,
 *   summed over the observer's curves and the power of D65.
 * Source: Beer and Lambert; CIE 015:2018, see `cie-tables.ts`; deLange's average spectrum (coefficients
 *   from memory).
 * Range: 0 to 200 SRM, 0 to 50 cm; result X, Y, Z; RangeError outside.
 */
export function beerTristimulus(srm: number, path_cm: number): { x: number; y: number; z: number } {
  requireWithin('colour in SRM', srm, 0, 200);
  requireWithin('light path in cm', path_cm, 0, 50);
  const at430 = (srm / 12.7) * path_cm;
  const sum = { x: 0, y: 0, z: 0 };
  for (const band of BANDS) {
    const through = 10 ** (-at430 * band.absorbance);
    sum.x += band.x * through;
    sum.y += band.y * through;
    sum.z += band.z * through;
  }
  return sum;
}

/** Linear light to an sRGB channel, 0 to 255, clipped: IEC 61966-2-1. */
function channel(linear: number): number {
  const clipped = Math.min(1, Math.max(0, linear));
  const coded = clipped <= 0.0031308 ? 12.92 * clipped : 1.055 * clipped ** (1 / 2.4) - 0.055;
  return Math.round(coded * 255);
}

/**
 * Screen colour of a beer seen in daylight through a glass.
 *
 * Formula: `beerTristimulus` to sRGB, channels clipped. From about 6 SRM at 5 cm the true colour is more
 *   saturated than a screen can show, and blue is 0. Only colour times path matters.
 * Source: IEC 61966-2-1, and as `beerTristimulus`.
 * Range: 0 to 200 SRM, 0 to 50 cm; result 0 to 255 and the hex code; RangeError outside.
 * Uncertainty: 3 steps against another sum over the same spectrum; real beers differ by far more.
 */
export function beerSwatch(srm: number, path_cm: number): { r: number; g: number; b: number; hex: string } {
  const { x, y, z } = beerTristimulus(srm, path_cm);
  const r = channel(3.2409699 * x - 1.5373832 * y - 0.4986108 * z);
  const g = channel(-0.9692436 * x + 1.8759675 * y + 0.0415551 * z);
  const b = channel(0.0556301 * x - 0.203977 * y + 1.0569715 * z);
  return { r, g, b, hex: `#${[r, g, b].map((value) => value.toString(16).padStart(2, '0')).join('')}` };
}
