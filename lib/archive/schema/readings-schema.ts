import { z } from 'zod';
import { type Group, type One, READINGS, type Rows } from '../../batch/types/readings.ts';
import type { Units } from '../../units/dimension.ts';
import { formatGravity, formatSample, formatTemperature } from '../../units/format/format.ts';
import type { Quantities } from './quantities.ts';
import { choice, clock, count, line, moment, score } from './scalars.ts';
import { oneOrMany, reading } from './shapes.ts';

type Timed = Quantities & { readonly twelveHours: boolean };

/** Nobody has so many bottles. */
const MOST = 100_000;

/** A reading as it may be written in a brewer's units. */
export function sampleText({ kind, sample = '' }: One, units: Units): string {
  if (typeof sample === 'string') return sample;
  if (typeof sample !== 'number')
    return `${formatGravity(sample[0])} @ ${formatTemperature(sample[1], units)}`;
  return formatSample(sample, kind === 'volume' || kind === 'temperature' ? kind : 'mass', units);
}

function valueSchema(q: Timed, spec: One): z.ZodType {
  const { kind, says, bounds } = spec;
  const sample = sampleText(spec, q.units);
  const possible = () => {
    if (bounds === undefined) throw new Error(`A ${kind} has no bounds: ${says}`);
    return bounds;
  };
  switch (kind) {
    case 'clock':
      return clock(says, q.twelveHours);
    case 'addition':
      return z
        .union([z.literal('not taken'), z.literal('left out'), clock(says, q.twelveHours)])
        .describe(says);
    case 'date':
      return moment(says, q.twelveHours);
    case 'gravity':
      return q.gravity(says, sample);
    case 'volume':
      return q.volumeReading(says, sample, possible());
    case 'temperature':
      return q.temperature(says, sample, possible());
    case 'mass':
      return q.mass(says, sample, possible());
    case 'amount':
      return q.amount(says, sample);
    case 'count':
      return count(says, 0, MOST);
    case 'score':
      return score(says);
    case 'text':
      return line(says, ...(sample === '' ? [] : [sample]));
    case 'container':
      return choice(['bottles', 'keg'], says);
  }
}

function partsSchema(q: Timed, parts: Group['parts']): z.ZodType {
  return z.strictObject(
    Object.fromEntries(
      Object.entries(parts).map(([name, part]) => {
        const value = valueSchema(q, part);
        if (part.needed) return [name, value];
        const wordless = part.kind !== 'text' && part.kind !== 'container';
        return [name, wordless ? reading(value, part.says) : value.nullish()];
      }),
    ),
  );
}

function readingSchema(q: Timed, spec: One | Group | Rows): z.ZodType {
  if (!('shape' in spec)) return reading(valueSchema(q, spec), spec.says);
  const parts = partsSchema(q, spec.parts);
  if (spec.shape === 'group')
    return spec.refusable ? reading(parts, spec.says) : parts.nullish().describe(spec.says);
  return reading(spec.single ? oneOrMany(parts, spec.says) : z.array(parts), spec.says);
}

/** The `readings:` of a batch file: what was written on the sheets, by the table of readings. */
export function readingsSchema(q: Timed) {
  return z
    .strictObject(
      Object.fromEntries(Object.entries(READINGS).map(([key, spec]) => [key, readingSchema(q, spec)])),
    )
    .describe('What was written on the sheets; each may be `not taken`.');
}

export type ReadingsData = z.output<ReturnType<typeof readingsSchema>>;
