import type { Batch } from '../batch/types/batch.ts';
import { clockAfter, clockMinutes, dayNumber } from '../batch/types/time.ts';
import type { Units } from '../units/dimension.ts';
import { hasTwelveHours } from '../units/parse/clock.ts';
import { parseMoment } from '../units/parse/parse.ts';
import { fault, type Parsed, parsed } from '../units/parse/parsed.ts';
import { MONTHS, type Voice } from '../words/measures.ts';

export interface DateContext {
  readonly units: Units;
  /** The brewing day, from which a missing month or year is taken; null where it is not known. */
  readonly brewed: string | null;
  /** When the kettle was to go on, `13:30`; null where nobody said. */
  readonly start: string | null;
  /** Whether the paper is written by a clock of twelve hours. */
  readonly twelveHours: boolean;
}

/** What it takes to read the days and times of a batch. */
export const dateContextOf = (
  { brewed, start }: Pick<Batch, 'brewed' | 'start'>,
  voice: Voice,
): DateContext => ({
  units: voice.units,
  brewed,
  start,
  twelveHours: hasTwelveHours(voice.language),
});

const HALF_DAY_MIN = 720;

/**
 * A time as a clock of twelve hours shows it, `01:30`, in the half of the day that is nearer to what was done before: nothing
 * on a brewing day takes six hours. Null where nothing was done before.
 */
export function inItsHalf(clock: string, before: string | null): string | null {
  if (before === null) return null;
  const early = clockMinutes(clock) % HALF_DAY_MIN;
  const ahead = (early - clockMinutes(before) + 4 * HALF_DAY_MIN) % (2 * HALF_DAY_MIN);
  const near = ahead <= HALF_DAY_MIN / 2 || ahead > 1.5 * HALF_DAY_MIN;
  return clockAfter('00:00', near ? early : early + HALF_DAY_MIN);
}

/**
 * A day as people write it on paper: `14 Feb`, `14.2.2026`, `2026-02-14`, or the day of the month alone where the brewing
 * day is known; behind it, perhaps, a clock time. The value is what the file holds, `2026-02-14 17:20`.
 *
 * A missing year is the first that puts the day on or after the brewing day. `2/3` in US units is asked again.
 */
export function completeMoment(text: string, { units, brewed }: DateContext): Parsed<string> {
  const known = moment(text, brewed);
  if (known.ok) return known;
  const plain = text.trim().replaceAll(/\s+/g, ' ');
  const alone = /^(\d{1,2})\.?(?:[ ,]+(\d{1,2}[:.h]?\d{2}))?$/.exec(plain);
  if (alone !== null && brewed !== null)
    return moment(`${nextDay(brewed, Number(alone[1]))} ${alone[2] ?? ''}`, brewed);
  const numbers = /^(\d{1,2})[ ./-]+(\d{1,2})\b[ ./,-]*(.*)$/.exec(plain);
  if (numbers !== null && units === 'us') {
    const expected = 'a day whose month is written in letters, such as 3 Feb 2026';
    const what = 'the month in letters: two numbers can be read both ways';
    return fault('date-form', { text, expected, what });
  }
  const [, day, month, rest] = numbers ?? /^(\d{1,2})[ .-]*([A-Za-z]{3,9})\.?[ ,]+(\d{4})$/.exec(plain) ?? [];
  const name = MONTHS[Number(month) - 1] ?? month;
  // 1720 is a time of day; a year is one near the brewing day.
  const clock = /^\d{4}$/.test(rest ?? '') && !isYear(Number(rest), brewed);
  const said = clock ? `${rest?.slice(0, 2)}:${rest?.slice(2)}` : rest;
  if (day === undefined) return known;
  const read = moment(`${day} ${name} ${said}`, brewed);
  return read.ok ? read : { ...read, found: known.found };
}

function moment(text: string, after: string | null): Parsed<string> {
  const read = parseMoment(text, after);
  if (!read.ok) return read;
  const { date, clock } = read.value;
  return parsed(clock === null ? date : `${date} ${clock}`);
}

/** Without a brewing day to go by, four digits from here on are a year. */
const FIRST_YEAR = 1990;

const isYear = (year: number, brewed: string | null): boolean =>
  brewed === null ? year >= FIRST_YEAR : Math.abs(year - Number(brewed.slice(0, 4))) <= 20;

/** The first such day of a month, this one or the next, that is not before the brewing day. */
function nextDay(brewed: string, day: number): string {
  const [year = 0, month = 0] = brewed.split('-').map(Number);
  const inMonth = (ahead: number): string => `${day} ${MONTHS[(month - 1 + ahead) % 12]}`;
  return day >= Number(brewed.slice(8))
    ? `${inMonth(0)} ${year}`
    : `${inMonth(1)} ${month === 12 ? year + 1 : year}`;
}

/** Days between two dates of the calendar; positive where the second is later. */
export const daysBetween = (from: string, to: string): number =>
  dayNumber(to.slice(0, 10)) - dayNumber(from.slice(0, 10));
