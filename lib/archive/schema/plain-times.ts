import { type Group, type One, READINGS, type Rows } from '../../batch/types/readings.ts';
import { parseClock, parseDate, parseMoment } from '../../units/parse/parse.ts';
import { isGroup } from '../../units/parse/with-value.ts';

type Raw = Readonly<Record<string, unknown>>;

/** The brewing day, and whether times are written by a clock of twelve hours. */
interface Day {
  readonly brewed: string | null;
  readonly twelveHours: boolean;
}

function plainTime(kind: One['kind'] | undefined, value: unknown, { brewed, twelveHours }: Day): unknown {
  if (typeof value !== 'string') return value;
  const clock = kind === 'clock' || kind === 'addition' ? parseClock(value, twelveHours) : null;
  if (clock?.ok) return clock.value;
  const read = kind === 'date' ? parseMoment(value, brewed, twelveHours) : null;
  return read?.ok ? [read.value.date, read.value.clock].filter((part) => part !== null).join(' ') : value;
}

function plain(spec: One | Group | Rows | undefined, value: unknown, day: Day): unknown {
  if (Array.isArray(value)) return value.map((item) => plain(spec, item, day));
  if (spec === undefined || !('shape' in spec)) return plainTime(spec?.kind, value, day);
  if (!isGroup(value)) return value;
  const parts = Object.entries(value).map(([name, each]) => [name, plain(spec.parts[name], each, day)]);
  return Object.fromEntries(parts);
}

/**
 * The data of a batch file with the days and clock times of its readings in one form, `2026-02-14 17:20`, however they were
 * typed. A year that was left out is the first that puts the day on or after the brewing day. What cannot be read stays.
 */
export function withPlainTimes(raw: Raw, twelveHours: boolean): Raw {
  if (!isGroup(raw.readings)) return raw;
  const brewed = typeof raw.brewed === 'string' ? parseDate(raw.brewed) : null;
  const day: Day = { brewed: brewed?.ok ? brewed.value : null, twelveHours };
  const specs: Readonly<Record<string, One | Group | Rows>> = READINGS;
  const readings = Object.entries(raw.readings).map(([key, value]) => {
    const spec = Object.hasOwn(specs, key) ? specs[key] : undefined;
    return [key, plain(spec, value, day)];
  });
  return { ...raw, readings: Object.fromEntries(readings) };
}
