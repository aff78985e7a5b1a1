import {
  type Group,
  nameOfPart,
  type One,
  READINGS,
  type Readings,
  type Rows,
} from '../../batch/types/readings.ts';
import { readAdd } from './moments.ts';
import type { ReadingsData } from './readings-schema.ts';

type Raw = Readonly<Record<string, unknown>>;

const isEmpty = (value: unknown): boolean => value === null || value === undefined;

/** A figure inside a group that was not taken is one that is not there. */
function resolveParts(parts: Group['parts'], raw: Raw): Raw {
  return Object.fromEntries(
    Object.entries(parts).map(([name, part]) => {
      const value = raw[name] ?? null;
      return [nameOfPart(name, part), value === 'not taken' && part.kind !== 'addition' ? null : value];
    }),
  );
}

/** Minutes left that an addition's name says, null for a word such as `flameout`. */
function minutesLeft(at: unknown): number | null {
  const read = readAdd(String(at));
  return read.ok && read.value.at === 'boil' ? read.value.minutesLeft : null;
}

function resolved(key: string, spec: One | Group | Rows, value: unknown): unknown {
  if (value === 'not taken' || !('shape' in spec)) return value;
  if (spec.shape === 'group') return resolveParts(spec.parts, value as Raw);
  const rows = (Array.isArray(value) ? value : [value]) as readonly Raw[];
  return rows.map((row) => ({
    ...resolveParts(spec.parts, row),
    ...(key === 'additions' ? { minutesLeft: minutesLeft(row.at) } : {}),
  }));
}

/** Readings by the file's own keys, keys that were left empty taken out. */
export function resolveReadings(data: ReadingsData | null | undefined): Readings {
  const given = data ?? {};
  return Object.fromEntries(
    Object.entries(READINGS)
      .filter(([key]) => !isEmpty(given[key]))
      .map(([key, spec]) => [key, resolved(key, spec, given[key])]),
  ) as Readings;
}
