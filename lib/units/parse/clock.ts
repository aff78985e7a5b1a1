import { either, fault, type Parsed, parsed, quoted, type UnitFault } from './parsed.ts';
import { tooLong } from './quantity.ts';
import { plainText } from './scan.ts';

const CLOCK_EXPECTED = 'a clock time from 00:00 to 23:59';
const DATE_EXPECTED = 'a date as year-month-day, such as 2026-02-14';
const FIRST_YEAR = 1900;
const LAST_YEAR = 2199;

const two = (n: number): string => String(n).padStart(2, '0');

/** `13:35`, `8.05`, `8,05`, `1335`, `13 35`, `13h35`; minutes may be left out only before AM or PM. */
const CLOCK = /^(\d{1,2})(?:[:.,h ]?(\d{2}))?h? ?(?:([ap])\.?m\.?)?$/i;

/** Whether times are written by a clock of twelve hours: in files, in the form and on paper alike. */
export const hasTwelveHours = (language: string): boolean => language === 'en-US';

/**
 * A time of day as people write it, `13:35`, `8:05`, `1335` or `1:35 PM`; the value is that of the 24-hour clock, with two
 * digits for the hour. Without AM or PM the hour is that of the 24-hour clock; only where people write by one of twelve
 * hours, `1:35` could be either half of the day, and is a fault that names both. `01:35` is not written by such a clock.
 */
export function parseClock(text: string, twelveHours = false): Parsed<string> {
  const long = tooLong(text, CLOCK_EXPECTED);
  if (long) return long;
  const [, digits = '', minutes, half = ''] = CLOCK.exec(plainText(text)) ?? [];
  const hour = Number(digits);
  const pm = half.toLowerCase() === 'p';
  const known =
    digits !== '' && (half === '' ? minutes !== undefined && hour < 24 : hour >= 1 && hour <= (pm ? 23 : 12));
  if (!known || Number(minutes ?? 0) > 59) {
    return fault('clock-form', { text, expected: CLOCK_EXPECTED, what: 'hours and minutes as "13:35"' });
  }
  if (twelveHours && half === '' && /^[1-9]$/.test(digits)) {
    const halves = ['AM', 'PM'].map((each) => `${digits}:${minutes} ${each}`);
    return eitherHalf(text, halves);
  }
  const hours = half === '' ? hour : (hour % 12) + (pm ? 12 : 0);
  return parsed(`${two(hours)}:${minutes ?? '00'}`);
}

/** The fault of a time that could be in either half of the day. */
export const eitherHalf = (text: string, halves: readonly string[]): UnitFault =>
  fault('clock-form', { text, expected: 'a time with its half of the day', what: either(halves) }, halves);

const MONTHS = 'january february march april may june july august september october november december'.split(
  ' ',
);

/** Which month a word of three letters or more begins, from 1; 0 where none. */
function monthOf(word: string): number {
  const begins = word.toLowerCase().replace(/^sept$/, 'sep');
  return MONTHS.findIndex((month) => month.startsWith(begins)) + 1;
}

/** A year of null was not written; both readings where two numbers can be taken for day and month. */
type WrittenDay =
  | { readonly year: number | null; readonly month: number; readonly day: number }
  | { readonly either: readonly [string, string] };

/** The day at the beginning of a text, and what follows it. */
function leadingDay(plain: string): { readonly day: WrittenDay; readonly rest: string } | null {
  const match = (form: RegExp): readonly string[] | null => form.exec(plain);
  const rest = (found: readonly string[]): string => plain.slice(found[0]?.length ?? 0);
  const iso = match(/^(\d{4})-(\d{1,2})-(\d{1,2})(?!\d)/);
  if (iso) return { day: numbers(iso[1], iso[2], iso[3]), rest: rest(iso) };
  const dotted = match(/^(\d{1,2})\. ?(\d{1,2})\. ?(\d{4})(?!\d)/);
  if (dotted) return { day: numbers(dotted[3], dotted[2], dotted[1]), rest: rest(dotted) };
  const slashed = match(/^(\d{1,2})\/(\d{1,2})\/(\d{4})(?!\d)/);
  if (slashed) return { day: eitherWay(slashed[3], slashed[1], slashed[2]), rest: rest(slashed) };
  const dayFirst = match(/^(\d{1,2})(?:st|nd|rd|th)?[ .-]*([a-z]{3,9})\b\.?(?:[ ,-]+(\d{4})(?![\d:]))?/i);
  const found =
    dayFirst ?? match(/^([a-z]{3,9})\.? (\d{1,2})(?:st|nd|rd|th)?(?![\d:])(?:[ ,]+(\d{4})(?![\d:]))?/i);
  const [, first = '', second = '', year] = found ?? [];
  const month = monthOf(dayFirst ? second : first);
  if (found === null || month === 0) return null;
  const day = Number(dayFirst ? first : second);
  return { day: { year: year === undefined ? null : Number(year), month, day }, rest: rest(found) };
}

const numbers = (...written: readonly (string | undefined)[]): WrittenDay => {
  const [year = 0, month = 0, day = 0] = written.map(Number);
  return { year, month, day };
};

/** Two numbers with a slash are day and month in one country, month and day in another. */
function eitherWay(year = '', first = '', second = ''): WrittenDay {
  if (Number(first) > 12) return numbers(year, second, first);
  if (Number(second) > 12 || first === second) return numbers(year, first, second);
  return {
    either: [
      `${year}-${two(Number(first))}-${two(Number(second))}`,
      `${year}-${two(Number(second))}-${two(Number(first))}`,
    ],
  };
}

function daysIn(year: number, month: number): number {
  // Day 0 of the next month is the last of this one; the Gregorian calendar is the language's own.
  return new Date(Date.UTC(year, month, 0)).getUTCDate();
}

/** A day that was written, as a day of the calendar. */
function realDay(
  written: WrittenDay,
  after: string | null,
  text: string,
  twelveHours: boolean,
): Parsed<string> {
  if ('either' in written) {
    const expected = 'a date whose day cannot be taken for its month';
    return fault('date-form', { text, expected, what: either(written.either) }, written.either);
  }
  const { month, day } = written;
  const facts = { text, expected: DATE_EXPECTED };
  if (written.year === null && after === null) {
    const sample = twelveHours ? 'Feb 14, 2026' : '14 Feb 2026';
    return fault('date-form', { ...facts, what: `the year too, as in "${sample}"` });
  }
  const inYear = (year: number): string => `${year}-${two(month)}-${two(day)}`;
  const near = Number(after?.slice(0, 4));
  const year = written.year ?? (inYear(near) >= (after ?? '') ? near : near + 1);
  if (year < FIRST_YEAR || year > LAST_YEAR)
    return fault('date-not-real', { text, first: FIRST_YEAR, last: LAST_YEAR });
  if (month < 1 || month > 12) return fault('date-not-real', { ...facts, month: '' });
  const last = daysIn(year, month);
  if (day < 1 || day > last)
    return fault('date-not-real', { ...facts, day: `${year}-${two(month)}-${two(last)}` });
  return parsed(inYear(year));
}

/**
 * A day, or a day and a time, as people write them: `2026-02-14`, `14 Feb 2026`, `Feb 14, 2026 5:20 PM`, `14.2.2026`,
 * `2/14/2026`. Days from 1900 to 2199. A missing year is the first that puts the day on or after `after`, a day of the
 * calendar or null. A day that can be read in two ways, as `2/3/2026`, is a fault that names both, and so is a time.
 */
export function parseMoment(
  text: string,
  after: string | null = null,
  twelveHours = false,
  expected = `${DATE_EXPECTED}, with or without a time, such as 2026-02-14 17:20`,
): Parsed<{ readonly date: string; readonly clock: string | null }> {
  const long = tooLong(text, expected);
  if (long) return long;
  const plain = plainText(text);
  const found = leadingDay(plain.replace(/^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*[., ]+/i, ''));
  const [, time] = /^(?:T| ?[, ] ?(?:at )?)(\d.*)$/i.exec(found?.rest ?? '') ?? [];
  if (found === null || (found.rest !== '' && time === undefined)) {
    const what = 'year, month and day with hyphens, two digits for month and day';
    return fault('date-form', { text, expected, what });
  }
  const date = realDay(found.day, after, text, twelveHours);
  const clock = time === undefined ? parsed(null) : parseClock(time, twelveHours);
  // The brewing day gives a year that was left out, once the time is clear.
  const lacksYear = 'year' in found.day && found.day.year === null && after === null;
  if (!clock.ok && (date.ok || lacksYear)) {
    const day = plain.slice(0, -(time ?? '').length);
    const offers = clock.offers.map((offer) => `${day}${offer}`);
    if (offers.length > 0) return fault('clock-form', { text, expected, what: either(offers) }, offers);
    return { ...clock, found: quoted(text), expected };
  }
  if (!date.ok) return 'either' in found.day ? date : { ...date, expected };
  return parsed({ date: date.value, clock: clock.ok ? clock.value : null });
}

/** A day of the calendar as `parseMoment` reads it, without a time. */
export function parseDate(text: string): Parsed<string> {
  const read = parseMoment(text, null, false, DATE_EXPECTED);
  if (read.ok && read.value.clock === null) return parsed(read.value.date);
  const hasTime = read.ok || read.code === 'clock-form';
  return hasTime ? fault('date-form', { text, expected: DATE_EXPECTED }) : read;
}
