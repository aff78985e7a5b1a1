import { fault, type Parsed, parsed } from './parsed.ts';
import { tooLong } from './quantity.ts';
import { plainText } from './scan.ts';

const CLOCK_EXPECTED = 'a clock time from 00:00 to 23:59';
const DATE_EXPECTED = 'a date as year-month-day, such as 2026-02-14';
const FIRST_YEAR = 1900;
const LAST_YEAR = 2199;

const two = (n: number): string => String(n).padStart(2, '0');

function clockFault(text: string, plain: string): Parsed<never> {
  const twelve = /^(\d{1,2})(?:[:.](\d{2}))? ?([ap])\.?m\.?$/i.exec(plain);
  const bare = /^(\d{1,2})[.h ]?(\d{2})h?$/i.exec(plain);
  const hour = Number((twelve ?? bare)?.[1]);
  const minutes = Number((twelve ?? bare)?.[2] ?? 0);
  let mend = 'write hours and minutes as "13:35"';
  if (twelve && hour >= 1 && hour <= 12 && minutes < 60) {
    mend = `write "${two((hour % 12) + (twelve[3]?.toLowerCase() === 'p' ? 12 : 0))}:${two(minutes)}"`;
  } else if (bare && hour < 24 && minutes < 60) {
    mend = `write "${two(hour)}:${two(minutes)}"`;
  }
  return fault('clock-form', text, CLOCK_EXPECTED, mend);
}

/** A time of day on the 24-hour clock, `13:35` or `8:05`; the value has two digits for the hour. */
export function parseClock(text: string): Parsed<string> {
  const long = tooLong(text, CLOCK_EXPECTED);
  if (long) return long;
  const plain = plainText(text);
  const form = /^(\d{1,2}):(\d{2})$/.exec(plain);
  const hour = Number(form?.[1]);
  const minutes = Number(form?.[2]);
  if (!form || !(hour < 24 && minutes < 60)) return clockFault(text, plain);
  return parsed(`${two(hour)}:${two(minutes)}`);
}

function daysIn(year: number, month: number): number {
  // Day 0 of the next month is the last of this one; the Gregorian calendar is the language's own.
  return new Date(Date.UTC(year, month, 0)).getUTCDate();
}

/** A day of the calendar, `2026-02-14`, from 1900 to 2199. */
export function parseDate(text: string): Parsed<string> {
  const long = tooLong(text, DATE_EXPECTED);
  if (long) return long;
  const form = /^(\d{4})-(\d{2})-(\d{2})$/.exec(plainText(text));
  if (!form)
    return fault(
      'date-form',
      text,
      DATE_EXPECTED,
      'write year, month and day with hyphens, two digits for month and day',
    );
  const [year, month, day] = [Number(form[1]), Number(form[2]), Number(form[3])];
  if (year < FIRST_YEAR || year > LAST_YEAR) {
    return fault('date-not-real', text, `a year from ${FIRST_YEAR} to ${LAST_YEAR}`, 'check the year');
  }
  if (month < 1 || month > 12)
    return fault('date-not-real', text, DATE_EXPECTED, 'the month is from 01 to 12: check the order');
  const last = daysIn(year, month);
  if (day < 1 || day > last) {
    return fault(
      'date-not-real',
      text,
      DATE_EXPECTED,
      `that month's last day is ${year}-${two(month)}-${two(last)}`,
    );
  }
  return parsed(`${form[1]}-${form[2]}-${form[3]}`);
}

/** A day, or a day and a time: `2026-02-14`, `2026-02-14 17:20` (`T` between them serves too). */
export function parseMoment(text: string): Parsed<{ readonly date: string; readonly clock: string | null }> {
  const expected = `${DATE_EXPECTED}, with or without a time, such as 2026-02-14 17:20`;
  const long = tooLong(text, expected);
  if (long) return long;
  const plain = plainText(text);
  const cut = plain.search(/[ T]/);
  const date = parseDate(cut < 0 ? plain : plain.slice(0, cut));
  if (!date.ok) return fault(date.code, text, expected, date.mend);
  if (cut < 0) return parsed({ date: date.value, clock: null });
  const clock = parseClock(plain.slice(cut + 1));
  if (!clock.ok) return fault(clock.code, text, expected, clock.mend);
  return parsed({ date: date.value, clock: clock.value });
}
