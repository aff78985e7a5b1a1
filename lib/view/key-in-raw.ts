import type { Batch } from '../batch/batch.ts';
import type { Moment } from '../batch/readings.ts';
import type { Raw } from './key-in.ts';

type Written = { readonly written: string };

const isMoment = (value: object): value is Moment => 'date' in value && 'clock' in value;
const isWritten = (value: object): value is Written => 'written' in value;

/** Names of the file for parts that carry their unit in memory. */
const NAMES: Readonly<Record<string, string>> = { temperature_C: 'temperature', sugar_g: 'sugar' };
/** Worked out from the file, and not in it. */
const MADE = new Set(['minutesLeft']);

/** The readings of a batch as its file has them, every value as the brewer wrote it. */
export function rawReadings({ readings }: Pick<Batch, 'readings'>): Raw {
  const raw = asWritten(readings) as Record<string, unknown>;
  const { packaged } = raw;
  const single = Array.isArray(packaged) && packaged.length === 1 ? { packaged: packaged[0] } : {};
  return { readings: { ...raw, ...single } };
}

function asWritten(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(asWritten);
  if (typeof value !== 'object' || value === null) return value === null ? null : String(value);
  if (isMoment(value)) return value.clock === null ? value.date : `${value.date} ${value.clock}`;
  if (isWritten(value)) return value.written;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([key, part]) => part !== null && !MADE.has(key))
      .map(([key, part]) => [NAMES[key] ?? key, asWritten(part)]),
  );
}
