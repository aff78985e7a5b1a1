/** Clock and calendar arithmetic on the texts of a batch file. No time zones: a kitchen clock. */

const MINUTES_A_DAY = 1440;

/** Minutes after midnight of `13:35`. */
export function clockMinutes(clock: string): number {
  const [hours, minutes] = clock.split(':');
  return Number(hours) * 60 + Number(minutes);
}

const two = (n: number): string => String(n).padStart(2, '0');

/** A machine's own day, `2026-02-14`. */
export const localDay = (now = new Date()): string =>
  `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
export const localClock = (now = new Date()): string => `${two(now.getHours())}:${two(now.getMinutes())}`;

/** The clock time some minutes after another, past midnight if need be. */
export function clockAfter(clock: string, minutes: number): string {
  const total =
    (((clockMinutes(clock) + Math.round(minutes)) % MINUTES_A_DAY) + MINUTES_A_DAY) % MINUTES_A_DAY;
  return `${two(Math.floor(total / 60))}:${two(total % 60)}`;
}

/** Minutes from one clock time to a later one; an earlier one is the next day. */
export function minutesBetween(from: string, to: string): number {
  const span = clockMinutes(to) - clockMinutes(from);
  return span < 0 ? span + MINUTES_A_DAY : span;
}

/** Days from 1970-01-01 of `2026-02-14` (a moment's time of day, if any, as a part of the day). */
export function dayNumber(date: string, clock: string | null = null): number {
  const [year, month, day] = date.split('-').map(Number);
  return Date.UTC(year!, month! - 1, day!) / 86_400_000 + (clock ? clockMinutes(clock) / MINUTES_A_DAY : 0);
}

/** The date some days after another. */
export const dateAfter = (date: string, days: number): string => dateOfDay(dayNumber(date) + days);

/** `2026-02-14` of a number of days from 1970-01-01, whatever its time of day. */
export function dateOfDay(day: number): string {
  return new Date(Math.floor(day + 1e-9) * 86_400_000).toISOString().slice(0, 10);
}
