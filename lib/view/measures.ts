import { amountNumber, type Units } from './numbers.ts';

/** A number and its unit apart, so that a sheet can set them in different sizes. */
export interface Measure {
  readonly number: string;
  readonly unit: string;
}

/** US gallon, exact: 231 cubic inches of 2.54 cm (NIST Handbook 44, appendix C). */
export const US_GALLON_L = 3.785411784;
const US_QUART_L = US_GALLON_L / 4;
/** Avoirdupois ounce, exact (NIST Handbook 44, appendix C). */
export const OUNCE_G = 28.349523125;
const POUND_G = 16 * OUNCE_G;
/** Pound-force per square inch in kilopascal (NIST SP 811, appendix B.8). */
export const PSI_KPA = 6.894757;
/** One US quart and more is read on a gallon scale; less on a quart scale. */
const GALLONS_FROM_L = US_GALLON_L;

/** A unit that a quantity is shown in: how to convert, and the smallest step worth printing. */
export interface Scale {
  readonly unit: string;
  readonly step: number;
  of(value: number): number;
}

/** The scale for a volume in litres; US volumes below a gallon are in quarts. */
export function volumeScale(litres: number, units: Units): Scale {
  if (units === 'metric') return { unit: 'L', step: 0.1, of: (l) => l };
  return Math.abs(litres) >= GALLONS_FROM_L
    ? { unit: 'gal', step: 0.05, of: (l) => l / US_GALLON_L }
    : { unit: 'qt', step: 0.1, of: (l) => l / US_QUART_L };
}

/** The scale for a mass in grams: g below 1 kg, kg above; ounces below 2 lb, pounds above. */
export function massScale(grams: number, units: Units): Scale {
  if (units === 'metric') {
    if (Math.abs(grams) >= 1000) return { unit: 'kg', step: 0.01, of: (g) => g / 1000 };
    return { unit: 'g', step: Math.abs(grams) > 100 ? 5 : 1, of: (g) => g };
  }
  return Math.abs(grams) >= 2 * POUND_G
    ? { unit: 'lb', step: 0.05, of: (g) => g / POUND_G }
    : { unit: 'oz', step: Math.abs(grams) > 100 ? 0.1 : 0.05, of: (g) => g / OUNCE_G };
}

/** The scale for ice, which nobody weighs to the gram. */
export function iceScale(units: Units): Scale {
  return units === 'metric'
    ? { unit: 'kg', step: 0.1, of: (kg) => kg }
    : { unit: 'lb', step: 0.5, of: (kg) => (kg * 1000) / POUND_G };
}

/** The scale for a temperature in degrees Celsius. */
export function temperatureScale(units: Units): Scale {
  return units === 'metric'
    ? { unit: '°C', step: 1, of: (c) => c }
    : { unit: '°F', step: 1, of: (c) => (c * 9) / 5 + 32 };
}

/** The scale for a gauge pressure in kilopascal. */
export function pressureScale(units: Units): Scale {
  return units === 'metric'
    ? { unit: 'bar', step: 0.1, of: (kPa) => kPa / 100 }
    : { unit: 'psi', step: 1, of: (kPa) => kPa / PSI_KPA };
}

function on(scale: Scale, value: number): Measure {
  return { number: amountNumber(scale.of(value), scale.step), unit: scale.unit };
}

/** Litres in the brewer's units. */
export const volume = (litres: number, units: Units): Measure => on(volumeScale(litres, units), litres);
/** Grams in the brewer's units. */
export const mass = (grams: number, units: Units): Measure => on(massScale(grams, units), grams);
/** Kilograms of ice in the brewer's units. */
export const ice = (kilograms: number, units: Units): Measure => on(iceScale(units), kilograms);
/** Degrees Celsius in the brewer's units. */
export const temperature = (celsius: number, units: Units): Measure => on(temperatureScale(units), celsius);
/** Gauge kilopascal in the brewer's units. */
export const pressure = (kPa: number, units: Units): Measure => on(pressureScale(units), kPa);

/** Number and unit in one string with a space that no line breaks at. */
export function measureText(measure: Measure): string {
  return measure.unit === '' ? measure.number : `${measure.number}\u00a0${measure.unit}`;
}

export const volumeText = (litres: number, units: Units): string => measureText(volume(litres, units));
export const massText = (grams: number, units: Units): string => measureText(mass(grams, units));
export const temperatureText = (celsius: number, units: Units): string =>
  measureText(temperature(celsius, units));
export const pressureText = (kPa: number, units: Units): string => measureText(pressure(kPa, units));

/** Minutes as people say them: 45 min, 1 h 30 min, 14 days. */
export function durationText(minutes: number): string {
  const whole = Math.round(minutes);
  if (whole >= 2880) return `${amountNumber(whole / 1440, 0.5)}\u00a0days`;
  if (whole <= 120) return `${whole}\u00a0min`;
  const hours = Math.floor(whole / 60);
  const rest = whole % 60;
  return rest === 0 ? `${hours}\u00a0h` : `${hours}\u00a0h ${rest}\u00a0min`;
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** `2026-02-14` as 14 Feb 2026: the month in letters, so that no day is taken for a month. */
export function dateText(date: string): string {
  const [year, month, day] = date.split('-').map(Number);
  const name = month === undefined ? undefined : MONTHS[month - 1];
  return name === undefined ? date : `${day}\u00a0${name}\u00a0${year}`;
}
