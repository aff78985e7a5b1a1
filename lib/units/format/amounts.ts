import type { UnitSystem } from '../dimension.ts';
import { GRAMS_PER_OUNCE, GRAMS_PER_POUND, LITRES_PER_US_GALLON, LITRES_PER_US_QUART } from '../table.ts';
import { joined, mustBeFinite, type Parts, roundTo, trimmed } from './round.ts';

/** How a figure is printed where the kitchen's usual rounding does not serve. */
export interface FormatOptions {
  /** Decimals of the last unit printed. */
  readonly decimals?: number;
  /** Unit and rounding are chosen as for this value, so that both ends of a range agree. */
  readonly like?: number;
}

/** One size in which an amount can be printed. */
interface Step {
  readonly unit: string;
  /** In the internal unit. */
  readonly size: number;
  readonly decimals: (count: number) => number;
  /** Used while the rounded figure is under this, in the internal unit. */
  readonly below: number;
}

interface Chosen {
  readonly unit: string;
  readonly size: number;
  readonly decimals: number;
}

function choose(like: number, steps: readonly [Step, ...Step[]], decimals: number | undefined): Chosen {
  const amount = Math.abs(like);
  let chosen: Chosen | undefined;
  for (const step of steps) {
    const places = decimals ?? step.decimals(amount / step.size);
    chosen = { unit: step.unit, size: step.size, decimals: places };
    // 999.6 g prints as 1000 g, which is 1 kg: the rounded figure decides, with room for binary fractions.
    if (roundTo(amount / step.size, places) * step.size < step.below * (1 - 1e-9)) return chosen;
  }
  return chosen as Chosen;
}

function inSteps(value: number, steps: readonly [Step, ...Step[]], options: FormatOptions): Parts {
  const { unit, size, decimals } = choose(options.like ?? value, steps, options.decimals);
  return { number: trimmed(value / size, decimals), unit };
}

const METRIC_MASS: readonly [Step, ...Step[]] = [
  { unit: 'g', size: 1, decimals: (n) => (n < 10 ? 1 : 0), below: 1000 },
  { unit: 'kg', size: 1000, decimals: () => 2, below: Number.POSITIVE_INFINITY },
];

const OUNCES: Step = {
  unit: 'oz',
  size: GRAMS_PER_OUNCE,
  decimals: (n) => (n < 4 ? 2 : 1),
  below: GRAMS_PER_POUND,
};

function poundParts(value: number, options: FormatOptions): Parts {
  const like = Math.abs(options.like ?? value);
  const decimals = options.decimals ?? (like < 10 * GRAMS_PER_POUND ? 1 : 0);
  const ounces = roundTo(Math.abs(value) / GRAMS_PER_OUNCE, decimals);
  const pounds = Math.floor(ounces / 16);
  const rest = trimmed(ounces - 16 * pounds, decimals);
  const sign = value < 0 && ounces > 0 ? '\u2212' : '';
  if (pounds === 0) return { number: `${sign}${rest}`, unit: 'oz' };
  return rest === '0'
    ? { number: `${sign}${pounds}`, unit: 'lb' }
    : { number: `${sign}${pounds} lb ${rest}`, unit: 'oz' };
}

/**
 * A weight in grams as a kitchen scale shows it: whole grams (tenths under 10 g), kilograms with two decimals from
 * 1 kg on; US: ounces, from a pound on pounds and ounces. Throws RangeError where it is not finite.
 */
export function massParts(mass_g: number, units: UnitSystem, options: FormatOptions = {}): Parts {
  mustBeFinite(mass_g, 'a mass in grams');
  if (units === 'metric') return inSteps(mass_g, METRIC_MASS, options);
  const asOunces = choose(
    options.like ?? mass_g,
    [OUNCES, { ...OUNCES, unit: 'lb', below: Infinity }],
    options.decimals,
  );
  return asOunces.unit === 'oz' ? inSteps(mass_g, [OUNCES], options) : poundParts(mass_g, options);
}

const METRIC_VOLUME: readonly [Step, ...Step[]] = [
  { unit: 'ml', size: 0.001, decimals: (n) => (n < 10 ? 1 : 0), below: 1 },
  { unit: 'L', size: 1, decimals: () => 1, below: Number.POSITIVE_INFINITY },
];

const US_VOLUME: readonly [Step, ...Step[]] = [
  {
    unit: 'fl oz',
    size: LITRES_PER_US_GALLON / 128,
    decimals: (n) => (n < 1 ? 2 : n < 10 ? 1 : 0),
    below: LITRES_PER_US_QUART,
  },
  { unit: 'qt', size: LITRES_PER_US_QUART, decimals: () => 2, below: LITRES_PER_US_GALLON },
  { unit: 'gal', size: LITRES_PER_US_GALLON, decimals: () => 2, below: Number.POSITIVE_INFINITY },
];

/** Gallons and quarts to the quarter quart, as a kettle's marks can be read. */
function gallonParts(value: number): Parts {
  const quarts = roundTo((4 * Math.abs(value)) / LITRES_PER_US_QUART, 0) / 4;
  const gallons = Math.floor(quarts / 4);
  const rest = trimmed(quarts - 4 * gallons, 2);
  const sign = value < 0 && quarts > 0 ? '\u2212' : '';
  if (gallons === 0) return { number: `${sign}${rest}`, unit: 'qt' };
  return rest === '0'
    ? { number: `${sign}${gallons}`, unit: 'gal' }
    : { number: `${sign}${gallons} gal ${rest}`, unit: 'qt' };
}

/**
 * A volume in litres: millilitres under a litre, then tenths of a litre, the step of a kettle's marks; US: fluid
 * ounces under a quart, then gallons and quarts to the quarter quart. Throws RangeError where it is not finite.
 */
export function volumeParts(volume_L: number, units: UnitSystem, options: FormatOptions = {}): Parts {
  mustBeFinite(volume_L, 'a volume in litres');
  if (units === 'metric') return inSteps(volume_L, METRIC_VOLUME, options);
  const chosen = choose(options.like ?? volume_L, US_VOLUME, options.decimals);
  return chosen.unit === 'fl oz' || options.decimals !== undefined
    ? inSteps(volume_L, US_VOLUME, options)
    : gallonParts(volume_L);
}

/** Nobody weighs ice to the gram, and too little is worse than too much: tenths of a kilogram or whole pounds, upwards. */
export function iceParts(ice_kg: number, units: UnitSystem): Parts {
  mustBeFinite(ice_kg, 'ice in kilograms');
  return units === 'metric'
    ? { number: trimmed(Math.ceil(10 * ice_kg - 1e-9) / 10, 1), unit: 'kg' }
    : { number: trimmed(Math.ceil((1000 * ice_kg) / GRAMS_PER_POUND - 1e-9), 0), unit: 'lb' };
}

const DAY = 1440;

/**
 * A length of time in minutes: `20 min`, `1 h 30 min`, `14 days` (days from two days on, or where it is one day
 * exactly; a day has one decimal). Throws RangeError where it is not finite.
 */
export function minutesParts(time_min: number, options: FormatOptions = {}): Parts {
  mustBeFinite(time_min, 'a time in minutes');
  const like = Math.abs(options.like ?? time_min);
  const sign = time_min < 0 ? '\u2212' : '';
  if (like >= 2 * DAY || roundTo(like, options.decimals ?? 0) === DAY) {
    const number = trimmed(time_min / DAY, options.decimals ?? 1);
    return { number, unit: number === '1' ? 'day' : 'days' };
  }
  const decimals = options.decimals ?? 0;
  const minutes = roundTo(Math.abs(time_min), decimals);
  if (roundTo(like, decimals) <= 60) return { number: trimmed(time_min, decimals), unit: 'min' };
  const hours = Math.floor(minutes / 60);
  const rest = trimmed(minutes - 60 * hours, decimals);
  if (hours === 0) return { number: trimmed(time_min, decimals), unit: 'min' };
  return rest === '0'
    ? { number: `${sign}${hours}`, unit: 'h' }
    : { number: `${sign}${hours} h ${rest}`, unit: 'min' };
}

export function formatMass(mass_g: number, units: UnitSystem, options?: FormatOptions): string {
  return joined(massParts(mass_g, units, options));
}

export function formatVolume(volume_L: number, units: UnitSystem, options?: FormatOptions): string {
  return joined(volumeParts(volume_L, units, options));
}

export function formatMinutes(time_min: number, options?: FormatOptions): string {
  return joined(minutesParts(time_min, options));
}
