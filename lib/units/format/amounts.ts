import type { Units } from '../dimension.ts';
import { GRAMS_PER_OUNCE, GRAMS_PER_POUND, LITRES_PER_US_GALLON, LITRES_PER_US_QUART } from '../table.ts';
import { joined, MINUS, mustBeFinite, type Parts, roundTo, trimmed } from './round.ts';

interface Step {
  readonly unit: string;
  /** In the internal unit. */
  readonly size: number;
  readonly decimals: (count: number) => number;
  /** Used while the rounded figure is under this, in the internal unit. */
  readonly below: number;
}

const MASS: readonly Step[] = [
  { unit: 'g', size: 1, decimals: (n) => (n < 10 ? 1 : 0), below: 1000 },
  { unit: 'kg', size: 1000, decimals: () => 2, below: Infinity },
];
const OUNCES: Step = {
  unit: 'oz',
  size: GRAMS_PER_OUNCE,
  decimals: (n) => (n < 4 ? 2 : 1),
  below: GRAMS_PER_POUND,
};
const VOLUME: readonly Step[] = [
  { unit: 'ml', size: 0.001, decimals: (n) => (n < 10 ? 1 : 0), below: 1 },
  { unit: 'L', size: 1, decimals: () => 1, below: Infinity },
];
const FLUID_OUNCES: Step = {
  unit: 'fl oz',
  size: LITRES_PER_US_GALLON / 128,
  decimals: (n) => (n < 1 ? 2 : n < 10 ? 1 : 0),
  below: LITRES_PER_US_QUART,
};

/** A figure in the first of some sizes that is large enough; null where none is. */
function inSteps(value: number, steps: readonly Step[]): Parts | null {
  const amount = Math.abs(value);
  for (const { unit, size, below, decimals } of steps) {
    const places = decimals(amount / size);
    // 999.6 g prints as 1000 g, which is 1 kg: the rounded figure decides, with room for binary fractions.
    if (roundTo(amount / size, places) * size < below * (1 - 1e-9))
      return { number: trimmed(value / size, places), unit };
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
  const steps = inSteps(mass_g, units === 'metric' ? MASS : [OUNCES]);
  if (steps !== null) return steps;
  const decimals = Math.abs(mass_g) < 10 * GRAMS_PER_POUND ? 1 : 0;
  return compound(roundTo(mass_g / GRAMS_PER_OUNCE, decimals), ['oz', 'lb', 16]);
}

/**
 * A volume in litres: millilitres under a litre, then tenths of a litre, the step of a kettle's marks; US: fluid
 * ounces under a quart, then gallons and quarts to the quarter quart. Throws RangeError where it is not finite.
 */
export function volumeParts(volume_L: number, units: Units): Parts {
  mustBeFinite(volume_L, 'a volume in litres');
  const steps = inSteps(volume_L, units === 'metric' ? VOLUME : [FLUID_OUNCES]);
  if (steps !== null) return steps;
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
