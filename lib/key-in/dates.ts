import type { Batch } from '../batch/types/batch.ts';
import { dayNumber } from '../batch/types/time.ts';
import { parseClock, parseMoment } from '../units/parse/parse.ts';
import { fault, type Parsed, parsed } from '../units/parse/parsed.ts';
import { clockParts } from '../words/measures.ts';
import type { Units, Voice } from '../words/numbers.ts';

const two = (n: number): string => String(n).padStart(2, '0');
const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];

/** A clock time as it stands in four boxes, `1720`, or with any sign between, `17.20`; the value is `17:20`. */
export function completeClock(text: string): Parsed<string> {
  const boxes = /^(\d{1,2})[:.,h ]?(\d{2})$/.exec(text.trim());
  return parseClock(boxes === null ? text : `${boxes[1]}:${boxes[2]}`);
}

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
  twelveHours: clockParts('12:00', voice).half !== null,
});

const HALF_DAY_MIN = 720;
const minutesOf = (clock: string): number => {
  const [hours = 0, minutes = 0] = clock.split(':').map(Number);
  return 60 * hours + minutes;
};

/**
 * A time as a clock of twelve hours shows it, `01:30`, in the half of the day that is nearer to what was done before: nothing
 * on a brewing day takes six hours. Null where nothing was done before.
 */
export function inItsHalf(clock: string, before: string | null): string | null {
  if (before === null) return null;
  const early = minutesOf(clock) % HALF_DAY_MIN;
  const ahead = (early - minutesOf(before) + 4 * HALF_DAY_MIN) % (2 * HALF_DAY_MIN);
  const near = ahead <= HALF_DAY_MIN / 2 || ahead > 1.5 * HALF_DAY_MIN;
  const minutes = near ? early : early + HALF_DAY_MIN;
  return `${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
}

/**
 * A day as people write it on paper: `14 Feb`, `14.2.2026`, `2026-02-14`, or the day of the month alone where the brewing
 * day is known; behind it, perhaps, a clock time. The value is what the file holds, `2026-02-14 17:20`.
 *
 * A missing year is the first that puts the day on or after the brewing day. `2/3` in US units is asked again.
 */
export function completeMoment(text: string, ctx: DateContext): Parsed<string> {
  const known = parseAsItIs(text, ctx.brewed);
  if (known.ok) return known;
  const plain = text.trim().replaceAll(/\s+/g, ' ');
  const iso = /^(\d{4})-(\d{1,2})-(\d{1,2})(?:[ T,]+(.*))?$/.exec(plain);
  if (iso !== null) {
    return withClock(`${iso[1]}-${two(Number(iso[2]))}-${two(Number(iso[3]))}`, iso[4] ?? '', text);
  }
  const alone = /^(\d{1,2})\.?(?:[ ,]+(\d{1,2}[:.h]?\d{2}))?$/.exec(plain);
  if (alone !== null && ctx.brewed !== null) {
    return withClock(nextDay(ctx.brewed, Number(alone[1])), alone[2] ?? '', text);
  }
  const form = /^(\d{1,2})(?:[ ./-]+)([A-Za-z]{3,9}|\d{1,2})\b\.?(.*)$/.exec(plain);
  if (form === null) return parseAsItIs(text);
  const [, day = '', monthText = '', rest = ''] = form;
  const letters = MONTHS.indexOf(monthText.slice(0, 3).toLowerCase()) + 1;
  if (/^\d/.test(monthText) && ctx.units === 'us') return bothWays(text);
  const month = /^\d/.test(monthText) ? Number(monthText) : letters;
  const tail = /^[ ./,-]*(\d{4})?[ ,]*(.*)$/.exec(rest);
  const clockLike = tail?.[1] !== undefined && tail[2] === '' && !plausibleYear(Number(tail[1]), ctx.brewed);
  const year = clockLike ? undefined : tail?.[1];
  const clock = clockLike ? (tail?.[1] ?? '') : (tail?.[2] ?? '');
  const date =
    year === undefined
      ? yearless(month, Number(day), ctx.brewed)
      : `${year}-${two(month)}-${two(Number(day))}`;
  return date === null ? parseAsItIs(text) : withClock(date, clock, text);
}

function parseAsItIs(text: string, brewed: string | null = null): Parsed<string> {
  const read = parseMoment(text, brewed);
  if (!read.ok) return read;
  return parsed(read.value.clock === null ? read.value.date : `${read.value.date} ${read.value.clock}`);
}

function withClock(date: string, clock: string, text: string): Parsed<string> {
  if (clock.trim() === '') return parseAsItIs(date);
  const time = completeClock(clock);
  if (!time.ok) return { ...time, found: fault(time.code, text, '', '').found };
  return parseAsItIs(`${date} ${time.value}`);
}

function bothWays(text: string): Parsed<never> {
  return fault(
    'date-form',
    text,
    'a day whose month is written in letters, such as 3 Feb 2026',
    'write the month in letters: two numbers can be read both ways',
  );
}

/** Without a brewing day to go by, four digits from here on are a year. */
const FIRST_YEAR = 1990;

/** 1720 is a time of day; a year is one near the brewing day. */
function plausibleYear(year: number, brewed: string | null): boolean {
  if (brewed === null) return year >= FIRST_YEAR;
  return Math.abs(year - Number(brewed.slice(0, 4))) <= 20;
}

/** The first day of this month and day that is not before the brewing day. */
function yearless(month: number, day: number, brewed: string | null): string | null {
  if (brewed === null) return null;
  const year = Number(brewed.slice(0, 4));
  const same = `${year}-${two(month)}-${two(day)}`;
  return same >= brewed ? same : `${year + 1}-${two(month)}-${two(day)}`;
}

/** The first such day of a month, this one or the next, that is not before the brewing day. */
function nextDay(brewed: string, day: number): string {
  const [year = 0, month = 0] = brewed.split('-').map(Number);
  const same = `${year}-${two(month)}-${two(day)}`;
  if (same >= brewed) return same;
  return month === 12 ? `${year + 1}-01-${two(day)}` : `${year}-${two(month + 1)}-${two(day)}`;
}

/** Days between two dates of the calendar; positive where the second is later. */
export const daysBetween = (from: string, to: string): number =>
  dayNumber(to.slice(0, 10)) - dayNumber(from.slice(0, 10));
