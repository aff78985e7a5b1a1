import type { Units } from '../dimension.ts';
import { GRAMS_PER_OUNCE, GRAMS_PER_POUND, LITRES_PER_US_GALLON, LITRES_PER_US_QUART } from '../table.ts';
import { joined, MINUS, mustBeFinite, type Parts, placesOf, roundTo, trimmed } from './round.ts';

interface Size {
  readonly unit: string;
  /** In the internal unit. */
  readonly size: number;
  /** The smallest step that is told apart at so many of it. */
  readonly step: (count: number) => number;
  /** Used while the rounded figure is under this, in the internal unit. */
  readonly below: number;
}

const MASS: readonly Size[] = [
  { unit: 'g', size: 1, step: (n) => (n < 10 ? 0.1 : 1), below: 1000 },
  { unit: 'kg', size: 1000, step: () => 0.01, below: Infinity },
];
const OUNCES: Size = {
  unit: 'oz',
  size: GRAMS_PER_OUNCE,
  step: (n) => (n < 4 ? 0.01 : 0.1),
  below: GRAMS_PER_POUND,
};
/** A syringe, a spoon, a jug with marks, a pot with marks. */
const VOLUME: readonly Size[] = [
  { unit: 'ml', size: 0.001, step: (n) => (n < 10 ? 0.1 : n < 50 ? 1 : n < 500 ? 10 : 50), below: 1 },
  { unit: 'L', size: 1, step: () => 0.1, below: Infinity },
];
const FLUID_OUNCES: Size = {
  unit: 'fl oz',
  size: LITRES_PER_US_GALLON / 128,
  step: (n) => (n < 1 ? 0.01 : n < 4 ? 0.1 : 1),
  below: LITRES_PER_US_QUART,
};

/** A figure in the first of some sizes that is large enough; null where none is. */
function inSizes(value: number, sizes: readonly Size[]): Parts | null {
  const amount = Math.abs(value);
  for (const { unit, size, below, step: stepAt } of sizes) {
    const step = stepAt(amount / size);
    const count = roundTo(value / size / step, 0) * step;
    // 999.6 g prints as 1000 g, which is 1 kg: the rounded figure decides, with room for binary fractions.
    if (Math.abs(count) * size < below * (1 - 1e-9)) return { number: trimmed(count, placesOf(step)), unit };
  }
  return null;
}

/** `1 lb 4 oz`: a rounded figure in its smaller unit, of which so many make the larger one. */
function compound(
  rounded: number,
  [small, large, per]: readonly [small: string, large: string, per: number],
): Parts {
  const sign = rounded < 0 ? MINUS : '';
  const whole = Math.floor(Math.abs(rounded) / per);
  const rest = trimmed(Math.abs(rounded) - per * whole, 2);
  if (whole === 0) return { number: `${sign}${rest}`, unit: small };
  return rest === '0'
    ? { number: `${sign}${whole}`, unit: large }
    : { number: `${sign}${whole} ${large} ${rest}`, unit: small };
}

/**
 * A weight in grams as a kitchen scale shows it: whole grams (tenths under 10 g), kilograms with two decimals from
 * 1 kg on; US: ounces, from a pound on pounds and ounces. Throws RangeError where it is not finite.
 */
export function massParts(mass_g: number, units: Units): Parts {
  mustBeFinite(mass_g, 'a mass in grams');
  const small = inSizes(mass_g, units === 'metric' ? MASS : [OUNCES]);
  if (small !== null) return small;
  const decimals = Math.abs(mass_g) < 10 * GRAMS_PER_POUND ? 1 : 0;
  return compound(roundTo(mass_g / GRAMS_PER_OUNCE, decimals), ['oz', 'lb', 16]);
}

/**
 * A volume in litres as a jug and a pot show it: millilitres under a litre, tens from 50 ml and fifties from 500 ml on, then
 * tenths of a litre; US: fluid ounces under a quart, then gallons and quarts to the quarter quart. Throws RangeError where
 * it is not finite.
 */
export function volumeParts(volume_L: number, units: Units): Parts {
  mustBeFinite(volume_L, 'a volume in litres');
  const small = inSizes(volume_L, units === 'metric' ? VOLUME : [FLUID_OUNCES]);
  if (small !== null) return small;
  return compound(roundTo((4 * volume_L) / LITRES_PER_US_QUART, 0) / 4, ['qt', 'gal', 4]);
}

const DAY_MIN = 1440;

/**
 * A length of time in minutes: `20 min`, `1 h 30 min`, `14 days` (days from two days on, or where it is one day
 * exactly; a day has one decimal). Throws RangeError where it is not finite.
 */
export function minutesParts(time_min: number): Parts {
  mustBeFinite(time_min, 'a time in minutes');
  const minutes = roundTo(time_min, 0);
  if (Math.abs(time_min) >= 2 * DAY_MIN || Math.abs(minutes) === DAY_MIN) {
    const number = trimmed(time_min / DAY_MIN, 1);
    return { number, unit: number === '1' ? 'day' : 'days' };
  }
  return Math.abs(minutes) <= 60
    ? { number: trimmed(minutes, 0), unit: 'min' }
    : compound(minutes, ['min', 'h', 60]);
}

export const formatMass = (mass_g: number, units: Units): string => joined(massParts(mass_g, units));
export const formatVolume = (volume_L: number, units: Units): string => joined(volumeParts(volume_L, units));
export const formatMinutes = (time_min: number): string => joined(minutesParts(time_min));
