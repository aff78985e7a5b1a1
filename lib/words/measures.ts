import {
  echoed,
  iceParts,
  massParts,
  type Parts,
  powerParts,
  pressureParts,
  temperatureParts,
  volumeParts,
} from '../units/format/format.ts';
import { parseQuantity } from '../units/parse/parse.ts';
import {
  GRAMS_PER_OUNCE,
  GRAMS_PER_POUND,
  KILOPASCALS_PER_PSI,
  KILOWATTS_PER_BTU_PER_HOUR,
  LITRES_PER_US_GALLON,
} from '../units/table.ts';
import { amountNumber, type Units, type Voice } from './numbers.ts';

/** A number and its unit apart, so that a sheet can set them in different sizes. */
export type Measure = Parts;

export const US_GALLON_L = LITRES_PER_US_GALLON;
const US_QUART_L = US_GALLON_L / 4;

/** A unit that a quantity is shown in: how to convert, and the smallest step worth printing. */
export interface Scale {
  readonly unit: string;
  readonly step: number;
  of(value: number): number;
}

/** Quarts to their tenth, as boxes by the kettle have them. */
export const QUARTS: Scale = { unit: 'qt', step: 0.1, of: (l) => l / US_QUART_L };
/** Gallons to their hundredth, as boxes on paper have them. */
export const GALLONS: Scale = { unit: 'gal', step: 0.01, of: (l) => l / US_GALLON_L };

/** The scale for a volume in litres; US volumes below a gallon are in quarts. */
export function volumeScale(litres: number, units: Units): Scale {
  if (units === 'metric') return { unit: 'L', step: 0.1, of: (l) => l };
  return Math.abs(litres) >= US_GALLON_L ? GALLONS : { unit: 'qt', step: 0.1, of: (l) => l / US_QUART_L };
}

/** The scale for a mass in grams: g below 1 kg, kg above; ounces below 2 lb, pounds above. */
export function massScale(grams: number, units: Units): Scale {
  if (units === 'metric') {
    if (Math.abs(grams) >= 1000) return { unit: 'kg', step: 0.01, of: (g) => g / 1000 };
    return { unit: 'g', step: 1, of: (g) => g };
  }
  return Math.abs(grams) >= 2 * GRAMS_PER_POUND
    ? { unit: 'lb', step: 0.05, of: (g) => g / GRAMS_PER_POUND }
    : { unit: 'oz', step: Math.abs(grams) > 100 ? 0.1 : 0.01, of: (g) => g / GRAMS_PER_OUNCE };
}

/** The scale for ice, which nobody weighs to the gram. */
export function iceScale(units: Units): Scale {
  return units === 'metric'
    ? { unit: 'kg', step: 0.1, of: (kg) => kg }
    : { unit: 'lb', step: 0.5, of: (kg) => (kg * 1000) / GRAMS_PER_POUND };
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
    : { unit: 'psi', step: 1, of: (kPa) => kPa / KILOPASCALS_PER_PSI };
}

/** Litres in the brewer's units. */
export const volume = (litres: number, units: Units): Measure => volumeParts(litres, units);
/** Grams in one unit of the brewer's, for narrow columns: 27.4 oz and not 1 lb 11.4 oz. */
export function massShort(grams: number, units: Units): string {
  const { unit, step, of } = massScale(grams, units);
  return measureText({ number: amountNumber(of(grams), step), unit });
}
/** Grams in the brewer's units. */
export const mass = (grams: number, units: Units): Measure => massParts(grams, units);
/** Degrees Celsius in the brewer's units. */
export const temperature = (celsius: number, units: Units): Measure => temperatureParts(celsius, units);
/** Gauge kilopascal in the brewer's units. */
export const pressure = (kPa: number, units: Units): Measure => pressureParts(kPa, units);

/** Number and unit in one string with a space that no line breaks at. */
export function measureText(measure: Measure): string {
  const { number, unit } = measure;
  return (unit === '' ? number : `${number} ${unit}`).replaceAll(' ', '\u00a0');
}

/** A temperature that the brewer gave: tenths of a degree are kept. */
export const givenTemperature = (celsius: number, units: Units): string =>
  measureText(temperatureParts(celsius, units, { decimals: 1 }));
export const iceText = (kilograms: number, units: Units): string => measureText(iceParts(kilograms, units));
export const massText = (grams: number, units: Units): string => measureText(massParts(grams, units));
/** Heat in the unit that the brewer wrote it in, else in the one of the brewer's country. */
export function powerText(kW: number, written: string | null, units: Units): string {
  if (written !== null && parseQuantity(written, 'power', { units }).ok) return echoed(written, units);
  if (units === 'metric') return measureText(powerParts(kW));
  return `${amountNumber(kW / KILOWATTS_PER_BTU_PER_HOUR, 100)}\u00a0BTU/h`;
}

/** `14:50`, or where English is American `2:50` and `pm`. */
export function clockParts(
  clock: string,
  { language }: Voice,
): { readonly time: string; readonly half: string | null } {
  if (language !== 'en-US') return { time: clock, half: null };
  const [hours = 0, minutes = 0] = clock.split(':').map(Number);
  return {
    time: `${hours % 12 === 0 ? 12 : hours % 12}:${String(minutes).padStart(2, '0')}`,
    half: hours < 12 ? 'am' : 'pm',
  };
}
export function clockText(clock: string, language: string): string {
  const { time, half } = clockParts(clock, { units: 'metric', language });
  return half === null ? time : `${time}\u00a0${half}`;
}
export const volumeText = (litres: number, units: Units): string => measureText(volume(litres, units));
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

/** `2026-02-14` as 14 Feb, or Feb 14 where English is American: the month in letters, so that no day is taken for one. */
export function dayText(date: string, language = 'en-GB'): string {
  const [, month = 0, day] = date.split('-').map(Number);
  const name = MONTHS[month - 1];
  if (name === undefined) return date;
  return language === 'en-US' ? `${name}\u00a0${day}` : `${day}\u00a0${name}`;
}

/** The same with its year: 14 Feb 2026, or Feb 14, 2026. */
export function dateText(date: string, language = 'en-GB'): string {
  const day = dayText(date, language);
  return day === date ? date : `${day}${language === 'en-US' ? ',' : ''}\u00a0${date.slice(0, 4)}`;
}
