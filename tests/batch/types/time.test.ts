/** Clock and calendar: expected values counted by hand, days from 1970 by the proleptic calendar of ECMA-262. */
import { describe, expect, it } from 'vitest';
import {
  clockAfter,
  clockMinutes,
  dateOfDay,
  dayNumber,
  minutesBetween,
} from '../../../lib/batch/types/time.ts';

describe('the kitchen clock', () => {
  it.each([
    ['00:00', 0],
    ['00:01', 1],
    ['01:00', 60],
    ['13:35', 815],
    ['23:59', 1439],
  ])('%s is %d minutes after midnight', (clock, minutes) => {
    expect(clockMinutes(clock)).toBe(minutes);
  });

  it.each([
    ['13:30', 0, '13:30'],
    ['13:30', 90, '15:00'],
    ['09:05', 4.4, '09:09'],
    ['09:05', 4.6, '09:10'],
    // Past midnight and back again.
    ['23:30', 45, '00:15'],
    ['00:15', -45, '23:30'],
    ['12:00', 1440, '12:00'],
    ['12:00', -2880, '12:00'],
    ['00:00', -1, '23:59'],
  ])('%s and %d minutes is %s', (clock, minutes, after) => {
    expect(clockAfter(clock, minutes)).toBe(after);
  });

  it.each([
    ['13:30', '13:30', 0],
    ['13:30', '15:00', 90],
    ['22:50', '00:20', 90],
    ['00:01', '00:00', 1439],
  ])('from %s to %s are %d minutes', (from, to, minutes) => {
    expect(minutesBetween(from, to)).toBe(minutes);
  });
});

describe('the calendar', () => {
  it.each([
    ['1970-01-01', 0],
    ['1970-02-01', 31],
    ['1971-01-01', 365],
    ['1972-03-01', 790],
    ['2000-01-01', 10_957],
    ['1969-12-31', -1],
  ])('%s is day %d', (date, day) => {
    expect(dayNumber(date)).toBe(day);
    expect(dateOfDay(day)).toBe(date);
  });

  it('an hour is a part of its day, and its date stays', () => {
    expect(dayNumber('1970-01-02', '06:00')).toBe(1.25);
    expect(dateOfDay(1.25)).toBe('1970-01-02');
    expect(dateOfDay(1.9999)).toBe('1970-01-02');
    // A hair below midnight through the arithmetic is midnight.
    expect(dateOfDay(2 - 1e-12)).toBe('1970-01-03');
  });
});
