import type { Readings } from '../../batch/types/readings.ts';
import { readAdd } from './moments.ts';
import type { ReadingsData } from './readings-schema.ts';

type Taken<T> = Exclude<T, 'not taken' | null | undefined>;

/** Applies `change` to what was taken; `not taken` stays as it is. */
function taken<T, R>(value: T, change: (value: Taken<T>) => R): R | 'not taken' {
  return value === 'not taken' ? 'not taken' : change(value as Taken<T>);
}

const orNull = <T>(value: T | 'not taken' | null | undefined): T | null =>
  value === 'not taken' ? null : (value ?? null);

/** Minutes left that an addition's name says, null for a word such as `flameout`. */
function minutesLeft(at: string) {
  const read = readAdd(at);
  return read.ok && read.value.at === 'boil' ? read.value.minutesLeft : null;
}

/** Readings by the file's own keys, keys that were left empty taken out. */
export function resolveReadings(data: ReadingsData | null | undefined): Readings {
  if (!data) return {};
  const { additions, chilled, top_up, pitched, fermentation, packaged, tasted, abandoned, ...plain } = data;
  const all = {
    ...plain,
    additions:
      additions &&
      taken(additions, (rows) =>
        rows.map((row) => ({
          at: row.at,
          minutesLeft: minutesLeft(row.at),
          what: row.what ?? null,
          clock: row.clock,
        })),
      ),
    chilled: chilled && taken(chilled, (c) => ({ at: orNull(c.at), temperature_C: orNull(c.temperature) })),
    top_up:
      top_up && taken(top_up, (t) => ({ volume: orNull(t.volume), temperature_C: orNull(t.temperature) })),
    pitched:
      pitched &&
      taken(pitched, (p) => ({ on: p.on, temperature_C: orNull(p.temperature), yeast: orNull(p.yeast) })),
    fermentation:
      fermentation &&
      taken(fermentation, (rows) =>
        rows.map((row) => ({
          on: row.on,
          gravity: orNull(row.gravity),
          temperature_C: orNull(row.temperature),
          note: row.note ?? null,
        })),
      ),
    packaged:
      packaged &&
      taken(packaged, (rows) =>
        (Array.isArray(rows) ? rows : [rows]).map((row) => ({
          on: row.on,
          into: row.into ?? null,
          volume: orNull(row.volume),
          temperature_C: orNull(row.temperature),
          sugar_g: orNull(row.sugar),
          bottles: orNull(row.bottles),
          burst: orNull(row.burst),
        })),
      ),
    tasted:
      tasted &&
      taken(tasted, (rows) =>
        rows.map((row) => ({ on: row.on, score: orNull(row.score), note: row.note ?? null })),
      ),
    abandoned: abandoned && { on: abandoned.on, why: abandoned.why },
  };
  return Object.fromEntries(
    Object.entries(all).filter(([, value]) => value !== null && value !== undefined),
  ) as Readings;
}
