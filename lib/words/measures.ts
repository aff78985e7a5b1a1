import type { Units } from '../units/dimension.ts';
import {
  echoed,
  formatMass,
  formatPower,
  formatTemperature,
  formatVolume,
  iceScale,
  massScale,
  nonBreaking,
  type Parts,
  pressureParts,
  type Scale,
  stepped,
  temperatureParts,
} from '../units/format/format.ts';
import { hasTwelveHours } from '../units/parse/clock.ts';
import { parseQuantity } from '../units/parse/parse.ts';
import { KILOWATTS_PER_BTU_PER_HOUR } from '../units/table.ts';

/** How a brewer is spoken to: in which units, and in which English (BCP 47). */
export interface Voice {
  readonly units: Units;
  readonly language: string;
}

/** Number and unit in one string with spaces that no line breaks at. */
export const measureText = ({ number, unit }: Parts): string =>
  nonBreaking(unit === '' ? number : `${number} ${unit}`);

export const massText = (grams: number, units: Units): string => nonBreaking(formatMass(grams, units));
export const volumeText = (litres: number, units: Units): string => nonBreaking(formatVolume(litres, units));
export const temperatureText = (celsius: number, units: Units): string =>
  nonBreaking(formatTemperature(celsius, units));
export const pressureText = (kPa: number, units: Units): string => measureText(pressureParts(kPa, units));
/** A temperature that the brewer gave: tenths of a degree are kept. */
export const givenTemperature = (celsius: number, units: Units): string =>
  measureText(temperatureParts(celsius, units, 1));

const onScale = (value: number, { unit, step, of }: Scale): string =>
  measureText({ number: stepped(of(value), step), unit });
export const iceText = (kilograms: number, units: Units): string => onScale(kilograms, iceScale(units));
/** Grams in one unit of the brewer's, for narrow columns: 27.4 oz and not 1 lb 11.4 oz. */
export const massShort = (grams: number, units: Units): string => onScale(grams, massScale(grams, units));

/** Heat in the unit that the brewer wrote it in, else in the one of the brewer's country. */
export function powerText(kW: number, written: string | null, units: Units): string {
  if (written !== null && parseQuantity(written, 'power', { units }).ok) return echoed(written, units);
  if (units === 'metric') return nonBreaking(formatPower(kW));
  return `${stepped(kW / KILOWATTS_PER_BTU_PER_HOUR, 100)}\u00a0BTU/h`;
}

/** `14:50`, or where English is American `2:50` and `pm`. */
export function clockParts(
  clock: string,
  { language }: Voice,
): { readonly time: string; readonly half: string | null } {
  if (!hasTwelveHours(language)) return { time: clock, half: null };
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

/** Minutes as people say them: 45 min, 1 h 30 min, 14 days. */
export function durationText(minutes: number): string {
  const whole = Math.round(minutes);
  if (whole >= 2880) return `${stepped(whole / 1440, 0.5)}\u00a0days`;
  if (whole <= 120) return `${whole}\u00a0min`;
  const hours = Math.floor(whole / 60);
  const rest = whole % 60;
  return rest === 0 ? `${hours}\u00a0h` : `${hours}\u00a0h ${rest}\u00a0min`;
}

export const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** `2026-02-14` as 14 Feb, or Feb 14 where English is American: the month in letters, so that no day is taken for one. */
export function dayText(date: string, language: string): string {
  const [, month = 0, day] = date.split('-').map(Number);
  const name = MONTHS[month - 1];
  if (name === undefined) return date;
  return language === 'en-US' ? `${name}\u00a0${day}` : `${day}\u00a0${name}`;
}

/** The same with its year: 14 Feb 2026, or Feb 14, 2026. */
export function dateText(date: string, language: string): string {
  const day = dayText(date, language);
  return day === date ? date : `${day}${language === 'en-US' ? ',' : ''}\u00a0${date.slice(0, 4)}`;
}
