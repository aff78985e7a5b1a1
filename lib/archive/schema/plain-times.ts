import { parseClock, parseDate, parseMoment } from '../../units/parse/parse.ts';

type Raw = Readonly<Record<string, unknown>>;

/** Keys below `readings` that hold a clock time; what an addition is named by stands under `at` too, and is none. */
const CLOCKS = /^(?:heating_started|(?:steep|mash)_(?:in|out)|boil_(?:started|ended)|clock|at)$/;

/**
 * The data of a batch file with the days and clock times of its readings in one form, `2026-02-14 17:20`, however they were
 * typed. A year that was left out is the first that puts the day on or after the brewing day. What cannot be read stays.
 */
export function withPlainTimes(raw: Raw): Raw {
  const brewed = typeof raw.brewed === 'string' ? parseDate(raw.brewed) : null;
  const after = brewed?.ok ? brewed.value : null;
  const plain = (value: unknown, key: string): unknown => {
    if (Array.isArray(value)) return value.map((item) => plain(item, key));
    if (typeof value === 'object' && value !== null)
      return Object.fromEntries(Object.entries(value).map(([name, each]) => [name, plain(each, name)]));
    if (typeof value !== 'string') return value;
    if (key === 'on') {
      const read = parseMoment(value, after);
      return read.ok ? [read.value.date, read.value.clock].filter((part) => part !== null).join(' ') : value;
    }
    const clock = CLOCKS.test(key) ? parseClock(value) : null;
    return clock?.ok ? clock.value : value;
  };
  return 'readings' in raw ? { ...raw, readings: plain(raw.readings, '') } : raw;
}
